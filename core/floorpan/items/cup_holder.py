"""A cup holder: one round well, straight, tapered or stepped, open at its mouth; a second ring over it if need be.

Own axes: origin at the centre of the well's bottom, inside; Z up.
"""

import functools
import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from floorpan.fields import Choice, Range, check_fields
from floorpan.geometry.solids import Body, Hull, Solid, frustum
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
from floorpan.items.still import still_kind
from floorpan.items.vessels import ring

GRIPS = ("stiff wall", "spring fingers", "rubber ring")
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
    step_mm: Annotated[
        float,
        Range(0, 160, "mm", "Lower step", "Inside diameter of the narrow part at the bottom; 0 for none."),
    ] = 0.0
    step_depth_mm: Annotated[
        float, Range(0, 200, "mm", "Step depth", "How high the narrow part stands over the bottom.")
    ] = 0.0
    ring_mm: Annotated[
        float,
        Range(0, 200, "mm", "Upper ring", "Inside diameter of a second ring over the mouth; 0 for none."),
    ] = 0.0
    ring_over_mm: Annotated[
        float,
        Range(0, 200, "mm", "Ring over mouth", "Mouth to the upper ring; 100 to 120 over the bottom helps."),
    ] = 40.0
    grip: Annotated[str, Choice(GRIPS, "How it grips", "What presses on the vessel at the mouth.")] = (
        "stiff wall"
    )
    grip_reach_mm: Annotated[
        float,
        Range(0, 25, "mm", "Reach inwards", "Fingers or ring inside the mouth, with nothing in. Edit me."),
    ] = 4.0
    grip_n_per_mm: Annotated[
        float, Range(0, 50, "n", "Push back", "Force of one side for each mm it is pressed in. Edit me.")
    ] = 1.0
    lean_back_deg: Annotated[
        float, Range(-30, 30, "deg", "Leans back", "From upright; counts in what it holds, drawn upright.")
    ] = 0.0
    lean_right_deg: Annotated[
        float, Range(-30, 30, "deg", "Leans right", "From upright; counts in what it holds, drawn upright.")
    ] = 0.0

    def __post_init__(self) -> None:
        check_fields(self)


def parts(holder: CupHolder) -> tuple[Part, ...]:
    """The well."""
    return (Part(name="well", label="cup well", material="liner"),)


def envelope(holder: CupHolder, part_name: str, stops: Stops) -> Body:
    """Bottom and wall in car axes; the wall in wedges, so that the well stays open."""
    if part_name != "well":
        raise no_such_part(part_name)
    pose = holder.place.pose()
    wall = holder.wall_mm
    hulls = _well(holder.depth_mm, holder.mouth_mm / 2, holder.base_mm / 2, wall)
    if holder.step_mm > 0.0 and holder.step_depth_mm > 0.0:
        inner, outer = holder.step_mm / 2, max(holder.base_mm, holder.mouth_mm) / 2
        hulls += _band(0.0, min(holder.step_depth_mm, holder.depth_mm), inner, max(outer - inner, 0.5))
    if holder.ring_mm > 0.0:
        over = holder.depth_mm + holder.ring_over_mm
        hulls += _band(over - wall / 2, over + wall / 2, holder.ring_mm / 2, wall)
    return tuple(Solid(hull, pose) for hull in hulls)


def set_down_mm(holder: CupHolder) -> tuple[Point, ...]:
    """Eight points around the outside of its bottom in car X and Y."""
    return ring(holder.place, holder.base_mm / 2 + holder.wall_mm)


@functools.lru_cache(maxsize=256)
def _well(depth: float, mouth: float, base: float, wall: float) -> tuple[Hull, ...]:
    """Bottom disc and wedges; drawn around the true circle outside, chords inside: they cover the wall."""
    return (
        frustum(-wall, 0.0, base + wall, base + wall, _WEDGES),
        *_wedges(((0.0, base), (depth, mouth)), wall),
    )


@functools.lru_cache(maxsize=256)
def _band(low: float, high: float, inner: float, wall: float) -> tuple[Hull, ...]:
    """A straight ring from one height to another, covered likewise."""
    return _wedges(((low, inner), (high, inner)), wall)


def _wedges(inside: tuple[tuple[float, float], tuple[float, float]], wall: float) -> tuple[Hull, ...]:
    half = math.pi / _WEDGES
    spread = 1 / math.cos(half)
    facet = (max(radius for _, radius in inside) + wall) * (spread - 1)
    hulls = []
    for index in range(_WEDGES):
        ends = (2 * index * half, 2 * (index + 1) * half)
        corners = [
            (radius * math.cos(angle), radius * math.sin(angle), z)
            for z, inner in inside
            for radius in (inner, (inner + wall) * spread)
            for angle in ends
        ]
        hulls.append(Hull(np.array(corners), 0.0, facet))
    return tuple(hulls)


KIND = still_kind(
    kind="cup holder",
    label="Cup holder",
    model=CupHolder,
    parts=parts,
    envelope=envelope,
    set_down_mm=set_down_mm,
    foot_below_mm=lambda holder: holder.wall_mm,
)
