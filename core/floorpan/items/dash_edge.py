"""The dash's lower edge, taped: where no scan shows the dash this stands for it.

Own axes: origin in the middle of the edge, X rearward, Y right, Z up. The dash lies forward of the edge and over it.
"""

from dataclasses import dataclass
from typing import Annotated

import numpy as np

from floorpan.fields import Range, check_fields
from floorpan.frames import Floats
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
    point,
)
from floorpan.items.shapes import convex
from floorpan.items.still import still_kind


@dataclass(frozen=True, slots=True, kw_only=True)
class DashEdge:
    """A straight edge between two places left and right, with the dash's thickness over it; place is its middle.

    Its ends lie half of across_mm left and right of the middle; slant_mm and rise_mm tell the right one from the left.
    """

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Dash edge"
    place: Place = ORIGIN
    stands_on: StandsOnField = "none"
    locked: bool = False
    across_mm: Annotated[
        float, Range(20, 2500, "mm", "Left end to right end", "Across the car, without slant and rise.")
    ] = 900.0
    slant_mm: Annotated[
        float,
        Range(-1000, 1000, "mm", "Right end further rear by", "Than the left one; less is further front."),
    ] = 0.0
    rise_mm: Annotated[
        float, Range(-1000, 1000, "mm", "Right end higher by", "Than the left one; less is lower.")
    ] = 0.0
    thick_mm: Annotated[
        float,
        Range(1, 600, "mm", "Dash over the edge", "Edge up to where the dash ends or no longer matters."),
    ] = 150.0
    depth_mm: Annotated[
        float, Range(1, 800, "mm", "Dash ahead of the edge", "How far its underside goes on forward, level.")
    ] = 200.0

    def __post_init__(self) -> None:
        check_fields(self)


def ends_mm(edge: DashEdge) -> Floats:
    """The left and the right end of the edge (2, 3) in car axes [mm]."""
    half = np.array([edge.slant_mm, edge.across_mm, edge.rise_mm]) / 2
    return edge.place.pose().apply(np.stack([-half, half]))


def parts(edge: DashEdge) -> tuple[Part, ...]:
    """The dash as far as it is known."""
    return (Part(name="edge", label="dash edge", material="console"),)


def envelope(edge: DashEdge, part_name: str, stops: Stops) -> Body:
    """The room forward of the edge and over it, in car axes."""
    if part_name != "edge":
        raise no_such_part(part_name)
    half = np.array([edge.slant_mm, edge.across_mm, edge.rise_mm]) / 2
    corners = [
        end + np.array([ahead, 0.0, over])
        for end in (-half, half)
        for ahead in (0.0, -edge.depth_mm)
        for over in (0.0, edge.thick_mm)
    ]
    return (Solid(convex(tuple(point(corner) for corner in corners)), edge.place.pose()),)


def set_down_mm(edge: DashEdge) -> tuple[Point, ...]:
    """Both ends in car X and Y."""
    return tuple((float(x), float(y)) for x, y, _ in ends_mm(edge))


KIND = still_kind(
    kind="dash edge",
    label="Dash lower edge",
    model=DashEdge,
    parts=parts,
    envelope=envelope,
    set_down_mm=set_down_mm,
)
