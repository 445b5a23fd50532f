"""A large mesh cut into tiles of a few thousand triangles, each made ready for distances when first needed."""

import atexit
from collections.abc import Sequence
from weakref import WeakSet

import igl
import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.curve import along_curve
from floorpan.geometry.mesh import Floats, Mesh, bounds_of
from floorpan.geometry.skin_tree import Skin

Longs = NDArray[np.int64]

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
    """

    __slots__ = ("__weakref__", "_mesh", "_part", "_round", "_skin", "_tree", "bounds", "faces")

    def __init__(self, mesh: Mesh, faces: Longs) -> None:
        self.faces = faces
        self._mesh = mesh
        self.bounds: Floats = bounds_of(mesh.points.take(mesh.faces.take(faces, axis=0).ravel(), axis=0))
        self._part: tuple[Floats, Longs] | None = None
        self._skin: Skin | None = None
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
        """Whether the skin for body distances is there."""
        return self._skin is not None

    @property
    def points(self) -> Floats:
        """The points that the tile's faces use (V, 3) [mm]."""
        return self._own()[0]

    def corners(self) -> Floats:
        """The triangles (K, 3, 3) [mm]."""
        points, triangles = self._own()
        return points[triangles]

    def skin(self) -> Skin:
        """The tile for distances to bodies; built on first use (about 4 us a triangle)."""
        if self._skin is None:
            self._skin = Skin(*self._own())
        return self._skin

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
