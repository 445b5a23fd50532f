"""What the driver's place is measured by besides the seat: heel point and wheel, where somebody took them."""

import math
from dataclasses import dataclass
from typing import Annotated

from floorpan.errors import BadValue
from floorpan.fields import Range, check_fields
from floorpan.frames import Vector

_FARTHEST_MM = 10_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DrivingPosition:
    """Heel point and steering wheel in car axes [mm]; None where nobody took them, and what needs them says nothing.

    heel_mm       : heel of the throttle foot on the carpet
    wheel_mm      : centre of the wheel, in the plane of its rim
    wheel_deg     : the rim's plane from upright, its top leaning forward
    """

    heel_mm: Vector | None = None
    wheel_mm: Vector | None = None
    wheel_across_mm: Annotated[
        float, Range(200, 600, "mm", "Wheel across", "Over the rim, from outside to outside.")
    ] = 360.0
    rim_mm: Annotated[float, Range(10, 60, "mm", "Rim thickness", "Across the rim's section.")] = 30.0
    wheel_deg: Annotated[
        float, Range(0, 80, "deg", "Wheel from upright", "The rim's plane; its top leans forward.")
    ] = 25.0

    def __post_init__(self) -> None:
        check_fields(self)
        for place in (self.heel_mm, self.wheel_mm):
            if place is not None and not all(math.isfinite(v) and abs(v) <= _FARTHEST_MM for v in place):
                raise BadValue(
                    "no-such-place", "A place is three lengths in car axes.", "Type it again, in mm."
                )
