"""A body on its way along a leg of an axis."""

from collections.abc import Callable
from dataclasses import dataclass

from floorpan.geometry.solids import Body


@dataclass(frozen=True, slots=True, eq=False)
class Motion:
    """A body on its way along a leg.

    at        : the body at a share of the way, 0 to 1
    travel_mm : no point travels farther over the whole leg
    swept     : all the room it takes, exact, where it slides straight; else None
    """

    at: Callable[[float], Body]
    travel_mm: float
    swept: Body | None = None
