"""A finding with what it was judged on, and what it still proves of what has moved since."""

import math
from dataclasses import dataclass, replace

from floorpan.checks.check import Bounded, Check, Group, Reading, same_inputs
from floorpan.checks.finding import Finding, rank

Rank = tuple[int, float, str]

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


@dataclass(slots=True)
class KnownGroup:
    """All findings of one pair, judged together."""

    check: Check
    group: Group
    members: tuple[Known, ...]
    _spare_mm: float | None = None
    _held: "tuple[float, Held] | None" = None
    _as_told: list[tuple[Rank, Finding]] | None = None

    def as_told(self) -> list[tuple[Rank, Finding]]:
        """Every finding as it was judged, with its rank."""
        if self._as_told is None:
            self._as_told = [(one.rank, one.finding) for one in self.members]
        return self._as_told

    def still_clear(self, gone_mm: float) -> "Held | None":
        """Every finding as what is proven without judging again; None where one is not."""
        if self._spare_mm is None:
            self._spare_mm = min((one.spare_mm() for one in self.members), default=0.0)
        if gone_mm >= self._spare_mm:
            return None
        steps = min(in_steps_mm(gone_mm), self._spare_mm)
        if self._held is None or self._held[0] != steps:
            held = [one.still_clear(gone_mm) for one in self.members]
            self._held = steps, Held([one for one in held if one is not None])
        return self._held[1]


class Held:
    """What is proven of a pair's states, with the worst rank and the smallest gap among them."""

    __slots__ = ("smallest_mm", "told", "worst")

    def __init__(self, told: list[tuple[Rank, Finding]]) -> None:
        self.told = told
        self.worst = min(rank for rank, _ in told)
        self.smallest_mm = min(gap_mm(finding) for _, finding in told)


def gap_mm(finding: Finding) -> float:
    """A gap's value; infinite for what is no gap or has none."""
    return math.inf if finding.value is None or not finding.is_gap else finding.value


def in_steps_mm(gone_mm: float) -> float:
    """No less than gone_mm, in coarse steps, so that a finding is not written anew whenever a hand moves."""
    return _STEP_MM * math.ceil(gone_mm / _STEP_MM)


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
