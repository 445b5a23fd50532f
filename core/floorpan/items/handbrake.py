"""The handbrake: a straight lever that swings up about its pivot, a grip at its end and the button in the tip.

Own axes: origin on the foot's middle, under the pivot; the lever points forward (-X) and swings up about Y.
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
    point,
    stop_of,
)
from floorpan.items.shapes import block, rod

LEVER = "lever"
DOWN, HALF, UP = "down", "half", "up"

FINGERS_MM = 30.0
"""Fingers round a grip, over its skin, bare; common practice, no source."""

_FOOT_MM = (35.0, 18.0)
_AXIS = StateAxis(name=LEVER, stops=(DOWN, HALF, UP), legs=((DOWN, HALF), (HALF, UP)), rest=DOWN)


@dataclass(frozen=True, slots=True, kw_only=True)
class Handbrake:
    """A handbrake between the seats; place is on its foot, under the pivot."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Handbrake"
    place: Place = ORIGIN
    stands_on: StandsOnField = "floor"
    locked: bool = False
    lever_mm: Annotated[
        float, Range(100, 600, "mm", "Lever length", "Pivot to the end of the grip, without the button.")
    ] = 280.0
    pivot_mm: Annotated[float, Range(0, 300, "mm", "Pivot over the foot", "To its middle.")] = 40.0
    down_deg: Annotated[float, Range(-30, 60, "deg", "Down", "Lever over level, brake off.")] = 4.0
    up_deg: Annotated[
        float, Range(0, 100, "deg", "Fully up", "Lever over level at full travel, pads and cable worn.")
    ] = 40.0
    lever_radius_mm: Annotated[float, Range(3, 40, "mm", "Lever radius", "Half of what is thick of it.")] = (
        10.0
    )
    grip_mm: Annotated[float, Range(30, 250, "mm", "Grip length", "The part one takes hold of.")] = 115.0
    grip_radius_mm: Annotated[float, Range(5, 50, "mm", "Grip radius", "Half of what is thick of it.")] = 16.0
    button_mm: Annotated[float, Range(0, 60, "mm", "Button", "How far it stands out of the grip's end.")] = (
        12.0
    )

    def __post_init__(self) -> None:
        check_fields(self)


def axes(brake: Handbrake) -> tuple[StateAxis, ...]:
    """The lever: down, half the way, fully up."""
    return (_AXIS,)


def parts(brake: Handbrake) -> tuple[Part, ...]:
    """The foot with its pivot, the lever, its grip and the button."""
    return (
        Part(name="foot", label="handbrake foot", material="steel"),
        Part(name="lever", label="handbrake lever", material="steel", moved_by=(LEVER,)),
        Part(name="grip", label="handbrake grip", material="knob", moved_by=(LEVER,)),
        Part(name="button", label="handbrake button", material="steel", moved_by=(LEVER,)),
    )


def angle_deg(brake: Handbrake, stop: str) -> float:
    """The lever over level at a stop."""
    return {DOWN: brake.down_deg, HALF: (brake.down_deg + brake.up_deg) / 2, UP: brake.up_deg}[stop]


def envelope(brake: Handbrake, part_name: str, stops: Stops) -> Body:
    """A part's stuff in car axes at the stop of `stops`."""
    return _body(brake, part_name, angle_deg(brake, stop_of(_AXIS, stops)))


def envelope_between(
    brake: Handbrake, part_name: str, stops: Stops, axis: str, a: str, b: str, share: float
) -> Body:
    """A part's stuff in car axes a share of the way from stop a to stop b; the share runs evenly in the angle."""
    return _body(brake, part_name, _between_deg(brake, a, b, share))


def motion_mm(brake: Handbrake, part_name: str, axis: str, a: str, b: str) -> float:
    """The arc of the part's farthest end; no point of its centre line travels farther, its skin stays round it."""
    reach = {"foot": 0.0, "lever": _neck_mm(brake), "grip": brake.lever_mm}
    return reach.get(part_name, brake.lever_mm + brake.button_mm) * _turned(brake, a, b)


def grips(brake: Handbrake, stops: Stops) -> tuple[Grip, ...]:
    """A whole hand round the middle of the grip."""
    return (_grip(brake, angle_deg(brake, stop_of(_AXIS, stops))),)


def grips_between(
    brake: Handbrake, stops: Stops, axis: str, a: str, b: str, share: float
) -> tuple[Grip, ...]:
    """The hand on its way up or down."""
    return (_grip(brake, _between_deg(brake, a, b, share)),)


def grip_motion_mm(brake: Handbrake, grip_name: str, axis: str, a: str, b: str) -> float:
    """The arc of the grip's middle."""
    return _held_at_mm(brake) * _turned(brake, a, b)


def set_down_mm(brake: Handbrake) -> tuple[Point, ...]:
    """The four corners of the foot in car X and Y."""
    length, width = _FOOT_MM
    corners = np.array([[x, y, 0.0] for x in (-length, length) for y in (-width, width)])
    return tuple((float(x), float(y)) for x, y, _ in brake.place.pose().apply(corners))


def moved(brake: Handbrake, place: Place) -> Handbrake:
    """The same handbrake at another place."""
    return dataclasses.replace(brake, place=place)


def _between_deg(brake: Handbrake, a: str, b: str, share: float) -> float:
    return (1.0 - share) * angle_deg(brake, a) + share * angle_deg(brake, b)


def _turned(brake: Handbrake, a: str, b: str) -> float:
    return math.radians(abs(angle_deg(brake, b) - angle_deg(brake, a)))


def _neck_mm(brake: Handbrake) -> float:
    """Where the lever ends and the grip begins."""
    return max(brake.lever_mm - brake.grip_mm, 0.0)


def _held_at_mm(brake: Handbrake) -> float:
    return (_neck_mm(brake) + brake.lever_mm) / 2


def _lever_pose(brake: Handbrake, over_level_deg: float) -> Pose:
    """From the lever's axes (Z along it, origin in the pivot) into car axes."""
    turn = Pose.turned((0.0, 1.0, 0.0), over_level_deg - 90.0)
    return brake.place.pose().after(Pose(rotation=turn.rotation, shift_mm=(0.0, 0.0, brake.pivot_mm)))


def _grip(brake: Handbrake, over_level_deg: float) -> Grip:
    at = _lever_pose(brake, over_level_deg).apply(np.array([0.0, 0.0, _held_at_mm(brake)]))
    radius = brake.grip_radius_mm + FINGERS_MM
    return Grip(name="grip", at_mm=point(at), radius_mm=radius, moved_by=(LEVER,))


def _body(brake: Handbrake, part_name: str, over_level_deg: float) -> Body:
    if part_name == "foot":
        length, width = _FOOT_MM
        top = brake.pivot_mm + brake.lever_radius_mm
        return (Solid(block((-length, -width, 0.0), (length, width, top)), brake.place.pose()),)
    pose, neck, end = _lever_pose(brake, over_level_deg), _neck_mm(brake), brake.lever_mm
    if part_name == "lever":
        return (Solid(rod(0.0, neck, brake.lever_radius_mm), pose),)
    if part_name == "grip":
        # Its round ends stay within its length.
        radius = min(brake.grip_radius_mm, (end - neck) / 2)
        return (Solid(rod(neck + radius, end - radius, radius), pose),)
    if part_name == "button":
        radius = brake.grip_radius_mm / 2
        tip = end + brake.button_mm - radius
        return (Solid(rod(min(end - radius, tip), tip, radius), pose),)
    raise no_such_part(part_name)


KIND = ItemKind(
    kind="handbrake",
    label="Handbrake",
    model=Handbrake,
    axes=axes,
    parts=parts,
    envelope=envelope,
    envelope_between=envelope_between,
    motion_mm=motion_mm,
    grips=grips,
    grips_between=grips_between,
    grip_motion_mm=grip_motion_mm,
    set_down_mm=set_down_mm,
    foot_below_mm=lambda brake: 0.0,
    moved=moved,
)
