"""Where the car is looked at from, as one value; turning, sliding and zooming make a new one.

The eye is held by two angles, never by an up direction: it cannot roll.
"""

import functools
import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Vector = tuple[float, float, float]

VIEW_ANGLE_DEG = 30.0
_STEEPEST_DEG = 90.0
_NEAREST_MM = 20.0
_FARTHEST_MM = 60_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Eye:
    """A place to look from.

    target_mm     : what is in the middle of the picture, in car axes
    heading_deg   : which way the sight goes seen from above; 0 is rearward (+X), 90 to the right (+Y)
    rise_deg      : how far it goes up; -90 is straight down
    distance_mm   : from the eye to the target
    parallel      : whether lines of sight are parallel; what is at the target has the same size either way
    """

    target_mm: Vector = (0.0, 0.0, 0.0)
    heading_deg: float = 0.0
    rise_deg: float = 0.0
    distance_mm: float = 3000.0
    parallel: bool = False

    def axes(self) -> tuple[Floats, Floats, Floats]:
        """Right, up and forward as unit vectors in car axes; not to be written to."""
        right, up, forward = _axes(self.heading_deg, self.rise_deg)
        return right, up, forward

    def position(self) -> Floats:
        """Where the eye stands (3,) [mm]."""
        place: Floats = np.asarray(self.target_mm) - self.distance_mm * self.axes()[2]
        return place

    def height_mm(self) -> float:
        """How much of the car the picture shows from bottom to top, at the target."""
        return 2.0 * self.distance_mm * math.tan(math.radians(VIEW_ANGLE_DEG / 2))


@functools.lru_cache(maxsize=64)
def _axes(heading_deg: float, rise_deg: float) -> Floats:
    """Right, up and forward as rows, read-only; a picture asks for them hundreds of times."""
    heading, rise = math.radians(heading_deg), math.radians(rise_deg)
    right = np.array([math.sin(heading), -math.cos(heading), 0.0])
    level = np.array([math.cos(heading), math.sin(heading), 0.0])
    forward = math.cos(rise) * level + math.sin(rise) * np.array([0.0, 0.0, 1.0])
    axes = np.stack([right, np.cross(right, forward), forward])
    axes.setflags(write=False)
    return axes


def turned(eye: Eye, about_mm: Vector, heading_deg: float, rise_deg: float) -> Eye:
    """Turned about a point, which keeps its place in the picture; Z stays up."""
    rise = min(max(eye.rise_deg + rise_deg, -_STEEPEST_DEG), _STEEPEST_DEG)
    after = replace(eye, heading_deg=wrapped(eye.heading_deg + heading_deg), rise_deg=rise)
    turn = np.column_stack(after.axes()) @ np.column_stack(eye.axes()).T
    pivot = np.asarray(about_mm)
    return replace(after, target_mm=_vector(pivot + turn @ (np.asarray(eye.target_mm) - pivot)))


def slid(eye: Eye, right_mm: float, up_mm: float) -> Eye:
    """Moved across its own line of sight."""
    right, up, _ = eye.axes()
    return replace(eye, target_mm=_vector(np.asarray(eye.target_mm) + right_mm * right + up_mm * up))


def nearer(eye: Eye, point_mm: Vector, share: float) -> Eye:
    """Zoomed so that everything seen from point_mm shrinks to `share`; the point keeps its place in the picture.

    In perspective the eye walks along the line to the point; it stops where it would be absurdly near or far.
    """
    distance = min(max(eye.distance_mm * share, _NEAREST_MM), _FARTHEST_MM)
    share = distance / eye.distance_mm
    point = np.asarray(point_mm)
    target = point + share * (np.asarray(eye.target_mm) - point)
    return replace(eye, target_mm=_vector(target), distance_mm=distance)


def towards(eye: Eye, point_mm: Vector, direction: Vector | None, distance_mm: float | None = None) -> Eye:
    """Looking at a point, along `direction` where one is given (unit, from the eye to the point)."""
    after = replace(eye, target_mm=_vector(np.asarray(point_mm, dtype=float)))
    if distance_mm is not None:
        after = replace(after, distance_mm=distance_mm)
    if direction is None:
        return after
    x, y, z = direction
    flat = math.hypot(x, y)
    heading = math.degrees(math.atan2(y, x)) if flat > 1e-9 else eye.heading_deg
    return replace(after, heading_deg=heading, rise_deg=math.degrees(math.atan2(z, flat)))


def framed(eye: Eye, points_mm: Floats, width_to_height: float, margin: float = 0.07) -> Eye:
    """The same direction, standing so that points (N, 3) [mm] fill the picture but for a margin on each side."""
    axes = np.stack(eye.axes())
    seen = np.asarray(points_mm, dtype=float) @ axes.T
    tangent = math.tan(math.radians(VIEW_ANGLE_DEG / 2)) * (1.0 - 2.0 * margin)
    low, high = seen.min(axis=0), seen.max(axis=0)
    middle = (low + high) / 2
    if eye.parallel:
        half = (high - low) / 2
        distance = max(half[1], half[0] / width_to_height) / tangent
        return replace(eye, target_mm=_vector(middle @ axes), distance_mm=_reached(distance))
    # In perspective each side of the picture is a plane through the eye; the eye goes where both planes of a pair
    # touch the points, and as far back as the tighter pair asks.
    places, backs = [], []
    for axis, slope in ((0, tangent * width_to_height), (1, tangent)):
        above = (seen[:, axis] - slope * seen[:, 2]).max()
        below = (-seen[:, axis] - slope * seen[:, 2]).max()
        places.append((above - below) / 2)
        backs.append(-(above + below) / (2 * slope))
    place = np.array([places[0], places[1], min(backs)])
    distance = max(middle[2] - place[2], _NEAREST_MM)
    target = place + np.array([0.0, 0.0, distance])
    return replace(eye, target_mm=_vector(target @ axes), distance_mm=_reached(distance))


def between(first: Eye, second: Eye, share: float) -> Eye:
    """Part of the way from one eye to another, the short way round; `second` at share 1."""
    if share >= 1.0:
        return second
    target = (1 - share) * np.asarray(first.target_mm) + share * np.asarray(second.target_mm)
    way = wrapped(second.heading_deg - first.heading_deg)
    return replace(
        second,
        target_mm=_vector(target),
        heading_deg=wrapped(first.heading_deg + share * way),
        rise_deg=(1 - share) * first.rise_deg + share * second.rise_deg,
        distance_mm=first.distance_mm ** (1 - share) * second.distance_mm**share,
    )


def wrapped(angle_deg: float) -> float:
    """An angle brought into -180 to 180."""
    return (angle_deg + 180.0) % 360.0 - 180.0


def _reached(distance_mm: float) -> float:
    return min(max(float(distance_mm), _NEAREST_MM), _FARTHEST_MM)


def _vector(values: Floats) -> Vector:
    x, y, z = (float(value) for value in values)
    return x, y, z
