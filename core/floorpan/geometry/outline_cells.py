"""The plane of an outline in small cells: most points are told inside or outside, near or far, by their cell alone."""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from floorpan.geometry.mesh import Floats, Ints

Bools = NDArray[np.bool_]
Marks = NDArray[np.uint8]

# What a point is marked with.
INSIDE, NEAR = np.uint8(1), np.uint8(2)
# What a cell is marked with besides: the outline runs through it or close by, and its points are asked one by one.
_RUN = np.uint8(4)
# Cells along the longer side of the outline.
_CELLS = 384
# Points, or faces, looked at together: they stay in the nearest memory.
_AT_ONCE = 1 << 14


class OutlineCells:
    """Cells over an outline and all round it.

    outline : a simple polygon, prepared
    ring    : (K, 2) its corners
    near_mm : points not farther from it than this are near
    """

    def __init__(self, outline: Polygon, ring: Floats, near_mm: float) -> None:
        self._outline = outline
        size = np.ptp(ring, axis=0)
        self._cell = max(float(size.max()) / _CELLS, 1e-9)
        reach = int(np.ceil(near_mm / self._cell)) + 1
        # The outermost cells are far, and stand for all beyond them.
        margin = reach + 3
        self._low = ring.min(axis=0) - margin * self._cell
        wide, high = (np.ceil(size / self._cell).astype(int) + 1 + 2 * margin).tolist()
        run = self._run_through(ring, np.zeros((wide, high), dtype=bool))
        self._total = np.zeros((wide + 1, high + 1), dtype=np.int32)
        self._total[1:, 1:] = run.cumsum(axis=0).cumsum(axis=1)
        near = _widened(_widened(run, reach).T, reach).T
        self._marks: Marks = np.where(run, _RUN, self._inside(run) * INSIDE) | (near * NEAR)

    def _run_through(self, ring: Floats, run: Bools) -> Bools:
        """The cells that the outline runs through, and one more all round for what falls between two places."""
        way = np.roll(ring, -1, axis=0) - ring
        steps = np.ceil(np.hypot(way[:, 0], way[:, 1]) / (0.5 * self._cell)).astype(np.int64) + 1
        side = np.repeat(np.arange(len(ring)), steps)
        step = np.arange(len(side)) - np.repeat(np.cumsum(steps) - steps, steps)
        places = ring[side] + (step / steps[side])[:, None] * way[side]
        at = ((places - self._low) / self._cell).astype(np.int64)
        for dx in (-1, 0, 1):
            for dy in (-1, 0, 1):
                run[at[:, 0] + dx, at[:, 1] + dy] = True
        return run

    def _inside(self, run: Bools) -> Bools:
        """Which cells lie inside: from one cell that the outline runs through to the next nothing changes."""
        first = ~run
        first[:, 1:] &= run[:, :-1]
        row, column = np.nonzero(first)
        middle = self._low + (np.stack([row, column], axis=1) + 0.5) * self._cell
        inside = np.zeros(run.shape, dtype=bool)
        inside[row, column] = shapely.contains_xy(self._outline, middle[:, 0], middle[:, 1])
        since = np.maximum.accumulate(np.where(first, np.arange(run.shape[1]), 0), axis=1)
        found: Bools = np.take_along_axis(inside, since, axis=1) & ~run
        return found

    def _cells(self, at: Floats, axis: int) -> NDArray[np.intp]:
        """Cell numbers along an axis, of places far out the outermost."""
        cell = (at - self._low[axis]) / self._cell
        np.clip(cell, 0.0, self._marks.shape[axis] - 1.0, out=cell)
        cells: NDArray[np.intp] = cell.astype(np.intp)
        return cells

    def marks(self, flat: Floats) -> Marks:
        """INSIDE and NEAR for points (N, 2); inside is exact, near may hold a few that are farther."""
        marks = np.empty(len(flat), dtype=np.uint8)
        for start in range(0, len(flat), _AT_ONCE):
            x, y = flat[start : start + _AT_ONCE].T
            here = self._marks.ravel().take(self._cells(x, 0) * self._marks.shape[1] + self._cells(y, 1))
            ask = np.flatnonzero(here & _RUN)
            if len(ask):
                here[ask] = NEAR | shapely.contains_xy(self._outline, x.take(ask), y.take(ask))
            marks[start : start + _AT_ONCE] = here
        return marks

    def reached(self, flat: Floats, faces: Ints) -> Bools:
        """Faces (F,) whose box reaches a cell that the outline runs through: all that it touches are among them."""
        found = np.empty(len(faces), dtype=bool)
        for start in range(0, len(faces), _AT_ONCE):
            corner = faces[start : start + _AT_ONCE]
            across = [self._cells(flat[:, axis].take(corner), axis) for axis in (0, 1)]
            left, low = (np.minimum(np.minimum(at[:, 0], at[:, 1]), at[:, 2]) for at in across)
            right, high = (np.maximum(np.maximum(at[:, 0], at[:, 1]), at[:, 2]) + 1 for at in across)
            total = self._total
            found[start : start + _AT_ONCE] = (
                total[right, high] - total[left, high] - total[right, low] + total[left, low]
            ) > 0
        return found


def _widened(run: Bools, reach: int) -> Bools:
    """Cells with one of these at most `reach` rows away."""
    count = len(run)
    total = np.zeros((count + 1, run.shape[1]), dtype=np.int32)
    total[1:] = run.cumsum(axis=0)
    row = np.arange(count)
    widened: Bools = total[np.minimum(row + reach + 1, count)] > total[np.maximum(row - reach, 0)]
    return widened
