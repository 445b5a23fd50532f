"""A flap that opens into the room: a glovebox door, an ashtray, a console's lid.

Own axes: origin in the middle of the hinge line, which lies along Y; the panel stands off it at an angle over level:
0 points rearward, 90 up, 180 forward. A hinge that runs along the car is one whose place is turned by 90.
"""

import dataclasses
import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from floorpan.fields import Range, check_fields
from floorpan.frames import Pose
from floorpan.geometry.solids import Body, Solid
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

FLAP = "flap"
CLOSED, HALF, OPEN = "closed", "half", "open"
_AXIS = StateAxis(name=FLAP, stops=(CLOSED, HALF, OPEN), legs=((CLOSED, HALF), (HALF, OPEN)), rest=CLOSED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Flap:
    """A flap; place is the middle of its hinge line."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Flap"
    place: Place = ORIGIN
    stands_on: StandsOnField = "none"
    locked: bool = False
    length_mm: Annotated[float, Range(10, 1500, "mm", "Along the hinge", "The flap's own length.")] = 320.0
    depth_mm: Annotated[
        float, Range(10, 800, "mm", "Hinge to free edge", "How far it reaches when it swings.")
    ] = 180.0
    thick_mm: Annotated[
        float, Range(1, 150, "mm", "Thickness", "With what is fixed to its inside; half to either side.")
    ] = 20.0
    closed_deg: Annotated[
        float,
        Range(-180, 270, "deg", "Closed", "Hinge to free edge, over level: 0 rearward, 90 up, 180 forward."),
    ] = 90.0
    open_deg: Annotated[
        float,
        Range(
            -180,
            270,
            "deg",
            "Fully open",
            "Counted the same way; it swings straight from the one to the other.",
        ),
    ] = -10.0

    def __post_init__(self) -> None:
        check_fields(self)


def axes(flap: Flap) -> tuple[StateAxis, ...]:
    """The flap: closed, half open, open."""
    return (_AXIS,)


def parts(flap: Flap) -> tuple[Part, ...]:
    """The panel."""
    return (Part(name="panel", label="flap", material="console", moved_by=(FLAP,)),)


def angle_deg(flap: Flap, stop: str) -> float:
    """The panel over level at a stop."""
    half = (flap.closed_deg + flap.open_deg) / 2
    return {CLOSED: flap.closed_deg, HALF: half, OPEN: flap.open_deg}[stop]


def envelope(flap: Flap, part_name: str, stops: Stops) -> Body:
    """The panel in car axes at the stop of `stops`."""
    return _body(flap, part_name, angle_deg(flap, stop_of(_AXIS, stops)))


def envelope_between(
    flap: Flap, part_name: str, stops: Stops, axis: str, a: str, b: str, share: float
) -> Body:
    """The panel in car axes a share of the way; the share runs evenly in the angle."""
    return _body(flap, part_name, (1.0 - share) * angle_deg(flap, a) + share * angle_deg(flap, b))


def motion_mm(flap: Flap, part_name: str, axis: str, a: str, b: str) -> float:
    """The arc of the free edge's corner, which lies farthest from the hinge."""
    arm = max(math.hypot(flap.depth_mm, flap.thick_mm / 2), flap.thick_mm / 2)
    return arm * math.radians(abs(angle_deg(flap, b) - angle_deg(flap, a)))


def grips(flap: Flap, stops: Stops) -> tuple[Grip, ...]:
    """None: it is opened standing."""
    return ()


def grips_between(flap: Flap, stops: Stops, axis: str, a: str, b: str, share: float) -> tuple[Grip, ...]:
    """None, as in `grips`."""
    return ()


def set_down_mm(flap: Flap) -> tuple[Point, ...]:
    """The ends of the hinge line in car X and Y."""
    ends = np.array([[0.0, -flap.length_mm / 2, 0.0], [0.0, flap.length_mm / 2, 0.0]])
    return tuple((float(x), float(y)) for x, y, _ in flap.place.pose().apply(ends))


def moved(flap: Flap, place: Place) -> Flap:
    """The same flap at another place."""
    return dataclasses.replace(flap, place=place)


def _body(flap: Flap, part_name: str, over_level_deg: float) -> Body:
    if part_name != "panel":
        raise no_such_part(part_name)
    half, thick = flap.length_mm / 2, flap.thick_mm / 2
    hull = block((0.0, -half, -thick), (flap.depth_mm, half, thick))
    return (Solid(hull, flap.place.pose().after(Pose.turned((0.0, 1.0, 0.0), -over_level_deg))),)


KIND = ItemKind(
    kind="flap",
    label="Flap or lid",
    model=Flap,
    axes=axes,
    parts=parts,
    envelope=envelope,
    envelope_between=envelope_between,
    motion_mm=motion_mm,
    grips=grips,
    grips_between=grips_between,
    grip_motion_mm=motion_mm,
    set_down_mm=set_down_mm,
    foot_below_mm=lambda flap: 0.0,
    moved=moved,
)
