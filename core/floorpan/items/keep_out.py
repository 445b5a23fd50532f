"""A room that nothing may enter: a box, a disc that is not drilled through, or a tube about a pipe or a loom.

Own axes: a box stands on its origin; a disc lies under it, its face 1 proud; a tube lies about it along X and may rise.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np

from floorpan.fields import Choice, Range, check_fields
from floorpan.frames import Pose
from floorpan.geometry.solids import Body, Solid
from floorpan.items.placing import (
    ID,
    NAME,
    ORIGIN,
    Part,
    Place,
    Point,
    StandsOnField,
    Stops,
    no_such_part,
)
from floorpan.items.shapes import block, rod, turned_body
from floorpan.items.still import still_kind
from floorpan.items.vessels import ring

Form = Literal["box", "disc", "tube"]
WhatFor = Literal["pipe", "loom", "sensor", "airbag", "no-drill"]

NO_DRILL = "no-drill"

PROUD_MM = 1.0
"""How far a disc stands out of what it lies in, so that it is seen and can be taken hold of."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepOut:
    """A keep-out; place is the middle of a box's underside, of a disc's face, of a tube."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Keep-out"
    place: Place = ORIGIN
    stands_on: StandsOnField = "none"
    locked: bool = False
    form: Annotated[Form, Choice(("box", "disc", "tube"), "Form", "A disc is for what is not drilled.")] = (
        "disc"
    )
    what_for: Annotated[
        WhatFor,
        Choice(
            ("pipe", "loom", "sensor", "airbag", "no-drill"),
            "For",
            "Over a no-drill disc a shell may lie, but nothing may be bolted.",
        ),
    ] = "no-drill"
    length_mm: Annotated[float, Range(1, 3000, "mm", "Length", "Of a box or a tube, along it.")] = 200.0
    width_mm: Annotated[float, Range(1, 2000, "mm", "Width", "Of a box, side to side.")] = 100.0
    height_mm: Annotated[float, Range(1, 1000, "mm", "Height", "Of a box.")] = 60.0
    radius_mm: Annotated[float, Range(1, 500, "mm", "Radius", "Of a disc or a tube.")] = 50.0
    depth_mm: Annotated[float, Range(1, 500, "mm", "Depth", "Of a disc, down from its face.")] = 40.0
    rise_deg: Annotated[float, Range(-90, 90, "deg", "Rises rearward", "A tube, from level.")] = 0.0

    def __post_init__(self) -> None:
        check_fields(self)


def parts(kept: KeepOut) -> tuple[Part, ...]:
    """The room itself."""
    return (Part(name="room", label=f"room for the {kept.what_for}", material="vessel"),)


def envelope(kept: KeepOut, part_name: str, stops: Stops) -> Body:
    """The room in car axes."""
    if part_name != "room":
        raise no_such_part(part_name)
    pose = kept.place.pose()
    if kept.form == "box":
        length, width = kept.length_mm / 2, kept.width_mm / 2
        return (Solid(block((-length, -width, 0.0), (length, width, kept.height_mm)), pose),)
    if kept.form == "disc":
        return (Solid(turned_body(((-kept.depth_mm, kept.radius_mm), (PROUD_MM, kept.radius_mm))), pose),)
    half = kept.length_mm / 2
    along = Pose.turned((0.0, 1.0, 0.0), 90.0 - kept.rise_deg)
    return (Solid(rod(-half, half, kept.radius_mm), pose.after(along)),)


def set_down_mm(kept: KeepOut) -> tuple[Point, ...]:
    """Points around it in car X and Y: a box's corners, eight round a disc or the middle of a tube."""
    if kept.form != "box":
        return ring(kept.place, kept.radius_mm)
    length, width = kept.length_mm / 2, kept.width_mm / 2
    corners = np.array([[x, y, 0.0] for x in (-length, length) for y in (-width, width)])
    return tuple((float(x), float(y)) for x, y, _ in kept.place.pose().apply(corners))


KIND = still_kind(
    kind="keep-out",
    label="Keep-out or no-drill disc",
    model=KeepOut,
    parts=parts,
    envelope=envelope,
    set_down_mm=set_down_mm,
)
