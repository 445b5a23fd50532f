"""How rough a scan is, and what roughness takes off a least distance.

The roughness is read from the residuals of points to quadrics fitted to their neighbours. White noise on a smooth sheet
comes out unbiased; noise that a scanner's program has smoothed comes out low, since the quadric follows it.

The least distance to a rough surface falls short of the distance to the mean surface, for it picks the highest of
many points: over a flat face of a part by about 4.5 sigma at most, over a ball by 2.5 (the reach of a ball
falls off around its nearest point, so fewer points compete). Both are one-sided and were found by simulation with
white noise; the tests simulate them again.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from scipy.spatial import cKDTree

from floorpan.frames import Pose
from floorpan.geometry.mesh import Floats, Mesh

BodyKind = Literal["flat", "ball"]

_BOUND_SIGMAS: dict[BodyKind, float] = {"flat": 4.5, "ball": 2.5}
_NEIGHBOURS = 40
PATCHES = 600
# So many patches tell of a place: their median is steady to some 5 %, and they lie within a hand's breadth of it.
_NEAREST_PATCHES = 15
WIDEST_MM = 45.0
"""Patches of neighbours that reach farther show a car's shape, not a scan's roughness; common practice, no source."""
_QUADRIC = 6


def noise_bound_mm(sigma_mm: float, body_kind: BodyKind) -> float:
    """By how much a least distance to a surface of roughness sigma may fall short [mm]."""
    return _BOUND_SIGMAS[body_kind] * sigma_mm


@dataclass(frozen=True, slots=True, eq=False)
class Roughness:
    """How rough a surface is, place by place.

    places   : (P, 3) middles of the patches [mm]; variance_mm2 : (P,) what each patch leaves over a quadric
    sigma_mm : of the whole: one sigma along the normal; 0 where it cannot be told
    """

    places: Floats
    variance_mm2: Floats
    sigma_mm: float

    def at(self, place_mm: Floats) -> float:
        """One sigma at a place (3,) [mm], from the patches nearest to it; that of the whole where there are few."""
        if self.sigma_mm <= 0.0 or len(self.places) < _NEAREST_PATCHES:
            return self.sigma_mm
        off = self.places - np.asarray(place_mm, dtype=np.float64)
        away = np.einsum("ij,ij->i", off, off)
        return _sigma(self.variance_mm2[np.argpartition(away, _NEAREST_PATCHES - 1)[:_NEAREST_PATCHES]])

    def most_mm(self) -> float:
        """No place is told rougher than this [mm]: of any fifteen patches, eight are no rougher than their median."""
        if self.sigma_mm <= 0.0 or len(self.places) < _NEAREST_PATCHES:
            return self.sigma_mm
        middle = _NEAREST_PATCHES // 2
        return _sigma(np.partition(self.variance_mm2, -middle - 1)[-middle - 1 : -middle or None])

    def each_mm(self) -> Floats:
        """One sigma of every patch by itself (P,) [mm]; edges and folds show as rough."""
        return np.sqrt(self.variance_mm2)

    def moved(self, pose: Pose) -> "Roughness":
        """The same roughness where a pose takes it."""
        return Roughness(pose.apply(self.places), self.variance_mm2, self.sigma_mm)


def noise_sigma_mm(
    mesh: Mesh, *, patches: int = PATCHES, seed: int = 1, widest_mm: float = math.inf
) -> float:
    """Roughness of a welded mesh as one sigma along the normal [mm]; 0 where it cannot be told. See `roughness`."""
    return roughness(mesh, patches=patches, seed=seed, widest_mm=widest_mm).sigma_mm


def roughness(mesh: Mesh, *, patches: int = PATCHES, seed: int = 1, widest_mm: float = math.inf) -> Roughness:
    """Roughness of a welded mesh, of the whole and place by place.

    It cannot be told from too few points, nor from points so far apart that most patches are wider than
    widest_mm: a modelled car, say.

    The median over patches spread at random, each of 40 neighbouring points: edges, studs and folds spoil some
    patches and leave the median alone. The median of a chi-square variable lies below its mean; that is allowed for.
    """
    used = np.zeros(len(mesh.points), dtype=bool)
    used[mesh.faces] = True
    points = mesh.points[used]
    if len(points) < 2 * _NEIGHBOURS:
        return _NOT_TOLD
    random = np.random.default_rng(seed)
    centres = random.choice(len(points), size=min(patches, len(points)), replace=False)
    tree = cKDTree(points, balanced_tree=False, compact_nodes=False)
    near = np.asarray(tree.query(points[centres], k=_NEIGHBOURS)[1])
    wide = np.linalg.norm(points[near] - points[centres][:, None, :], axis=2).max(axis=1)
    fine = wide <= widest_mm
    if 3 * int(fine.sum()) < len(near):
        return _NOT_TOLD
    variance = _variances(points[near[fine]])
    return Roughness(points[centres[fine]], variance, _sigma(variance))


_NOT_TOLD = Roughness(np.zeros((0, 3)), np.zeros(0), 0.0)


def _sigma(variance: Floats) -> float:
    free = _NEIGHBOURS - _QUADRIC
    low = (1.0 - 2.0 / (9.0 * free)) ** 3
    return math.sqrt(float(np.median(variance)) / low)


def _variances(patches: Floats) -> Floats:
    """Mean squared residual of each patch of points (P, K, 3) to the quadric over its plane: (P,) [mm^2].

    The mean is taken for the quadric's degrees of freedom. Residuals are taken along the normal of the patch's
    plane; on a slope of the quadric they shrink by its cosine.
    """
    spread = patches - patches.mean(axis=1, keepdims=True)
    axes = np.linalg.svd(spread, full_matrices=False)[2]
    local = spread @ axes.transpose(0, 2, 1)
    scale = np.abs(local[:, :, :2]).max(axis=(1, 2))
    u, v = (local[:, :, axis] / np.where(scale > 0.0, scale, 1.0)[:, None] for axis in (0, 1))
    height = local[:, :, 2:]
    ground = np.linalg.qr(np.stack([np.ones_like(u), u, v, u * u, u * v, v * v], axis=2))[0]
    left = height - ground @ (ground.transpose(0, 2, 1) @ height)
    variances: Floats = (left[:, :, 0] ** 2).sum(axis=1) / (patches.shape[1] - _QUADRIC)
    return variances
