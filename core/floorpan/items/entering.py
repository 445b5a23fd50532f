"""Whether a vessel goes into a well, and the room around it at every height."""

from dataclasses import dataclass

import numpy as np

from floorpan.items.cup_holder import CupHolder
from floorpan.items.vessels import Vessel
from floorpan.items.well_fit import well_fit
from floorpan.items.well_outline import well_outline

_JUST_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Well diameter over vessel diameter at one height over the well's bottom [mm], both upright on one axis."""

    height_mm: float
    across_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Entering:
    """How a vessel goes in.

    enters   : its base gets below the mouth; sits_mm : how far
    rooms    : at every height where either outline turns, from where it sits up to the mouth, then at the ring
    tightest : the least of them; None where it does not enter
    """

    enters: bool
    sits_mm: float
    rooms: tuple[Room, ...]

    @property
    def tightest(self) -> Room | None:
        """The height with the least room, the lowest of them where several are alike."""
        return min(self.rooms, key=lambda room: round(room.across_mm, 6), default=None)


def entering(holder: CupHolder, vessel: Vessel) -> Entering:
    """How the vessel goes into the well and what room it has at each height once it sits."""
    fit = well_fit(holder, vessel)
    if not fit.enters:
        return Entering(enters=False, sits_mm=0.0, rooms=())
    well = well_outline(holder)
    raised = holder.depth_mm - fit.sits_mm
    heights, radii = np.array(vessel.profile, dtype=float).T
    walls, insides = np.array(well.wall, dtype=float).T
    top = min(well.mouth[0], raised + float(heights[-1]))
    # Just under and just over every turn, so that both radii of a step are seen.
    turns = {float(at) for at in (*(heights + raised), *walls, raised, top)}
    levels = sorted({at for turn in turns for at in (turn - _JUST_MM, turn + _JUST_MM) if raised < at < top})
    rooms = [
        Room(
            height_mm=round(at, 5),
            across_mm=2.0 * float(np.interp(at, walls, insides) - np.interp(at - raised, heights, radii)),
        )
        for at in levels
    ]
    if well.ring is not None and well.ring[0] < raised + heights[-1]:
        at, radius = well.ring
        rooms.append(
            Room(height_mm=at, across_mm=2.0 * (radius - float(np.interp(at - raised, heights, radii))))
        )
    return Entering(enters=True, sits_mm=fit.sits_mm, rooms=tuple(rooms))
