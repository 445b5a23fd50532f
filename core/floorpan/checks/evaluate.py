"""Judging a whole layout, again only what changed."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from floorpan.checks.catalogue import CHECKS
from floorpan.checks.check import LIVE, Check, Group, Item, Reading
from floorpan.checks.finding import WORST_FIRST, Finding
from floorpan.checks.known import Key, Known, KnownGroup, Told, gone_mm, known
from floorpan.checks.live_step import LiveStep
from floorpan.checks.whole import GroupKey, Whole, take_asked, worst_first
from floorpan.derive import Bench, Scene, only_shifted
from floorpan.items import Buckle, Handbrake, Shifter, Vessel
from floorpan.items.states import State
from floorpan.layout import Layout
from floorpan.progress import Step, Work

# What drips lands on whatever lies below.
_RESTS_ON_ALL = frozenset({"drip-lands"})


@dataclass(frozen=True, slots=True)
class Tried:
    """What was looked at of a layout that was tried, and what of it speaks against it."""

    seen: tuple[Finding, ...]
    against: tuple[Finding, ...]


class Evaluator:
    """Remembers each finding with the very things it was judged on."""

    def __init__(self, bench: Bench, checks: tuple[Check, ...] = CHECKS) -> None:
        self.bench = bench
        self._checks = checks
        self._known: dict[Key, Known] = {}
        self._groups: dict[GroupKey, KnownGroup] = {}
        self._whole: Whole | None = None
        self._rest: dict[frozenset[str] | None, list[Told]] = {}

    @property
    def has_settled(self) -> bool:
        """Whether some layout was judged as a whole."""
        return self._whole is not None

    def settle(self, layout: Layout) -> Work[tuple[Finding, ...]]:
        """Every finding of a layout, fresh, worst first."""
        yield from self.bench.make_floors(layout)
        scene = self.bench.scene(layout)
        yield Step(0.0, "Looking at every state")
        items = list(self._items(scene))
        found: dict[Key, Known] = {}
        groups: dict[GroupKey, KnownGroup] = {}
        number, most = 0, sum(len(item.readings) if isinstance(item, Group) else 1 for _, item in items)
        for check, item in items:
            members: list[Known] = []
            for reading in item.readings if isinstance(item, Group) else (item,):
                members.append(self._fresh(check, reading))
                found[_key(check, reading)] = members[-1]
                number += 1
                yield Step(number / most, f"Checking {check.name}")
            if isinstance(item, Group):
                groups[check.name, item.subjects] = KnownGroup(item, tuple(members))
        self._whole = Whole(layout, self._checks, found, groups)
        return self._go_back(self._whole)

    def _go_back(self, whole: Whole) -> tuple[Finding, ...]:
        """Know what was known when a layout was judged as a whole."""
        self._known, self._rest = dict(whole.known), {}
        self._groups = whole.groups
        for group in self._groups.values():
            group.go_back()
        return whole.findings

    def make_ready(self, layout: Layout) -> Work[None]:
        """Make ready what of the scan no finding asked for yet, so that a drag never has to wait for it."""
        for area in self.bench.scene(layout).areas():
            while area.surface.build_next():
                yield Step(area.surface.built, "Making the scan ready")
        yield from self.bench.meshes.make_ready(layout)
        for group in self._groups.values():
            group.make_ready()
            yield Step(1.0, "Making the scan ready")

    def live(
        self,
        layout: Layout,
        *,
        budget_s: float,
        clock: Callable[[], float],
        looked_at: Callable[[State], bool] | None = None,
    ) -> tuple[Finding, ...]:
        """What is known of a layout while it is dragged, worst first.

        Live checks are judged again until the budget is used, in the order of a `LiveStep`; a gap that is proven
        clear by how far its bodies went is told as `at_least`. What did not fit, and every settled check whose
        subject changed, is told as it was and marked stale.
        """
        if not self.bench.floors_ready(layout):
            return worst_first((held.rank, held.stale()) for held in self._known.values())
        if self._whole is not None and layout is self._whole.layout:
            return self._go_back(self._whole)
        step = self._step(layout)
        end = clock() + budget_s
        for moved in step.to_judge(looked_at):
            if clock() >= end:
                break
            moved.after = known(moved.check, moved.reading)
            self._known[_key(moved.check, moved.reading)] = moved.after
            group = self._groups.get((moved.check.name, moved.reading.subjects))
            if group is not None:
                group.judged_again(moved.after)
        return step.told()

    def _step(self, layout: Layout) -> LiveStep:
        """Everything live of a layout, with what is known of it, and what the settled checks said last."""
        step, scene, whole = LiveStep(self._known), self.bench.scene(layout), self._whole
        step.stay(self._not_live(layout))
        asked: Iterable[Check] = (check for check in self._checks if check.tier in LIVE)
        if whole is not None and only_shifted(whole.layout, layout):
            whole.take_pairs(step, scene)
            asked = whole.asked
        same_people = whole is not None and whole.layout.people is layout.people
        for check in asked:
            take_asked(step, check, scene, self._groups, same_people=same_people)
        return step

    def again(self, layout: Layout, finding: Finding) -> Finding | None:
        """The same check on the same subjects in the same state of another layout; nothing is remembered."""
        scene = self.bench.scene(layout)
        for check in self._checks:
            if check.name.startswith(finding.check):
                for reading in check.readings(scene):
                    if reading.subjects == finding.subjects and reading.state == finding.state:
                        return check.judge(reading)
        return None

    def tried(
        self, layout: Layout, findings: Iterable[Finding], wanted: frozenset[str] = frozenset()
    ) -> Work[Tried]:
        """What speaks against a layout: what of `wanted` is not clear, and what is worse than `findings` say.

        Looks first at what is wanted, then at live checks, then at settled ones, and no further than where something
        is found; not at what is proven to stay clear, by how far its two bodies went. Nothing is remembered.

        wanted : ids of findings that are to be clear
        """
        before = {finding.id: WORST_FIRST.index(finding.verdict) for finding in findings}
        told = {(id.partition(":")[0], id) for id in wanted}
        stages: tuple[list[tuple[Check, Reading]], ...] = ([], [], [])
        for check, reading in self._readings(self.bench.scene(layout)):
            first = any(check.name.startswith(name) and _says(name, reading) == id for name, id in told)
            stages[0 if first else 2 if check.tier == "settled" else 1].append((check, reading))
        seen: list[Finding] = []
        for stage in stages:
            against: list[Finding] = []
            for number, (check, reading) in enumerate(stage):
                if stage is not stages[0] and self._stays_clear(check, reading):
                    continue
                finding = self._fresh(check, reading).finding
                seen.append(finding)
                place = WORST_FIRST.index(finding.verdict)
                # What the move brings about is held to being clear.
                if place < before.get(finding.id, WORST_FIRST.index("clear")) or (
                    finding.id in wanted and finding.verdict != "clear"
                ):
                    against.append(finding)
                if number % 8 == 7:
                    yield Step(0.0, "Trying a move")
            if against:
                return Tried(tuple(seen), tuple(against))
        return Tried(tuple(seen), ())

    def _items(self, scene: Scene) -> Iterator[tuple[Check, Item]]:
        for check in self._checks:
            for item in check.reads(scene):
                yield check, item

    def _readings(self, scene: Scene) -> Iterator[tuple[Check, Reading]]:
        for check in self._checks:
            for reading in check.readings(scene):
                yield check, reading

    def _not_live(self, layout: Layout) -> list[Told]:
        """What the settled checks said last, worst first, stale where anything they rest on changed since."""
        changed = _changed(None if self._whole is None else self._whole.layout, layout)
        # While one thing is dragged the same ones are stale at every step.
        if changed not in self._rest:
            settled = {check.name for check in self._checks if check.tier == "settled"}
            found = []
            for (name, subjects, _), held in self._known.items():
                if name in settled:
                    owners = {subject.partition(".")[0] for subject in subjects}
                    everything = name in _RESTS_ON_ALL and changed != frozenset()
                    touched = changed is None or everything or not owners.isdisjoint(changed)
                    found.append((held.rank, held.stale() if touched else held.finding))
            self._rest[changed] = sorted(found, key=lambda told: told[0])
        return self._rest[changed]

    def _stays_clear(self, check: Check, reading: Reading) -> bool:
        held = self._known.get(_key(check, reading))
        return held is not None and gone_mm(held.reading, reading) < held.spare_mm()

    def _fresh(self, check: Check, reading: Reading) -> Known:
        held = self._known.get(_key(check, reading))
        return held if held is not None and held.same(reading) else known(check, reading)


def evaluate(layout: Layout, bench: Bench) -> Work[tuple[Finding, ...]]:
    """Every finding of a layout, worst first, with nothing remembered from before."""
    return Evaluator(bench).settle(layout)


def _key(check: Check, reading: Reading) -> Key:
    return check.name, reading.subjects, reading.state


def _says(check: str, reading: Reading) -> str:
    """The id of the finding that a check of that name gives."""
    state = ",".join(f"{axis}={stop}" for axis, stop in reading.state)
    return ":".join((check, *reading.subjects, state)).rstrip(":")


def _changed(before: Layout | None, after: Layout) -> frozenset[str] | None:
    """Ids of what is not the very same in two layouts, None where something that concerns everything changed.

    A hand rests on what it grips, so a changed shifter changes every driver, and a changed driver what else they
    grip; thighs and buckles go with their seat, a vessel stands in its well.
    """
    if before is None or before.scans is not after.scans or before.limits is not after.limits:
        return None
    if before.carpet() != after.carpet() or before.driver_side != after.driver_side:
        return None
    old = {id(one) for one in (*before.things(), *before.people)}
    changed = {one.id for one in (*after.things(), *after.people) if id(one) not in old}
    changed |= {vessel.id for vessel in after.of(Vessel) if vessel.stands_in in changed}
    changed |= {person.id for person in after.people if person.seat_id in changed}
    changed |= {buckle.id for buckle in after.of(Buckle) if buckle.seat_id in changed}
    if any(person.id in changed for person in after.people):
        changed |= {brake.id for brake in after.of(Handbrake)}
        changed |= {buckle.id for buckle in after.of(Buckle)}
    people, consoles = {one.id for one in after.people}, {one.id for one in after.consoles}
    if not changed.isdisjoint(people | consoles):
        # A vessel is lifted out past the console, to somebody's shoulder, with their hand round it.
        changed |= {vessel.id for vessel in after.of(Vessel) if vessel.stands_in}
    if any(shifter.id in changed for shifter in after.of(Shifter)):
        changed |= {person.id for person in after.people}
    return frozenset(changed)
