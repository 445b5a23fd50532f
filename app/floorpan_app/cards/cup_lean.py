"""A vessel in the section of its well: upright, at its free tilt, and the room at every height."""

import functools
import math
from dataclasses import dataclass, replace

import numpy as np

from floorpan.items import CupHolder, Vessel, WellFit, well_fit
from floorpan.items.entering import Room, entering
from floorpan.items.lean_contacts import furthest, leaning
from floorpan.items.placing import ORIGIN
from floorpan.items.well_outline import WellOutline, well_outline

Outline = tuple[tuple[float, float], ...]

_NO_LEAN_DEG = 0.05
_NO_STOP_DEG = 89.5
_MOST_ROOMS = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class LeanDrawn:
    """What is drawn, in the plane of the lean: x from the well's axis, z over its bottom [mm].

    well    : its inside
    fit     : how the vessel sits
    upright : the vessel's outline where it stands
    leaning : the same at its free tilt, to the right; empty where it has none or nothing stops it
    axis    : middle of base and top of the leaning one
    rooms   : the room across at the heights that tell most, from low to high
    tightest: the least of them; None where it does not go in
    """

    well: WellOutline
    fit: WellFit
    upright: Outline
    leaning: Outline
    axis: Outline
    rooms: tuple[Room, ...]
    tightest: Room | None


def lean_drawn(holder: CupHolder, vessel: Vessel) -> LeanDrawn:
    """The section of a well with a vessel in it, wherever both stand."""
    return _drawn(replace(holder, place=ORIGIN, id="well"), replace(vessel, place=ORIGIN, id="vessel"))


@functools.lru_cache(maxsize=64)
def _drawn(holder: CupHolder, vessel: Vessel) -> LeanDrawn:
    well, fit, found = well_outline(holder), well_fit(holder, vessel), entering(holder, vessel)
    raised = holder.depth_mm - fit.sits_mm
    leaning_one, axis = _leaning(vessel, well, fit)
    return LeanDrawn(
        well=well,
        fit=fit,
        upright=_placed(vessel, 0.0, 0.0, raised),
        leaning=leaning_one,
        axis=axis,
        rooms=_telling(found.rooms),
        tightest=found.tightest,
    )


def _placed(vessel: Vessel, lean_rad: float, x_mm: float, z_mm: float) -> Outline:
    section = leaning(vessel.profile, np.array([lean_rad]))
    return tuple((float(x) + x_mm, float(z) + z_mm) for x, z in zip(section.x[0], section.z[0], strict=True))


def _leaning(vessel: Vessel, well: WellOutline, fit: WellFit) -> tuple[Outline, Outline]:
    """Its outline and axis at the free tilt, leaning to the right."""
    if not _NO_LEAN_DEG < fit.free_tilt_deg < _NO_STOP_DEG:
        return (), ()
    lean = math.radians(fit.free_tilt_deg)
    section = leaning(vessel.profile, np.array([lean]))
    floor, _ = section.floor()
    x, z = float(furthest(section, well, floor).at_mm[0]), float(floor[0])
    high = vessel.profile[-1][0]
    top = (x + high * math.sin(lean), z + high * math.cos(lean))
    return _placed(vessel, lean, x, z), ((x, z), top)


def _telling(rooms: tuple[Room, ...]) -> tuple[Room, ...]:
    """One room a height, the least where a step has two; the tightest ones where there are too many."""
    least: dict[float, Room] = {}
    for room in rooms:
        at = round(room.height_mm, 1)
        if at not in least or room.across_mm < least[at].across_mm:
            least[at] = room
    kept = sorted(least.values(), key=lambda room: (round(room.across_mm, 3), room.height_mm))[:_MOST_ROOMS]
    return tuple(sorted(kept, key=lambda room: room.height_mm))
