"""How a vessel sits in a well: how deep, how loose, how far it can lean."""

import functools
import math
from dataclasses import dataclass, replace

import numpy as np

from floorpan.frames import Floats
from floorpan.items.cup_holder import CupHolder
from floorpan.items.placing import Place
from floorpan.items.vessels import Vessel

_TOUCH_MM = 1e-9
_STEP_DEG = 0.5
_MOST_DEG = 89.5
_ANYWHERE = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class WellFit:
    """How a vessel sits.

    enters        : its base gets below the mouth
    sits_mm       : how far its base gets below the mouth
    side_mm       : least well diameter over vessel diameter where it sits; 0 where it hangs by its taper
    free_tilt_deg : how far it leans before it touches bottom, wall and rim at once; 90 where nothing stops it
    """

    enters: bool
    sits_mm: float
    side_mm: float
    free_tilt_deg: float


def well_fit(holder: CupHolder, vessel: Vessel) -> WellFit:
    """How the vessel sits in the well, both upright and on one axis.

    The lean is that of the two outlines in one plane through the axis: the vessel stands on the low corner of
    its base, its raised corner touches the wall, and the well's rim stops it above. For a straight cup in a
    straight well this is W cos a - (D - d sin a) sin a = d; there is no small-angle step.
    """
    return _fit(replace(holder, place=_ANYWHERE), replace(vessel, place=_ANYWHERE))


@functools.lru_cache(maxsize=128)
def _fit(holder: CupHolder, vessel: Vessel) -> WellFit:
    """The same for a pair that stands nowhere: dragging a holder about asks for it at every step."""
    raised = _raised(holder, vessel)
    sits = holder.depth_mm - raised
    if sits <= _TOUCH_MM:
        return WellFit(enters=False, sits_mm=0.0, side_mm=0.0, free_tilt_deg=0.0)
    side = max(0.0, 2 * _least_room(holder, vessel, raised))
    return WellFit(
        enters=True, sits_mm=sits, side_mm=side, free_tilt_deg=_free_tilt(holder, vessel, raised, side)
    )


def vessel_place(vessel: Vessel, holder: CupHolder) -> Place:
    """Where a vessel stands in a holder: on its axis, as deep as it goes."""
    return replace(holder.place, z_mm=holder.place.z_mm + _raised(holder, vessel))


def vessel_in(vessel: Vessel, holder: CupHolder) -> Vessel:
    """The vessel standing in the holder: place and stands_in set."""
    return replace(vessel, place=vessel_place(vessel, holder), stands_in=holder.id)


def _well_radius(holder: CupHolder, height: Floats) -> Floats:
    """Inside radius at heights over the bottom; never more than the mouth lets by."""
    share = height / holder.depth_mm
    straight = (1 - share) * holder.base_mm / 2 + share * holder.mouth_mm / 2
    return np.minimum(straight, holder.mouth_mm / 2)


def _vessel_radii(vessel: Vessel, depth: float) -> tuple[Floats, Floats]:
    """Heights and radii of the profile up to a depth, with one more point just there."""
    heights, radii = np.array(vessel.profile, dtype=float).T
    below = heights <= depth
    edge = float(np.interp(depth, heights, radii))
    return np.append(heights[below], min(depth, heights[-1])), np.append(radii[below], edge)


def _least_room(holder: CupHolder, vessel: Vessel, raised: float) -> float:
    """Least radius to spare over the engaged depth with the vessel's base `raised` over the well's bottom."""
    heights, radii = _vessel_radii(vessel, holder.depth_mm - raised)
    return float(np.min(_well_radius(holder, heights + raised) - radii))


def _raised(holder: CupHolder, vessel: Vessel) -> float:
    """How far over the bottom the vessel's base comes to rest; the well's depth where it does not enter."""
    if _least_room(holder, vessel, 0.0) >= -_TOUCH_MM:
        return 0.0
    low, high = 0.0, holder.depth_mm
    # The room only grows as the vessel is lifted, so halving finds the one height where it first fits.
    while high - low > _TOUCH_MM:
        middle = (low + high) / 2
        if _least_room(holder, vessel, middle) >= 0.0:
            high = middle
        else:
            low = middle
    return high


def _free_tilt(holder: CupHolder, vessel: Vessel, raised: float, side_mm: float) -> float:
    # Slow to load, and not needed before something is judged.
    from scipy.optimize import brentq

    if side_mm <= _TOUCH_MM or raised > _TOUCH_MM:
        return 0.0

    def room(lean_deg: float) -> float:
        return _room_leaning(holder, vessel, lean_deg)

    lean = 0.0
    while lean < _MOST_DEG:
        following = lean + _STEP_DEG
        if room(following) < 0.0:
            return float(brentq(room, lean, following, xtol=1e-10))
        lean = following
    return 90.0


def _room_leaning(holder: CupHolder, vessel: Vessel, lean_deg: float) -> float:
    """Room to shift sideways with the vessel leaning on the bottom; negative where it does not go in."""
    angle = math.radians(lean_deg)
    heights, radii = np.array(vessel.profile, dtype=float).T
    turn = np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
    sides = [np.column_stack([sign * radii, heights]) @ turn.T for sign in (1.0, -1.0)]
    base = min(float(side[:, 1].min()) for side in sides)
    # Across the base and the top the outline closes; both lines count for both sides.
    outline = np.vstack([sides[0], sides[1][::-1], sides[0][:1]]) - [0.0, base]
    levels = np.append(outline[:, 1][outline[:, 1] <= holder.depth_mm], [0.0, holder.depth_mm])
    spans = [_span_at(outline, float(level)) for level in levels]
    wall = _well_radius(holder, levels)
    right = np.array([wall_at - span[1] for wall_at, span in zip(wall, spans, strict=True)])
    left = np.array([-wall_at - span[0] for wall_at, span in zip(wall, spans, strict=True)])
    return float(right.min() - left.max())


def _span_at(outline: Floats, level: float) -> tuple[float, float]:
    """Least and greatest X of a closed outline (K, 2) at a level; an empty span where it is not that high."""
    a, b = outline[:-1], outline[1:]
    low, high = np.minimum(a[:, 1], b[:, 1]), np.maximum(a[:, 1], b[:, 1])
    hit = (low <= level + _TOUCH_MM) & (high >= level - _TOUCH_MM)
    if not hit.any():
        return math.inf, -math.inf
    rise = b[hit, 1] - a[hit, 1]
    flat = np.abs(rise) < _TOUCH_MM
    share = np.clip(np.where(flat, 0.0, level - a[hit, 1]) / np.where(flat, 1.0, rise), 0.0, 1.0)
    x = a[hit, 0] + share * (b[hit, 0] - a[hit, 0])
    x = np.concatenate([x, b[hit, 0][flat]])
    return float(x.min()), float(x.max())
