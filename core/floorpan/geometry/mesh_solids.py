"""A placed mesh as the stuff of a body: a hull that need not be convex, with an inside of its own.

Apart from other things its distance is the distance of its triangles, exact. Where it overlaps a solid or another
mesh there is no single way to part the two, so the depth told is the deepest point of either inside the other, each
by its distance to the other's surface (see `overlaps`); what lies in it whole is as deep as that too.

What is inside: of one closed skin whatever lies behind its nearest place; of several skins, or one with open edges,
whatever is more than half surrounded (generalised winding number over one half; Jacobson and others, "Robust
inside-outside segmentation using generalized winding numbers", ACM Transactions on Graphics 32 (2013)), counted to
1e-6 of a turn where that decides (Barill and others, "Fast winding numbers for soups and clouds", ACM Transactions on
Graphics 37 (2018)). A flat sheet surrounds nothing: it is hit where it is crossed and nowhere else.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull, QhullError

from floorpan.geometry.edges import edges, islands
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.one_facing import one_facing
from floorpan.geometry.solids import Hull, Uneven
from floorpan.geometry.splitting import TILE_TRIANGLES
from floorpan.geometry.surface import Surface
from floorpan.geometry.tiles import Tile

# A closed mesh that bulges nowhere by more than this is the convex hull of its points [mm].
_CONVEX_MM = 1e-7
# Of more corners than this the exact way apart of two overlapping hulls takes too long, and the mesh is kept.
_MOST_CORNERS = 64
_FACES_AT_ONCE = 1 << 13
# Of more triangles than fit into one tile, tiles that are made ready in some 10 ms each: whoever asks for the first gap
# waits for those that it needs.
_SMALL_TILE = 2000
_HALF = 0.5
# How closely turns are counted, and again where they come so near to a half.
_CLOSELY, _MORE_CLOSELY, _NEAR_HALF = 4.0, 16.0, 1e-3
# Nearer than this a point lies on the surface, and the normal there is the way out [mm].
_TOUCH_MM = 1e-9


class MeshHull(Hull):
    """A welded mesh [mm] as a hull: `points` are the outermost ones only, `mesh` is all of it.

    tile_triangles : how many make a tile; without it all up to TILE_TRIANGLES, else small ones
    closed : whether it is one skin without an open edge, so that what is inside is told by its nearest place
    """

    def __init__(self, mesh: Mesh, *, tile_triangles: int | None = None) -> None:
        turned = _outward(mesh)
        super().__init__(_outermost(turned.points))
        self.mesh = turned
        first = _one_of_each(turned)
        self.closed = len(first) == 1 and is_closed(turned)
        self._first = first
        if tile_triangles is None:
            tile_triangles = _SMALL_TILE if len(turned.faces) > TILE_TRIANGLES else TILE_TRIANGLES
        self._surface = Surface(turned, floor=False, tile_triangles=tile_triangles, in_pieces=False)

    @property
    def uneven(self) -> Uneven:
        """Itself: it knows its inside."""
        return self

    def skin(self) -> Mesh:
        """The mesh itself."""
        return self.mesh

    @property
    def tiles(self) -> tuple[Tile, ...]:
        """The mesh in tiles; cut on first use."""
        return self._surface.tiles

    @property
    def boxes(self) -> Floats:
        """Boxes (T, 2, 3) of the tiles [mm]."""
        return self._surface.boxes

    @property
    def built(self) -> float:
        """Share of the work on tiles that is done, 0 to 1."""
        knowing = sum(tile.knows_points(not self.closed) for tile in self.tiles) / len(self.tiles)
        return 0.8 * self._surface.built + 0.2 * knowing

    def build_next(self) -> bool:
        """Make ready one tile more, so that no gap has to wait for it; False once all are.

        First each for distances to bodies, then each for what lies inside.
        """
        if self._surface.build_next():
            return True
        waiting = (tile for tile in self.tiles if not tile.knows_points(not self.closed))
        tile = next(waiting, None)
        if tile is not None:
            tile.know_points(not self.closed)
        return tile is not None

    def one_each(self) -> Floats:
        """A point (K, 3) of each piece that hangs together [mm]."""
        return self._first

    def depths(self, points: Floats) -> tuple[Floats, Floats]:
        """How deep points (N, 3) in own coordinates lie inside [mm] (N,), negative outside, and the way out (N, 3)."""
        signed = self._surface.signed(points)
        away = np.abs(signed.distance_mm)
        inside = (signed.distance_mm < 0.0) if self.closed else self._surrounded(points)
        there = away > _TOUCH_MM
        way = (signed.nearest - points) / np.where(there, away, 1.0)[:, None]
        return np.where(inside, away, -away), np.where(there[:, None], way, signed.normal)

    def _surrounded(self, points: Floats) -> NDArray[np.bool_]:
        low, high = self.mesh.bounds
        inside: NDArray[np.bool_] = ((points > low) & (points < high)).all(axis=1)
        if inside.any():
            asked = np.ascontiguousarray(points[inside])
            turns = self._turns(asked, _CLOSELY)
            unsure = np.abs(turns - _HALF) < _NEAR_HALF
            if unsure.any():
                turns[unsure] = self._turns(asked[unsure], _MORE_CLOSELY)
            inside[inside] = turns > _HALF
        return inside

    def _turns(self, points: Floats, closely: float) -> Floats:
        """How many times the mesh goes round points (N, 3), whichever way."""
        turns = np.zeros(len(points))
        for tile in self.tiles:
            turns += tile.turns(points, closely)
        return np.abs(turns)


def mesh_hull(mesh: Mesh) -> Hull:
    """The hull of a welded mesh [mm]: a plain one where it is closed, convex to 1e-7 mm and of few corners."""
    return Hull(_outermost(mesh.points)) if _is_convex(mesh) else MeshHull(mesh)


def is_closed(mesh: Mesh) -> bool:
    """Whether every edge has two faces that run it to and fro."""
    found = edges(mesh)
    return bool(len(found.uses)) and bool((found.uses == 2).all()) and not found.flipped


def _outward(mesh: Mesh) -> Mesh:
    """Neighbours facing the same way, and a skin that is inside out turned over."""
    mesh = one_facing(mesh).mesh
    corners = mesh.points[mesh.faces] - mesh.points.mean(axis=0)
    volume = float(np.einsum("ij,ij->", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])))
    return Mesh(mesh.points, np.ascontiguousarray(mesh.faces[:, ::-1])) if volume < 0.0 else mesh


def _one_of_each(mesh: Mesh) -> Floats:
    _, first = np.unique(islands(mesh), return_index=True)
    points: Floats = mesh.points[mesh.faces[first, 0]]
    return points


def _outermost(points: Floats) -> Floats:
    """The corners of the convex hull; all of them where they lie in a plane."""
    try:
        outer: Floats = points[ConvexHull(points).vertices]
    except (QhullError, ValueError):
        return points
    return outer


def _is_convex(mesh: Mesh) -> bool:
    if len(_one_of_each(mesh)) != 1 or not is_closed(mesh):
        return False
    try:
        outer = ConvexHull(mesh.points)
    except (QhullError, ValueError):
        return False
    if len(outer.vertices) > _MOST_CORNERS:
        return False
    planes = outer.equations
    # Of a convex skin every face lies on a side of the hull; its middle is as far in as the face dents.
    starts = range(0, len(mesh.faces), _FACES_AT_ONCE)
    parts = (mesh.points[mesh.faces[start : start + _FACES_AT_ONCE]].mean(axis=1) for start in starts)
    return all((-(part @ planes[:, :3].T + planes[:, 3]).max(axis=1) < _CONVEX_MM).all() for part in parts)
