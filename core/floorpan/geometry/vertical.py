"""Where vertical lines meet triangles: for height fields and for telling what lies under a sheet."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.mesh import Floats

# A line this close outside a triangle's edge, as a share of the triangle, still meets it: no line slips through
# between two neighbours.
EDGE_SHARE = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Crossings:
    """Where vertical lines cross triangles, one row each.

    line : (C,) row number of the line
    triangle : (C,) row number of the triangle
    z    : (C,) height of the crossing [mm]
    up   : (C,) True where the triangle faces up
    """

    line: NDArray[np.int64]
    triangle: NDArray[np.int64]
    z: Floats
    up: NDArray[np.bool_]


def crossings(triangles: Floats, lines: Floats) -> Crossings:
    """Every crossing of triangles (K, 3, 3) with vertical lines through lines (N, 2 or 3) [mm].

    Upright triangles are passed by: a vertical line meets their edges through their neighbours.
    """
    a, b, c = (triangles[:, k, :2].T for k in range(3))
    (low_x, low_y), (high_x, high_y) = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
    found: list[tuple[int, NDArray[np.int64]]] = []
    for row, (x, y) in enumerate(lines[:, :2].tolist()):
        near = (low_x <= x) & (high_x >= x) & (low_y <= y) & (high_y >= y)
        found.append((row, np.flatnonzero(near)))
    line = np.concatenate([np.full(len(hit), row) for row, hit in found]) if found else np.zeros(0, np.int64)
    triangle = np.concatenate([hit for _, hit in found]) if found else np.zeros(0, np.int64)
    corner = triangles[triangle]
    at = lines[line, :2]
    inside, z, area = heights_in(corner, at)
    return Crossings(line[inside], triangle[inside], z[inside], area[inside] > 0.0)


def heights_in(corner: Floats, at: Floats) -> tuple[NDArray[np.bool_], Floats, Floats]:
    """For triangles (K, 3, 3) and places (K, 2): whether over the triangle, height there, twice the signed xy area."""
    # Column by column: reducing over rows of three takes several times as long.
    x0, x1, x2 = (corner[:, k, 0] - at[:, 0] for k in range(3))
    y0, y1, y2 = (corner[:, k, 1] - at[:, 1] for k in range(3))
    # Twice the signed area of the part opposite each corner.
    part0, part1, part2 = x1 * y2 - x2 * y1, x2 * y0 - x0 * y2, x0 * y1 - x1 * y0
    area = part0 + part1 + part2
    real = area != 0.0
    inverse = 1.0 / np.where(real, area, 1.0)
    share0, share1, share2 = part0 * inverse, part1 * inverse, part2 * inverse
    inside = real & (share0 >= -EDGE_SHARE) & (share1 >= -EDGE_SHARE) & (share2 >= -EDGE_SHARE)
    return inside, share0 * corner[:, 0, 2] + share1 * corner[:, 1, 2] + share2 * corner[:, 2, 2], area
