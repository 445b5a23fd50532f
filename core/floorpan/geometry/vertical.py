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
    least, greatest = triangles[:, :, :2].min(axis=1), triangles[:, :, :2].max(axis=1)
    found: list[tuple[int, NDArray[np.int64]]] = []
    for row, (x, y) in enumerate(lines[:, :2].tolist()):
        near = (least[:, 0] <= x) & (greatest[:, 0] >= x) & (least[:, 1] <= y) & (greatest[:, 1] >= y)
        found.append((row, np.flatnonzero(near)))
    line = np.concatenate([np.full(len(hit), row) for row, hit in found]) if found else np.zeros(0, np.int64)
    triangle = np.concatenate([hit for _, hit in found]) if found else np.zeros(0, np.int64)
    corner = triangles[triangle]
    at = lines[line, :2]
    inside, z, area = heights_in(corner, at)
    return Crossings(line[inside], triangle[inside], z[inside], area[inside] > 0.0)


def heights_in(corner: Floats, at: Floats) -> tuple[NDArray[np.bool_], Floats, Floats]:
    """For triangles (K, 3, 3) and places (K, 2): whether over the triangle, height there, twice the signed xy area."""
    x, y = corner[:, :, 0] - at[:, 0, None], corner[:, :, 1] - at[:, 1, None]
    # Twice the signed area of the part opposite each corner.
    part = np.empty((len(corner), 3))
    for k in range(3):
        one, two = (k + 1) % 3, (k + 2) % 3
        part[:, k] = x[:, one] * y[:, two] - x[:, two] * y[:, one]
    area = part.sum(axis=1)
    real = area != 0.0
    share = part / np.where(real, area, 1.0)[:, None]
    inside = real & (share.min(axis=1) >= -EDGE_SHARE)
    return inside, np.einsum("ij,ij->i", share, corner[:, :, 2]), area
