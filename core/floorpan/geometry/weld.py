"""Points that are equal to the last bit become one."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.edges import repeated
from floorpan.geometry.mesh import Floats, Ints, Mesh

_MIX = (0x9E3779B97F4A7C15, 0xC2B2AE3D27D4EB4F, 0x165667B19E3779F9)


@dataclass(frozen=True, slots=True, eq=False)
class Welded:
    """A welded mesh.

    mesh      : faces in the order they had, points in the order of their first use
    new_point : (N,) int32, the number each old point has now
    collapsed : (M,) mask of the faces that name a point twice; they keep their place
    """

    mesh: Mesh
    new_point: Ints
    collapsed: NDArray[np.bool_]


def weld(mesh: Mesh) -> Welded:
    """Join points with equal coordinates; nothing is moved, no face is dropped. Zero and minus zero are equal."""
    points = mesh.points + 0.0
    new_point, kept = _groups(points)
    faces = new_point[mesh.faces] if len(mesh.faces) else mesh.faces
    return Welded(Mesh(points[kept], faces), new_point, repeated(faces))


def _groups(points: Floats) -> tuple[Ints, NDArray[np.int64]]:
    if not len(points):
        return np.zeros(0, dtype=np.int32), np.zeros(0, dtype=np.int64)
    number, first = _by_hash(_hash(points))
    if not _agree(points, number, first):
        number, first = _by_rows(points)
    # In the order of first use, so that an already welded mesh comes back as it was.
    order = np.argsort(first)
    rank = np.empty(len(order), dtype=np.int32)
    rank[order] = np.arange(len(order), dtype=np.int32)
    return rank[number], first[order]


def _agree(points: Floats, number: Ints, first: NDArray[np.int64]) -> bool:
    """Whether every point is the very one that stands for it: no two different ones share a hash."""
    for axis in range(3):
        column = np.ascontiguousarray(points[:, axis])
        if not np.array_equal(column[first][number], column):
            return False
    return True


def _hash(points: Floats) -> NDArray[np.uint64]:
    words = np.ascontiguousarray(points).view(np.uint64)
    mixed = np.zeros(len(words), dtype=np.uint64)
    for column, factor in enumerate(_MIX):
        mixed = (mixed ^ words[:, column]) * np.uint64(factor)
        mixed ^= mixed >> np.uint64(29)
    return mixed


def _by_hash(mixed: NDArray[np.uint64]) -> tuple[Ints, NDArray[np.int64]]:
    order = np.argsort(mixed)
    ordered = mixed[order]
    fresh = np.concatenate([[True], ordered[1:] != ordered[:-1]])
    return _numbers(order, fresh)


def _by_rows(points: Floats) -> tuple[Ints, NDArray[np.int64]]:
    order = np.lexsort(points.T)
    ordered = points[order]
    fresh = np.concatenate([[True], (ordered[1:] != ordered[:-1]).any(axis=1)])
    return _numbers(order, fresh)


def _numbers(order: NDArray[np.int64], fresh: NDArray[np.bool_]) -> tuple[Ints, NDArray[np.int64]]:
    number = np.empty(len(order), dtype=np.int32)
    number[order] = np.cumsum(fresh, dtype=np.int32) - 1
    first = np.minimum.reduceat(order, np.flatnonzero(fresh))
    return number, first
