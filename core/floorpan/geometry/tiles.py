"""A large mesh cut into tiles of a few thousand triangles, each made ready for distances when first needed."""

import atexit
import math
from collections.abc import Sequence
from weakref import WeakSet

import igl
import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.curve import along_curve
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.skins import Skin

Longs = NDArray[np.int64]

TILE_TRIANGLES = 5000

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

    __slots__ = ("__weakref__", "_points", "_skin", "_tree", "_triangles", "bounds", "faces")

    def __init__(self, mesh: Mesh, faces: Longs) -> None:
        self.faces = faces
        part = mesh.faces[faces]
        used, local = np.unique(part, return_inverse=True)
        self._points: Floats = mesh.points[used]
        self._triangles: Longs = local.reshape(-1, 3).astype(np.int64)
        self.bounds: Floats = np.stack([self._points.min(axis=0), self._points.max(axis=0)])
        self._skin: Skin | None = None
        self._tree: igl.AABB | None = None

    @property
    def built(self) -> bool:
        """Whether the skin for body distances is there."""
        return self._skin is not None

    @property
    def points(self) -> Floats:
        """The points that the tile's faces use (V, 3) [mm]."""
        return self._points

    def corners(self) -> Floats:
        """The triangles (K, 3, 3) [mm]."""
        return self._points[self._triangles]

    def skin(self) -> Skin:
        """The tile for distances to bodies; built on first use (about 2 us a triangle)."""
        if self._skin is None:
            self._skin = Skin(self._points, self._triangles)
        return self._skin

    def drop_tree(self) -> None:
        """Forget what `nearest` keeps; it is built again when needed."""
        self._tree = None

    def nearest(self, points: Floats) -> tuple[Floats, Longs, Floats]:
        """Squared distance (N,) [mm2], face number (N,) and nearest point (N, 3) for points (N, 3)."""
        if self._tree is None:
            tree = igl.AABB()
            tree.init(self._points, self._triangles)
            self._tree = tree
            _with_trees.add(self)
        squared, face, at = self._tree.squared_distance(self._points, self._triangles, points)
        return squared.reshape(-1), self.faces[face.reshape(-1)], at.reshape(-1, 3)


def split(mesh: Mesh, at_most: int = TILE_TRIANGLES) -> tuple[Longs, ...]:
    """Face numbers in groups of at most `at_most`, close together: halved along their longest side."""
    if not len(mesh.faces):
        return ()
    middle = _middles(mesh)
    groups: list[Longs] = []
    waiting = [np.arange(len(mesh.faces))]
    while waiting:
        group = waiting.pop()
        if len(group) <= at_most:
            groups.append(np.sort(group))
            continue
        sides = [middle[axis][group] for axis in range(3)]
        along = max(sides, key=lambda side: float(side.max() - side.min()))
        # Whole tiles on one side keep the number of tiles least.
        half = math.ceil(len(group) / at_most / 2) * at_most
        order = np.argpartition(along, half)
        waiting += [group[order[half:]], group[order[:half]]]
    return tuple(groups)


def _middles(mesh: Mesh) -> list[Floats]:
    """Three times x, y and z of the faces' middles."""
    a, b, c = mesh.faces[:, 0], mesh.faces[:, 1], mesh.faces[:, 2]
    columns = (np.ascontiguousarray(mesh.points[:, axis]) for axis in range(3))
    return [column[a] + column[b] + column[c] for column in columns]


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
    for at in np.argsort(bound.min(axis=1), kind="stable").tolist():
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
