"""A cup holder: one round well, straight or tapered, open at its mouth.

Own axes: origin at the centre of the well's bottom, inside; Z up.
"""

import dataclasses
import functools
import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from floorpan.fields import Range, check_fields
from floorpan.geometry.solids import Body, Hull, Solid, frustum
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
)
from floorpan.items.vessels import ring

_WEDGES = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class CupHolder:
    """A well; place is the centre of its bottom, on the inside."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Cup holder"
    place: Place = ORIGIN
    stands_on: StandsOnField = "console"
    locked: bool = False
    depth_mm: Annotated[
        float, Range(10, 250, "mm", "Well depth", "Bottom to mouth, inside; 70 to 90 for spirited driving.")
    ] = 70.0
    mouth_mm: Annotated[float, Range(30, 160, "mm", "Mouth diameter", "Inside, at the top.")] = 80.0
    base_mm: Annotated[float, Range(30, 160, "mm", "Base diameter", "Inside, at the bottom.")] = 72.0
    wall_mm: Annotated[float, Range(0.5, 20, "mm", "Wall", "Thickness of wall and bottom.")] = 3.0

    def __post_init__(self) -> None:
        check_fields(self)


def axes(holder: CupHolder) -> tuple[StateAxis, ...]:
    """None: it does not move."""
    return ()


def parts(holder: CupHolder) -> tuple[Part, ...]:
    """The well."""
    return (Part(name="well", label="cup well", material="liner"),)


def envelope(holder: CupHolder, part_name: str, stops: Stops) -> Body:
    """Bottom and wall in car axes; the wall in wedges, so that the well stays open."""
    if part_name != "well":
        raise no_such_part(part_name)
    pose = holder.place.pose()
    hulls = _well(holder.depth_mm, holder.mouth_mm / 2, holder.base_mm / 2, holder.wall_mm)
    return tuple(Solid(hull, pose) for hull in hulls)


def envelope_between(
    holder: CupHolder, part_name: str, stops: Stops, axis: str, a: str, b: str, share: float
) -> Body:
    """It has no legs: where it stands."""
    return envelope(holder, part_name, stops)


def motion_mm(holder: CupHolder, part_name: str, axis: str, a: str, b: str) -> float:
    """Nothing moves."""
    return 0.0


def grips(holder: CupHolder, stops: Stops) -> tuple[Grip, ...]:
    """None."""
    return ()


def grips_between(
    holder: CupHolder, stops: Stops, axis: str, a: str, b: str, share: float
) -> tuple[Grip, ...]:
    """None."""
    return ()


def set_down_mm(holder: CupHolder) -> tuple[Point, ...]:
    """Eight points around the outside of its bottom in car X and Y."""
    return ring(holder.place, holder.base_mm / 2 + holder.wall_mm)


def moved(holder: CupHolder, place: Place) -> CupHolder:
    """The same holder at another place."""
    return dataclasses.replace(holder, place=place)


@functools.lru_cache(maxsize=256)
def _well(depth: float, mouth: float, base: float, wall: float) -> tuple[Hull, ...]:
    """Bottom disc and wedges; drawn around the true circle outside, chords inside: they cover the wall."""
    half = math.pi / _WEDGES
    spread = 1 / math.cos(half)
    facet = (max(mouth, base) + wall) * (spread - 1)
    hulls = [frustum(-wall, 0.0, base + wall, base + wall, _WEDGES)]
    for index in range(_WEDGES):
        ends = (2 * index * half, 2 * (index + 1) * half)
        corners = [
            (radius * math.cos(angle), radius * math.sin(angle), z)
            for z, inner in ((0.0, base), (depth, mouth))
            for radius in (inner, (inner + wall) * spread)
            for angle in ends
        ]
        hulls.append(Hull(np.array(corners), 0.0, facet))
    return tuple(hulls)


KIND = ItemKind(
    kind="cup holder",
    label="Cup holder",
    model=CupHolder,
    axes=axes,
    parts=parts,
    envelope=envelope,
    envelope_between=envelope_between,
    motion_mm=motion_mm,
    grips=grips,
    grips_between=grips_between,
    grip_motion_mm=motion_mm,
    set_down_mm=set_down_mm,
    foot_below_mm=lambda holder: holder.wall_mm,
    moved=moved,
)
