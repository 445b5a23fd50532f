"""Planes through small neighbourhoods of a mesh's points: roughness averaged out, the same way on every mesh."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.normals import unit

Longs = NDArray[np.int64]

# A plane through fewer points than this tells nothing of the surface.
_FEWEST = 6
# Neighbours taken at once, so that the lists of them stay small.
_AT_ONCE = 20_000


@dataclass(frozen=True, slots=True, eq=False)
class LocalPlanes:
    """A plane at each of some points of a mesh.

    centre : (N, 3) weighted middle of the neighbourhood [mm]; normal : (N, 3) unit, on the mesh's outer side
    good   : (N,) whether there were enough points round it, and the mesh has a side there
    """

    centre: Floats
    normal: Floats
    good: NDArray[np.bool_]


class Neighbourhoods:
    """The points of a mesh that its faces use, ready for planes of one radius.

    points : (V, 3) [mm]
    """

    def __init__(self, mesh: Mesh, radius_mm: float) -> None:
        used = np.unique(mesh.faces)
        self.points: Floats = np.ascontiguousarray(mesh.points[used])
        self._radius = radius_mm
        self._tree = cKDTree(self.points)
        self._outward = _outward(mesh)[used]
        self._row = np.full(len(used), -1, dtype=np.int64)
        self._centre, self._normal = np.zeros((0, 3)), np.zeros((0, 3))
        self._good = np.zeros(0, dtype=bool)

    def nearest(self, places: Floats, within_mm: float) -> Longs:
        """The nearest point's number for each place (N, 3), -1 where none is within reach."""
        _, found = self._tree.query(places, distance_upper_bound=within_mm)
        number = np.asarray(found, dtype=np.int64)
        return np.where(number < len(self.points), number, -1)

    def planes(self, numbers: Longs) -> LocalPlanes:
        """The planes at some points (N,); each is worked out once."""
        fresh = np.unique(numbers[self._row[numbers] < 0])
        for start in range(0, len(fresh), _AT_ONCE):
            self._add(fresh[start : start + _AT_ONCE])
        rows = self._row[numbers]
        return LocalPlanes(self._centre[rows], self._normal[rows], self._good[rows])

    def _add(self, numbers: Longs) -> None:
        centre, normal, good = self._fitted(numbers)
        self._row[numbers] = np.arange(len(numbers)) + len(self._centre)
        self._centre = np.vstack([self._centre, centre])
        self._normal = np.vstack([self._normal, normal])
        self._good = np.concatenate([self._good, good])

    def _fitted(self, numbers: Longs) -> tuple[Floats, Floats, NDArray[np.bool_]]:
        at = self.points[numbers]
        lists = [np.asarray(one, dtype=np.int64) for one in self._tree.query_ball_point(at, self._radius)]
        count = np.array([len(one) for one in lists], dtype=np.int64)
        near = np.concatenate(lists)
        owner = np.repeat(np.arange(len(numbers)), count)
        away = self.points[near] - at[owner]
        # The weight fades to nothing at the edge, so that a point there may be in or out without a jump.
        weight = (1.0 - np.einsum("ij,ij->i", away, away) / self._radius**2).clip(0.0) ** 2
        starts = np.concatenate([[0], np.cumsum(count)[:-1]])
        total = np.add.reduceat(weight, starts)
        middle = np.add.reduceat(weight[:, None] * away, starts) / total[:, None]
        off = away - middle[owner]
        spread = np.add.reduceat(weight[:, None, None] * (off[:, :, None] * off[:, None, :]), starts)
        _, axes = np.linalg.eigh(spread / total[:, None, None])
        normal = axes[:, :, 0]
        side = np.einsum("ij,ij->i", normal, self._outward[numbers])
        normal = np.where(side[:, None] < 0.0, -normal, normal)
        good = (count >= _FEWEST) & (np.abs(side) > 0.5)
        return at + middle, normal, good


def _outward(mesh: Mesh) -> Floats:
    """Which way the surface faces at each point (N, 3): unit, faces weighted by their area; zero where they cancel."""
    a, b, c = (mesh.points[mesh.faces[:, k]] for k in range(3))
    cross = np.cross(b - a, c - a)
    total = np.zeros((len(mesh.points), 3))
    for corner in range(3):
        for axis in range(3):
            total[:, axis] += np.bincount(mesh.faces[:, corner], cross[:, axis], minlength=len(total))
    return unit(total)


def spread_out(points: Floats, side_mm: float) -> Longs:
    """Numbers of points (N, 3) no two of which share a cube of that side: in each the one nearest its middle."""
    cell = np.floor(points / side_mm)
    off = np.linalg.norm(points / side_mm - cell - 0.5, axis=1)
    order = np.lexsort((off, cell[:, 2], cell[:, 1], cell[:, 0]))
    ordered = cell[order]
    first = np.concatenate([[True], (ordered[1:] != ordered[:-1]).any(axis=1)])
    chosen: Longs = np.sort(order[first])
    return chosen
