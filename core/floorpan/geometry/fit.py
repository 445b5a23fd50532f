"""Planes and rigid moves through measured points, and what a mirrored set of points would hide."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import Pose
from floorpan.geometry.mesh import Floats

# Points whose thickness is less than this share of their width lie in a plane, or on a line.
FLAT_SHARE = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class PlaneFit:
    """The plane through points that leaves the least sum of squared distances.

    centre : (3,) mean of the points [mm]; normal : (3,) unit
    residual_mm : (N,) signed distances of the points along the normal
    spread_mm : (3,) root mean square extents along the three principal directions, widest first
    axes   : (3, 3) the principal directions as rows, widest first; the last is the normal
    """

    centre: Floats
    normal: Floats
    residual_mm: Floats
    spread_mm: Floats
    axes: Floats

    @property
    def rms_mm(self) -> float:
        """Root mean square of the residuals [mm]."""
        return float(np.sqrt(np.mean(self.residual_mm**2)))

    @property
    def on_a_line(self) -> bool:
        """Whether the points lie on one line, so that they set no plane."""
        return bool(self.spread_mm[1] <= FLAT_SHARE * max(float(self.spread_mm[0]), 1e-12))


def fit_plane(points: Floats) -> PlaneFit:
    """Least squares plane through points (N, 3), N >= 3, distances taken square to it."""
    points = np.asarray(points, dtype=np.float64).reshape(-1, 3)
    centre = points.mean(axis=0)
    _, spread, axes = np.linalg.svd(points - centre, full_matrices=False)
    spread = np.concatenate([spread, np.zeros(3 - len(spread))]) / np.sqrt(len(points))
    if np.linalg.det(axes) < 0.0:
        axes[1] = -axes[1]
    return PlaneFit(centre, axes[2], (points - centre) @ axes[2], spread, axes)


@dataclass(frozen=True, slots=True, eq=False)
class RigidFit:
    """The rigid move of one point set onto another.

    pose : from the first set to the second; residual_mm : (N,) distances left over
    mirrored_rms_mm : what a mirrored move would leave; far below rms_mm means the set was mirrored
    can_tell_mirror : False where the points lie in a plane: then a mirrored set fits as well as a true one
    """

    pose: Pose
    residual_mm: Floats
    mirrored_rms_mm: float
    can_tell_mirror: bool

    @property
    def rms_mm(self) -> float:
        """Root mean square of the residuals [mm]."""
        return float(np.sqrt(np.mean(self.residual_mm**2)))

    @property
    def mirrored(self) -> bool:
        """Whether the second set is rather a mirror image of the first."""
        return self.can_tell_mirror and self.mirrored_rms_mm < 0.5 * self.rms_mm


def fit_rigid(moved_from: Floats, moved_to: Floats) -> RigidFit:
    """Least squares rotation and shift of points (N, 3) onto points (N, 3), N >= 3; never a mirror.

    K. S. Arun, T. S. Huang and S. D. Blostein, IEEE PAMI 9(5), 1987, with the sign of W. Kabsch, 1978.
    """
    start, end = np.asarray(moved_from, dtype=np.float64), np.asarray(moved_to, dtype=np.float64)
    middle, other = start.mean(axis=0), end.mean(axis=0)
    left, strength, right = np.linalg.svd((start - middle).T @ (end - other))
    sign = float(np.sign(np.linalg.det(left @ right)))
    turn = _turn(left, right, sign)
    mirror = _turn(left, right, -sign)
    matrix = np.eye(4)
    matrix[:3, :3], matrix[:3, 3] = turn, other - turn @ middle
    residual = np.linalg.norm((start - middle) @ turn.T - (end - other), axis=1)
    reflected = np.linalg.norm((start - middle) @ mirror.T - (end - other), axis=1)
    flat = bool(strength[2] <= FLAT_SHARE * max(float(strength[0]), 1e-300))
    return RigidFit(Pose.from_matrix(matrix), residual, float(np.sqrt(np.mean(reflected**2))), not flat)


def _turn(left: Floats, right: Floats, last: float) -> Floats:
    turn: Floats = right.T @ np.diag([1.0, 1.0, last]) @ left.T
    return turn


def in_plane(vectors: Floats, normal: Floats) -> NDArray[np.float64]:
    """Vectors (N, 3) or (3,) without their part along a unit normal (3,)."""
    flat: Floats = vectors - np.asarray(vectors @ normal)[..., None] * normal
    return flat
