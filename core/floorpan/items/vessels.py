"""A vessel that rides along: a body of revolution about Z, in its holder or out of the car.

Own axes: origin at the centre of its base, Z up.
"""

import dataclasses
import itertools
import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from floorpan.errors import BadValue
from floorpan.fields import Range, Text, check_fields
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
    point,
    stop_of,
)
from floorpan.items.shapes import turned_body

Profile = tuple[tuple[float, float], ...]

PLACE = "place"
IN, LIFTING, HANDED_OVER, OUT = "in", "lifting", "lifting over", "out"
"""Stops of a vessel: in its place; on its way out to the driver, and to the passenger; out of the car."""

_MOST_POINTS = 40
_GRIPPED_SHARE = 2 / 3
_HAND_RADIUS_MM = 55.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Vessel:
    """A vessel standing in a cup holder (stands_in) or, without one, at its own place.

    profile : (height over its base, radius) from the base up [mm]; heights never fall and start at 0
    """

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Vessel"
    place: Place = ORIGIN
    stands_on: StandsOnField = "none"
    locked: bool = False
    stands_in: Annotated[str, Text(60, "Stands in", "The cup holder it stands in.")] = ""
    profile: Profile = ((0.0, 33.0), (122.0, 33.0))
    full_kg: Annotated[float, Range(0, 6, "kg", "Weight, full", "On a kitchen scale.")] = 0.4
    open_top: bool = False
    empty_kg: Annotated[
        float, Range(0, 4, "kg", "Weight, empty", "On a kitchen scale; 0 counts it all as drink.")
    ] = 0.0
    filled_to_mm: Annotated[
        float, Range(0, 600, "mm", "Filled to", "Height of the drink when full; 0 for up to the top.")
    ] = 0.0

    def __post_init__(self) -> None:
        check_fields(self)
        check_profile(self.profile)


def check_profile(profile: Profile) -> None:
    """Raise BadValue unless heights start at 0, never fall, end above 0, and radii lie from 1 to 150 mm."""
    remedy = "Give height over the base and radius, from the base up."
    if not 2 <= len(profile) <= _MOST_POINTS:
        raise BadValue("profile-points", f"A profile has 2 to {_MOST_POINTS} points.", remedy)
    for height, radius in profile:
        if not math.isfinite(height) or not math.isfinite(radius) or not 1.0 <= radius <= 150.0:
            raise BadValue("profile-radius", "A radius of the profile is not from 1 to 150 mm.", remedy)
    heights = [height for height, _ in profile]
    falls = any(above < below for below, above in itertools.pairwise(heights))
    if heights[0] != 0.0 or falls or not 0.0 < heights[-1] <= 600.0:
        raise BadValue("profile-heights", "Heights of the profile run from 0 up to 600 mm at most.", remedy)


def height_mm(vessel: Vessel) -> float:
    """Base to top."""
    return vessel.profile[-1][0]


def convex_runs(profile: Profile) -> tuple[Profile, ...]:
    """The profile cut into as few runs as bound a convex body each; a run ends where the next starts."""
    runs: list[Profile] = []
    # Steps to and fro at one height hold nothing: only where such a stair begins and ends bounds the vessel.
    level = itertools.groupby(profile, key=lambda at: at[0])
    outline = [at for _, stair in level for at in _ends(list(stair))]
    run: list[tuple[float, float]] = [outline[0]]
    for at in outline[1:]:
        if len(run) >= 2 and not _bends_inward(run[-2], run[-1], at):
            runs.append(tuple(run))
            run = [run[-1]]
        run.append(at)
    runs.append(tuple(run))
    return tuple(one for one in runs if one[-1][0] > one[0][0])


def _ends(stair: list[tuple[float, float]]) -> list[tuple[float, float]]:
    return [stair[0]] if stair[0] == stair[-1] else [stair[0], stair[-1]]


def _bends_inward(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> bool:
    """Whether the outline turns towards the axis, or runs straight, at b on the way up."""
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) <= 0.0


def axes(vessel: Vessel) -> tuple[StateAxis, ...]:
    """In its place, over it on the way out, or out of the car."""
    return (StateAxis(name=PLACE, stops=(IN, LIFTING, HANDED_OVER, OUT), rest=IN),)


def parts(vessel: Vessel) -> tuple[Part, ...]:
    """The vessel."""
    return (Part(name="vessel", label=vessel.name, material="vessel", moved_by=(PLACE,)),)


def envelope(vessel: Vessel, part_name: str, stops: Stops) -> Body:
    """Its stuff in car axes where its place says, lifted or not; nothing when it is out."""
    if part_name != "vessel":
        raise no_such_part(part_name)
    if stop_of(axes(vessel)[0], stops) == OUT:
        return ()
    pose = vessel.place.pose()
    return tuple(Solid(hull, pose) for hull in _hulls(vessel))


def envelope_between(
    vessel: Vessel, part_name: str, stops: Stops, axis: str, a: str, b: str, share: float
) -> Body:
    """It has no legs: where it stands in either stop."""
    return envelope(vessel, part_name, {**stops, axis: a if share < 1.0 else b})


def motion_mm(vessel: Vessel, part_name: str, axis: str, a: str, b: str) -> float:
    """Nothing moves: it has no legs."""
    return 0.0


def grips(vessel: Vessel, stops: Stops) -> tuple[Grip, ...]:
    """A whole hand round it at two thirds of its height, while it is in its place; common practice, no source."""
    if stop_of(axes(vessel)[0], stops) == OUT:
        return ()
    at = vessel.place.pose().apply(np.array([0.0, 0.0, _GRIPPED_SHARE * height_mm(vessel)]))
    return (Grip(name="vessel", at_mm=point(at), radius_mm=_HAND_RADIUS_MM, moved_by=(PLACE,)),)


def grips_between(vessel: Vessel, stops: Stops, axis: str, a: str, b: str, share: float) -> tuple[Grip, ...]:
    """It has no legs: as in `grips`, in either stop."""
    return grips(vessel, {**stops, axis: a if share < 1.0 else b})


def set_down_mm(vessel: Vessel) -> tuple[Point, ...]:
    """Eight points around its base in car X and Y."""
    return ring(vessel.place, vessel.profile[0][1])


def ring(place: Place, radius_mm: float, count: int = 8) -> tuple[Point, ...]:
    """Points (x, y) evenly around a place."""
    around = np.arange(count) * 2 * np.pi / count
    return tuple(
        (place.x_mm + radius_mm * math.cos(angle), place.y_mm + radius_mm * math.sin(angle))
        for angle in around
    )


def moved(vessel: Vessel, place: Place) -> Vessel:
    """The same vessel at another place."""
    return dataclasses.replace(vessel, place=place)


def _hulls(vessel: Vessel) -> tuple[Hull, ...]:
    return tuple(turned_body(run) for run in convex_runs(vessel.profile))


KIND = ItemKind(
    kind="vessel",
    label="Vessel",
    model=Vessel,
    axes=axes,
    parts=parts,
    envelope=envelope,
    envelope_between=envelope_between,
    motion_mm=motion_mm,
    grips=grips,
    grips_between=grips_between,
    grip_motion_mm=motion_mm,
    set_down_mm=set_down_mm,
    foot_below_mm=lambda vessel: 0.0,
    moved=moved,
)
