"""When an open cup spills: the drink's surface slopes until it reaches the brim.

Under a steady push the surface stands across the pull, so it slopes by atan(a / g); a cup that leans outward adds
its lean. The surface turns about its middle. In a cup that widens upward it really sinks a little as it slopes, so
it reaches the brim no sooner than told. A wave on top of a steady corner is not counted.
"""

import math
from collections.abc import Callable

from floorpan.items.vessel_weight import fill_line_mm
from floorpan.items.vessels import Vessel, height_mm

_MOST_G = 20.0
_HALVINGS = 60


def surface_slope_deg(push_g: float, unloaded_g: float = 0.0) -> float:
    """How steep a drink's surface stands under a steady push [deg]."""
    return math.degrees(math.atan2(push_g, 1.0 - unloaded_g))


def surface_rise_mm(push_g: float, radius_mm: float, lean_deg: float = 0.0) -> float:
    """How far the drink climbs at a radius in a cup that leans outward by lean_deg; inf where it runs out."""
    slope = surface_slope_deg(push_g) + lean_deg
    return radius_mm * math.tan(math.radians(slope)) if slope < 90.0 else math.inf


def freeboard_mm(vessel: Vessel, fill: float = 1.0) -> float:
    """Brim over drink, filled to a share of the height of the fill line."""
    return height_mm(vessel) - fill * fill_line_mm(vessel)


def spills_g(vessel: Vessel, lean_deg_at: Callable[[float], float] | None = None, fill: float = 1.0) -> float:
    """The steady push at which an open cup spills [g]; inf for one that is closed.

    lean_deg_at : how far it leans outward at a push [g -> deg], never less at a greater one; upright without it
    """
    if not vessel.open_top:
        return math.inf
    room, brim = freeboard_mm(vessel, fill), vessel.profile[-1][1]

    def spills(push_g: float) -> bool:
        lean = 0.0 if lean_deg_at is None else lean_deg_at(push_g)
        return surface_rise_mm(push_g, brim, lean) >= room

    if lean_deg_at is None:
        return room / brim
    low, high = 0.0, _MOST_G
    if spills(low):
        return 0.0
    if not spills(high):
        return _MOST_G
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        low, high = (low, middle) if spills(middle) else (middle, high)
    return low
