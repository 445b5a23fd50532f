"""A finding with what it was judged on, and what it still proves of what has moved since."""

import math
from dataclasses import dataclass, replace

from floorpan.checks.check import Bounded, Check, Group, Reading, same_inputs
from floorpan.checks.finding import Finding, rank
from floorpan.items.states import State

Rank = tuple[int, float, str]

NO_RANK: Rank = (99, 0.0, "")
"""Behind everything."""
_STEP_MM = 5.0


@dataclass(slots=True)
class Known:
    """A finding, the reading it was judged on, and its place among the others."""

    check: Check
    reading: Reading
    finding: Finding
    rank: Rank
    _stale: Finding | None = None
    _spare_mm: float | None = None
    _held: tuple[Rank, Finding] | None = None

    def same(self, reading: Reading) -> bool:
        """Whether another reading saw the very same things."""
        return reading is self.reading or gone_mm(self.reading, reading) == 0.0

    def stale(self) -> Finding:
        """The finding as from before the last change."""
        if self._stale is None:
            self._stale = replace(self.finding, stale=True)
        return self._stale

    def spare_mm(self) -> float:
        """How far what was judged may go while this finding stays clear; 0 where that is not known [mm]."""
        if self._spare_mm is None:
            judge = self.check.judge
            clear = self.finding.verdict == "clear"
            known = isinstance(judge, Bounded) and clear and judge.spare_mm(self.reading, self.finding)
            self._spare_mm = float(known)
        return self._spare_mm

    def still_clear(self, gone_mm: float) -> tuple[Rank, Finding] | None:
        """The finding as what is proven without judging again, with its rank; None where nothing is.

        A gap narrows by no more than its two bodies went, so one with enough in hand is clear still.
        """
        if gone_mm >= self.spare_mm():
            return None
        judge = self.check.judge
        assert isinstance(judge, Bounded)
        least = judge.at_worst(self.reading, self.finding, min(in_steps_mm(gone_mm), self.spare_mm()))
        if self._held is None or self._held[1].value != least:
            held = replace(self.finding, value=least, at_least=True)
            self._held = rank(held), held
        return self._held


class Held:
    """What is proven of some of a pair's states, and which of them have to be looked at by themselves.

    told : findings with their ranks, of the states at `places` in the pair
    left : places of the others
    """

    __slots__ = ("left", "places", "smallest_mm", "told", "worst")

    def __init__(self, told: list[tuple[Rank, Finding]], left: tuple[int, ...], count: int) -> None:
        self.told, self.left = told, left
        self.places = tuple(place for place in range(count) if place not in left)
        self.worst = min((rank for rank, _ in self.told), default=NO_RANK)
        self.smallest_mm = min((gap_mm(finding) for _, finding in self.told), default=math.inf)


class KnownGroup:
    """All findings of one pair, judged together; those that were judged again since are known by themselves."""

    __slots__ = ("_apart", "_held", "group", "members")

    def __init__(self, group: Group, members: tuple[Known, ...]) -> None:
        self.group = group
        self.members = members
        self._apart: set[int] = set()
        self._held: tuple[tuple[float, tuple[int, ...]], Held] | None = None

    def judged_again(self, state: State) -> None:
        """From now on a state is known by itself."""
        places = range(len(self.members))
        self._apart |= {place for place in places if self.members[place].reading.state == state}

    def held(self, gone_mm: float) -> Held:
        """What is proven without judging again once the two went so far; all as it was judged where they did not."""
        left = tuple(
            place
            for place, one in enumerate(self.members)
            if place in self._apart or (gone_mm > 0.0 and gone_mm >= one.spare_mm())
        )
        key = in_steps_mm(gone_mm), left
        if self._held is None or self._held[0] != key:
            told = [
                (one.rank, one.finding) if gone_mm == 0.0 else one.still_clear(gone_mm)
                for place, one in enumerate(self.members)
                if place not in left
            ]
            self._held = key, Held([one for one in told if one is not None], left, len(self.members))
        return self._held[1]


def gap_mm(finding: Finding) -> float:
    """A gap's value; infinite for what is no gap or has none."""
    return math.inf if finding.value is None or not finding.is_gap else finding.value


def in_steps_mm(gone_mm: float) -> float:
    """No less than gone_mm, in coarse steps, so that a finding is not written anew whenever a hand moves."""
    return _STEP_MM * math.ceil(gone_mm / _STEP_MM) if gone_mm < math.inf else gone_mm


def known(check: Check, reading: Reading) -> Known:
    """A reading judged."""
    finding = check.judge(reading)
    return Known(check, reading, finding, rank(finding))


def gone_mm(before: Reading, now: Reading) -> float:
    """How far the two bodies of a gap went since a reading, together [mm].

    0 where nothing changed that is judged on, infinite where it cannot be told.
    """
    if before is now:
        return 0.0
    if before.pair is not None and now.pair is not None:
        return now.pair.gone_mm(before.pair)
    return 0.0 if same_inputs(before.inputs, now.inputs) else math.inf
