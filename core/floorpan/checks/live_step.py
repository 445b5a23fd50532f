"""One step of a drag: what is judged anew, in which order, and what is told of the rest.

Nothing is judged that is proven clear by how far its two bodies went since it was judged last, unless it could be the
worst of all or the smallest gap of what moves in the shown state: those two are always measured.
"""

import functools
import heapq
import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from operator import itemgetter
from typing import Generic, TypeVar, cast

from floorpan.checks.check import Check, Group, Pair, Reading
from floorpan.checks.finding import Finding
from floorpan.checks.known import NO_RANK, Held, Key, Known, KnownGroup, Rank, Told, gap_mm, gone_mm
from floorpan.derive import Footing
from floorpan.derive.arm_footing import ArmFooting, ArmsFooting, Gone
from floorpan.items.states import State

Place = TypeVar("Place", Rank, float)
LookedAt = Callable[[State], bool]

_NEW: Rank = (-1, 0.0, "")
_VERY_WORST = 3


class Moved:
    """A reading that is not the one it was judged on, made only where it is judged.

    before : what is known of it; held : what that still proves; after : what was judged in this step
    """

    __slots__ = ("_reading", "after", "before", "check", "held")

    def __init__(
        self,
        check: Check,
        reading: Reading | Callable[[], Reading],
        before: Known | None,
        held: Told | None = None,
    ) -> None:
        self.check, self.before, self.held = check, before, held
        self.after: Known | None = None
        self._reading = reading

    @property
    def reading(self) -> Reading:
        """What to judge."""
        if not isinstance(self._reading, Reading):
            self._reading = self._reading()
        return self._reading

    @property
    def state(self) -> State:
        """The state it is about."""
        return self.reading.state if self.before is None else self.before.reading.state

    def told(self) -> Told | None:
        """What is told of it with its rank; None of what was never judged."""
        if self.after is not None:
            return self.after.rank, self.after.finding
        if self.held is not None:
            return self.held
        return None if self.before is None else (self.before.rank, self.before.stale())


@dataclass(slots=True, eq=False)
class HeldGroup:
    """A pair that moved, and what is proven of its states.

    find : makes the pair as it is now
    """

    check: Check
    before: KnownGroup
    held: Held
    find: Callable[[], Group]

    def apart(self) -> Iterator[Moved]:
        """Each state that something is proven of, by itself."""
        for place, told in zip(self.held.places, self.held.told, strict=True):
            yield _one_of(self.check, self.before.members[place], self.find, told)


class Waiting(Generic[Place]):
    """What may have to be measured, by the least it may be as far as anything is proven of it."""

    def __init__(self, moved: Iterable[Moved], least: Callable[[Moved], Place], below: Place) -> None:
        self._least: Callable[[Moved], Place] = least
        self._heap: list[tuple[Place, int, Moved]] = []
        self.add(moved, below)

    def add(self, moved: Iterable[Moved], below: Place) -> None:
        """More of them, as far as they may be below something."""
        for one in moved:
            if (least := self._least(one)) < below:
                heapq.heappush(self._heap, (least, id(one), one))

    def next(self, below: Place) -> Moved | None:
        """The one that may be least, if it may be below something."""
        return heapq.heappop(self._heap)[2] if self._heap and self._heap[0][0] < below else None


class LiveStep:
    """What moved, and what stayed as it was.

    known : of every reading by its key
    """

    def __init__(self, known: Mapping[Key, Known]) -> None:
        self._known = known
        self._stayed: list[list[Told]] = []
        self._worst_stayed = NO_RANK
        self._moved: list[Moved] = []
        self._groups: list[HeldGroup] = []
        self._ways: dict[tuple[int, int], float] = {}

    def stay(self, told: list[Told]) -> None:
        """What is told as it was, worst first."""
        if told:
            self._stayed.append(told)
            self._worst_stayed = min(self._worst_stayed, told[0][0])

    def take_pair(
        self,
        check: Check,
        before: KnownGroup,
        mover: Footing | ArmsFooting,
        gone_mm: float | Gone,
        pair: Pair,
        find: Callable[[], Group],
    ) -> None:
        """A pair whose two went so far since they were judged, its states the same but for arms out of reach.

        mover, pair : as they are now; find : makes the pair's readings
        """
        held = before.held(gone_mm)
        if gone_mm == 0.0:
            self.stay(held.told)
        elif held.told:
            self._groups.append(HeldGroup(check, before, held, find))
        for place in held.left:
            known = before.last(place)
            if known is before.members[place]:
                self._moved.append(_one_of(check, known, find))
            else:
                self._judged_again(check, known, _pair_of(known, mover, pair), find)
        if isinstance(mover, ArmsFooting) and mover.states != cast(ArmsFooting, before.group.mover).states:
            self._take_more(check, before, mover, pair, find)

    def _take_more(
        self, check: Check, before: KnownGroup, mover: ArmsFooting, pair: Pair, find: Callable[[], Group]
    ) -> None:
        """The states of arms that come within reach where they did not."""
        reached = set(mover.states) - set(cast(ArmsFooting, before.group.mover).states)
        for known in before.more.values():
            arm = _arm_of(known).state
            if arm in mover.states:
                reached.discard(arm)
                self._judged_again(check, known, _pair_of(known, mover, pair), find)
        if reached:
            for reading in find().readings:
                if reading.state not in before.places and reading.state not in before.more:
                    self.take(check, reading)

    def take(self, check: Check, reading: Reading) -> None:
        """One live reading of the layout as it is now."""
        before = self._known.get((check.name, reading.subjects, reading.state))
        if before is None:
            self._moved.append(Moved(check, reading, None))
            return
        gone = self._gone_mm(before.reading, reading)
        if gone == 0.0:
            self.stay([(before.rank, before.finding)])
        else:
            self._moved.append(Moved(check, reading, before, before.still_clear(gone)))

    def _judged_again(self, check: Check, before: Known, pair: Pair, find: Callable[[], Group]) -> None:
        """A state of a pair that was judged by itself since the others were."""
        assert before.reading.pair is not None
        gone = pair.gone_mm(before.reading.pair)
        if gone == 0.0:
            self.stay([(before.rank, before.finding)])
        else:
            self._moved.append(_one_of(check, before, find, before.still_clear(gone)))

    def to_judge(self, looked_at: LookedAt | None) -> Iterator[Moved]:
        """What to judge next, as long as there is time; each has its `after` before the next is asked for.

        First what nothing is proven of: the very worst of last time, then what is looked at, then the rest, worst
        first, and what takes longer after all of that. Then what might be worse than all that is measured, and what
        might be narrower than the smallest gap of what moved in the states looked at.
        """
        waiting = [one for one in self._moved if one.held is None]
        waiting.sort(key=lambda one: _NEW if one.before is None else one.before.rank)
        if looked_at is not None:
            waiting[_VERY_WORST:] = sorted(waiting[_VERY_WORST:], key=lambda one: not looked_at(one.state))
        waiting.sort(key=lambda one: one.check.tier == "late")
        yield from waiting
        yield from self._might_be_worst()
        if looked_at is not None:
            yield from self._might_be_smallest(functools.cache(looked_at))

    def told(self) -> tuple[Finding, ...]:
        """Everything that is known now, worst first."""
        found = [told for block in self._stayed for told in block]
        for group in self._groups:
            found += group.held.told
        found += [told for one in self._moved if (told := one.told()) is not None]
        found.sort(key=itemgetter(0))
        return tuple(finding for _, finding in found)

    def _might_be_worst(self) -> Iterator[Moved]:
        measured = [one.after.rank for one in self._moved if one.after is not None]
        worst = min(min(measured, default=NO_RANK), self._worst_stayed)
        waiting = Waiting(self._moved, _held_rank, worst)
        for group in sorted(self._groups, key=lambda group: group.held.worst):
            if worst <= group.held.worst:
                break
            waiting.add(self._take_apart(group), worst)
        while (one := waiting.next(worst)) is not None:
            yield one
            worst = min(worst, _rank(one))

    def _might_be_smallest(self, looked_at: LookedAt) -> Iterator[Moved]:
        measured = [one for one in self._moved if one.after is not None and looked_at(one.state)]
        smallest = min((gap_mm(one.after.finding) for one in measured if one.after), default=math.inf)
        waiting = Waiting((one for one in self._moved if looked_at(one.state)), _held_gap_mm, smallest)
        groups = sorted(self._groups, key=lambda group: group.held.smallest_mm)
        for group in groups:
            # Nearest first: what is measured of one pair spares the looking through of the next.
            while (one := waiting.next(min(smallest, group.held.smallest_mm))) is not None:
                yield one
                smallest = min(smallest, _value(one))
            if smallest <= group.held.smallest_mm:
                break
            if any(gap_mm(one) < smallest and looked_at(one.state) for _, one in group.held.told):
                waiting.add((one for one in self._take_apart(group) if looked_at(one.state)), smallest)
        while (one := waiting.next(smallest)) is not None:
            yield one
            smallest = min(smallest, _value(one))

    def _take_apart(self, group: HeldGroup) -> list[Moved]:
        self._groups.remove(group)
        apart = list(group.apart())
        self._moved += apart
        return apart

    def _gone_mm(self, before: Reading, now: Reading) -> float:
        if before.pair is None or now.pair is None:
            return gone_mm(before, now)
        # All states of a pair went the same way.
        key = id(before.pair), id(now.pair)
        if key not in self._ways:
            self._ways[key] = gone_mm(before, now)
        return self._ways[key]


def _one_of(check: Check, known: Known, find: Callable[[], Group], held: Told | None = None) -> Moved:
    return Moved(check, lambda: find().reading_in(known.reading.state), known, held)


def _pair_of(known: Known, mover: Footing | ArmsFooting, pair: Pair) -> Pair:
    """The pair of one state: of an arm in many states the one it is about."""
    if not isinstance(mover, ArmsFooting):
        return pair
    return Pair(mover.arm_in(_arm_of(known).state), pair.met, pair.rest)


def _arm_of(known: Known) -> ArmFooting:
    assert known.reading.pair is not None
    return cast(ArmFooting, known.reading.pair.mover)


def _rank(one: Moved) -> Rank:
    told = one.told()
    return _NEW if told is None else told[0]


def _value(one: Moved) -> float:
    told = one.told()
    return math.inf if told is None else gap_mm(told[1])


def _held_rank(one: Moved) -> Rank:
    """Where it might stand among the worst, from what is proven; behind everything where it was measured."""
    return NO_RANK if one.held is None or one.after is not None else one.held[0]


def _held_gap_mm(one: Moved) -> float:
    """The least that its gap might be, from what is proven; infinite where it was measured."""
    return math.inf if one.held is None or one.after is not None else gap_mm(one.held[1])
