"""The body as rounded solids: the hand and the forearm are checked, the rest is drawn.

Radii are common practice, no source: a forearm of 45 to 55 mm at its thickest and about 30 at the
wrist, an upper arm a little more; breadths follow the
middle of the men of the 2012 Anthropometric Survey of U.S. Army Personnel (hip breadth sitting 379, shoulder
point to eye 201, buttock to knee 618).
"""

import functools
import math
from typing import Protocol

import numpy as np

from floorpan.driver.arm import Arm
from floorpan.driver.person import Person, Side
from floorpan.driver.posture import shoulder_point, side_sign
from floorpan.frames import Floats, Pose, Vector
from floorpan.geometry.solids import Body, Hull, Solid, ball, capsule

FOREARM_RADIUS_MM = 50.0
WRIST_RADIUS_MM = 32.0
_FULL_SHARE = 1.0 / 3.0
_CORNERS = 16
UPPER_ARM_RADIUS_MM = 55.0
_TORSO_RADIUS_MM = 110.0
_HIP_OUT_MM = 80.0
_HEAD_RADIUS_MM = 105.0
_HEAD_UP_MM = 200.0
_NECK_RADIUS_MM = 60.0
_THIGH_RADIUS_MM = 75.0
# Buttock to knee, less the hip's way to the backrest and the roundness of the knee.
_THIGH_MM = 618.0 - 130.0 - _THIGH_RADIUS_MM


class HasGrip(Protocol):
    """Anything with the centre of a grip in car axes, the bare hand's ball about it, and its knuckles [mm]."""

    @property
    def at_mm(self) -> Vector: ...
    @property
    def radius_mm(self) -> float: ...
    @property
    def knuckles_mm(self) -> float: ...
    @property
    def knuckles_deep_mm(self) -> float: ...


def hand(person: Person, grip: HasGrip) -> Body:
    """The person's hand on a grip: a ball as large as the bare hand and the glove, and its row of knuckles.

    The knuckles lie across the car, as on a knob whose palm faces forward or down.
    """
    at = Pose(shift_mm=grip.at_mm)
    palm = Solid(ball(np.zeros(3), person.hand_radius_mm(grip.radius_mm)), at)
    if not grip.knuckles_mm:
        return (palm,)
    end = np.array([0.0, (grip.knuckles_mm - grip.knuckles_deep_mm) / 2, 0.0])
    knuckles = capsule(-end, end, person.hand_radius_mm(grip.knuckles_deep_mm / 2))
    return (palm, Solid(knuckles, at))


def forearm(posed: Arm, jacket_mm: float = 0.0) -> Body:
    """Elbow to wrist, thinner towards the wrist, thicker all round by the jacket."""
    length = round(math.dist(posed.elbow_mm, posed.wrist_mm), 3)
    return (Solid(_tapered(length, jacket_mm), Pose.along(posed.elbow_mm, posed.wrist_mm)),)


@functools.lru_cache(maxsize=64)
def _tapered(length_mm: float, jacket_mm: float) -> Hull:
    """A forearm up the Z axis: full from the elbow over a third of its length, then down to the wrist."""
    round_ = FOREARM_RADIUS_MM - WRIST_RADIUS_MM
    angles = np.arange(_CORNERS) * 2.0 * math.pi / _CORNERS
    wide = round_ / math.cos(math.pi / _CORNERS)
    ring = np.column_stack([wide * np.cos(angles), wide * np.sin(angles), np.zeros(_CORNERS)])
    further = np.add(ring, (0.0, 0.0, _FULL_SHARE * length_mm))
    points = np.vstack([ring, further, [[0.0, 0.0, length_mm]]])
    return Hull(points, WRIST_RADIUS_MM + jacket_mm, wide - round_)


def upper_arm(posed: Arm, jacket_mm: float = 0.0) -> Body:
    """Shoulder to elbow, thicker all round by the jacket."""
    ends = np.array(posed.shoulder_mm), np.array(posed.elbow_mm)
    return (Solid(capsule(*ends, UPPER_ARM_RADIUS_MM + jacket_mm)),)


def torso(
    person: Person, h_point: Vector, back_deg: float, share: float = 0.0, turn_deg: float = 0.0
) -> Body:
    """Hips to shoulders, for drawing; share as in `posture.shoulder_point`."""
    hips = [_beside(h_point, side, _HIP_OUT_MM, turn_deg) for side in _SIDES]
    shoulders = _shoulders(person, h_point, back_deg, share, turn_deg)
    middle = np.mean(shoulders, axis=0)
    sunk = _drawn_in(middle, np.mean(hips, axis=0))
    # Drawn in by its own roundness, so that the skin ends at the shoulder points.
    corners = [*hips, *(_drawn_in(shoulder, middle) + sunk - middle for shoulder in shoulders)]
    return (Solid(Hull(np.array(corners), _TORSO_RADIUS_MM)),)


def head(person: Person, h_point: Vector, back_deg: float, share: float = 0.0, turn_deg: float = 0.0) -> Body:
    """Head, as large as the helmet makes it, and neck over the middle of the shoulders, upright, for drawing."""
    middle = np.mean(_shoulders(person, h_point, back_deg, share, turn_deg), axis=0)
    top = middle + np.array([0.0, 0.0, _HEAD_UP_MM])
    return (
        Solid(ball(top, _HEAD_RADIUS_MM + person.helmet_mm)),
        Solid(capsule(middle, top, _NECK_RADIUS_MM)),
    )


def thigh(h_point: Vector, rise_deg: float, side: Side, turn_deg: float = 0.0) -> Body:
    """Hip to knee, rising forward by rise_deg from level, for drawing."""
    hip = _beside(h_point, side, _HIP_OUT_MM, turn_deg)
    rise = np.radians(rise_deg)
    ahead = Pose.turned((0.0, 0.0, 1.0), turn_deg).apply(np.array([-np.cos(rise), 0.0, np.sin(rise)]))
    return (Solid(capsule(hip, hip + _THIGH_MM * ahead, _THIGH_RADIUS_MM)),)


_SIDES: tuple[Side, Side] = ("left", "right")


def _shoulders(
    person: Person, h_point: Vector, back_deg: float, share: float, turn_deg: float
) -> tuple[Floats, Floats]:
    left, right = (shoulder_point(person, h_point, back_deg, side, share, turn_deg) for side in _SIDES)
    return left, right


def _beside(at: Vector, side: Side, out_mm: float, turn_deg: float) -> Floats:
    across = Pose.turned((0.0, 0.0, 1.0), turn_deg).apply(np.array([0.0, side_sign(side) * out_mm, 0.0]))
    return np.asarray(at, dtype=float) + across


def _drawn_in(point: Floats, towards: Floats) -> Floats:
    """A point moved by the torso's roundness towards another."""
    way = towards - point
    drawn: Floats = point + min(_TORSO_RADIUS_MM / float(np.linalg.norm(way)), 1.0) * way
    return drawn
