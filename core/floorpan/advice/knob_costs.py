"""What a better place for the knob costs elsewhere: the gaps that get worse once the shifter stands there."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from floorpan import edits
from floorpan.checks import Finding
from floorpan.checks.catalogue import CHECKS
from floorpan.checks.check import Check, Reading, same_inputs
from floorpan.checks.finding import WORST_FIRST, margin, rank
from floorpan.derive import Scene
from floorpan.derive.memory import Memory
from floorpan.frames import Vector
from floorpan.items import Shifter
from floorpan.items.states import State, is_leg
from floorpan.layout import Layout
from floorpan.progress import Step, Work

LEAST_WORSE = 0.5
"""What a finding has to lose to be told, in its limit's unit: less is not seen in whole millimetres."""

_JUDGING = "Looking what gets worse there"
_AT_A_TIME = 4
_NOWHERE: Vector = (0.0, 0.0, 0.0)

_Key = tuple[str, tuple[str, ...], State]


@dataclass(frozen=True, slots=True)
class Worse:
    """The same check on the same subjects in the same state: with the shifter moved, and as it is."""

    there: Finding
    here: Finding

    @property
    def less_by(self) -> float:
        """How much room is lost, in the limit's unit; infinite where one of the two is not known."""
        if self.there.value is None or self.here.value is None:
            return float("inf")
        return margin(self.here.value, self.here.limit) - margin(self.there.value, self.there.limit)


def worse_there(scene: Scene, move_mm: Vector, findings: Iterable[Finding] = ()) -> Work[tuple[Worse, ...]]:
    """What gets worse when the first shifter is moved bodily by move_mm, worst there first; nothing for no move.

    Every check, live and settled, that sees anything else there than now is judged again: of lever and knob, and of
    the hand and the arm on it; not of how the shifter stands by itself. Told is what hits, is short or is close there
    with at least LEAST_WORSE less room than now, and what is unseen there and was seen. Of a pair each gear is told
    once, in its worst state; a leg only where it is worse than the worst gear of its pair.

    findings : of the scene as it is, so that they need not be judged again; stale ones count for nothing
    """
    shifter = next(iter(scene.layout.of(Shifter)), None)
    if shifter is None or move_mm == _NOWHERE:
        return ()
    yield Step(0.0, _JUDGING)
    # One memory for both, so that what the move does not touch is the very same in both.
    memory = Memory()
    here = Scene(scene.layout, scene.floors, memory)
    moved = Scene(_moved(scene.layout, shifter, move_mm), scene.floors, memory)
    known = {finding.id: finding for finding in findings if not finding.stale}
    present = {_key(check, reading): (check, reading) for check, reading in _readings(here)}
    yield Step(0.05, _JUDGING)
    touched = [
        (check, reading, present[key])
        for check, reading in _readings(moved)
        if (key := _key(check, reading)) in present
        and shifter.id not in reading.subjects
        and not same_inputs(present[key][1].inputs, reading.inputs)
    ]
    found: list[Worse] = []
    for number, (check, reading, (_, before)) in enumerate(touched):
        if number % _AT_A_TIME == 0:
            yield Step(0.1 + 0.9 * number / len(touched), _JUDGING)
        there = check.judge(reading)
        if there.verdict in ("clear", "pending"):
            continue
        worse = Worse(there, known.get(there.id) or check.judge(before))
        if _is_worse(worse):
            found.append(worse)
    return tuple(_once_each(found))


def _moved(layout: Layout, shifter: Shifter, move_mm: Vector) -> Layout:
    # Locked or not: nothing is moved yet.
    free = edits.lock(layout, shifter.id, False) if shifter.locked else layout
    return edits.shift(free, shifter.id, move_mm)


def _readings(scene: Scene) -> Iterator[tuple[Check, Reading]]:
    for check in CHECKS:
        for reading in check.readings(scene):
            yield check, reading


def _key(check: Check, reading: Reading) -> _Key:
    return check.name, reading.subjects, reading.state


def _is_worse(worse: Worse) -> bool:
    there, here = worse.there, worse.here
    if there.verdict == "unseen" or here.verdict == "unseen":
        return WORST_FIRST.index(there.verdict) < WORST_FIRST.index(here.verdict)
    return worse.less_by >= LEAST_WORSE


def _once_each(found: list[Worse]) -> Iterator[Worse]:
    """Of each pair the worst state of every gear, and of its legs what is worse than all of those."""
    told: set[tuple[str, tuple[str, ...], str]] = set()
    worst: dict[tuple[str, tuple[str, ...]], Worse] = {}
    ordered = sorted(found, key=lambda one: rank(one.there))
    for worse in ordered:
        if not _moving(worse):
            worst.setdefault(_pair(worse), worse)
    for worse in ordered:
        standing = worst.get(_pair(worse))
        name = (*_pair(worse), _gear(worse))
        if name in told or (_moving(worse) and standing is not None and not _under(worse, standing)):
            continue
        told.add(name)
        yield worse


def _under(leg: Worse, standing: Worse) -> bool:
    """Whether a leg has less room than the worst standing state, by as much as is told."""
    if leg.there.value is None or standing.there.value is None:
        return leg.there.verdict != standing.there.verdict
    room = margin(standing.there.value, standing.there.limit) - margin(leg.there.value, leg.there.limit)
    return room >= LEAST_WORSE


def _pair(worse: Worse) -> tuple[str, tuple[str, ...]]:
    return worse.there.check, worse.there.subjects


def _moving(worse: Worse) -> bool:
    return any(is_leg(stop) for _, stop in worse.there.state)


def _gear(worse: Worse) -> str:
    return next((stop for axis, stop in worse.there.state if axis.endswith(".gear")), "")
