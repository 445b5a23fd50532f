"""A triangle mesh as two frozen arrays."""

import functools
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]


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
        return np.stack([self.points.min(axis=0), self.points.max(axis=0)])

    @functools.cached_property
    def longest_side(self) -> float:
        """The longest side of any face [mm]; 0 where there is none."""
        if not len(self.faces):
            return 0.0
        corner = [self.points[self.faces[:, k]] for k in range(3)]
        squares = (np.einsum("ij,ij->i", way, way) for way in (corner[k] - corner[k - 1] for k in range(3)))
        return float(np.sqrt(max(float(square.max()) for square in squares)))

    def moved(self, matrix: Floats) -> "Mesh":
        """The mesh under a rigid (4, 4) matrix."""
        return Mesh(self.points @ matrix[:3, :3].T + matrix[:3, 3], self.faces)

    def kept(self, keep: NDArray[np.bool_]) -> "Mesh":
        """The faces of a mask (M,) with the points they use, order kept."""
        faces = self.faces[keep]
        used = np.zeros(len(self.points), dtype=bool)
        used[faces.ravel()] = True
        rank = np.cumsum(used, dtype=np.int32) - 1
        return Mesh(self.points[used], rank[faces].astype(np.int32))


def _frozen(array: NDArray[Any]) -> NDArray[Any]:
    array.setflags(write=False)
    return array
