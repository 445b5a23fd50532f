"""What a check says: a value, how far it can be trusted, and a verdict.

Verdicts after the project's rule, first match wins, v value, L limit, u uncertainty, all turned so that more is
better: pending, unseen, hits (v <= 0, gaps only), short (v < L - u, or v - u <= 0), close (v < L + u), clear.
Uncertainty after JCGM 100: twice the root sum of squares of independent standard uncertainties, plus the plain
sum of one-sided bounds.
"""

import math
from dataclasses import dataclass
from typing import Literal

from floorpan.items.states import State, is_leg
from floorpan.limits import Limit

Verdict = Literal["clear", "close", "hits", "short", "unseen", "pending"]
WORST_FIRST: tuple[Verdict, ...] = ("hits", "short", "unseen", "close", "pending", "clear")

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Doubt:
    """One part of an uncertainty.

    standard : a standard uncertainty (one sigma) in the value's unit; goes into the root sum of squares
    bound    : a one-sided bound in the value's unit; added plainly
    """

    name: str
    standard: float = 0.0
    bound: float = 0.0


def combined(doubts: tuple[Doubt, ...]) -> float:
    """The half-width at about 95 % of a value with these doubts."""
    return 2.0 * math.sqrt(sum(d.standard**2 for d in doubts)) + sum(d.bound for d in doubts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """A move that would clear a finding: of which thing, and by how much in car axes [mm]."""

    subject: str
    move_mm: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One check on one subject in one state.

    value    : in the limit's unit; None where unseen or pending
    at_mm    : the two nearest points in car axes, first on subjects[0]; None where there are none
    away     : unit vector in car axes along which subjects[0] is moved to widen a gap fastest; None where not known
    met      : what was met, in words (an area of the scan, a part of a thing)
    note     : one sentence more, for the ledger's second line
    stale    : judged before the last change
    at_least : the value is proven to be no less, not measured; it is clear even so
    unseen_mm: how far the nearest place is that nobody scanned [mm]
    """

    check: str
    subjects: tuple[str, ...]
    state: State
    verdict: Verdict
    value: float | None
    uncertainty: float
    doubts: tuple[Doubt, ...]
    limit: Limit
    is_gap: bool = True
    at_mm: tuple[Point, Point] | None = None
    away: Point | None = None
    met: str = ""
    note: str = ""
    cure: Cure | None = None
    stale: bool = False
    at_least: bool = False
    unseen_mm: float = math.inf

    @property
    def id(self) -> str:
        """Stable name: check, subjects, state."""
        state = ",".join(f"{axis}={stop}" for axis, stop in self.state)
        return ":".join((self.check, *self.subjects, state)).rstrip(":")


def margin(value: float, limit: Limit) -> float:
    """How far value is on the good side of the limit, in its unit."""
    if limit.sense == "at_least":
        return value - limit.value
    if limit.sense == "at_most":
        return limit.value - value
    upper = math.inf if limit.upper is None else limit.upper
    return min(value - limit.value, upper - value)


def verdict_of(value: float, uncertainty: float, limit: Limit, *, is_gap: bool) -> Verdict:
    """The verdict on a known value."""
    if is_gap and value <= 0.0:
        return "hits"
    spare = margin(value, limit)
    if spare < -uncertainty or (is_gap and value - uncertainty <= 0.0):
        return "short"
    if spare < uncertainty:
        return "close"
    return "clear"


def rank(finding: Finding) -> tuple[int, float, str]:
    """Sort key, worst first; where a motion and its end are alike to the eye, the end is told first."""
    place = WORST_FIRST.index(finding.verdict)
    name = f"{any(is_leg(stop) for _, stop in finding.state):d}{finding.id}"
    return place, by_margin(finding), name


def by_margin(finding: Finding) -> float:
    """How far a value is on the good side of its limit, as a share of the limit; 0 for none."""
    if finding.value is None:
        return 0.0
    scale = max(abs(finding.limit.value), finding.uncertainty, 1e-9)
    return round(margin(finding.value, finding.limit) / scale, 3)
