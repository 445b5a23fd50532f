"""How a vessel sits in a well: how deep, how loose, how far it can lean."""

import functools
from dataclasses import dataclass, replace

import numpy as np

from floorpan.frames import Floats
from floorpan.items.cup_holder import CupHolder
from floorpan.items.lean_contacts import Section, furthest, leaning, room_on_bottom
from floorpan.items.placing import Place
from floorpan.items.vessels import Profile, Vessel, height_mm
from floorpan.items.well_outline import well_outline

_TOUCH_MM = 1e-9
_STEP_DEG = 0.5
_MOST_DEG = 89.5
_ANYWHERE = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class WellFit:
    """How a vessel sits.

    enters        : its base gets below the mouth
    sits_mm       : how far its base gets below the mouth
    deep_mm       : how much of it is below the mouth: as much, or its whole height where it ends lower
    side_mm       : least well diameter over vessel diameter where it sits; 0 where it hangs by its taper
    free_tilt_deg : how far it leans before it touches bottom, wall and rim at once; 90 where nothing stops it
    """

    enters: bool
    sits_mm: float
    deep_mm: float
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
        return WellFit(enters=False, sits_mm=0.0, deep_mm=0.0, side_mm=0.0, free_tilt_deg=0.0)
    side = max(0.0, 2 * _least_room(holder, vessel, raised))
    return WellFit(
        enters=True,
        sits_mm=sits,
        deep_mm=min(sits, height_mm(vessel)),
        side_mm=side,
        free_tilt_deg=_free_tilt(holder, vessel, raised, side),
    )


def at_mouth_mm(holder: CupHolder, vessel: Vessel) -> float:
    """Well diameter over vessel diameter at the mouth, where fingers press; at its top where it ends lower."""
    mouth, radius = well_outline(holder).mouth
    heights, radii = zip(*vessel.profile, strict=True)
    return 2.0 * (radius - float(np.interp(mouth - _raised(holder, vessel), heights, radii)))


def vessel_place(vessel: Vessel, holder: CupHolder) -> Place:
    """Where a vessel stands in a holder: on its axis, as deep as it goes."""
    return replace(holder.place, z_mm=holder.place.z_mm + _raised(holder, vessel))


def vessel_in(vessel: Vessel, holder: CupHolder) -> Vessel:
    """The vessel standing in the holder: place and stands_in set."""
    return replace(vessel, place=vessel_place(vessel, holder), stands_in=holder.id)


def _least_room(holder: CupHolder, vessel: Vessel, raised: float) -> float:
    """Least radius to spare over the engaged depth with the vessel's base `raised` over the well's bottom."""
    well = well_outline(holder)
    room = float(furthest(_upright(vessel.profile), well, np.array([raised])).at_mm[0])
    if well.ring is not None:
        # What stands below the ring has been let through it.
        height, radius = well.ring
        passed = [across for up, across in vessel.profile if up + raised <= height]
        room = min(room, radius - max(passed, default=0.0))
    return room


def _upright(profile: Profile) -> Section:
    return leaning(profile, np.zeros(1))


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
    well = well_outline(holder)

    def room(lean_deg: Floats) -> Floats:
        return room_on_bottom(vessel.profile, well, np.radians(lean_deg))

    leans = np.arange(_STEP_DEG, _MOST_DEG + _STEP_DEG / 2, _STEP_DEG)
    stopped = np.flatnonzero(room(leans) < 0.0)
    if len(stopped) == 0:
        return 90.0
    beyond = float(leans[stopped[0]])
    return float(brentq(lambda at: float(room(np.array([at]))[0]), beyond - _STEP_DEG, beyond, xtol=1e-10))
