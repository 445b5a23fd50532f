"""Where two sheets of a scan lie one over the other and face the same way: passes of the scanner that disagree.

A line is sent out both ways along a point's normal. A second sheet is a face that this line goes through within
the distance asked for, that faces the same way within 45 degrees, and that is no neighbour of the point. A thin lip
faces opposite ways and is none; nor is a step, which no line along a normal goes through twice.
"""

import math
from collections.abc import Generator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix
from scipy.spatial import cKDTree

from floorpan.frames import Vector
from floorpan.geometry.mesh import Floats, Ints, Mesh
from floorpan.geometry.near import NOWHERE, vector
from floorpan.geometry.normals import face_areas, face_normals, unit
from floorpan.geometry.point_neighbours import corner_sums, joined_points, smooth_normals
from floorpan.progress import Step, Work

Bools = NDArray[np.bool_]
Longs = NDArray[np.int64]

_SAME_WAY = math.cos(math.radians(45.0))
# A rough face may stand steeper than its sheet, but a line along it has no crossing worth the name.
_GLANCING = 0.1
_AT_ONCE = 4_000
_TRIALS = 300
_MOST_PAIRS = 30_000_000
_PAIRS_AT_ONCE = 1_000_000


@dataclass(frozen=True, slots=True, eq=False)
class DoubleWalls:
    """How far two sheets of one scan disagree.

    points       : (K, 3) where it was asked [mm]: points of the mesh, all of them or an even sample
    thickness_mm : (K,) distance to the second sheet [mm]; NaN where there is none
    share        : share of the area that is double, 0 to 1
    median_mm, worst_mm, worst_at_mm : of the double part; 0, 0 and nowhere where there is none
    """

    points: Floats
    thickness_mm: Floats
    share: float
    median_mm: float
    worst_mm: float
    worst_at_mm: Vector


@dataclass(frozen=True, slots=True, eq=False)
class Crossings:
    """Where lines go through faces: line number, face number and signed way along the line [mm]."""

    line: Longs
    face: Longs
    along_mm: Floats


def double_walls(mesh: Mesh, *, within_mm: float, most_points: int = 200_000) -> Work[DoubleWalls]:
    """Thickness of the double part of a welded mesh [mm]; see the module for what counts as double."""
    yield Step(0.0, "Looking for double walls")
    near = joined_points(mesh)
    weight = _point_areas(mesh)
    used = np.flatnonzero(weight > 0.0)
    finder = LineFinder(mesh, within_mm, near)
    used = _sample(used, min(most_points, finder.affordable(mesh.points[used])))
    along = smooth_normals(mesh, near)[used]
    thickness = np.full(len(used), np.inf)
    search = finder.crossings(mesh.points[used], along)
    while True:
        try:
            done, met = next(search)
        except StopIteration:
            break
        apart = ~_neighbours(near, used[met.line], mesh.faces[met.face])
        np.minimum.at(thickness, met.line[apart], np.abs(met.along_mm[apart]))
        yield Step(done, "Looking for double walls")
    return _summed(mesh.points[used], thickness, weight[used])


def _summed(points: Floats, thickness: Floats, weight: Floats) -> DoubleWalls:
    double = np.isfinite(thickness)
    share = float(weight[double].sum() / weight.sum()) if len(weight) else 0.0
    if not double.any():
        return DoubleWalls(points, np.full(len(points), np.nan), share, 0.0, 0.0, NOWHERE)
    worst = int(np.where(double, thickness, -1.0).argmax())
    return DoubleWalls(
        points,
        np.where(double, thickness, np.nan),
        share,
        float(np.median(thickness[double])),
        float(thickness[worst]),
        vector(points[worst]),
    )


def _sample(used: Longs, most: int) -> Longs:
    if len(used) <= most:
        return used
    return np.sort(np.random.default_rng(1).choice(used, size=most, replace=False))


def _point_areas(mesh: Mesh) -> Floats:
    areas = np.repeat(face_areas(mesh) / 3.0, 3)
    return corner_sums(mesh, areas)


def _neighbours(near: csr_matrix, point: Longs, corners: Ints) -> Bools:
    """Whether any corner (K, 3) is the point (K,) itself or joined to it."""
    if not len(point):
        return np.zeros(0, dtype=bool)
    found: Bools = (corners == point[:, None]).any(axis=1)
    for k in range(3):
        found |= np.asarray(near[point, corners[:, k]]).ravel() > 0.0
    return found


class LineFinder:
    """Finds faces that lines along normals go through, both ways up to within_mm, and that face the same way.

    Faces are sorted by size, so that a few wide ones do not make every search wide.
    """

    def __init__(self, mesh: Mesh, within_mm: float, near: csr_matrix | None = None) -> None:
        self.mesh = mesh
        self.within_mm = within_mm
        self.normals = face_normals(mesh)
        self.facing: Floats = unit(smooth_normals(mesh, near)[mesh.faces].sum(axis=1))
        corner = mesh.points[mesh.faces]
        self.middle: Floats = corner.mean(axis=1)
        self.reach: Floats = np.linalg.norm(corner - self.middle[:, None, :], axis=2).max(axis=1, initial=0.0)
        self._classes: list[tuple[Longs, float, cKDTree]] = []
        size = np.ceil(np.log2(np.maximum(self.reach, 1e-6)))
        for step in np.unique(size):
            rows = np.flatnonzero(size == step)
            tree = cKDTree(self.middle[rows], balanced_tree=False, compact_nodes=False)
            self._classes.append((rows, within_mm + 2.0**step, tree))

    def affordable(self, points: Floats) -> int:
        """How many points can be asked about without more than a bearable number of pairs."""
        return max(int(_MOST_PAIRS / self._pairs_each(points)), 1)

    def _pairs_each(self, points: Floats) -> float:
        """About how many faces come into question for one point, 1 at least."""
        few = points[:: max(len(points) // _TRIALS, 1)]
        pairs = sum(
            int(np.sum(tree.query_ball_point(few, reach, return_length=True)))
            for _, reach, tree in self._classes
        )
        return max(pairs / max(len(few), 1), 1.0)

    def crossings(self, at: Floats, along: Floats) -> Generator[tuple[float, Crossings], None, None]:
        """Share done and crossings of lines (K, 3) with unit directions (K, 3), a handful of lines at a time."""
        at_once = min(max(int(_PAIRS_AT_ONCE / self._pairs_each(at)), 1), _AT_ONCE)
        for start in range(0, len(at), at_once):
            rows = slice(start, start + at_once)
            asking = cKDTree(at[rows], balanced_tree=False, compact_nodes=False)
            for faces, reach, tree in self._classes:
                pair = asking.sparse_distance_matrix(tree, reach, output_type="ndarray")
                line, face = pair["i"].astype(np.int64) + start, faces[pair["j"]]
                yield min(start + at_once, len(at)) / len(at), self._through(at, along, line, face)

    def _through(self, at: Floats, along: Floats, line: Longs, face: Longs) -> Crossings:
        same = np.einsum("ij,ij->i", along[line], self.facing[face]) >= _SAME_WAY
        same &= np.einsum("ij,ij->i", along[line], self.normals[face]) > _GLANCING
        line, face = line[same], face[same]
        way = self.middle[face] - at[line]
        ahead = np.einsum("ij,ij->i", way, along[line])
        aside2 = np.einsum("ij,ij->i", way, way) - ahead * ahead
        close = aside2 <= (self.reach[face] * (1.0 + 1e-9)) ** 2
        line, face, way = line[close], face[close], way[close]
        # Where the line meets the face's plane, and whether inside its three sides.
        normal = self.normals[face]
        distance = np.einsum("ij,ij->i", way, normal) / np.einsum("ij,ij->i", along[line], normal)
        foot = at[line] + along[line] * distance[:, None]
        corner = self.mesh.points[self.mesh.faces[face]]
        inside = np.abs(distance) <= self.within_mm
        for k in range(3):
            side = corner[:, (k + 1) % 3] - corner[:, k]
            inside &= np.einsum("ij,ij->i", np.cross(side, foot - corner[:, k]), normal) >= 0.0
        return Crossings(line[inside], face[inside], distance[inside])
