"""A part from a mesh file: a bought seat, a wheel, a dash, a lid, as somebody scanned or drew it.

Own axes: as in its file, but the origin on the middle of its box's underside. The mesh itself is in the store; here
is its box, which stands in for it where only the room it takes is asked for.
"""

import dataclasses
import itertools
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np

from floorpan.errors import BadValue
from floorpan.fields import Choice, Range, Text, check_fields
from floorpan.frames import Floats, Pose, Vector
from floorpan.geometry.solids import Body, Solid
from floorpan.items.placing import (
    ID,
    NAME,
    ORIGIN,
    Grip,
    ItemKind,
    Material,
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
from floorpan.units import MM_PER, mm_per

CountsAs = Literal[
    "console shell",
    "seat",
    "steering wheel",
    "dash or trim",
    "handbrake",
    "vessel",
    "shifter box",
    "keep-out",
    "other",
]
MovesBy = Literal["stays", "slides", "swings"]

COUNTS_AS: tuple[CountsAs, ...] = (
    "console shell",
    "seat",
    "steering wheel",
    "dash or trim",
    "handbrake",
    "vessel",
    "shifter box",
    "keep-out",
    "other",
)
BODY = "body"
TRAVEL = "travel"
HOME, FAR = "home", "far"

LARGEST_MM = 10_000.0
"""No part of a car is longer than this."""

_MATERIALS: dict[CountsAs, Material] = {
    "console shell": "console",
    "seat": "seat",
    "steering wheel": "knob",
    "dash or trim": "liner",
    "handbrake": "steel",
    "vessel": "vessel",
    "shifter box": "steel",
    "keep-out": "vessel",
    "other": "steel",
}
_AXIS = StateAxis(name=TRAVEL, stops=(HOME, FAR), legs=((HOME, FAR),), rest=HOME)
_SHA256 = re.compile(r"[0-9a-f]{64}")
_THIN_MM = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class MeshPart:
    """A part whose shape is a mesh; place is the middle of its box's underside before it leans.

    sha256         : of the file's bytes; suffix: of that file, with its dot
    unit           : what the numbers in the file mean
    sides_in_file  : the sides of its box along its own axes, in that unit
    lean_deg, side_deg : turned about its own Y and then, before that, about its own X; the turn of its place is last
    motion, axis_* : along or about a line through a point in own axes, from where it stands ("home") to "far"
    """

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Part"
    place: Place = ORIGIN
    stands_on: StandsOnField = "none"
    locked: bool = False
    sha256: str
    suffix: Annotated[str, Text(9, "Kind of file", "Its ending, with the dot.")]
    original_name: Annotated[str, Text(260, "File", "What it was called where it came from.")]
    unit: Annotated[str, Choice(tuple(MM_PER), "Read as", "What the numbers in its file mean.")]
    sides_in_file: Vector
    counts_as: Annotated[
        CountsAs, Choice(COUNTS_AS, "Stands for", "It is checked as everything else of that kind is.")
    ] = "other"
    lean_deg: Annotated[
        float, Range(-180, 180, "deg", "Tipped rearward", "About the line across it; front edge up is more.")
    ] = 0.0
    side_deg: Annotated[
        float, Range(-180, 180, "deg", "Tipped sideways", "About the line along it; right edge up is more.")
    ] = 0.0
    motion: Annotated[
        MovesBy, Choice(("stays", "slides", "swings"), "Moves", "A drawer slides, a lid or a lever swings.")
    ] = "stays"
    slide_mm: Annotated[
        float, Range(0, 2000, "mm", "Slides by", "From where it stands to its other stop.")
    ] = 100.0
    swing_deg: Annotated[
        float, Range(-180, 180, "deg", "Swings by", "About its line by the right hand, to its other stop.")
    ] = 90.0
    axis_turn_deg: Annotated[
        float, Range(-180, 180, "deg", "Line, turned", "0 runs rearward, 90 to its right, seen from above.")
    ] = 90.0
    axis_rise_deg: Annotated[
        float, Range(-90, 90, "deg", "Line, rises", "From level; 90 stands upright.")
    ] = 0.0
    axis_x_mm: Annotated[
        float, Range(-5000, 5000, "mm", "Hinge, rearward", "From the middle of its underside.")
    ] = 0.0
    axis_y_mm: Annotated[
        float, Range(-5000, 5000, "mm", "Hinge, to the right", "From the middle of its underside.")
    ] = 0.0
    axis_z_mm: Annotated[
        float, Range(-5000, 5000, "mm", "Hinge, up", "From the middle of its underside.")
    ] = 0.0

    def __post_init__(self) -> None:
        check_fields(self)
        if not _SHA256.fullmatch(self.sha256):
            raise BadValue("no-sha256", "A mesh is named by 64 hex digits.", "Place it from its file again.")
        sides = self.sides_in_file
        if not all(math.isfinite(side) and side >= 0.0 for side in sides) or not max(sides) > 0.0:
            raise BadValue("no-sides", "The mesh has no size.", "Place it from its file again.")
        if max(self.sides_mm()) > LARGEST_MM:
            raise BadValue(
                "part-too-long",
                f"Read as {self.unit} it would be {max(self.sides_mm()) / 1000.0:,.0f} m long.",
                "Choose another unit: no part of a car is longer than 10 m.",
                unit=self.unit,
            )

    def sides_mm(self) -> Vector:
        """The sides of its box along its own axes [mm]."""
        x, y, z = (mm_per(self.unit) * side for side in self.sides_in_file)
        return x, y, z

    def pose(self) -> Pose:
        """From its own axes into car axes where it stands."""
        side = Pose.turned((1.0, 0.0, 0.0), self.side_deg)
        lean = Pose.turned((0.0, 1.0, 0.0), self.lean_deg)
        return self.place.pose().after(lean.after(side))


def axes(part: MeshPart) -> tuple[StateAxis, ...]:
    """Where it stands and its other stop; none for a part that stays."""
    return () if part.motion == "stays" else (_AXIS,)


def parts(part: MeshPart) -> tuple[Part, ...]:
    """All of it."""
    moved_by = tuple(axis.name for axis in axes(part))
    return (Part(name=BODY, label=part.counts_as, material=_MATERIALS[part.counts_as], moved_by=moved_by),)


def pose_at(part: MeshPart, share: float) -> Pose:
    """From its own axes into car axes a share of the way to its other stop; even in its travel or its angle."""
    if part.motion == "stays" or share == 0.0:
        return part.pose()
    line = _line(part)
    if part.motion == "slides":
        x, y, z = (share * part.slide_mm * one for one in line)
        return part.pose().after(Pose(shift_mm=(x, y, z)))
    hinge = (part.axis_x_mm, part.axis_y_mm, part.axis_z_mm)
    return part.pose().after(Pose.turned(line, share * part.swing_deg, hinge))


def share_at(part: MeshPart, stops: Stops) -> float:
    """How far along it is at a stop: 0 or 1."""
    return float(bool(axes(part)) and stop_of(_AXIS, stops) == FAR)


def share_between(a: str, b: str, share: float) -> float:
    """How far along it is a share of the way from stop a to stop b."""
    start, end = float(a == FAR), float(b == FAR)
    return (1.0 - share) * start + share * end


def travel_mm(part: MeshPart) -> float:
    """How far any point of its box goes at most from one stop to the other: its slide, or its farthest corner's arc.

    The distance from a line is greatest at a corner of a box, so no point inside goes farther.
    """
    if part.motion == "stays":
        return 0.0
    if part.motion == "slides":
        return part.slide_mm
    line = np.array(_line(part))
    off = _corners(part) - np.array([part.axis_x_mm, part.axis_y_mm, part.axis_z_mm])
    from_line = np.linalg.norm(off - np.outer(off @ line, line), axis=1)
    return float(from_line.max()) * abs(math.radians(part.swing_deg))


def envelope(part: MeshPart, part_name: str, stops: Stops) -> Body:
    """Its box in car axes."""
    return _box(part, part_name, share_at(part, stops))


def envelope_between(
    part: MeshPart, part_name: str, stops: Stops, axis: str, a: str, b: str, share: float
) -> Body:
    """Its box in car axes a share of the way from stop a to stop b."""
    return _box(part, part_name, share_between(a, b, share))


def motion_mm(part: MeshPart, part_name: str, axis: str, a: str, b: str) -> float:
    """How far any point travels at most."""
    return 0.0 if a == b else travel_mm(part)


def grips(part: MeshPart, stops: Stops) -> tuple[Grip, ...]:
    """None: where a hand takes hold of a mesh nobody said."""
    return ()


def grips_between(part: MeshPart, stops: Stops, axis: str, a: str, b: str, share: float) -> tuple[Grip, ...]:
    """None, as where it stands."""
    return ()


def set_down_mm(part: MeshPart) -> tuple[Point, ...]:
    """The corners of its box's underside and its middle in car X and Y."""
    low = _corners(part)[_corners(part)[:, 2] == 0.0]
    stood = part.pose().apply(np.vstack([low, np.zeros(3)]))
    return tuple((float(x), float(y)) for x, y, _ in stood)


def foot_below_mm(part: MeshPart) -> float:
    """How far its box reaches below its place, as it leans."""
    return -float((part.pose().apply(_corners(part))[:, 2] - part.place.z_mm).min())


def moved(part: MeshPart, place: Place) -> MeshPart:
    """The same part at another place."""
    return dataclasses.replace(part, place=place)


def _line(part: MeshPart) -> Vector:
    """The unit direction that it slides along or swings about, in own axes."""
    turn, rise = math.radians(part.axis_turn_deg), math.radians(part.axis_rise_deg)
    return math.cos(rise) * math.cos(turn), math.cos(rise) * math.sin(turn), math.sin(rise)


def _corners(part: MeshPart) -> Floats:
    """The corners of its box (8, 3) in own axes [mm]."""
    return np.array(list(_corner_places(part.sides_mm())))


def _corner_places(sides: Vector) -> Iterator[Vector]:
    x, y, z = sides
    yield from itertools.product((-x / 2, x / 2), (-y / 2, y / 2), (0.0, z))


def _box(part: MeshPart, part_name: str, share: float) -> Body:
    if part_name != BODY:
        raise no_such_part(part_name)
    # A sheet that lies in a plane has a box without thickness.
    x, y, z = (max(side, _THIN_MM) for side in part.sides_mm())
    return (Solid(block((-x / 2, -y / 2, 0.0), (x / 2, y / 2, z)), pose_at(part, share)),)


KIND = ItemKind(
    kind="mesh part",
    label="Part from a mesh file",
    model=MeshPart,
    axes=axes,
    parts=parts,
    envelope=envelope,
    envelope_between=envelope_between,
    motion_mm=motion_mm,
    grips=grips,
    grips_between=grips_between,
    grip_motion_mm=motion_mm,
    set_down_mm=set_down_mm,
    foot_below_mm=foot_below_mm,
    moved=moved,
)
