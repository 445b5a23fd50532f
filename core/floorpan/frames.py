"""Car axes and rigid poses.

Car axes after ISO 4130 / SAE J1100: X rearward, Y to the right of a driver facing forward, Z up; right-handed.
"""

import math
from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import BadValue

Floats = NDArray[np.float64]
Vector = tuple[float, float, float]

_RIGID = 1e-6


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
        turn = self.matrix()[:3, :3]
        if not np.all(np.isfinite(self.matrix())):
            raise BadValue("pose-not-finite", "A pose holds finite numbers.", "Set the axes again.")
        if np.abs(turn @ turn.T - np.eye(3)).max() > _RIGID or np.linalg.det(turn) < 0.0:
            raise BadValue(
                "pose-not-rigid",
                "These axes are mirrored or skewed.",
                "Set the axes again: X rearward, Y right, Z up.",
            )

    @classmethod
    def from_matrix(cls, matrix: Floats) -> Self:
        """From a (4, 4) or (3, 4) matrix [mm]; raises BadValue where it is not rigid."""
        turn = tuple(float(v) for v in np.asarray(matrix, dtype=float)[:3, :3].ravel())
        shift = tuple(float(v) for v in np.asarray(matrix, dtype=float)[:3, 3])
        return cls(rotation=turn, shift_mm=shift)  # type: ignore[arg-type]

    @classmethod
    def turned(cls, axis: Vector, angle_deg: float, at_mm: Vector = (0.0, 0.0, 0.0)) -> Self:
        """A turn by angle_deg about an axis through at_mm, right hand rule (Rodrigues)."""
        unit = np.asarray(axis, dtype=float)
        unit = unit / np.linalg.norm(unit)
        cross = np.array([[0, -unit[2], unit[1]], [unit[2], 0, -unit[0]], [-unit[1], unit[0], 0]])
        angle = math.radians(angle_deg)
        turn = np.eye(3) + math.sin(angle) * cross + (1 - math.cos(angle)) * cross @ cross
        matrix = np.eye(4)
        matrix[:3, :3] = turn
        matrix[:3, 3] = np.asarray(at_mm) - turn @ np.asarray(at_mm)
        return cls.from_matrix(matrix)

    def matrix(self) -> Floats:
        """The (4, 4) matrix [mm]."""
        matrix = np.eye(4)
        matrix[:3, :3] = np.reshape(self.rotation, (3, 3))
        matrix[:3, 3] = self.shift_mm
        return matrix

    def apply(self, points: Floats) -> Floats:
        """Points (N, 3) or (3,) moved into the outer frame [mm]."""
        turn = np.reshape(self.rotation, (3, 3))
        moved: Floats = np.asarray(points, dtype=float) @ turn.T + np.asarray(self.shift_mm)
        return moved

    def inverse(self) -> "Pose":
        """The pose that undoes this one."""
        turn = np.reshape(self.rotation, (3, 3)).T
        matrix = np.eye(4)
        matrix[:3, :3] = turn
        matrix[:3, 3] = -turn @ np.asarray(self.shift_mm)
        return Pose.from_matrix(matrix)

    def after(self, first: "Pose") -> "Pose":
        """The pose that applies `first`, then this one."""
        return Pose.from_matrix(self.matrix() @ first.matrix())


STILL = Pose()
