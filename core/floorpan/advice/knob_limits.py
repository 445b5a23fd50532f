"""What else keeps a hand from where a knob would put it: wheel rim, thigh, bolster, armrest, backrest.

A limit says how much room the hand's centre has at a place. The ones made here are exact distances: to move the
hand by one mm changes them by one mm at most.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from floorpan.errors import BadValue
from floorpan.frames import Floats, Vector

Margins = Callable[[Floats], Floats]
"""Places of the hand's centre (N, 3) in car axes to the room there (N,) [mm]; negative is missing."""

_NOTHING_MM = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class KnobLimit:
    """One thing that the hand has to stay clear of.

    name         : what it is, for the label on that side of the region
    margin       : the room at places of the hand's centre
    steepness    : by how much the room changes at most for each mm the hand moves; 1 for any true distance.
                   What is skipped and what is promised between voxels rests on it.
    neutral_only : whether only the knob at rest is judged. The hand goes along into every gear, so that is for
                   rules about where a knob stands, such as how high beside the rim.

    Raises BadValue for a steepness that is not above nothing.
    """

    name: str
    margin: Margins
    steepness: float = 1.0
    neutral_only: bool = False

    def __post_init__(self) -> None:
        if not 0.0 < self.steepness < math.inf:
            raise BadValue(
                "limit-not-steep", f"{self.name}: room changes by some mm a mm.", "Give its steepness."
            )


def torus_limit(
    name: str, centre: Vector, axis: Vector, ring_radius: float, tube_radius: float, hand_radius: float
) -> KnobLimit:
    """The gap between a ball about the hand and a ring such as a wheel rim; exact.

    centre, axis : of the ring in car axes [mm]; the axis need not be of length one
    ring_radius  : to the middle of the tube [mm]
    tube_radius  : of the tube itself, hand_radius of the ball about the hand's centre [mm]

    Raises BadValue for an axis without length, a tube that fills its ring, and what is no number.
    """
    _check(name, (*centre, *axis), ring_radius, tube_radius, hand_radius)
    if ring_radius <= tube_radius:
        raise BadValue("ring-filled", f"{name}: the tube fills its ring.", "Give the ring a larger radius.")
    middle, way = np.array(centre, dtype=float), _unit(name, axis)
    reach = tube_radius + hand_radius

    def margin(points: Floats) -> Floats:
        away = points - middle
        along = away @ way
        out = _lengths(away - along[:, None] * way)
        room: Floats = np.hypot(out - ring_radius, along) - reach
        return room

    return KnobLimit(name=name, margin=margin)


def capsule_limit(name: str, a: Vector, b: Vector, radius: float, hand_radius: float) -> KnobLimit:
    """The gap between a ball about the hand and a capsule such as a thigh or a bolster; exact.

    a, b   : ends of its axis in car axes [mm]; the same point twice makes a ball
    radius : of the capsule, hand_radius of the ball about the hand's centre [mm]

    Raises BadValue for what is no number and for negative radii.
    """
    _check(name, (*a, *b), radius, hand_radius)
    start, way = np.array(a, dtype=float), np.array(b, dtype=float) - np.array(a, dtype=float)
    square = max(float(way @ way), _NOTHING_MM**2)
    reach = radius + hand_radius

    def margin(points: Floats) -> Floats:
        away = points - start
        share = np.clip(away @ way / square, 0.0, 1.0)
        room: Floats = _lengths(away - share[:, None] * way) - reach
        return room

    return KnobLimit(name=name, margin=margin)


def plane_limit(name: str, at: Vector, outward: Vector, hand_radius: float) -> KnobLimit:
    """The gap between a ball about the hand and all that lies behind a plane; exact.

    at      : a point of the plane, outward the way that leads away from what fills it, in car axes. The face of
              a backrest or the side of a seat keeps the region to where a hand can come at all.

    Raises BadValue for a way without length and what is no number.
    """
    _check(name, (*at, *outward), hand_radius)
    way = _unit(name, outward)
    level = float(np.array(at, dtype=float) @ way) + hand_radius

    def margin(points: Floats) -> Floats:
        room: Floats = points @ way - level
        return room

    return KnobLimit(name=name, margin=margin)


def _lengths(vectors: Floats) -> Floats:
    lengths: Floats = np.sqrt(np.einsum("ij,ij->i", vectors, vectors))
    return lengths


def _unit(name: str, axis: Vector) -> Floats:
    length = math.hypot(*axis)
    if length < _NOTHING_MM:
        raise BadValue("way-without-length", f"{name}: an axis leads somewhere.", "Give its axis again.")
    return np.array(axis, dtype=float) / length


def _check(name: str, numbers: tuple[float, ...], *radii: float) -> None:
    if not all(map(math.isfinite, (*numbers, *radii))):
        raise BadValue("limit-no-number", f"{name}: a place is three numbers.", "Place it again.")
    if min(radii) < 0.0:
        raise BadValue("limit-radius", f"{name}: a radius is not below nothing.", "Give its radii again.")
