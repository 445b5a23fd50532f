"""How far a scan is good: everything that was measured about it, in one half-width that every gap carries.

The axes' tilt and the noise are told apart from it, gap by gap: the one grows with the arm, the other is one-sided.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from floorpan.frames import Vector
from floorpan.scan.known_lengths import KnownLength, check_lengths
from floorpan.scan.straight_edges import StraightEdge, check_edge
from floorpan.scan.twist import check_twists

# Half-width at about 95 % where nothing was measured; common practice, no source.
UNMEASURED_MM = 2.0
# What a gap rests on lies within this of where the lengths were held against the scan; common practice, no source.
REACH_MM = 500.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubtPart:
    """One part of the doubt: what it is, one standard uncertainty [mm], and where the number comes from."""

    name: str
    standard_mm: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ScanDoubt:
    """The parts, and what they come to: twice the root of the sum of squares, after JCGM 100."""

    parts: tuple[DoubtPart, ...]

    @property
    def u_mm(self) -> float:
        """Half-width at about 95 % [mm]."""
        return 2.0 * math.sqrt(sum(part.standard_mm**2 for part in self.parts))


def scan_doubt(
    lengths: Sequence[KnownLength],
    edges: Sequence[StraightEdge],
    *,
    apart_mm: float = 0.0,
    up: Vector | None = None,
) -> ScanDoubt:
    """What was measured about a scan, as one doubt of a place on it.

    apart_mm : how far double walls lie apart, 0 where there are none
    up       : in the scan's own coordinates, None until its axes are set

    Scale: what the factor would change over REACH_MM, and its own doubt over the same. Lengths: what one factor leaves.
    Bow: the worst straight edge, taken as even over its greatest departure (standard = bow / sqrt 3, JCGM 100, 4.3.7).
    Twist: the worst pair of levels, likewise.
    """
    parts = []
    scale = check_lengths(lengths)
    if scale is None:
        parts.append(DoubtPart(name="scale", standard_mm=UNMEASURED_MM / 2.0, source="nothing was measured"))
    else:
        many = f"{len(lengths)} known lengths" if len(lengths) > 1 else "one known length"
        over = REACH_MM * (abs(scale.factor - 1.0) + scale.u_factor / 2.0)
        parts.append(DoubtPart(name="scale", standard_mm=over, source=f"{many}, over {REACH_MM:g} mm"))
        if len(lengths) > 1:
            parts.append(
                DoubtPart(name="lengths among each other", standard_mm=scale.left_rms_mm, source=many)
            )
    if edges:
        bow = max(check_edge(edge).bow_mm for edge in edges)
        parts.append(
            DoubtPart(name="bow", standard_mm=bow / math.sqrt(3.0), source="the worst straight edge")
        )
    wound = max((one.off_mm for one in check_twists(edges, up=up)), default=None)
    if wound is not None:
        parts.append(
            DoubtPart(name="twist", standard_mm=wound / math.sqrt(3.0), source="the worst pair of levels")
        )
    if apart_mm > 0.0:
        parts.append(
            DoubtPart(
                name="double walls", standard_mm=apart_mm / math.sqrt(12.0), source="passes that disagree"
            )
        )
    return ScanDoubt(parts=tuple(parts))
