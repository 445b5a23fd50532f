"""The least distance of two triangle meshes over all pairs within reach, from the closed forms alone.

Of two triangles that do not cross, the nearest points are a corner and the inside of the other triangle, or lie on
an edge of each. A corner over the inside of a triangle is as far as its plane; two edges are as far as two inner
points whose line is square to both, or as an end of one from the other. All in float64, none of the library's code.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

Floats = NDArray[np.float64]
Corners = Floats
"""Triangles (N, 3, 3) [mm]."""

_AT_ONCE = 20_000


class Reference:
    """A mesh to measure to: its triangles, their boxes, and a tree of its points for a first upper bound."""

    def __init__(self, points: Floats, faces: NDArray[np.int32]) -> None:
        self.corners: Corners = points[faces]
        self.low = np.ascontiguousarray(self.corners.min(axis=1).T)
        self.high = np.ascontiguousarray(self.corners.max(axis=1).T)
        self._tree = cKDTree(points)

    def distance(self, other: Corners) -> float:
        """Least distance [mm] to the triangles of another mesh (M, 3, 3); 0 where they cross."""
        reach = float(self._tree.query(_spread(other))[0].min())
        rows = self._within(other.min(axis=(0, 1)), other.max(axis=(0, 1)), reach, np.arange(0))
        best = reach
        for one in other:
            near = self._within(one.min(axis=0), one.max(axis=0), best, rows)
            for start in range(0, len(near), _AT_ONCE):
                corners = self.corners[near[start : start + _AT_ONCE]]
                best = min(best, float(pair_distances(np.broadcast_to(one, corners.shape), corners).min()))
        return best

    def _within(self, low: Floats, high: Floats, reach: float, rows: NDArray[np.int64]) -> NDArray[np.int64]:
        """Which triangles' boxes come within reach of a box, of all or of some."""
        squared: Floats = np.zeros(())
        for axis in range(3):
            least, greatest = self.low[axis], self.high[axis]
            if len(rows):
                least, greatest = least[rows], greatest[rows]
            squared = squared + np.maximum(np.maximum(least - high[axis], low[axis] - greatest), 0.0) ** 2
        found = np.flatnonzero(squared <= (reach + 1e-6) ** 2)
        return rows[found] if len(rows) else found


def pair_distances(one: Corners, two: Corners) -> Floats:
    """Least distance (N,) of triangle k of one and triangle k of two (N, 3, 3) each; 0 where they cross.

    A triangle without area counts as the segment, or the point, that it is.
    """
    best = np.minimum(_over_faces(one, two), _over_faces(two, one))
    for i in range(3):
        for j in range(3):
            a, b = one[:, i], one[:, (i + 1) % 3]
            c, d = two[:, j], two[:, (j + 1) % 3]
            best = np.minimum(best, _between_insides(a, b, c, d))
            best = np.minimum(best, np.minimum(_to_segment(a, c, d), _to_segment(c, a, b)))
    best[_pierces(one, two) | _pierces(two, one)] = 0.0
    return best


def _over_faces(points: Corners, faces: Corners) -> Floats:
    """Plane distance of the corners that lie over the inside of the other triangle, infinite for the others."""
    normal, length = _normals(faces)
    best = np.full(len(points), np.inf)
    for k in range(3):
        off = _dot(points[:, k] - faces[:, 0], normal)
        within = _inside(points[:, k] - off[:, None] * normal, faces, normal) & (length > 0.0)
        best = np.where(within, np.minimum(best, np.abs(off)), best)
    return best


def _pierces(edges: Corners, faces: Corners) -> NDArray[np.bool_]:
    """Where an edge of one triangle goes through the inside of the other."""
    normal, length = _normals(faces)
    through = np.zeros(len(edges), dtype=bool)
    off = np.stack([_dot(edges[:, k] - faces[:, 0], normal) for k in range(3)], axis=1)
    for k in range(3):
        start, end = off[:, k], off[:, (k + 1) % 3]
        crosses = (start * end <= 0.0) & (start != end) & (length > 0.0)
        share = np.divide(start, start - end, out=np.zeros_like(start), where=crosses)
        at = edges[:, k] + share[:, None] * (edges[:, (k + 1) % 3] - edges[:, k])
        through |= crosses & _inside(at, faces, normal)
    return through


def _inside(at: Floats, faces: Corners, normal: Floats) -> NDArray[np.bool_]:
    """Whether points in the planes of triangles lie on the inner side of all three edges."""
    within = np.ones(len(at), dtype=bool)
    for k in range(3):
        start, end = faces[:, k], faces[:, (k + 1) % 3]
        within &= _dot(np.cross(end - start, at - start), normal) >= 0.0
    return within


def _to_segment(points: Floats, start: Floats, end: Floats) -> Floats:
    """Distance of points from segments."""
    way = end - start
    length = _dot(way, way)
    share = np.divide(_dot(points - start, way), length, out=np.zeros_like(length), where=length > 0.0)
    gap = points - (start + np.clip(share, 0.0, 1.0)[:, None] * way)
    return np.sqrt(_dot(gap, gap))


def _between_insides(a: Floats, b: Floats, c: Floats, d: Floats) -> Floats:
    """Distance of segments a-b and c-d where it is between two inner points, infinite elsewhere."""
    one, two, off = b - a, d - c, a - c
    aa, bb, ab = _dot(one, one), _dot(two, two), _dot(one, two)
    along, across = _dot(one, off), _dot(two, off)
    # Segments nearly side by side are told by their ends.
    below = aa * bb - ab * ab
    skew = below > 1e-12 * aa * bb
    s = np.divide(ab * across - bb * along, below, out=np.full_like(below, -1.0), where=skew)
    t = np.divide(aa * across - ab * along, below, out=np.full_like(below, -1.0), where=skew)
    gap = off + s[:, None] * one - t[:, None] * two
    within = skew & (s >= 0.0) & (s <= 1.0) & (t >= 0.0) & (t <= 1.0)
    return np.where(within, np.sqrt(_dot(gap, gap)), np.inf)


def _normals(faces: Corners) -> tuple[Floats, Floats]:
    cross = np.cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0])
    length = np.sqrt(_dot(cross, cross))
    return np.divide(cross, length[:, None], out=np.zeros_like(cross), where=length[:, None] > 0.0), length


def _dot(a: Floats, b: Floats) -> Floats:
    product: Floats = np.einsum("ij,ij->i", a, b)
    return product


def _spread(corners: Corners) -> Floats:
    """Points all over triangles, corners among them: only for a first bound on how far to look."""
    steps = np.arange(9) / 8.0
    u, v = (one.ravel() for one in np.meshgrid(steps, steps))
    keep = u + v <= 1.0
    shares = np.column_stack([1.0 - u - v, u, v])[keep]
    points: Floats = np.einsum("sk,mkx->msx", shares, corners).reshape(-1, 3)
    return points
