"""What is known of a layout that was judged as a whole, and how far its bodies went where things were only shifted.

Most of what moves in a drag only goes elsewhere: the pairs to judge, their states and what else they follow from are
the same ones. Then no check is asked for its pairs again; it is asked how far each body went.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from functools import cached_property
from operator import itemgetter

from floorpan.checks.check import LIVE, Check, Group, Pair, Reading, same_inputs
from floorpan.checks.finding import Finding
from floorpan.checks.known import Key, Known, KnownGroup, Told
from floorpan.checks.live_step import LiveStep
from floorpan.derive import Footing, Scene
from floorpan.derive.arm_footing import ArmsFooting, Gone
from floorpan.layout import Layout

GroupKey = tuple[str, tuple[str, ...]]
Body = Footing | ArmsFooting


class Whole:
    """Everything known of a layout, and of its pairs by check and subjects."""

    def __init__(
        self,
        layout: Layout,
        checks: Sequence[Check],
        known: dict[Key, Known],
        groups: dict[GroupKey, KnownGroup],
    ) -> None:
        self.layout, self.known, self.groups = layout, known, groups
        self._checks = tuple(check for check in checks if check.tier in LIVE)
        self.findings = worst_first((held.rank, held.finding) for held in known.values())
        self._stayed: tuple[tuple[int, ...], list[Told]] = ((), [])

    @cached_property
    def asked(self) -> tuple[Check, ...]:
        """The live checks that have to be asked again wherever things went: those that do not judge pairs."""
        alone = {name for name, subjects, _ in self.known if (name, subjects) not in self.groups}
        return tuple(check for check in self._checks if check.by_place or check.name in alone)

    @cached_property
    def _pairs(self) -> tuple[tuple[Check, KnownGroup, int, int], ...]:
        """The others' pairs, and which of the bodies their two are."""
        places = {body: place for place, body in enumerate(self._bodies)}
        return tuple(
            (check, one, places[one.group.mover], places[one.group.met]) for check, one in self._paired()
        )

    @cached_property
    def _bodies(self) -> tuple[Body, ...]:
        both = (body for _, one in self._paired() for body in (one.group.mover, one.group.met))
        return tuple(dict.fromkeys(both))

    def _paired(self) -> Iterable[tuple[Check, KnownGroup]]:
        asked = {check.name for check in self.asked}
        by_name = {check.name: check for check in self._checks if check.name not in asked}
        return ((by_name[name], one) for (name, _), one in self.groups.items() if name in by_name)

    def take_pairs(self, step: LiveStep, scene: Scene) -> None:
        """Every pair of the checks that need not be asked, in a scene in which things were only shifted."""
        now = [body.again(scene) for body in self._bodies]
        gone = [_gone(then, there) for then, there in zip(self._bodies, now, strict=True)]
        find = Finder(scene)
        stayed: list[int] = []
        for number, (check, known, mover, met) in enumerate(self._pairs):
            far = _together(gone[mover], gone[met])
            if far == 0.0 and known.as_judged:
                stayed.append(number)
                continue
            there = now[met]
            assert isinstance(there, Footing)
            pair = Pair(now[mover], there, known.group.rest)
            step.take_pair(check, known, now[mover], far, pair, find.later(check, known.group.subjects))
        self._stay(step, tuple(stayed))

    def _stay(self, step: LiveStep, stayed: tuple[int, ...]) -> None:
        # While one thing is dragged the same ones stay at every step.
        if self._stayed[0] != stayed:
            blocks = [self._pairs[number][1].held(0.0).told for number in stayed]
            self._stayed = stayed, sorted((one for block in blocks for one in block), key=itemgetter(0))
        step.stay(self._stayed[1])


class Finder:
    """Finds a pair in another scene, asking its check once."""

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self._found: dict[str, dict[tuple[str, ...], Group]] = {}

    def later(self, check: Check, subjects: tuple[str, ...]) -> Callable[[], Group]:
        """The pair, for whoever asks."""

        def now() -> Group:
            if check.name not in self._found:
                groups = (one for one in check.reads(self._scene) if isinstance(one, Group))
                self._found[check.name] = {one.subjects: one for one in groups}
            return self._found[check.name][subjects]

        return now


def take_asked(
    step: LiveStep, check: Check, scene: Scene, groups: dict[GroupKey, KnownGroup], *, same_people: bool
) -> None:
    """Whatever a check judges in a scene, asked for it.

    same_people : whether nobody who sits there changed since the pairs were judged: they tell the notches in use
    """
    for item in check.reads(scene):
        if isinstance(item, Reading):
            step.take(check, item)
            continue
        known = groups.get((check.name, item.subjects))
        far = math.inf if known is None else _of(known.group, item)
        if known is None or far == math.inf or not same_people:
            for reading in item.readings:
                step.take(check, reading)
        else:
            step.take_pair(check, known, item.mover, far, item.pair, lambda item=item: item)  # type: ignore[misc]


def worst_first(told: Iterable[Told]) -> tuple[Finding, ...]:
    """Findings by their ranks."""
    return tuple(finding for _, finding in sorted(told, key=itemgetter(0)))


def _of(before: Group, now: Group) -> float | Gone:
    if before is now:
        return 0.0
    if not same_inputs(before.rest, now.rest):
        return math.inf
    return _together(_gone(before.mover, now.mover), _gone(before.met, now.met))


def _gone(before: Body, now: Body) -> float | Gone:
    if before is now:
        return 0.0
    if isinstance(now, ArmsFooting):
        assert isinstance(before, ArmsFooting)
        return now.gone_each_mm(before)
    assert isinstance(before, Footing)
    return now.gone_mm(before)


def _together(one: float | Gone, other: float | Gone) -> float | Gone:
    """Both, of which at most the first is told for each of several arms."""
    assert not isinstance(other, Gone)
    return one.and_mm(other) if isinstance(one, Gone) else one + other
