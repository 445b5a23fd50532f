"""A triangle mesh as two frozen arrays."""

import functools
import math
from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]

_ROWS_ABREAST = 128
_FACES_AT_ONCE = 1 << 13


class Mesh:
    """Points (N, 3) float64 [mm] and faces (M, 3) int32, both read-only.

    Faces are as read: nothing is merged or dropped here. Compared by identity.
    """

    __slots__ = ("__dict__", "__weakref__", "faces", "points")

    def __init__(self, points: Floats, faces: Ints) -> None:
        self.points: Floats = _frozen(np.ascontiguousarray(points, dtype=np.float64).reshape(-1, 3))
        self.faces: Ints = _frozen(np.ascontiguousarray(faces, dtype=np.int32).reshape(-1, 3))

    @functools.cached_property
    def bounds(self) -> Floats:
        """Least and greatest corner (2, 3) [mm] of the points; zeros when there is none."""
        if not len(self.points):
            return np.zeros((2, 3))
        return bounds_of(self.points)

    @functools.cached_property
    def longest_side(self) -> float:
        """The longest side of any face [mm]; 0 where there is none."""
        if not len(self.faces):
            return 0.0
        longest = 0.0
        for start in range(0, len(self.faces), _FACES_AT_ONCE):
            corner = self.points.take(self.faces[start : start + _FACES_AT_ONCE], axis=0).reshape(-1, 9).T
            for k in range(3):
                way = corner[3 * k : 3 * k + 3] - corner[3 * k - 3 : 3 * k or None]
                longest = max(longest, float((way[0] ** 2 + way[1] ** 2 + way[2] ** 2).max()))
        return math.sqrt(longest)

    def moved(self, matrix: Floats) -> "Mesh":
        """The mesh under a rigid (4, 4) matrix."""
        return Mesh(self.points @ matrix[:3, :3].T + matrix[:3, 3], self.faces)

    def kept(self, keep: NDArray[np.bool_]) -> "Mesh":
        """The faces of a mask (M,) with the points they use, order kept."""
        return self.kept_with(keep, np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32))

    def kept_with(self, keep: NDArray[np.bool_], points: Floats, faces: NDArray[np.signedinteger]) -> "Mesh":
        """The faces of a mask (M,) and behind them others (K, 3), with the points they use, order kept.

        points : (L, 3) that the others may name besides the mesh's own, numbered from N on
        """
        count = len(self.points)
        named = np.concatenate([self.faces.compress(keep, axis=0), faces.astype(np.int32, copy=False)])
        used = np.zeros(count + len(points), dtype=bool)
        used[named.ravel()] = True
        rank = np.cumsum(used, dtype=np.int32)
        rank -= 1
        own, new = self.points.compress(used[:count], axis=0), points.compress(used[count:], axis=0)
        return Mesh(np.concatenate([own, new]) if len(new) else own, rank.take(named))


def _frozen(array: NDArray[Any]) -> NDArray[Any]:
    array.setflags(write=False)
    return array


def bounds_of(points: Floats) -> Floats:
    """Least and greatest corner (2, 3) of points (N, 3); there must be one at least."""
    return np.stack([_of_columns(np.min, points), _of_columns(np.max, points)])


def _of_columns(least_or_greatest: Callable[..., Any], points: Floats) -> Floats:
    """The least or greatest (3,) of points (N, 3): many rows side by side at first, for short rows go slowly."""
    whole = len(points) // _ROWS_ABREAST * _ROWS_ABREAST
    abreast = points[:whole].reshape(-1, 3 * _ROWS_ABREAST)
    found = least_or_greatest(abreast, axis=0).reshape(-1, 3) if whole else points[:0]
    extreme: Floats = least_or_greatest(np.concatenate([found, points[whole:]]), axis=0)
    return extreme
