"""A large mesh cut into tiles of a few thousand triangles, each made ready for distances when first needed."""

import atexit
import math
from collections.abc import Sequence
from weakref import WeakSet

import igl
import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.curve import along_curve
from floorpan.geometry.mesh import Floats, Mesh, bounds_of
from floorpan.geometry.skin_tree import Skin

Longs = NDArray[np.int64]

# A tree for so many takes about a millisecond.
PIECE_TRIANGLES = 320

# Keeps the table of tiles by points small.
_POINTS_AT_ONCE = 2048


_with_trees: "WeakSet[Tile]" = WeakSet()


@atexit.register
def _let_go() -> None:
    """Drop every tree before the interpreter ends: the library complains on standard error of any it finds then."""
    for tile in _with_trees:
        tile.drop_tree()


class Tile:
    """Some faces of a mesh.

    faces  : (K,) face numbers in the whole mesh
    bounds : (2, 3) least and greatest corner [mm]
    cut    : whether bodies are measured to its pieces rather than to its skin as a whole
    """

    __slots__ = (
        "__weakref__", "_mesh", "_part", "_pieces", "_round", "_skin", "_tree", "bounds", "cut", "faces",
    )  # fmt: skip

    def __init__(self, mesh: Mesh, faces: Longs, *, cut: bool = False) -> None:
        self.faces = faces
        self.cut = cut
        self._mesh = mesh
        self.bounds: Floats = bounds_of(mesh.points.take(mesh.faces.take(faces, axis=0).ravel(), axis=0))
        self._part: tuple[Floats, Longs] | None = None
        self._skin: Skin | None = None
        self._pieces: Pieces | None = None
        self._tree: igl.AABB | None = None
        self._round: igl.FastWindingNumberBVH | None = None

    def _own(self) -> tuple[Floats, Longs]:
        """The points that the tile's faces use (V, 3) [mm], and these faces (K, 3) by them; sorted out on first use."""
        if self._part is None:
            used, local = np.unique(self._mesh.faces.take(self.faces, axis=0), return_inverse=True)
            points = self._mesh.points.take(used, axis=0)
            self._part = points, local.reshape(-1, 3).astype(np.int64)
        return self._part

    @property
    def built(self) -> bool:
        """Whether all is there that body distances need."""
        if self.cut:
            return self._pieces is not None and self._pieces.built
        return self._skin is not None

    def build(self) -> None:
        """Make ready for distances to bodies (about 4 us a triangle)."""
        if self.cut:
            self.pieces().build()
        else:
            self.skin()

    @property
    def points(self) -> Floats:
        """The points that the tile's faces use (V, 3) [mm]."""
        return self._own()[0]

    def corners(self) -> Floats:
        """The triangles (K, 3, 3) [mm]."""
        points, triangles = self._own()
        return points[triangles]

    def skin(self) -> Skin:
        """The tile as a whole for distances to bodies; built on first use (about 4 us a triangle)."""
        if self._skin is None:
            self._skin = Skin(*self._own())
        return self._skin

    def pieces(self) -> "Pieces":
        """The tile in pieces, each of them built when it is first asked."""
        if self._pieces is None:
            self._pieces = Pieces(self.faces, *self._own())
        return self._pieces

    def drop_tree(self) -> None:
        """Forget what `nearest` and `turns` keep; it is built again when needed."""
        self._tree = self._round = None

    def nearest(self, points: Floats) -> tuple[Floats, Longs, Floats]:
        """Squared distance (N,) [mm2], face number (N,) and nearest point (N, 3) for points (N, 3)."""
        squared, face, at = self._near_tree().squared_distance(*self._own(), points)
        return squared.reshape(-1), self.faces[face.reshape(-1)], at.reshape(-1, 3)

    def turns(self, points: Floats, closely: float) -> Floats:
        """The tile's share of how many times the mesh goes round points (N, 3).

        closely : 4 is right to 1e-4 of a turn, 16 to 1e-6, with ten times the work (measured against the sum of all
            triangles' solid angles)
        """
        turns: Floats = self._turn_tree().winding_number(points, closely)
        return turns

    def knows_points(self, turning: bool) -> bool:
        """Whether all is there that `nearest` needs, and `turns` where that is asked for."""
        return self._tree is not None and (not turning or self._round is not None)

    def know_points(self, turning: bool) -> None:
        """Make ready for `nearest`, and for `turns` (about 1 us a triangle each)."""
        self._near_tree()
        if turning:
            self._turn_tree()

    def _near_tree(self) -> igl.AABB:
        tree = self._tree
        if tree is None:
            tree = igl.AABB()
            tree.init(*self._own())
            self._tree = tree
            _with_trees.add(self)
        return tree

    def _turn_tree(self) -> igl.FastWindingNumberBVH:
        tree = self._round
        if tree is None:
            tree = igl.FastWindingNumberBVH()
            tree.init(*self._own())
            self._round = tree
            _with_trees.add(self)
        return tree


class Pieces:
    """A tile cut once more, small enough that building what comes near takes little and what does not, nothing.

    What a body is told of them does not hang on which of them are built.

    boxes : boxes (T, 2, 3) of the pieces [mm]
    """

    __slots__ = ("_faces", "_groups", "_points", "_skins", "_triangles", "boxes")

    def __init__(self, faces: Longs, points: Floats, triangles: Longs) -> None:
        self._faces, self._points, self._triangles = faces, points, triangles
        corners = points.take(triangles.T, axis=0)
        order, starts = _in_squares(corners[0] + corners[1] + corners[2], PIECE_TRIANGLES)
        self._groups = np.split(order, starts[1:])
        self._skins: list[Skin | None] = [None] * len(starts)
        corners = corners.take(order, axis=1)
        self.boxes: Floats = np.stack(
            [
                np.minimum.reduceat(corners.min(axis=0), starts, axis=0),
                np.maximum.reduceat(corners.max(axis=0), starts, axis=0),
            ],
            axis=1,
        )

    @property
    def built(self) -> bool:
        """Whether all of them are."""
        return None not in self._skins

    def build(self) -> None:
        """Build all of them."""
        for at in range(len(self._skins)):
            self.skin(at)

    def skin(self, at: int) -> Skin:
        """One piece for distances to bodies; built on first use."""
        skin = self._skins[at]
        if skin is None:
            used, local = np.unique(self._triangles.take(self._groups[at], axis=0), return_inverse=True)
            skin = Skin(self._points.take(used, axis=0), local.reshape(-1, 3))
            self._skins[at] = skin
        return skin

    def foremost(self, at: int, way: Floats, within_mm: float) -> Floats:
        """Points (K, 3) of one piece that lie first along a unit way (3,), and those hardly behind them."""
        used = np.unique(self._triangles.take(self._groups[at], axis=0))
        points = self._points.take(used, axis=0)
        along = points @ way
        foremost: Floats = points[along <= along.min() + within_mm]
        return foremost

    def face(self, at: int, face: int) -> int:
        """The number in the whole mesh of a face of one piece."""
        return int(self._faces[self._groups[at][face]])


def _in_squares(middles: Floats, at_most: int) -> tuple[Longs, Longs]:
    """Rows (N,) of places (N, 3) in groups that lie close together, and where in that order each group begins.

    In strips across the longest side and those in pieces along the next one: a scan is a sheet.
    """
    count = len(middles)
    size = np.ptp(middles, axis=0)
    _, next_, along = np.argsort(size, kind="stable").tolist()
    groups = -(-count // at_most)
    strips = min(max(round(math.sqrt(groups * size[along] / max(size[next_], 1e-9))), 1), groups)
    each = -(-groups // strips)
    starts = np.arange(strips * each) * count // (strips * each)
    order = np.argsort(middles[:, along], kind="stable")
    for first, last in zip(starts[::each].tolist(), [*starts[each::each].tolist(), count], strict=True):
        strip = order[first:last]
        order[first:last] = strip[np.argsort(middles[strip, next_], kind="stable")]
    return order, starts


def box_gaps(bounds: Floats, least: Floats, greatest: Floats) -> Floats:
    """Distance (T,) [mm] from boxes (T, 2, 3) to the box between two corners (3,); 0 where they overlap."""
    out = np.maximum(np.maximum(bounds[:, 0] - greatest, least - bounds[:, 1]), 0.0)
    gaps: Floats = np.sqrt(np.einsum("ij,ij->i", out, out))
    return gaps


def nearest_on(tiles: Sequence[Tile], bounds: Floats, points: Floats) -> tuple[Floats, Longs, Floats]:
    """Distance (N,) [mm], face number (N,) and nearest point (N, 3) on tiles with boxes (T, 2, 3); exact.

    Each point asks the tile whose box is nearest, then only the tiles whose boxes are no farther than what it found.
    """
    best = np.full(len(points), np.inf)
    face = np.zeros(len(points), dtype=np.int64)
    nearest = np.zeros((len(points), 3))
    # Points that lie together ask the same few tiles.
    order = along_curve(points) if len(points) > _POINTS_AT_ONCE else np.arange(len(points))
    for start in range(0, len(points), _POINTS_AT_ONCE):
        part = order[start : start + _POINTS_AT_ONCE]
        near = _near_tiles(bounds, points[part])
        best[part], face[part], nearest[part] = _nearest_on(
            [tiles[at] for at in near], bounds[near], points[part]
        )
    return np.sqrt(best), face, nearest


def _near_tiles(bounds: Floats, points: Floats) -> list[int]:
    """Tiles that may hold the nearest place of any of some points: others are farther than one whole tile."""
    low, high = points.min(axis=0), points.max(axis=0)
    gap = box_gaps(bounds, low, high)
    across = np.maximum(np.maximum(high - bounds[:, 0], bounds[:, 1] - low), 0.0)
    farthest = np.sqrt(np.einsum("ij,ij->i", across, across)).min()
    near: list[int] = np.flatnonzero(gap <= farthest).tolist()
    return near


def _nearest_on(tiles: Sequence[Tile], bounds: Floats, points: Floats) -> tuple[Floats, Longs, Floats]:
    best = np.full(len(points), np.inf)
    face = np.zeros(len(points), dtype=np.int64)
    nearest = np.zeros((len(points), 3))
    bound = _point_gaps(bounds, points)
    first = bound.argmin(axis=0)

    def ask(at: int, rows: Longs) -> None:
        squared, faces, on = tiles[at].nearest(points[rows])
        better = squared < best[rows]
        rows = rows[better]
        best[rows], face[rows], nearest[rows] = squared[better], faces[better], on[better]

    for at in np.unique(first).tolist():
        ask(at, np.flatnonzero(first == at))
    bound[first, np.arange(len(points))] = np.inf
    least = bound.min(axis=1)
    for at in np.argsort(least, kind="stable").tolist():
        if least[at] > best.max():
            break
        rows = np.flatnonzero(bound[at] <= best)
        if len(rows):
            ask(at, rows)
    return best, face, nearest


def _point_gaps(bounds: Floats, points: Floats) -> Floats:
    """Squared distance (T, N) [mm2] from boxes (T, 2, 3) to points (N, 3)."""
    squared = np.zeros((len(bounds), len(points)))
    for axis in range(3):
        low = bounds[:, 0, axis][:, None] - points[:, axis]
        high = points[:, axis] - bounds[:, 1, axis][:, None]
        out = np.maximum(np.maximum(low, high), 0.0)
        squared += out * out
    return squared
