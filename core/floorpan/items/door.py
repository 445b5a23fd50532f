"""A door that swings out about its hinge line: a panel, and what bulges from it into the car.

Own axes: origin at the foot of the hinge line, which is the panel's lower front corner on its inner face; X along the
shut panel, rearward; Y outward on the right side of the car, inward on the left; Z up.
"""

import dataclasses
import math
from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np

from floorpan.fields import Choice, Range, check_fields
from floorpan.frames import Pose
from floorpan.geometry.solids import Body, Hull, Solid
from floorpan.items.placing import (
    ID,
    NAME,
    ORIGIN,
    Grip,
    ItemKind,
    Part,
    Place,
    Point,
    StandsOnField,
    StateAxis,
    Stops,
    no_such_part,
    stop_of,
)
from floorpan.items.shapes import block

Side = Literal["left", "right"]

DOOR = "door"
SHUT, HALF, OPEN = "shut", "half", "open"
_SHARES = {SHUT: 0.0, HALF: 0.5, OPEN: 1.0}
_AXIS = StateAxis(name=DOOR, stops=(SHUT, HALF, OPEN), legs=((SHUT, HALF), (HALF, OPEN)), rest=SHUT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Door:
    """A door; place is the foot of its hinge line, on the panel's inner face."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Door"
    place: Place = ORIGIN
    stands_on: StandsOnField = "none"
    locked: bool = False
    side: Annotated[Side, Choice(("left", "right"), "Side of the car", "Seen facing forward.")] = "left"
    length_mm: Annotated[float, Range(100, 2000, "mm", "Door length", "Hinge to the rear edge.")] = 950.0
    height_mm: Annotated[float, Range(100, 1500, "mm", "Door height", "Sill to the window.")] = 550.0
    thick_mm: Annotated[float, Range(1, 400, "mm", "Door thickness", "Inner face outward.")] = 120.0
    bulge_mm: Annotated[
        float, Range(0, 400, "mm", "Pocket or armrest", "How far it stands into the car; 0 for none.")
    ] = 70.0
    bulge_from_mm: Annotated[
        float, Range(0, 2000, "mm", "Pocket from the hinge", "Hinge to its front end.")
    ] = 250.0
    bulge_length_mm: Annotated[float, Range(1, 2000, "mm", "Pocket length", "Front to rear.")] = 500.0
    bulge_low_mm: Annotated[float, Range(0, 1500, "mm", "Pocket over the door's foot", "Its underside.")] = (
        60.0
    )
    bulge_high_mm: Annotated[float, Range(1, 1500, "mm", "Pocket height", "Underside to top.")] = 200.0
    open_deg: Annotated[float, Range(5, 120, "deg", "Opens by", "From shut to its check strap.")] = 65.0
    hinge_back_deg: Annotated[
        float, Range(-20, 20, "deg", "Hinge leans rearward", "Its top, seen from the side.")
    ] = 0.0
    hinge_in_deg: Annotated[
        float, Range(-20, 20, "deg", "Hinge leans inward", "Its top, seen from the front; the panel with it.")
    ] = 0.0

    def __post_init__(self) -> None:
        check_fields(self)


def axes(door: Door) -> tuple[StateAxis, ...]:
    """The door: shut, half open, open."""
    return (_AXIS,)


def parts(door: Door) -> tuple[Part, ...]:
    """The panel, and the pocket or armrest on it where there is one."""
    panel = Part(name="panel", label="door panel", material="console", moved_by=(DOOR,))
    if not door.bulge_mm:
        return (panel,)
    return (panel, Part(name="pocket", label="door pocket", material="console", moved_by=(DOOR,)))


def envelope(door: Door, part_name: str, stops: Stops) -> Body:
    """A part's stuff in car axes at the stop of `stops`."""
    return _body(door, part_name, _SHARES[stop_of(_AXIS, stops)])


def envelope_between(
    door: Door, part_name: str, stops: Stops, axis: str, a: str, b: str, share: float
) -> Body:
    """A part's stuff in car axes a share of the way; the share runs evenly in the angle."""
    return _body(door, part_name, (1.0 - share) * _SHARES[a] + share * _SHARES[b])


def motion_mm(door: Door, part_name: str, axis: str, a: str, b: str) -> float:
    """The arc of the corner that lies farthest from the hinge line."""
    points = _hull(door, part_name).points
    arm = float(np.hypot(points[:, 0], points[:, 1]).max())
    return arm * math.radians(door.open_deg) * abs(_SHARES[b] - _SHARES[a])


def grips(door: Door, stops: Stops) -> tuple[Grip, ...]:
    """None: nobody drives with a hand on it."""
    return ()


def grips_between(door: Door, stops: Stops, axis: str, a: str, b: str, share: float) -> tuple[Grip, ...]:
    """None, as in `grips`."""
    return ()


def set_down_mm(door: Door) -> tuple[Point, ...]:
    """The panel's lower edge, its inner face, in car X and Y: both ends, shut."""
    ends = np.array([[0.0, 0.0, 0.0], [door.length_mm, 0.0, 0.0]])
    return tuple((float(x), float(y)) for x, y, _ in door.place.pose().apply(ends))


def moved(door: Door, place: Place) -> Door:
    """The same door at another place."""
    return dataclasses.replace(door, place=place)


def _out(door: Door) -> float:
    """Which way along Y is outward."""
    return -1.0 if door.side == "left" else 1.0


def _hull(door: Door, part_name: str) -> Hull:
    if part_name == "panel":
        ends, low, high = (0.0, door.length_mm), 0.0, door.height_mm
        across = sorted((0.0, _out(door) * door.thick_mm))
    elif part_name == "pocket" and door.bulge_mm:
        ends = (door.bulge_from_mm, door.bulge_from_mm + door.bulge_length_mm)
        low, high = door.bulge_low_mm, door.bulge_low_mm + door.bulge_high_mm
        across = sorted((0.0, -_out(door) * door.bulge_mm))
    else:
        raise no_such_part(part_name)
    return block((ends[0], across[0], low), (ends[1], across[1], high))


def _body(door: Door, part_name: str, opened: float) -> Body:
    out = _out(door)
    # By the right hand rule a turn about Z takes the rear edge towards +Y, which is out on the right.
    swung = Pose.turned((0.0, 0.0, 1.0), out * door.open_deg * opened)
    back = Pose.turned((0.0, 1.0, 0.0), door.hinge_back_deg)
    inward = Pose.turned((1.0, 0.0, 0.0), out * door.hinge_in_deg)
    return (Solid(_hull(door, part_name), door.place.pose().after(inward).after(back).after(swung)),)


KIND = ItemKind(
    kind="door",
    label="Door",
    model=Door,
    axes=axes,
    parts=parts,
    envelope=envelope,
    envelope_between=envelope_between,
    motion_mm=motion_mm,
    grips=grips,
    grips_between=grips_between,
    grip_motion_mm=motion_mm,
    set_down_mm=set_down_mm,
    foot_below_mm=lambda door: 0.0,
    moved=moved,
)
