"""Rounded convex solids: the stuff that placed things are made of.

A `Hull` is the convex hull of a few points, dilated by a radius. One point is a ball, two a capsule, eight a
(rounded) box, two rings of points a cone frustum. Distances to such a solid are distances to its hull less its
radius, so balls and capsules carry no facet error at all; rings state theirs in `facet_mm`.
"""

from collections.abc import Sequence
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull, QhullError

from floorpan.frames import STILL, Pose
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.tiles import Tile

Floats = NDArray[np.float64]

# Points whose thickness is less than this share of their width lie in a plane, or on a line.
_FLAT = 1e-9


class Uneven(Protocol):
    """What a hull that need not be convex knows of itself, in its own coordinates [mm]."""

    @property
    def tiles(self) -> Sequence[Tile]:
        """Its skin in tiles, each made ready for distances when it is needed."""
        ...

    @property
    def boxes(self) -> Floats:
        """Boxes (T, 2, 3) of the tiles."""
        ...

    def one_each(self) -> Floats:
        """A point (K, 3) of each piece that hangs together."""
        ...

    def depths(self, points: Floats) -> tuple[Floats, Floats]:
        """How deep points (N, 3) lie inside (N,), negative outside, and the unit way out of each (N, 3)."""
        ...


class Hull:
    """The convex hull of points (K, 3) [mm] dilated by radius_mm; compared by identity.

    facet_mm : how far the hull may stand outside the true round shape it stands for [mm] (one-sided; the
               hull is never inside it)
    """

    __slots__ = ("__dict__", "__weakref__", "facet_mm", "points", "radius_mm")

    def __init__(self, points: Floats, radius_mm: float = 0.0, facet_mm: float = 0.0) -> None:
        held = np.ascontiguousarray(points, dtype=np.float64).reshape(-1, 3)
        held.setflags(write=False)
        self.points: Floats = held
        self.radius_mm = float(radius_mm)
        self.facet_mm = float(facet_mm)

    @property
    def uneven(self) -> Uneven | None:
        """None for a convex hull; else what tells its inside (see `mesh_solids`): `points` are its outermost then."""
        return None

    def skin(self) -> Mesh:
        """The undilated hull as triangles (degenerate ones for a point, a segment or a flat outline)."""
        return Mesh(*hull_faces(self.points))


class Solid:
    """A hull standing in car axes at a pose; compared by identity, never changed."""

    __slots__ = ("_box", "_points", "hull", "pose")

    def __init__(self, hull: Hull, pose: Pose = STILL) -> None:
        self.hull = hull
        self.pose = pose
        self._points: Floats | None = None
        self._box: Floats | None = None

    def points(self) -> Floats:
        """Hull points in car axes (K, 3) [mm], worked out once."""
        if self._points is None:
            self._points = self.pose.apply(self.hull.points)
        return self._points

    def box(self) -> Floats:
        """Least and greatest corner (2, 3) of the undilated hull in car axes [mm], worked out once."""
        if self._box is None:
            points = self.points()
            self._box = np.stack([points.min(axis=0), points.max(axis=0)])
        return self._box


Body = tuple[Solid, ...]


def hull_faces(points: Floats) -> tuple[Floats, NDArray[np.int32]]:
    """Triangles of the convex hull of points, oriented outward; degenerate where the points are."""
    count = len(points)
    if count <= 3:
        last = count - 1
        return points, np.array([[0, min(1, last), min(2, last)]], dtype=np.int32)
    middle = points.mean(axis=0)
    _, spread, axes = np.linalg.svd(points - middle, full_matrices=False)
    if spread[2] <= _FLAT * max(float(spread[0]), 1e-300):
        return points, _flat_faces((points - middle) @ axes.T, spread)
    try:
        hull: Any = ConvexHull(points)
    except QhullError:
        return points, _flat_faces((points - middle) @ axes.T, spread)
    faces = hull.simplices.astype(np.int32)
    corners = points[faces]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    inward = np.einsum("ij,ij->i", normal, corners[:, 0] - middle) < 0
    faces[inward] = faces[inward][:, ::-1]
    return points, faces


def _flat_faces(at: Floats, spread: Floats) -> NDArray[np.int32]:
    """Triangles of points that lie in a plane, on a line or in one place, given along their principal axes."""
    if spread[1] <= _FLAT * max(float(spread[0]), 1e-300):
        ends = int(at[:, 0].argmin()), int(at[:, 0].argmax())
        return np.array([[ends[0], ends[1], ends[1]]], dtype=np.int32)
    outline: Any = ConvexHull(at[:, :2])
    around = outline.vertices
    fan = [[around[0], around[k], around[k + 1]] for k in range(1, len(around) - 1)]
    return np.array(fan, dtype=np.int32)


def ball(at_mm: Floats, radius_mm: float) -> Hull:
    """A sphere about a point."""
    return Hull(np.asarray(at_mm, dtype=float).reshape(1, 3), radius_mm)


def capsule(a_mm: Floats, b_mm: Floats, radius_mm: float) -> Hull:
    """A rod with round ends between two points."""
    return Hull(np.array([a_mm, b_mm], dtype=float), radius_mm)


def box(least_mm: Floats, greatest_mm: Floats, radius_mm: float = 0.0) -> Hull:
    """An upright box between two corners; with a radius its edges are round and its outside stays the same."""
    low = np.asarray(least_mm, dtype=float) + radius_mm
    high = np.asarray(greatest_mm, dtype=float) - radius_mm
    grid = np.array(
        [[x, y, z] for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]
    )
    return Hull(grid, radius_mm)


def frustum(
    low_mm: float, high_mm: float, low_radius_mm: float, high_radius_mm: float, sides: int = 48
) -> Hull:
    """A cone frustum about Z from low to high, drawn around the true circle so that it is never inside it."""
    around = np.linspace(0.0, 2 * np.pi, sides, endpoint=False)
    circle = np.column_stack([np.cos(around), np.sin(around)]) / np.cos(np.pi / sides)
    rings = [
        np.column_stack([circle * radius, np.full(sides, z)])
        for z, radius in ((low_mm, low_radius_mm), (high_mm, high_radius_mm))
    ]
    facet = max(low_radius_mm, high_radius_mm) * (1 / np.cos(np.pi / sides) - 1)
    return Hull(np.vstack(rings), 0.0, float(facet))
