"""Car axes and rigid poses.

Car axes after ISO 4130 / SAE J1100: X rearward, Y to the right of a driver facing forward, Z up; right-handed.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import BadValue

Floats = NDArray[np.float64]
Vector = tuple[float, float, float]

_RIGID = 1e-6

# Less than this, flat against upright, is no lean.
_NO_WAY = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """A rotation and a shift: car = rotation @ point + shift_mm.

    rotation : nine numbers, row by row; orthonormal, determinant +1 (a mirrored frame is refused)
    shift_mm : three numbers [mm]
    """

    rotation: tuple[float, float, float, float, float, float, float, float, float] = (
        1.0,
        0.0,
        0.0,
        0.0,
        1.0,
        0.0,
        0.0,
        0.0,
        1.0,
    )
    shift_mm: Vector = (0.0, 0.0, 0.0)

    def __post_init__(self) -> None:
        a, b, c, d, e, f, g, h, i = self.rotation
        if not all(map(math.isfinite, (*self.rotation, *self.shift_mm))):
            raise BadValue("pose-not-finite", "A pose holds finite numbers.", "Set the axes again.")
        rows = ((a, b, c), (d, e, f), (g, h, i))
        off = max(abs(_dot(rows[m], rows[n]) - (m == n)) for m in range(3) for n in range(m, 3))
        if off > _RIGID or a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g) < 0.0:
            raise BadValue(
                "pose-not-rigid",
                "These axes are mirrored or skewed.",
                "Set the axes again: X rearward, Y right, Z up.",
            )

    @classmethod
    def from_matrix(cls, matrix: Floats) -> Self:
        """From a (4, 4) or (3, 4) matrix [mm]; raises BadValue where it is not rigid."""
        rows = np.asarray(matrix, dtype=float)[:3, :4].tolist()
        turn = tuple(value for row in rows for value in row[:3])
        return cls(rotation=turn, shift_mm=(rows[0][3], rows[1][3], rows[2][3]))

    @classmethod
    def turned(cls, axis: Vector, angle_deg: float, at_mm: Vector = (0.0, 0.0, 0.0)) -> Self:
        """A turn by angle_deg about an axis through at_mm, right hand rule (Rodrigues)."""
        length = math.sqrt(_dot(axis, axis))
        x, y, z = axis[0] / length, axis[1] / length, axis[2] / length
        angle = math.radians(angle_deg)
        cos, sin = math.cos(angle), math.sin(angle)
        left = 1.0 - cos
        turn = (
            *(cos + x * x * left, x * y * left - z * sin, x * z * left + y * sin),
            *(y * x * left + z * sin, cos + y * y * left, y * z * left - x * sin),
            *(z * x * left - y * sin, z * y * left + x * sin, cos + z * z * left),
        )
        moved = _turned(turn, at_mm)
        return cls(rotation=turn, shift_mm=(at_mm[0] - moved[0], at_mm[1] - moved[1], at_mm[2] - moved[2]))

    @classmethod
    def along(cls, start: Vector, end: Vector) -> Self:
        """Puts what stands on the origin along Z at start, along the way to end; upright where that is no way."""
        x, y, z = (b - a for a, b in zip(start, end, strict=True))
        flat = math.hypot(x, y)
        axis = (-y / flat, x / flat, 0.0) if flat > _NO_WAY * max(1.0, abs(z)) else (1.0, 0.0, 0.0)
        turn = cls.turned(axis, math.degrees(math.atan2(flat, z)))
        return cls(rotation=turn.rotation, shift_mm=start)

    def matrix(self) -> Floats:
        """The (4, 4) matrix [mm]."""
        matrix = np.eye(4)
        matrix[:3, :3] = np.array(self.rotation).reshape(3, 3)
        matrix[:3, 3] = self.shift_mm
        return matrix

    def apply(self, points: Floats) -> Floats:
        """Points (N, 3) or (3,) moved into the outer frame [mm]."""
        turn = np.array(self.rotation).reshape(3, 3)
        moved: Floats = np.asarray(points, dtype=float) @ turn.T + np.array(self.shift_mm)
        return moved

    def inverse(self) -> "Pose":
        """The pose that undoes this one."""
        a, b, c, d, e, f, g, h, i = self.rotation
        back = (a, d, g, b, e, h, c, f, i)
        x, y, z = _turned(back, self.shift_mm)
        return Pose(rotation=back, shift_mm=(-x, -y, -z))

    def after(self, first: "Pose") -> "Pose":
        """The pose that applies `first`, then this one."""
        r, s = self.rotation, first.rotation
        turn = tuple(
            r[3 * row] * s[column] + r[3 * row + 1] * s[3 + column] + r[3 * row + 2] * s[6 + column]
            for row in range(3)
            for column in range(3)
        )
        x, y, z = _turned(r, first.shift_mm)
        shift = (x + self.shift_mm[0], y + self.shift_mm[1], z + self.shift_mm[2])
        return Pose(rotation=turn, shift_mm=shift)  # type: ignore[arg-type]


def vector_of(values: Iterable[float]) -> Vector:
    """Three plain floats, as of an array (3,)."""
    x, y, z = (float(value) for value in values)
    return x, y, z


def _dot(one: Vector, two: Vector) -> float:
    return one[0] * two[0] + one[1] * two[1] + one[2] * two[2]


def _turned(turn: tuple[float, ...], at: Vector) -> Vector:
    a, b, c, d, e, f, g, h, i = turn
    x, y, z = at
    return a * x + b * y + c * z, d * x + e * y + f * z, g * x + h * y + i * z


STILL = Pose()
