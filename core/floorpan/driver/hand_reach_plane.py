"""The published hand-reach plane, for comparison with the arm of this very driver.

After SAE J287 (2022), Driver Hand Control Reach, for a driver held by a lap and a diagonal belt that does not
let out: its boundary is what at least 95 % of an even mix of men and women of one country reach.

How far each number can be trusted, for the standard itself was not at hand:
* the package factor G, the plane's distance and the extent of the tables are from a secondary source that
  explains the 2022 edition; older editions write G with more terms, and the numbers differ;
* that the seat reference point takes the plane's place where the plane would lie behind it: from memory;
* the grasp corrections: the same secondary source;
* whose reach it is: seen in the standard's own scope of 2007 and 1988.
The tables, which say how far ahead of the plane a hand gets, are not in hand. So this tells where the plane is
and whether the tables speak of a point at all, and never that a point is reached.
"""

import math
from dataclasses import dataclass
from typing import Literal

from floorpan.driver.person import Side
from floorpan.driver.posture import side_sign
from floorpan.errors import BadValue
from floorpan.frames import Vector

OUTBOARD_MM = 400.0
INBOARD_MM = 600.0
BELOW_MM = 100.0
ABOVE_MM = 800.0

SOURCE = (
    "SAE J287 (2022), Driver Hand Control Reach: formula, extent and grasps after a secondary source; "
    "the seat reference point in the plane's place from memory; the tables themselves not in hand"
)

Grasp = Literal["three fingers", "extended finger", "full hand"]

GRASP_MM: dict[Grasp, float] = {"three fingers": 0.0, "extended finger": 50.0, "full hand": -50.0}
"""What is added to the tables, which are for a three-finger grasp. Same secondary source."""

Why = Literal["covered", "too far outboard", "too far inboard", "too low", "too high", "behind the plane"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """Whether the published tables speak of a point.

    why : "covered" alone, or every way in which the point lies outside
    """

    covered: bool
    why: tuple[Why, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HandReachPlane:
    """An upright rectangle across the car from which the published reach is counted forward. Car axes, mm.

    package_factor : G
    rear_of_heel_mm: what the formula gives, before the seat reference point is minded
    x_mm           : of the plane
    at_seat        : whether it lies at the seat reference point, because the formula puts it behind that
    outboard_y_mm, inboard_y_mm, low_z_mm, high_z_mm : where the tables end
    """

    package_factor: float
    rear_of_heel_mm: float
    x_mm: float
    at_seat: bool
    driver_side: Side
    outboard_y_mm: float
    inboard_y_mm: float
    low_z_mm: float
    high_z_mm: float
    source: str = SOURCE

    def corners_mm(self) -> tuple[Vector, Vector, Vector, Vector]:
        """Low outboard, low inboard, high inboard, high outboard."""
        return (
            (self.x_mm, self.outboard_y_mm, self.low_z_mm),
            (self.x_mm, self.inboard_y_mm, self.low_z_mm),
            (self.x_mm, self.inboard_y_mm, self.high_z_mm),
            (self.x_mm, self.outboard_y_mm, self.high_z_mm),
        )

    def covers(self, point_mm: Vector) -> Cover:
        """Whether the tables speak of a point in car axes; never whether it is reached.

        The tables count forward, so that a point behind the plane is none of theirs; that is this program's reading.
        """
        x, y, z = point_mm
        inward = -side_sign(self.driver_side)
        tried: tuple[tuple[bool, Why], ...] = (
            ((y - self.outboard_y_mm) * inward < 0.0, "too far outboard"),
            ((y - self.inboard_y_mm) * inward > 0.0, "too far inboard"),
            (z < self.low_z_mm, "too low"),
            (z > self.high_z_mm, "too high"),
            (x > self.x_mm, "behind the plane"),
        )
        outside = tuple(why for is_outside, why in tried if is_outside)
        return Cover(covered=not outside, why=outside or ("covered",))


def package_factor(seat_over_heel_mm: float, wheel_over_heel_mm: float) -> float:
    """G of a seat reference point and a wheel centre, each so far over the heel point [mm]. Has no unit."""
    return 0.00327 * seat_over_heel_mm + 0.00285 * wheel_over_heel_mm - 3.21


def rear_of_heel_mm(factor: float) -> float:
    """How far behind the heel point the plane lies by its formula [mm]."""
    return 786.0 - 99.0 * factor


def hand_reach_plane(
    heel_mm: Vector, seat_reference_mm: Vector, wheel_mm: Vector, driver_side: Side
) -> HandReachPlane:
    """The plane of one driving position; heel point, seat reference point and wheel centre in car axes [mm].

    driver_side : the side of the car the driver sits on; inboard is the other way
    Raises BadValue where a point is not finite, or seat or wheel stands no higher than the heel.
    """
    if not all(map(math.isfinite, (*heel_mm, *seat_reference_mm, *wheel_mm))):
        raise BadValue(
            "not-finite", "The driving position holds finite numbers.", "Type heel point and wheel again."
        )
    seat_over, wheel_over = seat_reference_mm[2] - heel_mm[2], wheel_mm[2] - heel_mm[2]
    if seat_over <= 0.0 or wheel_over <= 0.0:
        raise BadValue(
            "heel-too-high",
            "The heel point stands as high as the seat or the wheel.",
            "Measure again where the heel rests on the floor.",
        )
    factor = package_factor(seat_over, wheel_over)
    rear = rear_of_heel_mm(factor)
    at_seat = heel_mm[0] + rear > seat_reference_mm[0]
    outward = side_sign(driver_side)
    middle, height = seat_reference_mm[1], seat_reference_mm[2]
    return HandReachPlane(
        package_factor=factor,
        rear_of_heel_mm=rear,
        x_mm=seat_reference_mm[0] if at_seat else heel_mm[0] + rear,
        at_seat=at_seat,
        driver_side=driver_side,
        outboard_y_mm=middle + outward * OUTBOARD_MM,
        inboard_y_mm=middle - outward * INBOARD_MM,
        low_z_mm=height - BELOW_MM,
        high_z_mm=height + ABOVE_MM,
    )
