"""The way a vessel is lifted out: straight up until its base is over every edge, then level towards the driver.

What it meets on the way is for the gap engine; here is where the vessel is at each share of the way.
"""

import math
from dataclasses import dataclass, replace

from floorpan.items.cup_holder import CupHolder
from floorpan.items.placing import Place
from floorpan.items.vessels import Vessel
from floorpan.items.well_fit import vessel_place
from floorpan.items.well_outline import well_outline

OVER_EDGE_MM = 10.0
"""How far over the highest edge the base is carried before it goes sideways; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftOut:
    """The way out in car axes, without a turn.

    from_place : where it stands; up_mm : how far straight up
    aside_mm   : (x, y) that it goes after that
    """

    from_place: Place
    up_mm: float
    aside_mm: tuple[float, float]

    @property
    def length_mm(self) -> float:
        """The whole way; no point of the vessel goes farther than its share of this."""
        return self.up_mm + math.hypot(*self.aside_mm)

    def at(self, share: float) -> Place:
        """Where the vessel is after a share (0 to 1) of the way's length."""
        gone = min(max(share, 0.0), 1.0) * self.length_mm
        up = min(gone, self.up_mm)
        level = math.hypot(*self.aside_mm)
        part = (gone - up) / level if level > 0.0 else 0.0
        start = self.from_place
        return replace(
            start,
            x_mm=start.x_mm + part * self.aside_mm[0],
            y_mm=start.y_mm + part * self.aside_mm[1],
            z_mm=start.z_mm + up,
        )


def lift_out(
    holder: CupHolder, vessel: Vessel, toward_mm: tuple[float, float], far_mm: float = 150.0
) -> LiftOut:
    """The way of a vessel out of its well.

    toward_mm : (x, y) in car axes it goes towards, the driver's shoulder for one
    far_mm    : how far it goes towards there; no farther than it is away
    """
    start = vessel_place(vessel, holder)
    over = holder.place.z_mm + well_outline(holder).top_mm + OVER_EDGE_MM
    dx, dy = toward_mm[0] - start.x_mm, toward_mm[1] - start.y_mm
    away = math.hypot(dx, dy)
    share = min(far_mm / away, 1.0) if away > 0.0 else 0.0
    return LiftOut(from_place=start, up_mm=max(over - start.z_mm, 0.0), aside_mm=(share * dx, share * dy))
