"""Covers by number: what lies within a thickness of a surface is nearer by just that thickness."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from floorpan.errors import BadValue
from floorpan.geometry.approach import GapMemory
from floorpan.geometry.near import NOTHING_NEAR, Near
from floorpan.geometry.solids import Body
from floorpan.geometry.surface import Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class OverCover:
    """The least gap of a body over covered surfaces.

    gap_mm   : gap over the cover [mm], negative in it; infinite where nothing is near
    bare     : the gap to the surface under it, at the place where the gap over the cover is least
    thick_mm : thickness of the cover there [mm]
    index    : which surface, -1 where nothing is near
    """

    gap_mm: float = math.inf
    bare: Near = NOTHING_NEAR
    thick_mm: float = 0.0
    index: int = -1


def gap_over_cover(
    body: Body,
    covered: Sequence[tuple[Surface, float]],
    *,
    limit_mm: float = math.inf,
    memories: Sequence[GapMemory] | None = None,
) -> OverCover:
    """The least gap over surfaces that each carry a cover of some thickness [mm], square to them.

    The points within t of a surface are its offset, so the gap over the cover is the gap over the surface less t,
    for any shape of surface; of several, the least. Not always at the surface that is nearest bare.
    limit_mm : farther over the cover than this is answered as nothing near
    memories : one for each surface, makes the next pose quicker
    """
    best = OverCover()
    most = limit_mm
    for index, (surface, thick_mm) in enumerate(covered):
        memory = memories[index] if memories is not None else None
        bare = surface.gap(body, limit_mm=most + thick_mm, memory=memory)
        gap = bare.distance_mm - thick_mm
        if bare.found and gap < best.gap_mm:
            best = OverCover(gap_mm=gap, bare=bare, thick_mm=thick_mm, index=index)
            most = min(most, gap)
    return best


def up_mm(thick_mm: float, slope_deg: float) -> float:
    """Thickness measured straight up of a cover on a slope, 0 level to under 90 upright [mm]."""
    if not 0.0 <= slope_deg < 90.0:
        raise BadValue("slope-too-steep", f"A cover on a slope of {slope_deg:g} degrees has no height.",
                       "Measure it sideways there.")  # fmt: skip
    return thick_mm / math.cos(math.radians(slope_deg))


def aside_mm(thick_mm: float, slope_deg: float) -> float:
    """Thickness measured level of a cover on a slope, over 0 to 90 upright [mm]."""
    if not 0.0 < slope_deg <= 90.0:
        raise BadValue("slope-too-flat", f"A cover on a slope of {slope_deg:g} degrees has no width.",
                       "Measure it upward there.")  # fmt: skip
    return thick_mm / math.sin(math.radians(slope_deg))
