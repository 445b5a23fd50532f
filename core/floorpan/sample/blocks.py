"""The room cut into small blocks, each knowing how far the car is and which of its solids matter there."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.sample.car import Car
from floorpan.sample.shapes import Floats

Places = NDArray[np.int64]

# Cells along a block's side.
CELLS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Blocks:
    """A regular division of a box of the car into blocks of CELLS x CELLS x CELLS cells.

    low_mm : the least corner (3,); cell_mm : side of a cell; margin_mm : how far off the surface `near`
    is right; shape : blocks along each axis
    away_mm : signed distance of every block's centre, flat (X slowest)
    matters : for every solid of the car, whether it can be nearest within a block, flat, bool
    solids, first : the same as lists: of block b, solids[first[b] : first[b + 1]]
    """

    car: Car
    low_mm: Floats
    cell_mm: float
    margin_mm: float
    shape: tuple[int, int, int]
    away_mm: Floats
    matters: NDArray[np.bool_]
    solids: NDArray[np.uint8]
    first: Places

    @property
    def block_mm(self) -> float:
        return CELLS * self.cell_mm

    @property
    def reach_mm(self) -> float:
        """From a block's centre to its corners."""
        return self.block_mm * math.sqrt(3.0) / 2.0

    def holding(self, points: Floats) -> Places:
        """The flat place of the block that holds each of the points (N, 3); points outside take the nearest."""
        flat = np.zeros(len(points), dtype=np.int64)
        for k in range(3):
            place = np.floor((points[:, k] - self.low_mm[k]) / self.block_mm).astype(np.int64)
            flat = flat * self.shape[k] + np.clip(place, 0, self.shape[k] - 1)
        return flat

    def centres(self, flat: Places) -> Floats:
        """Centres (N, 3) of blocks at flat places, mm."""
        return _centres(flat, self.shape, self.low_mm, self.block_mm)

    def near(self, points: Floats, flat: Places, but: Places | None = None) -> tuple[Floats, Places]:
        """Exact signed distance of points (N, 3) that lie near the car, in the blocks given, and which solid.

        Right within ``margin_mm`` of the surface. With ``but``, the nearest solid other than that one, infinitely
        far and -1 where there is none about.
        """
        best = np.full(len(points), np.inf)
        which = np.full(len(points), -1, dtype=np.int64)
        count = self.first[flat + 1] - self.first[flat]
        asking = np.repeat(np.arange(len(points)), count)
        place = np.arange(len(asking)) - np.repeat(np.cumsum(count) - count - self.first[flat], count)
        solids = self.solids[place]
        order = np.argsort(solids, kind="stable")
        starts = np.searchsorted(solids[order], np.arange(len(self.car.shapes) + 1))
        for solid, shape in enumerate(self.car.shapes):
            asked = asking[order[starts[solid] : starts[solid + 1]]]
            if len(asked):
                found = shape.distance(points[asked])
                closer = found < best[asked]
                if but is not None:
                    closer &= but[asked] != solid
                best[asked[closer]] = found[closer]
                which[asked[closer]] = solid
        return best, which


def cut_up(car: Car, low_mm: Floats, high_mm: Floats, cell_mm: float, margin_mm: float) -> Blocks:
    """Cut the box between two corners (3,) into blocks; `near` is right within margin_mm of the car's surface."""
    side = CELLS * cell_mm
    nx, ny, nz = (int(np.ceil((high_mm[k] - low_mm[k]) / side)) for k in range(3))
    reach = side * math.sqrt(3.0) / 2.0
    shape_of_all = (nx, ny, nz)
    away = car.distance(_centres(np.arange(nx * ny * nz), shape_of_all, low_mm, side))
    matters = np.zeros((len(car.shapes), nx * ny * nz), dtype=np.bool_)
    grow = 3.0 * reach + margin_mm
    for solid, shape in enumerate(car.shapes):
        bounds = shape.bounds()
        start = np.clip(np.floor((bounds[0] - grow - low_mm) / side), 0, shape_of_all).astype(np.int64)
        end = np.clip(np.ceil((bounds[1] + grow - low_mm) / side), 0, shape_of_all).astype(np.int64)
        i, j, k = (np.arange(start[axis], end[axis]) for axis in range(3))
        flat = ((i[:, None, None] * ny + j[:, None]) * nz + k).ravel()
        flat = flat[np.abs(away[flat]) <= reach + margin_mm]
        found = shape.distance(_centres(flat, shape_of_all, low_mm, side))
        matters[solid][flat] = found <= np.abs(away[flat]) + 2.0 * reach
    block, solid_of_block = np.nonzero(matters.T)
    listed = np.searchsorted(block, np.arange(nx * ny * nz + 1))
    return Blocks(
        car=car,
        low_mm=low_mm,
        cell_mm=cell_mm,
        margin_mm=margin_mm,
        shape=shape_of_all,
        away_mm=away,
        matters=matters,
        solids=solid_of_block.astype(np.uint8),
        first=listed,
    )


def _centres(flat: Places, shape: tuple[int, int, int], low_mm: Floats, side_mm: float) -> Floats:
    places = np.unravel_index(flat, shape)
    return np.stack([low_mm[k] + (places[k] + 0.5) * side_mm for k in range(3)]).T
