"""Known lengths: what a tape or a ground bar says against the scan, and whether one factor explains the difference.

One factor for the whole scan must never hide a bend: it is proposed only where every length agrees with it as well as
picks and tape allow.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

import numpy as np
from scipy.stats import chi2

from floorpan.errors import BadValue
from floorpan.fields import Range, Text, check_fields
from floorpan.frames import Vector
from floorpan.scan.axis_doubt import PICK_MM

# Common practice, no source: accepted where lengths agree within 0.5 mm in 500 mm.
ALLOWED_SHARE = 0.5 / 500.0
# Lengths that disagree with one factor more than 99 in 100 sets of good picks would: the scan is bent, not scaled.
BENT = 0.99


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownLength:
    """Two picked ends, in the scan's own coordinates [mm], and what was taped between them.

    tape_u_mm : how well the taped length is known, half-width at about 95 %

    Raises BadValue where both ends are one place.
    """

    id: str
    name: Annotated[str, Text(80, "Name")] = ""
    ends_mm: tuple[Vector, Vector]
    taped_mm: Annotated[float, Range(10.0, 10_000.0, "mm", "Taped", "between the same two edges")]
    tape_u_mm: Annotated[
        float, Range(0.02, 10.0, "mm", "Taped to within", "0.5 for a steel rule; common practice")
    ] = 0.5

    def __post_init__(self) -> None:
        check_fields(self)
        if self.scan_mm < 1.0:
            raise BadValue(
                "length-too-short", "Both ends of this length lie at one place.", "Pick its two ends again."
            )

    @property
    def scan_mm(self) -> float:
        """What the scan says [mm]."""
        return math.dist(*self.ends_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthCheck:
    """One length held against the scan.

    error_mm : scan less tape; u_mm : how well that is known, half-width at about 95 %
    allowed_mm : how far it may be off (common practice, no source)
    left_mm  : what would be left of it after the proposed factor
    verdict  : clear, close (cannot be told), or short: off by more than is allowed
    """

    id: str
    error_mm: float
    u_mm: float
    allowed_mm: float
    left_mm: float
    verdict: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ScaleCheck:
    """All known lengths together.

    factor : that the scan would be multiplied by, with u_factor as a half-width at about 95 %
    agrees : whether one factor explains every length as well as picks and tape allow
    proposed : whether it is worth applying: all agree with it, some length is off, and it is not 1 within its doubt
    left_rms_mm : root mean square of what a factor leaves
    """

    lengths: tuple[LengthCheck, ...]
    factor: float
    u_factor: float
    agrees: bool
    proposed: bool
    left_rms_mm: float

    @property
    def verdict(self) -> str:
        """The worst of them."""
        return max(
            (one.verdict for one in self.lengths), key=("clear", "close", "short").index, default="close"
        )


def check_lengths(known: Sequence[KnownLength], *, pick_mm: float = PICK_MM) -> ScaleCheck | None:
    """Every length against the scan, and the factor that explains them best; None for none.

    pick_mm : one sigma of a picked end

    Weighted least squares of tape = factor x scan, weights from picks and tape; the fit is refused by the chi-square
    test at 99 % (P. R. Bevington and D. K. Robinson, Data Reduction and Error Analysis, 3rd edition, 2003, chapter 4).
    """
    if not known:
        return None
    scan = np.array([one.scan_mm for one in known])
    tape = np.array([one.taped_mm for one in known])
    sigma = np.array([math.hypot(math.sqrt(2.0) * pick_mm, one.tape_u_mm / 2.0) for one in known])
    weight = 1.0 / sigma**2
    spread = float((weight * scan**2).sum())
    factor = float((weight * scan * tape).sum()) / spread
    left = factor * scan - tape
    agrees = len(known) < 2 or float((weight * left**2).sum()) <= float(chi2.ppf(BENT, len(known) - 1))
    u_factor = 2.0 / math.sqrt(spread)
    lengths = tuple(
        _checked(one, float(s), float(rest)) for one, s, rest in zip(known, sigma, left, strict=True)
    )
    off = any(one.verdict != "clear" for one in lengths)
    return ScaleCheck(
        lengths=lengths,
        factor=factor,
        u_factor=u_factor,
        agrees=agrees,
        proposed=agrees and off and abs(factor - 1.0) > u_factor,
        left_rms_mm=float(np.sqrt(np.mean(left**2))),
    )


def _checked(one: KnownLength, sigma: float, left: float) -> LengthCheck:
    error, allowed, u = one.scan_mm - one.taped_mm, ALLOWED_SHARE * one.taped_mm, 2.0 * sigma
    off = abs(error)
    verdict = "clear" if off <= allowed else "close" if off <= allowed + u else "short"
    return LengthCheck(id=one.id, error_mm=error, u_mm=u, allowed_mm=allowed, left_mm=left, verdict=verdict)
