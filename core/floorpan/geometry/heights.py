"""Heights over a regular grid in the xy plane: the top, or the underside, of a mesh seen straight from above."""

import math
from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.mesh import Floats, Ints, Mesh
from floorpan.geometry.vertical import crossings, heights_in

# Pairs of a triangle and a grid point looked at in one go.
_PAIRS_AT_ONCE = 2_000_000
# Places in cells are worked out in floating point; a middle this close to a face may lie under it.
_SLACK = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class HeightGrid:
    """Heights at the middles of square cells.

    low_mm : (2,) least corner of the first cell; cell_mm : side of a cell
    z      : (NX, NY) height [mm], NaN where a vertical line through the cell's middle meets nothing
    """

    low_mm: Floats
    cell_mm: float
    z: Floats

    @classmethod
    def over(
        cls, mesh: Mesh, low_mm: Floats, high_mm: Floats, cell_mm: float, *, underside: bool = False
    ) -> Self:
        """Heights of a mesh over the box between two xy corners (2,) [mm].

        Every triangle counts, whichever way it faces; where several lie above each other the top one is taken,
        with underside the lowest one. Exact at the cells' middles.
        """
        low, high = np.asarray(low_mm, dtype=np.float64)[:2], np.asarray(high_mm, dtype=np.float64)[:2]
        count = np.maximum(np.ceil((high - low) / cell_mm - 1e-9).astype(int), 1)
        z = np.full(int(count[0] * count[1]), math.inf if underside else -math.inf)
        place = [(mesh.points[:, axis] - low[axis]) / cell_mm - 0.5 for axis in (0, 1)]
        faces = _near(mesh, place, count)
        (first_x, last_x), (first_y, last_y) = (_cells(place[k], faces, int(count[k])) for k in (0, 1))
        met = np.flatnonzero((last_x >= first_x) & (last_y >= first_y))
        corner = mesh.points[faces[met]]
        first = np.column_stack([first_x[met], first_y[met]])
        wide = np.column_stack([last_x[met], last_y[met]]) - first + 1
        pairs = np.cumsum(wide[:, 0] * wide[:, 1])
        take = np.minimum if underside else np.maximum
        start = 0
        while start < len(met):
            before = pairs[start - 1] if start else 0
            end = max(int(np.searchsorted(pairs, before + _PAIRS_AT_ONCE)), start + 1)
            part = slice(start, end)
            cell, height = _met(corner[part], first[part], wide[part], low, cell_mm, int(count[1]))
            take.at(z, cell, height)
            start = end
        z[~np.isfinite(z)] = np.nan
        return cls(low, cell_mm, z.reshape(count))

    def centres(self) -> tuple[Floats, Floats]:
        """x and y (NX, NY) of the cells' middles [mm]."""
        x, y = (self.low_mm[k] + (np.arange(self.z.shape[k]) + 0.5) * self.cell_mm for k in range(2))
        wide, high = np.meshgrid(x, y, indexing="ij")
        return wide, high

    def at(self, places: Floats) -> Floats:
        """Height (N,) of the cell that each place (N, 2) lies in; NaN outside."""
        cell = np.floor((np.asarray(places, dtype=np.float64) - self.low_mm) / self.cell_mm).astype(int)
        inside = ((cell >= 0) & (cell < self.z.shape)).all(axis=1)
        found = np.full(len(cell), np.nan)
        found[inside] = self.z[cell[inside, 0], cell[inside, 1]]
        return found


def _near(mesh: Mesh, place: list[Floats], count: NDArray[np.int_]) -> Ints:
    """Corners (K, 3) of the faces that do not lie beside the grid as a whole: most of a large mesh does."""
    beside = np.zeros(len(mesh.points), dtype=np.uint8)
    for axis in (0, 1):
        beside |= (place[axis] + _SLACK < 0.0).view(np.uint8) << np.uint8(2 * axis)
        beside |= (place[axis] - _SLACK > count[axis] - 1.0).view(np.uint8) << np.uint8(2 * axis + 1)
    a, b, c = (beside.take(mesh.faces[:, k]) for k in range(3))
    faces: Ints = mesh.faces.compress(a & b & c == 0, axis=0)
    return faces


def _cells(place: Floats, faces: Ints, count: int) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """First and last cell (K,) along an axis whose middle may lie under each face."""
    a, b, c = (place.take(faces[:, k]) for k in range(3))
    least, greatest = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
    first, last = np.ceil(least - _SLACK).astype(np.int64), np.floor(greatest + _SLACK).astype(np.int64)
    return np.maximum(first, 0), np.minimum(last, count - 1)


def _met(
    corner: Floats,
    first: NDArray[np.int64],
    wide: NDArray[np.int64],
    low: Floats,
    cell_mm: float,
    columns: int,
) -> tuple[NDArray[np.int64], Floats]:
    """Cells met and the heights there."""
    size = wide[:, 0] * wide[:, 1]
    owner = np.repeat(np.arange(len(size)), size)
    step = np.arange(len(owner)) - np.repeat(np.cumsum(size) - size, size)
    along, across = np.divmod(step, wide[owner, 1])
    i, j = first[owner, 0] + along, first[owner, 1] + across
    at = np.column_stack([low[0] + (i + 0.5) * cell_mm, low[1] + (j + 0.5) * cell_mm])
    inside, z, _ = heights_in(corner[owner], at)
    return (i * columns + j)[inside], z[inside]


def height_at(mesh: Mesh, x_mm: float, y_mm: float) -> float | None:
    """Height of the topmost surface over a place [mm]; None where there is none."""
    met = crossings(mesh.points[mesh.faces], np.array([[x_mm, y_mm]]))
    return float(met.z.max()) if len(met.z) else None
