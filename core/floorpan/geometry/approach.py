"""The exact least distance from a body to many tiles, remembering what it learnt from one pose to the next.

A tile last seen at distance d is now at least d less the largest way a corner of the solid's box went since: the
displacement between two rigid poses is affine, so no point of the solid went farther than the farthest corner.
Solids and tiles are visited in the order of their bounds, and the search ends where a bound exceeds the best found.
So the answer is the one that visiting every tile with every solid gives, to the last bit.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from floorpan.geometry.mesh import Floats
from floorpan.geometry.skin_tree import Apart
from floorpan.geometry.skins import posed
from floorpan.geometry.solids import Body, Hull, Solid
from floorpan.geometry.tiled_skin import apart
from floorpan.geometry.tiles import Tile, box_gaps

# Bounds are worked out in floating point; nearer than this they do not rule a tile out [mm].
_SLACK_MM = 1e-9


class Trace:
    """What one solid learnt about the tiles of one surface: when it saw each, and how far it was then."""

    __slots__ = ("box", "corners", "gap_mm", "hull", "last", "own_corners", "own_mm")

    def __init__(self, hull: Hull, tiles: int) -> None:
        self.hull = hull
        self.box = hull_corners(hull)
        self.gap_mm = np.full(tiles, -math.inf)
        self.corners = np.zeros((tiles, 8, 3))
        self.last = -1
        # The solid against all tiles together.
        self.own_mm = -math.inf
        self.own_corners = np.zeros((8, 3))


class GapMemory:
    """What a body learnt about one surface from pose to pose; owned by the caller, one for each body and surface.

    It only makes the next answer quicker, never another one. Solids that changed are noticed by their hulls.
    """

    __slots__ = ("_tiles", "_traces", "winner")

    def __init__(self) -> None:
        self._traces: dict[int, Trace] = {}
        self._tiles: Sequence[Tile] = ()
        self.winner = 0

    def trace(self, index: int, solid: Solid, tiles: Sequence[Tile]) -> Trace:
        """The trace of one solid, a fresh one where the hull or the surface is another."""
        if tiles is not self._tiles:
            self._traces.clear()
            self._tiles = tiles
        held = self._traces.get(index)
        if held is None or held.hull is not solid.hull:
            held = Trace(solid.hull, len(tiles))
            self._traces[index] = held
        return held


@dataclass(frozen=True, slots=True, eq=False)
class Approach:
    """The nearest of a body.

    apart : distance of the undilated hull, nearest points, face number in the whole mesh; None where nothing was found
    index : which solid
    gap_mm : distance less the solid's radius, least over the body
    floor_mm : what tiles that are not built cannot be nearer than, less the radius [mm]
    """

    apart: Apart | None
    index: int
    gap_mm: float
    floor_mm: float


def approach(
    body: Body, tiles: Sequence[Tile], bounds: Floats, memory: GapMemory | None = None, build: bool = True
) -> Approach:
    """Least distance from a body to tiles; `bounds` (T, 2, 3) are the tiles' boxes [mm].

    build : whether a tile that is not built yet is built when it is needed, or left out and told by `floor_mm`
    """
    gaps = [box_gaps(bounds, *solid.box()) for solid in body]
    traces = [memory.trace(k, solid, tiles) if memory else None for k, solid in enumerate(body)]
    corners = [
        solid.pose.apply(trace.box) if trace else None for solid, trace in zip(body, traces, strict=True)
    ]
    bound = [
        max(float(gap.min()), _own_bound(trace, at)) - solid.hull.radius_mm
        for solid, gap, trace, at in zip(body, gaps, traces, corners, strict=True)
    ]
    order = sorted(range(len(body)), key=lambda k: (memory is None or k != memory.winner, bound[k], k))
    best = Approach(None, len(body), math.inf, math.inf)
    floor_mm = math.inf
    for k in order:
        if bound[k] > best.gap_mm + _SLACK_MM:
            continue
        radius = body[k].hull.radius_mm
        search = _Search(body[k], tiles, gaps[k], traces[k], corners[k], build)
        found = search.run(best.gap_mm + radius)
        floor_mm = min(floor_mm, search.floor_mm - radius)
        if found is not None and (found.distance_mm - radius, k) < (best.gap_mm, best.index):
            best = Approach(found, k, found.distance_mm - radius, math.inf)
    if memory is not None and best.apart is not None:
        memory.winner = best.index
    return Approach(best.apart, best.index, best.gap_mm, floor_mm)


class _Search:
    """One solid through the tiles."""

    def __init__(
        self,
        solid: Solid,
        tiles: Sequence[Tile],
        gaps: Floats,
        trace: Trace | None,
        corners: Floats | None,
        build: bool,
    ) -> None:
        self.solid, self.tiles, self.gaps = solid, tiles, gaps
        self.trace, self.corners, self.build = trace, corners, build
        self.floor_mm = math.inf

    def run(self, cap_mm: float) -> Apart | None:
        """Nearest points of the undilated hull where they are nearer than cap_mm, else None."""
        skin = posed(self.solid)
        best: Apart | None = None
        best_mm, best_tile = cap_mm, len(self.tiles)
        for place, at in enumerate(self._order(best_mm)):
            least = float(self.gaps[at])
            if least > best_mm + _SLACK_MM:
                if place == 0:
                    continue
                break
            least = max(least, self._tile_bound(at))
            if least > best_mm + _SLACK_MM:
                continue
            tile = self.tiles[at]
            if not self.build and not tile.built:
                self.floor_mm = min(self.floor_mm, least)
                continue
            found = apart(skin, tile.skin())
            self._learn(at, found.distance_mm)
            if found.distance_mm < best_mm or (found.distance_mm == best_mm and at < best_tile):
                best_mm, best_tile = found.distance_mm, at
                best = Apart(best_mm, found.first, found.second, int(tile.faces[found.face]))
        self._conclude(best_mm, best_tile)
        return best

    def _order(self, cap_mm: float) -> list[int]:
        """Tiles that may hold something nearer than cap_mm, by their gap, the last nearest one before all."""
        near = np.flatnonzero(self.gaps <= cap_mm + _SLACK_MM)
        order: list[int] = near[np.argsort(self.gaps[near], kind="stable")].tolist()
        if self.trace is not None and self.trace.last in order:
            order.remove(self.trace.last)
            order.insert(0, self.trace.last)
        return order

    def _tile_bound(self, at: int) -> float:
        if self.trace is None or self.corners is None:
            return 0.0
        return float(self.trace.gap_mm[at]) - way_mm(self.corners, self.trace.corners[at])

    def _learn(self, at: int, distance_mm: float) -> None:
        if self.trace is not None and self.corners is not None:
            self.trace.gap_mm[at], self.trace.corners[at] = distance_mm, self.corners

    def _conclude(self, best_mm: float, best_tile: int) -> None:
        if self.trace is None or self.corners is None:
            return
        if best_tile < len(self.tiles):
            self.trace.last = best_tile
        self.trace.own_mm = min(best_mm, self.floor_mm)
        self.trace.own_corners = self.corners


def _own_bound(trace: Trace | None, corners: Floats | None) -> float:
    if trace is None or corners is None:
        return 0.0
    return trace.own_mm - way_mm(corners, trace.own_corners)


def way_mm(corners: Floats, before: Floats) -> float:
    """The farthest way of any corner (8, 3) [mm]."""
    way = corners - before
    return math.sqrt(float(np.einsum("ij,ij->i", way, way).max()))


def hull_corners(hull: Hull) -> Floats:
    """The eight corners (8, 3) of the box around the undilated hull in its own coordinates [mm]."""
    low, high = hull.points.min(axis=0), hull.points.max(axis=0)
    return np.array(
        [[x, y, z] for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]
    )
