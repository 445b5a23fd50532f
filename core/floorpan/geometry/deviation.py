"""How far two meshes are apart: from every point of either to the nearest place on the other."""

import math
from dataclasses import dataclass

import igl
import numpy as np

from floorpan.frames import Vector
from floorpan.geometry.curve import along_curve
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.near import NOWHERE, vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Deviation:
    """Distances between two meshes [mm], measured both ways at every point that a face uses.

    worst_mm : infinite where one of the two has no face
    where_mm : the point, of either mesh, that is farthest from the other; nowhere (not a number) without one
    points   : how many points were measured
    """

    mean_mm: float
    p99_mm: float
    worst_mm: float
    where_mm: Vector
    points: int


def deviation(mesh: Mesh, other: Mesh) -> Deviation:
    """How far two meshes are apart at their points, both ways; nearest distances, exact in double precision."""
    return Yardstick(mesh).deviation(other)


class Yardstick:
    """A mesh that others are held against, one after another; what takes long is made once.

    The library holds the interpreter while it asks: hold large meshes against each other in a process of its own.
    """

    def __init__(self, mesh: Mesh) -> None:
        self._mesh = mesh
        self._points = _used(mesh)
        self._tree: _Tree | None = None

    def strays(self, other: Mesh) -> Floats:
        """Distance (N,) [mm] from every used point of the mesh to the other one; quick where that has few faces."""
        return _Tree(other).distance(self._points)

    def deviation(self, other: Mesh, strays: Floats | None = None) -> Deviation:
        """Both ways; `strays` are the distances that `strays` told for the same mesh, where they are at hand."""
        there = self.strays(other) if strays is None else strays
        if self._tree is None:
            self._tree = _Tree(self._mesh)
        back_from = _used(other)
        off = np.concatenate([there, self._tree.distance(back_from)])
        if not len(off):
            return Deviation(mean_mm=0.0, p99_mm=0.0, worst_mm=0.0, where_mm=NOWHERE, points=0)
        at = int(off.argmax())
        where = self._points[at] if at < len(there) else back_from[at - len(there)]
        whole = math.isfinite(off[at])
        return Deviation(
            mean_mm=float(off.mean()),
            p99_mm=float(np.percentile(off, 99.0)) if whole else math.inf,
            worst_mm=float(off[at]),
            where_mm=vector(where),
            points=len(off),
        )


class _Tree:
    """Faces made ready for nearest distances."""

    def __init__(self, mesh: Mesh) -> None:
        self._points = mesh.points
        self._faces = mesh.faces.astype(np.int64)
        self._tree = igl.AABB()
        if len(self._faces):
            self._tree.init(self._points, self._faces)

    def distance(self, points: Floats) -> Floats:
        """Distance (N,) [mm] of points (N, 3)."""
        if not len(self._faces):
            return np.full(len(points), np.inf)
        if not len(points):
            return np.zeros(0)
        squared, _, _ = self._tree.squared_distance(self._points, self._faces, points)
        away: Floats = np.sqrt(squared.reshape(-1))
        return away


def _used(mesh: Mesh) -> Floats:
    """The points that faces use, those that lie together one after another."""
    used = np.zeros(len(mesh.points), dtype=bool)
    used[mesh.faces.ravel()] = True
    points = mesh.points[used]
    ordered: Floats = points[along_curve(points)]
    return ordered
