"""Points that stand out of the sheet around them.

A point is held against a plane through its neighbours, laid so that a few wild ones do not pull it: the plane is
fitted again and again without those that lie farther off than 2.5 times the median. Edges and studs are no spikes:
over an edge the neighbours themselves lie far off any plane, so the point is within a few of their sigmas; a stud has
more points side by side than a spike may have.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.point_neighbours import joined_points
from floorpan.progress import Step, Work

Bools = NDArray[np.bool_]
Longs = NDArray[np.int64]

_NEIGHBOURS = 36
_AT_ONCE = 20_000
# Median of |normal deviate| to one sigma.
_SIGMA_OF_MEDIAN = 1.4826
_ROUNDS = 4
# Of three spikes side by side each is still two thirds of its height away from the mean of its neighbours.
_PULL = 0.4
_WILD_MEDIANS = 2.5


@dataclass(frozen=True, slots=True, eq=False)
class Spikes:
    """Points that stand out.

    points : (S,) point numbers of the spikes, in rising order
    height_mm : (S,) how far each stands off the plane of its neighbours, to either side [mm]
    groups_kept : how many groups of points stand out just as far, but are too many side by side for a spike
    """

    points: Longs
    height_mm: Floats
    groups_kept: int


def spikes(mesh: Mesh, *, sigmas: float, height_mm: float, most_points: int = 3) -> Work[Spikes]:
    """Points of a welded mesh [mm] that stand out more than `sigmas` local sigmas and more than height_mm.

    most_points : a spike has so many points side by side at most; more are a stud, or a thing
    """
    yield Step(0.0, "Looking for spikes")
    near = joined_points(mesh)
    used = np.flatnonzero(np.diff(near.indptr))
    rough = _maybe(mesh, near, height_mm)
    if len(used) <= _NEIGHBOURS or not len(rough):
        return Spikes(np.zeros(0, dtype=np.int64), np.zeros(0), 0)
    tree = cKDTree(mesh.points[used], balanced_tree=False, compact_nodes=False)
    off, sigma = np.zeros(len(rough)), np.zeros(len(rough))
    for start in range(0, len(rough), _AT_ONCE):
        yield Step(0.2 + 0.8 * start / len(rough), "Looking for spikes")
        rows = slice(start, start + _AT_ONCE)
        at = mesh.points[rough[rows]]
        around = used[np.asarray(tree.query(at, k=_NEIGHBOURS + 1)[1])[:, 1:]]
        off[rows], sigma[rows] = _standing_out(at, mesh.points[around])
    far = (off > height_mm) & (off > sigmas * sigma)
    out, height = rough[far], off[far]
    group = connected_components(near[out][:, out], directed=False)[1] if len(out) else np.zeros(0, np.int32)
    size = np.bincount(group)
    few = size[group] <= most_points
    return Spikes(out[few], height[few], int(np.count_nonzero(size > most_points)))


def _maybe(mesh: Mesh, near: csr_matrix, height_mm: float) -> Longs:
    """Points worth a closer look: far from the mean of their neighbours, or beside one that is."""
    count = np.maximum(np.diff(near.indptr), 1)
    pull = np.linalg.norm(near @ mesh.points / count[:, None] - mesh.points, axis=1)
    marked = (pull > _PULL * height_mm) & (np.diff(near.indptr) > 0)
    # The middle one of seven is pulled by none of its own kind, but stands beside those that are.
    return np.flatnonzero(marked | ((near @ marked.astype(np.float32)) > 0.0))


def _standing_out(at: Floats, around: Floats) -> tuple[Floats, Floats]:
    """How far points (K, 3) lie off the plane of their neighbours (K, N, 3), and one sigma of those [mm]."""
    middle = np.median(around, axis=1)
    # Begun with the half nearest to the middle: other spikes stand far from it and would tilt the first plane.
    away = np.linalg.norm(around - middle[:, None, :], axis=2)
    weight = (away <= np.median(away, axis=1)[:, None]).astype(np.float64)
    normal = np.zeros_like(at)
    for turn in range(_ROUNDS):
        if turn:
            total = weight.sum(axis=1, keepdims=True)
            middle = np.einsum("ij,ijk->ik", weight, around) / total
        spread = around - middle[:, None, :]
        normal = np.linalg.eigh(np.einsum("ij,ijk,ijl->ikl", weight, spread, spread))[1][:, :, 0]
        residual = np.abs(np.einsum("ijk,ik->ij", spread, normal))
        median = np.median(residual, axis=1)
        weight = (residual <= _WILD_MEDIANS * np.maximum(median, 1e-12)[:, None]).astype(np.float64)
    off = np.abs(np.einsum("ik,ik->i", at - middle, normal))
    return off, _SIGMA_OF_MEDIAN * median
