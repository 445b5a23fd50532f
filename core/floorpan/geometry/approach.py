"""The exact least distance from one solid to many tiles, remembering what it learnt from one pose to the next.

A tile last seen at distance d is now at least d less the largest way a corner of the solid's box went since: the
displacement between two rigid poses is affine, so no point of the solid went farther than the farthest corner.
Tiles are visited in the order of that bound or of the gap between boxes, whichever is greater; the search ends
where the bound exceeds the best found. So the answer is the one that visiting every tile gives, to the last bit.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from floorpan.geometry.mesh import Floats
from floorpan.geometry.skins import Apart, posed
from floorpan.geometry.solids import Hull, Solid
from floorpan.geometry.tiles import Tile, box_gaps

# Bounds are worked out in floating point; nearer than this they do not rule a tile out [mm].
_SLACK_MM = 1e-9


class Trace:
    """What one solid learnt about the tiles of one surface."""

    __slots__ = ("corners", "gap_mm", "hull", "last")

    def __init__(self, hull: Hull, tiles: int) -> None:
        self.hull = hull
        self.gap_mm = np.full(tiles, -math.inf)
        self.corners = np.zeros((tiles, 8, 3))
        self.last = -1


@dataclass(frozen=True, slots=True, eq=False)
class Approach:
    """Nearest tile of a solid's undilated hull.

    apart : nearest points and face number in the whole mesh; None where no tile was built
    floor_mm : what unbuilt tiles cannot be nearer than [mm]
    """

    apart: Apart | None
    floor_mm: float


def approach(
    solid: Solid, tiles: Sequence[Tile], bounds: Floats, trace: Trace | None = None, build: bool = True
) -> Approach:
    """Least distance from the undilated hull to the tiles; `bounds` (T, 2, 3) are the tiles' boxes.

    build : whether a tile that is not built yet is built when it is needed, or left out and told by `floor_mm`
    """
    points = solid.points()
    bound = box_gaps(bounds, points.min(axis=0), points.max(axis=0))
    corners = solid.pose.apply(hull_corners(solid.hull)) if trace is not None else None
    skin = posed(solid)
    best: Apart | None = None
    best_mm, best_tile, floor_mm = math.inf, len(tiles), math.inf
    for at in _order(bound, trace):
        least = float(bound[at])
        if least > best_mm + _SLACK_MM:
            break
        if trace is not None and corners is not None:
            least = max(least, _bound_now(trace, at, corners))
            if least > best_mm + _SLACK_MM:
                continue
        tile = tiles[at]
        if not build and not tile.built:
            floor_mm = min(floor_mm, least)
            continue
        found = skin.apart(tile.skin())
        if trace is not None and corners is not None:
            trace.gap_mm[at], trace.corners[at] = found.distance_mm, corners
        if (found.distance_mm, at) < (best_mm, best_tile):
            best_mm, best_tile = found.distance_mm, at
            best = Apart(best_mm, found.first, found.second, int(tile.faces[found.face]))
    if trace is not None:
        trace.last = best_tile if best is not None else -1
    return Approach(best, floor_mm)


def _order(bound: Floats, trace: Trace | None) -> list[int]:
    """Tiles by bound, the last nearest one before all."""
    order: list[int] = np.argsort(bound, kind="stable").tolist()
    if trace is not None and trace.last >= 0:
        order.remove(trace.last)
        order.insert(0, trace.last)
    return order


def _bound_now(trace: Trace, at: int, corners: Floats) -> float:
    gap = float(trace.gap_mm[at])
    if gap <= 0.0:
        return 0.0
    way = corners - trace.corners[at]
    return gap - math.sqrt(float(np.einsum("ij,ij->i", way, way).max()))


def hull_corners(hull: Hull) -> Floats:
    """The eight corners (8, 3) of the box around the undilated hull in its own coordinates [mm]."""
    low, high = hull.points.min(axis=0), hull.points.max(axis=0)
    pick = np.array([[i, j, k] for i in (0, 1) for j in (0, 1) for k in (0, 1)])
    corners: Floats = np.where(pick == 1, high, low)
    return corners
