"""One step of a drag: what is judged anew, in which order, and what is told of the rest.

Nothing is judged that is proven clear by how far its two bodies went since it was judged last, unless it could be the
worst of all or the smallest gap of what moves in the shown state: those two are always measured.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from floorpan.checks.check import Check, Group, Reading
from floorpan.checks.finding import Finding
from floorpan.checks.known import NO_RANK, Held, Known, KnownGroup, Rank, gap_mm, gone_mm
from floorpan.items.states import State

LookedAt = Callable[[State], bool]

_NEW: Rank = (-1, 0.0, "")
_VERY_WORST = 3


@dataclass(slots=True, eq=False)
class Moved:
    """A reading that is not the one it was judged on.

    before : what is known of it; held : what that still proves; after : what was judged in this step
    """

    check: Check
    reading: Reading
    before: Known | None
    held: tuple[Rank, Finding] | None = None
    after: Known | None = None

    def told(self) -> tuple[Rank, Finding] | None:
        """What is told of it with its rank; None of what was never judged."""
        if self.after is not None:
            return self.after.rank, self.after.finding
        if self.held is not None:
            return self.held
        return None if self.before is None else (self.before.rank, self.before.stale())


@dataclass(slots=True, eq=False)
class HeldGroup:
    """A pair that moved, and what is proven of its states."""

    check: Check
    group: Group
    before: KnownGroup
    held: Held

    def apart(self) -> Iterator[Moved]:
        """Each state that something is proven of, by itself."""
        readings, members = self.group.readings, self.before.members
        for place, told in zip(self.held.places, self.held.told, strict=True):
            yield Moved(self.check, readings[place], members[place], told)


class LiveStep:
    """What moved, and what stayed as it was."""

    def __init__(self) -> None:
        self.stayed: list[tuple[Rank, Finding]] = []
        self._moved: list[Moved] = []
        self._groups: list[HeldGroup] = []
        self._ways: dict[tuple[int, int], float] = {}

    def take_group(self, check: Check, group: Group, before: KnownGroup | None) -> tuple[Reading, ...]:
        """A pair as it is now, and what is known of it; returns the states that are to be taken one by one."""
        if before is None:
            return group.readings
        gone = group.pair.gone_mm(before.group.pair)
        held = before.held(gone)
        if gone == 0.0:
            self.stayed += held.told
        elif held.told:
            self._groups.append(HeldGroup(check, group, before, held))
        if not held.left:
            return ()
        readings = group.readings
        if len(readings) != len(before.members):
            return readings
        return tuple(readings[place] for place in held.left)

    def take(self, check: Check, reading: Reading, before: Known | None) -> None:
        """One live reading of the layout as it is now, and what is known of it."""
        if before is None:
            self._moved.append(Moved(check, reading, None))
            return
        gone = self._gone_mm(before.reading, reading)
        if gone == 0.0:
            self.stayed.append((before.rank, before.finding))
        else:
            self._moved.append(Moved(check, reading, before, before.still_clear(gone)))

    def to_judge(self, looked_at: LookedAt | None) -> Iterator[Moved]:
        """What to judge next, as long as there is time; each has its `after` before the next is asked for.

        First what nothing is proven of: the very worst of last time, then what is looked at, then the rest, worst
        first, and what takes longer after all of that. Then what might be worse than all that is measured, and what
        might be narrower than the smallest gap of what moved in the states looked at.
        """
        waiting = [one for one in self._moved if one.held is None]
        waiting.sort(key=lambda one: _NEW if one.before is None else one.before.rank)
        if looked_at is not None:
            waiting[_VERY_WORST:] = sorted(
                waiting[_VERY_WORST:], key=lambda one: not looked_at(one.reading.state)
            )
        waiting.sort(key=lambda one: one.check.tier == "late")
        yield from waiting
        yield from self._might_be_worst()
        if looked_at is not None:
            yield from self._might_be_smallest(looked_at)

    def told(self) -> list[tuple[Rank, Finding]]:
        """Everything that is known now, with its rank."""
        found = [*self.stayed, *(told for group in self._groups for told in group.held.told)]
        return found + [told for one in self._moved if (told := one.told()) is not None]

    def _might_be_worst(self) -> Iterator[Moved]:
        measured = [one.after.rank for one in self._moved if one.after is not None]
        worst = min(min(measured, default=NO_RANK), min((rank for rank, _ in self.stayed), default=NO_RANK))
        self._take_apart(lambda held: held.worst < worst)
        for one in sorted((one for one in self._moved if _held_rank(one) < worst), key=_held_rank):
            if worst <= _held_rank(one):
                return
            yield one
            worst = min(worst, _rank(one))

    def _might_be_smallest(self, looked_at: LookedAt) -> Iterator[Moved]:
        measured = [one for one in self._moved if one.after is not None and looked_at(one.reading.state)]
        smallest = min((gap_mm(one.after.finding) for one in measured if one.after), default=math.inf)
        self._take_apart(
            lambda held: (
                held.smallest_mm < smallest
                and any(gap_mm(one) < smallest and looked_at(one.state) for _, one in held.told)
            )
        )
        left = [one for one in self._moved if _held_gap_mm(one) < smallest and looked_at(one.reading.state)]
        for one in sorted(left, key=_held_gap_mm):
            if smallest <= _held_gap_mm(one):
                return
            yield one
            smallest = min(smallest, _value(one))

    def _take_apart(self, of_interest: Callable[[Held], bool]) -> None:
        for group in [one for one in self._groups if of_interest(one.held)]:
            self._groups.remove(group)
            self._moved += group.apart()

    def _gone_mm(self, before: Reading, now: Reading) -> float:
        if before.pair is None or now.pair is None:
            return gone_mm(before, now)
        # All states of a pair went the same way.
        key = id(before.pair), id(now.pair)
        if key not in self._ways:
            self._ways[key] = gone_mm(before, now)
        return self._ways[key]


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
