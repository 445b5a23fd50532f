"""A belt buckle on its stalk, with the button one presses to get out.

Own axes: origin at the stalk's foot; from upright the stalk leans about Y (rearward) and then about X (to the right).
Along the stalk the buckle is broad fore and aft and thin across. Where it is bolted to its seat it slides with it.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np

from floorpan.fields import Choice, Range, Text, check_fields
from floorpan.frames import Floats, Pose
from floorpan.geometry.solids import Body, Solid
from floorpan.items.control import FINGERS_MM, HAND_RADIUS_MM
from floorpan.items.placing import (
    ID,
    NAME,
    ORIGIN,
    Grip,
    Part,
    Place,
    Point,
    StandsOnField,
    Stops,
    no_such_part,
    point,
)
from floorpan.items.shapes import block, rod
from floorpan.items.still import still_kind
from floorpan.items.vessels import ring

PressedAt = Literal["end", "front"]
BoltedTo = Literal["seat", "car"]

PRESS_OFF_MM, PRESS_LONG_MM = 40.0, 75.0
"""Free room for the pressing hand: off the button's face, and along it; common practice, no source."""
PRESS_WIDE_MM = 40.0
"""And across it: a thumb and the finger beside it; common practice, no source."""

_ROUND_MM = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Buckle:
    """A buckle; place is the foot of its stalk, at the notch where its seat's place holds."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Buckle"
    place: Place = ORIGIN
    stands_on: StandsOnField = "none"
    locked: bool = False
    seat_id: Annotated[str, Text(60, "Seat", "Whose belt it holds.")] = ""
    bolted_to: Annotated[
        BoltedTo, Choice(("seat", "car"), "Bolted to", "On its seat it slides with every notch.")
    ] = "seat"
    stalk_mm: Annotated[float, Range(0, 500, "mm", "Stalk", "Foot to the buckle's lower end.")] = 180.0
    stalk_radius_mm: Annotated[float, Range(1, 40, "mm", "Stalk radius", "Half of what is thick of it.")] = (
        8.0
    )
    lean_deg: Annotated[
        float, Range(-90, 90, "deg", "Leans rearward", "From upright; negative is forward.")
    ] = -20.0
    side_deg: Annotated[float, Range(-60, 60, "deg", "Leans right", "From upright; negative is left.")] = 0.0
    buckle_mm: Annotated[float, Range(20, 200, "mm", "Buckle length", "Along the stalk.")] = 75.0
    broad_mm: Annotated[float, Range(10, 120, "mm", "Buckle breadth", "Fore and aft.")] = 42.0
    thick_mm: Annotated[float, Range(5, 80, "mm", "Buckle thickness", "Side to side.")] = 24.0
    pressed_at: Annotated[
        PressedAt,
        Choice(("end", "front"), "Pressed at", "The button lies in the end, beside the tongue, or in front."),
    ] = "end"

    def __post_init__(self) -> None:
        check_fields(self)

    def fingers_mm(self) -> float:
        """How much further than a whole hand's grip it is reached: thumb and fingers."""
        return FINGERS_MM["three fingers"]

    @property
    def rides_on_seat(self) -> bool:
        """Whether it slides with its seat."""
        return self.bolted_to == "seat" and bool(self.seat_id)


def parts(buckle: Buckle) -> tuple[Part, ...]:
    """The stalk and the buckle."""
    return (
        Part(name="stalk", label="buckle stalk", material="steel"),
        Part(name="buckle", label="buckle", material="knob"),
    )


def envelope(buckle: Buckle, part_name: str, stops: Stops) -> Body:
    """A part's stuff in car axes, at the notch where its seat's place holds."""
    if part_name == "stalk":
        return (Solid(rod(0.0, buckle.stalk_mm, buckle.stalk_radius_mm), stalk_pose(buckle)),)
    if part_name == "buckle":
        broad, thick = buckle.broad_mm / 2, buckle.thick_mm / 2
        low, high = (-broad, -thick, buckle.stalk_mm), (broad, thick, _end_mm(buckle))
        return (Solid(block(low, high, _ROUND_MM), stalk_pose(buckle)),)
    raise no_such_part(part_name)


def press_zone(buckle: Buckle, glove_mm: float = 0.0) -> Body:
    """The room of the hand on the button, in car axes; larger all round by a glove."""
    off, long, wide = PRESS_OFF_MM, PRESS_LONG_MM / 2, PRESS_WIDE_MM / 2
    end = _end_mm(buckle)
    if buckle.pressed_at == "end":
        hull = block((-long, -wide, end), (long, wide, end + off))
    else:
        face = -buckle.broad_mm / 2
        hull = block((face - off, -wide, end - 2 * long), (face, wide, end))
    if glove_mm:
        low, high = hull.points.min(axis=0) - glove_mm, hull.points.max(axis=0) + glove_mm
        hull = block(point(low), point(high), glove_mm)
    return (Solid(hull, stalk_pose(buckle)),)


def strap_from_mm(buckle: Buckle) -> Floats:
    """Where the strap leaves the buckle (3,) in car axes."""
    return stalk_pose(buckle).apply(np.array([0.0, 0.0, _end_mm(buckle)]))


def grips(buckle: Buckle, stops: Stops) -> tuple[Grip, ...]:
    """The button."""
    face = 0.0 if buckle.pressed_at == "end" else -buckle.broad_mm / 2
    along = _end_mm(buckle) if buckle.pressed_at == "end" else _end_mm(buckle) - PRESS_LONG_MM / 2
    at = stalk_pose(buckle).apply(np.array([face, 0.0, along]))
    return (Grip(name="button", at_mm=point(at), radius_mm=HAND_RADIUS_MM),)


def set_down_mm(buckle: Buckle) -> tuple[Point, ...]:
    """Eight points around the stalk's foot in car X and Y."""
    return ring(buckle.place, buckle.stalk_radius_mm)


def stalk_pose(buckle: Buckle) -> Pose:
    """From the stalk's axes (Z along it, origin at its foot) into car axes."""
    lean = Pose.turned((0.0, 1.0, 0.0), buckle.lean_deg)
    aside = Pose.turned((1.0, 0.0, 0.0), -buckle.side_deg)
    return buckle.place.pose().after(aside.after(lean))


def _end_mm(buckle: Buckle) -> float:
    return buckle.stalk_mm + buckle.buckle_mm


KIND = still_kind(
    kind="buckle",
    label="Belt buckle",
    model=Buckle,
    parts=parts,
    envelope=envelope,
    grips=grips,
    set_down_mm=set_down_mm,
)
