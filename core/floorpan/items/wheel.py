"""A steering wheel: its rim as a ring of short rods, and the stalks behind it.

Own axes: origin in the middle of the rim; X square to it towards the driver, Y right, Z up along the rim, before the
rim is leaned forward about Y.
"""

import functools
import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from floorpan.fields import Range, check_fields
from floorpan.frames import Pose
from floorpan.geometry.solids import Body, Hull, Solid
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
from floorpan.items.shapes import rod
from floorpan.items.still import still_kind
from floorpan.items.vessels import ring

RODS = 48


@dataclass(frozen=True, slots=True, kw_only=True)
class Wheel:
    """A steering wheel; place is the middle of the rim, in its plane."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Steering wheel"
    place: Place = ORIGIN
    stands_on: StandsOnField = "none"
    locked: bool = False
    across_mm: Annotated[
        float, Range(200, 600, "mm", "Wheel across", "Over the rim, from outside to outside.")
    ] = 360.0
    rim_mm: Annotated[float, Range(10, 60, "mm", "Rim thickness", "Across the rim's section.")] = 30.0
    lean_deg: Annotated[
        float, Range(0, 80, "deg", "Wheel from upright", "The rim's plane; its top leans forward.")
    ] = 25.0
    stalk_mm: Annotated[
        float, Range(0, 300, "mm", "Stalks", "Column's middle to a stalk's end; 0 for none.")
    ] = 150.0
    stalk_ahead_mm: Annotated[
        float, Range(0, 200, "mm", "Stalks ahead of the rim", "Rim's plane to the stalks, away from you.")
    ] = 50.0
    stalk_radius_mm: Annotated[float, Range(2, 30, "mm", "Stalk radius", "Half of what is thick of it.")] = (
        9.0
    )

    def __post_init__(self) -> None:
        check_fields(self)


def parts(wheel: Wheel) -> tuple[Part, ...]:
    """The rim, and the stalks where there are any."""
    rim = Part(name="rim", label="wheel rim", material="knob")
    if not wheel.stalk_mm:
        return (rim,)
    return (rim, Part(name="stalks", label="stalks", material="knob"))


def envelope(wheel: Wheel, part_name: str, stops: Stops) -> Body:
    """A part's stuff in car axes."""
    pose = wheel.place.pose().after(Pose.turned((0.0, 1.0, 0.0), -wheel.lean_deg))
    if part_name == "rim":
        hulls = _rim((wheel.across_mm - wheel.rim_mm) / 2, wheel.rim_mm / 2)
        return tuple(Solid(hull, pose) for hull in hulls)
    if part_name == "stalks" and wheel.stalk_mm:
        # A rod lies along Z; turned about X it points aside.
        aside = Pose.turned((1.0, 0.0, 0.0), 90.0)
        ahead = Pose(rotation=aside.rotation, shift_mm=(-wheel.stalk_ahead_mm, 0.0, 0.0))
        return (Solid(rod(-wheel.stalk_mm, wheel.stalk_mm, wheel.stalk_radius_mm), pose.after(ahead)),)
    raise no_such_part(part_name)


def set_down_mm(wheel: Wheel) -> tuple[Point, ...]:
    """Eight points under the rim in car X and Y."""
    return ring(wheel.place, wheel.across_mm / 2)


@functools.lru_cache(maxsize=64)
def _rim(ring_mm: float, tube_mm: float) -> tuple[Hull, ...]:
    """Rods that hold the whole ring: half of each lies outside its circle, and all are thicker by what is missing.

    A circle of radius R leaves a polygon of radius R + e by e at most, both ways, for
    e = R (1 - cos) / (1 + cos) of half a step; rods that are e thicker stand out by 2 e at most.
    """
    cos = math.cos(math.pi / RODS)
    off = ring_mm * (1.0 - cos) / (1.0 + cos)
    turns = np.arange(RODS + 1) * 2.0 * math.pi / RODS
    at = (ring_mm + off) * np.column_stack([np.zeros(RODS + 1), np.sin(turns), np.cos(turns)])
    return tuple(Hull(at[k : k + 2], tube_mm + off, 2.0 * off) for k in range(RODS))


KIND = still_kind(
    kind="wheel",
    label="Steering wheel",
    model=Wheel,
    parts=parts,
    envelope=envelope,
    set_down_mm=set_down_mm,
)
