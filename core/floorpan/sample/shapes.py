"""Solids with an exact signed distance: a convex core dilated by a radius, and one ring.

Every distance is negative inside, zero on the surface and positive outside, in mm, exact in all of space,
and so 1-Lipschitz. The distance to a convex solid is a convex function, inside too; ``convex`` says which are.
Arithmetic is elementwise only, so a result does not depend on how a linear algebra library splits its work.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Protocol, Self, TypeAlias

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import BadValue

Floats: TypeAlias = NDArray[np.float64]
Triple: TypeAlias = tuple[float, float, float]

_CAR_AXES = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


class Shape(Protocol):
    """What the union, the scanner and the truth ask of a solid."""

    @property
    def label(self) -> str:
        """What a builder calls it."""

    @property
    def convex(self) -> bool:
        """Whether the solid is convex."""

    def distance(self, points: Floats) -> Floats:
        """Signed distance in mm of points (N, 3) in car axes, shape (N,)."""

    def bounds(self) -> Floats:
        """Least and greatest corner of the solid in car axes, mm, shape (2, 3)."""

    def mirrored(self) -> Self:
        """The same solid on the other side of the car's centre plane."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """Where a solid's own axes stand in the car: an origin in mm and three unit axes, one a row.

    A mirrored placement has a left-handed set of axes; distances do not mind.
    """

    origin_mm: Triple = (0.0, 0.0, 0.0)
    axes: tuple[Triple, Triple, Triple] = _CAR_AXES

    def local(self, points: Floats) -> tuple[Floats, Floats, Floats]:
        """Coordinates of points (N, 3) along the solid's own axes, three arrays (N,)."""
        x = points[:, 0] - self.origin_mm[0]
        y = points[:, 1] - self.origin_mm[1]
        z = points[:, 2] - self.origin_mm[2]
        if self.axes == _CAR_AXES:
            return x, y, z
        u, v, w = (x * a + y * b + z * c for a, b, c in self.axes)
        return u, v, w

    def to_car(self, local_points: Sequence[Sequence[float]]) -> Floats:
        """Points (N, 3) given along the solid's own axes, in car axes."""
        u, v, w = np.asarray(local_points, dtype=np.float64).T
        columns = (
            origin + u * self.axes[0][k] + v * self.axes[1][k] + w * self.axes[2][k]
            for k, origin in enumerate(self.origin_mm)
        )
        return np.stack(tuple(columns), axis=1)

    def mirrored(self) -> "Placement":
        first, second, third = (mirror(axis) for axis in self.axes)
        return Placement(origin_mm=mirror(self.origin_mm), axes=(first, second, third))


def mirror(point: Triple) -> Triple:
    """A point or direction on the other side of the car's centre plane."""
    return (point[0], -point[1], point[2])


def turned(
    origin_mm: Triple, *, about_z_deg: float = 0.0, about_y_deg: float = 0.0, about_x_deg: float = 0.0
) -> Placement:
    """A placement whose axes are turned about X, then about Y, then about Z of the car (right-hand turns)."""
    cz, sz = math.cos(math.radians(about_z_deg)), math.sin(math.radians(about_z_deg))
    cy, sy = math.cos(math.radians(about_y_deg)), math.sin(math.radians(about_y_deg))
    cx, sx = math.cos(math.radians(about_x_deg)), math.sin(math.radians(about_x_deg))
    return Placement(
        origin_mm=origin_mm,
        axes=(
            (cz * cy, sz * cy, -sy),
            (cz * sy * sx - sz * cx, sz * sy * sx + cz * cx, cy * sx),
            (cz * sy * cx + sz * sx, sz * sy * cx - cz * sx, cy * cx),
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Sphere:
    """A ball."""

    label: str
    centre_mm: Triple
    radius_mm: float

    @property
    def convex(self) -> bool:
        return True

    def distance(self, points: Floats) -> Floats:
        x, y, z = (points[:, k] - self.centre_mm[k] for k in range(3))
        return np.asarray(np.sqrt(x * x + y * y + z * z) - self.radius_mm)

    def bounds(self) -> Floats:
        centre = np.asarray(self.centre_mm)
        return np.stack((centre - self.radius_mm, centre + self.radius_mm))

    def mirrored(self) -> "Sphere":
        return replace(self, centre_mm=mirror(self.centre_mm))


@dataclass(frozen=True, slots=True, kw_only=True)
class Capsule:
    """All points within a radius of a segment."""

    label: str
    start_mm: Triple
    end_mm: Triple
    radius_mm: float

    @property
    def convex(self) -> bool:
        return True

    def distance(self, points: Floats) -> Floats:
        ax, ay, az = (self.end_mm[k] - self.start_mm[k] for k in range(3))
        x, y, z = (points[:, k] - self.start_mm[k] for k in range(3))
        along = np.clip((x * ax + y * ay + z * az) / (ax * ax + ay * ay + az * az), 0.0, 1.0)
        x, y, z = x - along * ax, y - along * ay, z - along * az
        return np.asarray(np.sqrt(x * x + y * y + z * z) - self.radius_mm)

    def bounds(self) -> Floats:
        ends = np.asarray((self.start_mm, self.end_mm))
        return np.stack((ends.min(axis=0) - self.radius_mm, ends.max(axis=0) + self.radius_mm))

    def mirrored(self) -> "Capsule":
        return replace(self, start_mm=mirror(self.start_mm), end_mm=mirror(self.end_mm))


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundedBox:
    """A box whose edges and corners are rounded; the half sizes are those over the outside."""

    label: str
    placement: Placement
    half_mm: Triple
    radius_mm: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.radius_mm <= min(self.half_mm):
            raise _too_round(self.label)

    @property
    def convex(self) -> bool:
        return True

    def distance(self, points: Floats) -> Floats:
        u, v, w = (
            np.abs(value) - (half - self.radius_mm)
            for value, half in zip(self.placement.local(points), self.half_mm, strict=True)
        )
        inner = np.minimum(np.maximum(u, np.maximum(v, w)), 0.0)
        u, v, w = np.maximum(u, 0.0), np.maximum(v, 0.0), np.maximum(w, 0.0)
        return np.asarray(np.sqrt(u * u + v * v + w * w) + inner - self.radius_mm)

    def bounds(self) -> Floats:
        core = [half - self.radius_mm for half in self.half_mm]
        corners = [(a * core[0], b * core[1], c * core[2]) for a in (-1, 1) for b in (-1, 1) for c in (-1, 1)]
        return _grown_box(self.placement.to_car(corners), self.radius_mm)

    def mirrored(self) -> "RoundedBox":
        return replace(self, placement=self.placement.mirrored())


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundedCylinder:
    """A capped cylinder along its own third axis, its rims rounded; sizes are those over the outside."""

    label: str
    placement: Placement
    radius_mm: float
    half_length_mm: float
    rounding_mm: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.rounding_mm <= min(self.radius_mm, self.half_length_mm):
            raise _too_round(self.label)

    @property
    def convex(self) -> bool:
        return True

    def distance(self, points: Floats) -> Floats:
        u, v, w = self.placement.local(points)
        outward = np.sqrt(u * u + v * v) - (self.radius_mm - self.rounding_mm)
        along = np.abs(w) - (self.half_length_mm - self.rounding_mm)
        inner = np.minimum(np.maximum(outward, along), 0.0)
        outward, along = np.maximum(outward, 0.0), np.maximum(along, 0.0)
        return np.asarray(np.sqrt(outward * outward + along * along) + inner - self.rounding_mm)

    def bounds(self) -> Floats:
        axis = np.asarray(self.placement.axes[2])
        reach = (
            np.abs(axis) * (self.half_length_mm - self.rounding_mm)
            + np.sqrt(np.maximum(1.0 - axis * axis, 0.0)) * (self.radius_mm - self.rounding_mm)
            + self.rounding_mm
        )
        origin = np.asarray(self.placement.origin_mm)
        return np.stack((origin - reach, origin + reach))

    def mirrored(self) -> "RoundedCylinder":
        return replace(self, placement=self.placement.mirrored())


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """All points within a radius of a circle about its own third axis: a wheel rim. Not convex."""

    label: str
    placement: Placement
    ring_radius_mm: float
    tube_radius_mm: float

    @property
    def convex(self) -> bool:
        return False

    def distance(self, points: Floats) -> Floats:
        u, v, w = self.placement.local(points)
        outward = np.sqrt(u * u + v * v) - self.ring_radius_mm
        return np.asarray(np.sqrt(outward * outward + w * w) - self.tube_radius_mm)

    def bounds(self) -> Floats:
        axis = np.asarray(self.placement.axes[2])
        reach = np.sqrt(np.maximum(1.0 - axis * axis, 0.0)) * self.ring_radius_mm + self.tube_radius_mm
        origin = np.asarray(self.placement.origin_mm)
        return np.stack((origin - reach, origin + reach))

    def mirrored(self) -> "Ring":
        return replace(self, placement=self.placement.mirrored())


def _too_round(label: str) -> BadValue:
    return BadValue(
        "edge-radius",
        f"An edge radius of {label} does not lie between 0 and the least half size.",
        "Give a smaller radius or a thicker solid.",
    )


def _grown_box(corners: Floats, radius_mm: float) -> Floats:
    return np.stack((corners.min(axis=0) - radius_mm, corners.max(axis=0) + radius_mm))
