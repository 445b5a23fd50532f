"""The exact least distance from a body to many tiles, remembering what it learnt from one pose to the next.

A tile last seen at distance d is now at least d less the largest way a corner of the solid's box went since: the
displacement between two rigid poses is affine, so no point of the solid went farther than the farthest corner.
Solids and tiles are visited in the order of their bounds, and the search ends where a bound exceeds the best found.
So the answer is the one that visiting every tile with every solid gives, to the last bit.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from floorpan.geometry.mesh import Floats
from floorpan.geometry.skin_tree import Apart
from floorpan.geometry.skins import posed
from floorpan.geometry.solids import Body, Hull, Solid
from floorpan.geometry.tiled_skin import apart, box_bounds
from floorpan.geometry.tiles import Tile, box_gaps

# Bounds are worked out in floating point; nearer than this they do not rule a tile out [mm].
_SLACK_MM = 1e-9
# What lies so little behind lies level [mm]; nearer than this two places are one.
_LEVEL_MM = 1e-6


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
    body: Body,
    tiles: Sequence[Tile],
    bounds: Floats,
    memory: GapMemory | None = None,
    build: bool = True,
    whole: bool = False,
) -> Approach:
    """Least distance from a body to tiles; `bounds` (T, 2, 3) are the tiles' boxes [mm].

    build : whether a tile that is not built yet is built as far as it is needed, or left out and told by `floor_mm`
    whole : ask tiles as a whole where they are cut
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
        search = _Search(body[k], tiles, bounds, gaps[k], traces[k], corners[k], build, whole)
        found = search.run(best.gap_mm + radius)
        floor_mm = min(floor_mm, search.floor_mm - radius)
        if found is not None and (found.distance_mm - radius, k) < (best.gap_mm, best.index):
            best = Approach(found, k, found.distance_mm - radius, math.inf)
    if memory is not None and best.apart is not None:
        memory.winner = best.index
    return Approach(best.apart, best.index, best.gap_mm, floor_mm)


class _Waiting:
    """Pieces of tiles, with what is known of how far each is.

    bound_mm : (P,) no less than that; once it was asked, what it is
    """

    __slots__ = ("_asked", "_boxes", "_number", "_tile", "bound_mm")

    def __init__(self) -> None:
        self._boxes: Floats = np.zeros((0, 2, 3))
        self._tile = self._number = np.zeros(0, dtype=np.int64)
        self._asked = np.zeros(0, dtype=bool)
        self.bound_mm: Floats = np.zeros(0)

    def add(self, tile: int, boxes: Floats, bound_mm: Floats) -> None:
        """The pieces of one more tile."""
        count = len(boxes)
        self._boxes = np.concatenate([self._boxes, boxes])
        self._tile = np.concatenate([self._tile, np.full(count, tile)])
        self._number = np.concatenate([self._number, np.arange(count)])
        self._asked = np.concatenate([self._asked, np.zeros(count, dtype=bool)])
        self.bound_mm = np.concatenate([self.bound_mm, bound_mm])

    def raise_to(self, bounds_of: Callable[[Floats], Floats]) -> None:
        """Raise what is known by what a bound for boxes says."""
        if len(self._boxes):
            self.bound_mm = np.where(
                self._asked, self.bound_mm, np.maximum(self.bound_mm, bounds_of(self._boxes))
            )

    def nearest(self) -> tuple[int, float]:
        """Place of the piece to ask next, and how far it is at least; infinite where all are asked."""
        if not len(self._asked):
            return -1, math.inf
        waiting = np.where(self._asked, math.inf, self.bound_mm)
        at = int(waiting.argmin())
        return at, float(waiting[at])

    @property
    def asked(self) -> bool:
        """Whether any was."""
        return bool(self._asked.any())

    def ask(self, at: int) -> tuple[int, int]:
        """(tile, number of the piece in it) of a piece that is asked now."""
        self._asked[at] = True
        return int(self._tile[at]), int(self._number[at])

    def by_tile(self) -> Iterator[tuple[int, float]]:
        """(tile, how far it is at least)."""
        for tile in np.unique(self._tile).tolist():
            yield tile, float(self.bound_mm[self._tile == tile].min())


class _Search:
    """One solid through the tiles, and through the pieces of those that are cut."""

    def __init__(
        self,
        solid: Solid,
        tiles: Sequence[Tile],
        bounds: Floats,
        gaps: Floats,
        trace: Trace | None,
        corners: Floats | None,
        build: bool,
        whole: bool,
    ) -> None:
        self.solid, self.tiles, self.bounds, self.gaps = solid, tiles, bounds, gaps
        self.trace, self.corners, self.build, self.whole = trace, corners, build, whole
        self.floor_mm = math.inf
        self._skin = posed(solid)
        self._closer: Floats | None = None
        self._begin(math.inf)

    def _begin(self, cap_mm: float) -> None:
        self._best: Apart | None = None
        self._best_mm = cap_mm
        self._place = (len(self.tiles), 0)
        self._waiting = _Waiting()
        self._tied = False

    def run(self, cap_mm: float) -> Apart | None:
        """Nearest points of the undilated hull where they are nearer than cap_mm, else None."""
        self._look(cap_mm)
        if self._many_as_near():
            # Which of them is told is what tiles as a whole tell.
            self.whole = True
            self._look(cap_mm)
        self._conclude()
        return self._best

    def _look(self, cap_mm: float) -> None:
        self._begin(cap_mm)
        for place, at in enumerate(self._order(cap_mm)):
            self._ask_pieces(float(self.gaps[at]))
            least = float(self.gaps[at])
            if least > self._best_mm + _SLACK_MM:
                if place == 0:
                    continue
                break
            least = max(least, self._tile_bound(at))
            if least > self._best_mm + _SLACK_MM:
                continue
            tile = self.tiles[at]
            if not (self.build or tile.built):
                self.floor_mm = min(self.floor_mm, least)
            elif tile.cut and not self.whole:
                self._open(at, least)
            else:
                found = apart(self._skin, tile.skin())
                self._learn(at, found.distance_mm)
                self._take(found, at, 0, int(tile.faces[found.face]))
        self._ask_pieces(math.inf)

    def _open(self, at: int, least: float) -> None:
        """Have the pieces of a tile asked."""
        least = max(least, self._closer_mm(at))
        if least <= self._best_mm + _SLACK_MM:
            boxes = self.tiles[at].pieces().boxes
            self._waiting.add(at, boxes, np.maximum(box_bounds(self._skin, boxes), least))
            self._waiting.raise_to(self._ahead)

    def _many_as_near(self) -> bool:
        """Whether pieces found a nearest place that is not the only one: a level foot over a level floor."""
        if self._best is None or self._best_mm <= _SLACK_MM or not self._waiting.asked:
            return False
        tile, piece = self._place
        if self._tied or not self.tiles[tile].cut or len(self.solid.hull.points) == 1:
            return self._tied
        way = (self._best.second - self._best.first) / self._best_mm
        points = self.solid.points()
        along = points @ way
        own = points[along >= along.max() - _LEVEL_MM]
        if len(own) == 1:
            return False
        theirs = self.tiles[tile].pieces().foremost(piece, way, _LEVEL_MM)
        if len(theirs) == 1:
            return False
        if len(own) == len(theirs) == 2:
            # Two edges are nearest in one place unless they run side by side.
            one, two = own[1] - own[0], theirs[1] - theirs[0]
            aside = float(np.linalg.norm(np.cross(one, two)))
            return aside <= _LEVEL_MM * float(np.linalg.norm(one) * np.linalg.norm(two))
        return True

    def _closer_mm(self, at: int) -> float:
        """How far a tile is at least, by boxes seen along the axes of either and along the way to the nearest so far.

        Worked out where that saves cutting a tile.
        """
        if self._closer is None:
            self._closer = box_bounds(self._skin, self.bounds)
        return max(float(self._closer[at]), float(self._ahead(self.bounds[at : at + 1])[0]))

    def _ask_pieces(self, nearer_mm: float) -> None:
        """Ask waiting pieces that may be nearer than this."""
        while True:
            at, bound = self._waiting.nearest()
            if bound == math.inf or bound > min(nearer_mm, self._best_mm + _SLACK_MM):
                return
            tile, piece = self._waiting.ask(at)
            pieces = self.tiles[tile].pieces()
            found = apart(self._skin, pieces.skin(piece))
            self._waiting.bound_mm[at] = found.distance_mm
            self._take(found, tile, piece, pieces.face(piece, found.face))

    def _take(self, found: Apart, at: int, piece: int, face: int) -> None:
        mm = found.distance_mm
        if self._best is not None and abs(mm - self._best_mm) <= _SLACK_MM:
            self._tied |= float(np.abs(found.second - self._best.second).max()) > _LEVEL_MM
        elif mm < self._best_mm:
            self._tied = False
        if mm < self._best_mm or (mm == self._best_mm and (at, piece) < self._place):
            self._best_mm, self._place = mm, (at, piece)
            self._best = Apart(mm, found.first, found.second, face)
            self._waiting.raise_to(self._ahead)

    def _ahead(self, boxes: Floats) -> Floats:
        """How far boxes (T, 2, 3) are at least (T,) [mm], seen along the way to the nearest place so far."""
        if self._best is None or self._best_mm <= 0.0:
            return np.zeros(len(boxes))
        way = (self._best.second - self._best.first) / self._best_mm
        begin = np.where(way > 0.0, boxes[:, 0], boxes[:, 1]) @ way
        ahead: Floats = begin - float((self.solid.points() @ way).max())
        return ahead

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

    def _conclude(self) -> None:
        if self.trace is None or self.corners is None:
            return
        for at, least in self._waiting.by_tile():
            self._learn(at, least)
        if self._place[0] < len(self.tiles):
            self.trace.last = self._place[0]
        self.trace.own_mm = min(self._best_mm, self.floor_mm)
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
