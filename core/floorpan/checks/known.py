"""A finding with what it was judged on, and what it still proves of what has moved since."""

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import cast

from floorpan.checks.check import Bounded, Check, Group, Reading, same_inputs
from floorpan.checks.finding import Finding, by_margin, rank
from floorpan.derive.arm_footing import ArmFooting, ArmsFooting, Gone, in_steps_mm
from floorpan.items.states import State

Rank = tuple[int, float, str]
Told = tuple[Rank, Finding]
Key = tuple[str, tuple[str, ...], State]
"""A check, what it is about, and the state."""

NO_RANK: Rank = (99, 0.0, "")
"""Behind everything."""


@dataclass(slots=True)
class Known:
    """A finding, the reading it was judged on, and its place among the others."""

    check: Check
    reading: Reading
    finding: Finding
    rank: Rank
    _stale: Finding | None = None
    _spare_mm: float | None = None
    _held: dict[float, Told] = field(default_factory=dict)

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

    def still_clear(self, gone_mm: float) -> Told | None:
        """The finding as what is proven without judging again, with its rank; None where nothing is.

        A gap narrows by no more than its two bodies went, so one with enough in hand is clear still.
        """
        if gone_mm >= self.spare_mm():
            return None
        judge = self.check.judge
        assert isinstance(judge, Bounded)
        steps = min(in_steps_mm(gone_mm), self.spare_mm())
        told = self._held.get(steps)
        if told is None:
            value = judge.at_worst(self.reading, self.finding, steps)
            held = replace(self.finding, value=value, at_least=True)
            place, _, name = self.rank
            told = self._held[steps] = (place, by_margin(held), name), held
        return told


class Held:
    """What is proven of some of a pair's states, and which of them have to be looked at by themselves.

    told : findings with their ranks, of the states at `places` in the pair, worst first
    left : places of the others
    """

    __slots__ = ("left", "places", "smallest_mm", "told", "worst")

    def __init__(self, proven: list[tuple[int, Told]], left: tuple[int, ...]) -> None:
        proven.sort(key=_rank)
        self.left = left
        self.places = [place for place, _ in proven]
        self.told = [told for _, told in proven]
        self.worst = self.told[0][0] if self.told else NO_RANK
        self.smallest_mm = min((gap_mm(finding) for _, finding in self.told), default=math.inf)


class KnownGroup:
    """All findings of one pair, judged together; those that were judged again since are known by themselves."""

    __slots__ = ("_again", "_arms", "_held", "_least", "_places", "_spares", "group", "members", "more")

    def __init__(self, group: Group, members: tuple[Known, ...]) -> None:
        self.group = group
        self.members = members
        self._again: dict[int, Known] = {}
        self._held: tuple[object, Held] | None = None
        self._spares: list[tuple[float, int]] | None = None
        self._places: dict[State, int] | None = None
        self._arms: tuple[int, ...] | None = None
        self._least: list[float] | None = None
        # States that were not there when all of them were judged.
        self.more: dict[State, Known] = {}

    @property
    def places(self) -> dict[State, int]:
        """Where among the members each state is."""
        if self._places is None:
            self._places = {one.reading.state: place for place, one in enumerate(self.members)}
        return self._places

    @property
    def as_judged(self) -> bool:
        """Whether none of them was judged again since."""
        return not self._again

    def make_ready(self) -> None:
        """Work out what each of them has to spare, so that the first step of a drag need not."""
        if isinstance(self.group.mover, ArmsFooting):
            self._least_spares()
        else:
            self._sorted_spares()

    def go_back(self) -> None:
        """Know what was known when all of them were judged."""
        self._again.clear()
        self.more.clear()

    def judged_again(self, known: Known) -> None:
        """From now on a state is known by itself."""
        place = self.places.get(known.reading.state)
        if place is None:
            self.more[known.reading.state] = known
        else:
            self._again[place] = known

    def last(self, place: int) -> Known:
        """What is known of a state, judged by itself or with the others."""
        return self._again.get(place) or self.members[place]

    def arm_of(self, place: int) -> int:
        """Which of the arms of the pair's mover a state belongs to."""
        if self._arms is None:
            mover = self.group.mover
            assert isinstance(mover, ArmsFooting)
            # By the state: what is known may be of the same arm from before something came and went.
            which = {state: number for number, state in enumerate(mover.states)}
            pairs = (one.reading.pair for one in self.members)
            self._arms = tuple(
                which[cast(ArmFooting, pair.mover).state] for pair in pairs if pair is not None
            )
        return self._arms[place]

    def held(self, gone_mm: float | Gone) -> Held:
        """What is proven without judging again once the two went so far; all as it was judged where they did not."""
        if isinstance(gone_mm, Gone):
            return self._held_each(gone_mm)
        short = 0 if gone_mm == 0.0 else bisect_right(self._sorted_spares(), gone_mm, key=_first)
        key = in_steps_mm(gone_mm), short, len(self._again)
        if self._held is None or self._held[0] != key:
            left = {place for _, place in self._sorted_spares()[:short]} if short else set()
            left |= self._again.keys()
            gone = [gone_mm] * len(self.members)
            self._held = key, self._all_but(left, gone)
        return self._held[1]

    def _held_each(self, arms_gone: Gone) -> Held:
        short = [
            arm
            for arm, (mm, least) in enumerate(zip(arms_gone.each_mm, self._least_spares(), strict=True))
            if mm is not None and mm > 0.0 and mm >= least
        ]
        key = arms_gone.steps, tuple(short), len(self._again)
        if self._held is None or self._held[0] != key or short:
            gone = [arms_gone.each_mm[self.arm_of(place)] for place in range(len(self.members))]
            left = {
                place
                for place, mm in enumerate(gone)
                if mm is not None
                and (place in self._again or (mm > 0.0 and mm >= self.members[place].spare_mm()))
            }
            self._held = key, self._all_but(left, gone)
        return self._held[1]

    def _least_spares(self) -> list[float]:
        """The least spare of each arm's states [mm]."""
        if self._least is None:
            mover = self.group.mover
            assert isinstance(mover, ArmsFooting)
            self._least = [math.inf] * len(mover.states)
            for place, one in enumerate(self.members):
                arm = self.arm_of(place)
                self._least[arm] = min(self._least[arm], one.spare_mm())
        return self._least

    def _all_but(self, left: set[int], gone_mm: Sequence[float | None]) -> Held:
        proven: list[tuple[int, Told]] = []
        for place, (one, gone) in enumerate(zip(self.members, gone_mm, strict=True)):
            if gone is not None and place not in left:
                told = (one.rank, one.finding) if gone == 0.0 else one.still_clear(gone)
                assert told is not None
                proven.append((place, told))
        return Held(proven, tuple(sorted(left)))

    def _sorted_spares(self) -> list[tuple[float, int]]:
        if self._spares is None:
            self._spares = sorted((one.spare_mm(), place) for place, one in enumerate(self.members))
        return self._spares


def _first(spare: tuple[float, int]) -> float:
    return spare[0]


def _rank(proven: tuple[int, Told]) -> Rank:
    return proven[1][0]


def gap_mm(finding: Finding) -> float:
    """A gap's value; infinite for what is no gap or has none."""
    return math.inf if finding.value is None or not finding.is_gap else finding.value


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
