"""What the sides are called: letters until a scan stands in car axes; then driver and passenger, front and rear."""

import itertools
from typing import Final

import numpy as np

from floorpan.geometry.heights import HeightGrid
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.layout import Side
from floorpan_app.stage import words
from floorpan_app.viewport.lettering import FloorWord
from floorpan_app.viewport.marks import SideWords

_TALLEST_MM: Final = 62.0
# A capital of the face is about so wide for its height.
_WIDE: Final = 0.72
_SHARE_OF_FLOOR: Final = 0.045
_UNEVEN_MM: Final = 45.0
_LEAST_SEEN: Final = 0.6


def side_words(side: Side, *, in_car_axes: bool) -> SideWords:
    """The words at the edges of the fixed views."""
    if not in_car_axes:
        up, down = words.SIDES_UP
        return SideWords(**words.SIDES, up=up, down=down)
    if side == "left":
        return SideWords()
    return SideWords(left=words.PASSENGER_SIDE, right=words.DRIVER_SIDE)


Room = tuple[float, float, float, float]
"""Least and greatest x, least and greatest y [mm]."""


def floor_words(grid: HeightGrid, mesh: Mesh, side: Side, taken: list[Room]) -> tuple[FloorWord, ...]:
    """DRIVER SIDE and FRONT where the floor is even, was seen, and nothing stands: far out, and far ahead."""
    (x0, y0, _), (x1, y1, _) = mesh.bounds.tolist()
    tall = min(_TALLEST_MM, _SHARE_OF_FLOOR * (x1 - x0))
    sign = -1.0 if side == "left" else 1.0
    outer = y0 if side == "left" else y1
    out = [outer - sign * share * (y1 - y0) for share in (0.22, 0.18, 0.26, 0.14, 0.1)]
    along = [x0 + share * (x1 - x0) for share in (0.62, 0.5, 0.74, 0.4, 0.3, 0.25, 0.2)]
    wide = tall * _WIDE * len(words.FLOOR_DRIVER)
    driver = _evenest(grid, [(x, y) for x, y in itertools.product(along, out)], (wide, tall), taken)
    ahead = [x0 + share * (x1 - x0) for share in (0.1, 0.16, 0.22, 0.3)]
    beside = [-sign * share * (y1 - y0) / 2 for share in (0.5, 0.6, 0.4, -0.5, 0.0)]
    wide = tall * _WIDE * len(words.FLOOR_FRONT)
    front = _evenest(grid, list(itertools.product(ahead, beside)), (tall, wide), taken)
    found = []
    if driver is not None:
        found.append(_word(words.FLOOR_DRIVER, driver, (1.0, 0.0, 0.0), tall))
    if front is not None:
        found.append(_word(words.FLOOR_FRONT, front, (0.0, 1.0, 0.0), tall))
    return tuple(found)


def _evenest(
    grid: HeightGrid,
    places: list[tuple[float, float]],
    size: tuple[float, float],
    taken: list[Room],
) -> tuple[float, float] | None:
    """The first place that is even enough, else the one that is best; None where hardly anything was seen."""
    best: tuple[float, tuple[float, float]] | None = None
    free = [place for place in places if not any(_overlap(place, size, room) for room in taken)]
    for x, y in free or places:
        across, along = x + np.linspace(-0.5, 0.5, 5) * size[0], y + np.linspace(-0.5, 0.5, 5) * size[1]
        heights = _heights(grid, across, along)
        seen = heights[np.isfinite(heights)]
        if len(seen) < _LEAST_SEEN * len(heights):
            continue
        uneven = float(np.ptp(seen)) + 2.0 * _UNEVEN_MM * (1.0 - len(seen) / len(heights))
        if uneven <= _UNEVEN_MM:
            return x, y
        if best is None or uneven < best[0]:
            best = (uneven, (x, y))
    return None if best is None else best[1]


def _heights(grid: HeightGrid, x: Floats, y: Floats) -> Floats:
    """Heights over a lattice of places (X * Y,) [mm], NaN where nothing lies."""
    rows, columns = (
        np.floor((at - grid.low_mm[axis]) / grid.cell_mm).astype(int) for axis, at in enumerate((x, y))
    )
    row, column = (part.ravel() for part in np.meshgrid(rows, columns, indexing="ij"))
    inside = (row >= 0) & (row < grid.z.shape[0]) & (column >= 0) & (column < grid.z.shape[1])
    found = np.full(len(row), np.nan)
    found[inside] = grid.z[row[inside], column[inside]]
    return found


def _overlap(at: tuple[float, float], size: tuple[float, float], room: Room) -> bool:
    (x, y), (long, wide) = at, size
    return (
        x + long / 2 > room[0]
        and x - long / 2 < room[1]
        and y + wide / 2 > room[2]
        and y - wide / 2 < room[3]
    )


def _word(text: str, at: tuple[float, float], along: tuple[float, float, float], tall: float) -> FloorWord:
    return FloorWord(text=text, at_mm=(at[0], at[1], 0.0), along=along, height_mm=tall)
