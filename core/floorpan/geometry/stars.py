"""Triangles between points without faces, by agreement.

Each point looks at its neighbours along the normal of the sheet there and takes the Delaunay triangles around itself in
that view: its star. A triangle counts where all three of its corners have it in their stars. Round every point the
triangles of one star do not overlap, so what all agree on is a sheet: no edge has more than two faces. Where the
views of neighbours differ, at sharp bends and in roughness, a little stays open for `ears` to close.

Stars of directional neighbours after M. Gopi, S. Krishnan, C. Silva, "Surface reconstruction based on lower dimensional
localized Delaunay triangulation", Eurographics 2000. A star is the convex hull of the neighbours turned inside out:
x / |x|^2; here hulls of many points are pruned side by side.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from floorpan.geometry.mesh import Floats, Ints
from floorpan.geometry.normals import unit
from floorpan.progress import Step, Work

Longs = NDArray[np.int64]

_FEWEST_NEIGHBOURS = 16
_OF_SPACING = 8
_OF_NORMAL = 16
_AT_ONCE = 25_000
_ROUNDS = 3
_WILD_MEDIANS = 2.5
_SMOOTHED = 3
# A neighbour this steep off the sheet belongs to another one, unless roughness alone lifts it as far.
_STEEP = math.tan(math.radians(60.0))
_ROUGH_SPACINGS = 0.5
# Points of a grid lie on circles by fours; shaken by this share of the way to their nearest, all settle the tie alike.
_SHAKEN = 0.03


@dataclass(frozen=True, slots=True, eq=False)
class Around:
    """What is around each of N points.

    near    : (N, K) their nearest others, nearest first
    spacing_mm : (N,) side of the square a point has to itself [mm]: its eight nearest, and the median of theirs
    nearest_mm : (N,) to the nearest other [mm]
    """

    near: Ints
    spacing_mm: Floats
    nearest_mm: Floats


def around(points: Floats, widest_gap: float) -> Work[Around]:
    """Neighbours of points (N, 3) [mm], four at least, no two of them equal.

    widest_gap : as many neighbours are taken as half a circle of so many spacings holds: a rim sees that far across
    """
    tree = cKDTree(points)
    width = max(math.ceil(math.pi * widest_gap**2 / 2.0), _FEWEST_NEIGHBOURS)
    width = min(width, len(points) - 1)
    near = np.zeros((len(points), width), dtype=np.int32)
    nearest, spacing = np.zeros(len(points)), np.zeros(len(points))
    few = min(_OF_SPACING, width)
    for rows in _chunks(len(points)):
        yield Step(rows.start / len(points), "Looking at neighbours")
        away, found = map(np.asarray, tree.query(points[rows], k=width + 1, workers=-1))
        near[rows] = found[:, 1:]
        nearest[rows] = away[:, 1]
        spacing[rows] = away[:, few] * math.sqrt(math.pi / few)
    return Around(near, np.median(spacing[near[:, :few]], axis=1), nearest)


def sheet_normals(points: Floats, found: Around) -> Work[Floats]:
    """Unit normals (N, 3) of the sheet at each point, either way round, even from point to point."""
    normals = np.zeros_like(points)
    near = found.near[:, :_OF_NORMAL]
    for rows in _chunks(len(points)):
        yield Step(0.8 * rows.start / len(points), "Laying planes")
        normals[rows] = _plane_normals(points[near[rows]])
    for turn in range(_SMOOTHED):
        yield Step(0.8 + 0.2 * turn / _SMOOTHED, "Laying planes")
        before = normals.copy()
        for rows in _chunks(len(points)):
            others = before[near[rows]]
            same = np.sign(np.einsum("ik,ijk->ij", before[rows], others))
            normals[rows] = unit(before[rows] + np.einsum("ij,ijk->ik", same, others))
    return normals


def agreed_triangles(points: Floats, normals: Floats, found: Around, widest_mm: Floats) -> Work[Ints]:
    """Triangles (T, 3) that all their corners have in their stars.

    widest_mm : (N,) neighbours farther away [mm] have no part in a point's star
    """
    shaken = points + np.random.default_rng(0).normal(0.0, _SHAKEN, points.shape) * found.nearest_mm[:, None]
    held = [np.zeros((0, 3), dtype=np.int32)]
    for rows in _chunks(len(points)):
        yield Step(0.9 * rows.start / len(points), "Joining points")
        held.append(_stars(shaken, normals[rows], found, widest_mm[rows], rows))
    yield Step(0.9, "Joining points")
    return _unanimous(np.concatenate(held))


def _chunks(count: int) -> list[slice]:
    return [slice(start, min(start + _AT_ONCE, count)) for start in range(0, count, _AT_ONCE)]


def _plane_normals(patches: Floats) -> Floats:
    """Normals (K, 3) of planes through patches (K, N, 3), the wild points of each left out."""
    weight = np.ones(patches.shape[:2])
    normal = np.zeros((len(patches), 3))
    for _ in range(_ROUNDS):
        middle = np.einsum("ij,ijk->ik", weight, patches) / weight.sum(axis=1, keepdims=True)
        spread = patches - middle[:, None, :]
        weighed = spread * weight[:, :, None]
        normal = np.linalg.eigh(weighed.transpose(0, 2, 1) @ spread)[1][:, :, 0]
        off = np.abs(np.einsum("ijk,ik->ij", spread, normal))
        weight = (off <= _WILD_MEDIANS * np.maximum(np.median(off, axis=1, keepdims=True), 1e-12)).astype(
            float
        )
    return normal


def _stars(points: Floats, normals: Floats, found: Around, widest: Floats, rows: slice) -> Ints:
    """Triangles of the stars of some points, corners of each in rising order."""
    to = found.near[rows]
    way = points[to] - points[rows][:, None, :]
    up = np.einsum("ijk,ik->ij", way, normals)
    aside = np.where(np.abs(normals[:, :1]) < 0.8, [[1.0, 0.0, 0.0]], [[0.0, 1.0, 0.0]])
    first = unit(np.cross(normals, aside))
    u = np.einsum("ijk,ik->ij", way, first)
    v = np.einsum("ijk,ik->ij", way, np.cross(normals, first))
    flat2 = u * u + v * v
    rough = _ROUGH_SPACINGS * found.spacing_mm[rows][:, None]
    seen = (flat2 + up * up <= widest[:, None] ** 2) & (flat2 > 0.0)
    seen &= np.abs(up) <= np.maximum(_STEEP * np.sqrt(flat2), rough)
    turn = np.where(seen, np.arctan2(v, u), np.inf)
    order = np.argsort(turn, axis=1)
    kept = np.take_along_axis(seen, order, axis=1)
    scale = 1.0 / np.where(seen, flat2, 1.0)
    u, v, to = (np.take_along_axis(one, order, axis=1)[kept] for one in (u * scale, v * scale, to))
    at, u, v, to = _pruned(np.nonzero(kept)[0], u, v, to)
    after, _ = _ring(at)
    real = u * v[after] - v * u[after] > 0.0
    corners = np.column_stack([at + rows.start, to, to[after]])[real]
    return np.sort(corners, axis=1).astype(np.int32)


def _pruned(at: Longs, u: Floats, v: Floats, to: Ints) -> tuple[Longs, Floats, Floats, Ints]:
    """Rows of the same `at`, in turn round the origin, without those inside the hull of all of them."""
    while len(at):
        after, before = _ring(at)
        u0, v0, u2, v2 = u[before], v[before], u[after], v[after]
        inside = (u0 * v2 - v0 * u2 > 0.0) & ((u2 - u0) * (v - v0) - (v2 - v0) * (u - u0) > 0.0)
        if not inside.any():
            break
        left = ~inside
        at, u, v, to = at[left], u[left], v[left], to[left]
    return at, u, v, to


def _ring(at: Longs) -> tuple[Longs, Longs]:
    """The row after and the row before each row, going round within rows of the same `at`."""
    fresh = np.concatenate([[True], at[1:] != at[:-1]]) if len(at) else np.zeros(0, dtype=bool)
    first = np.flatnonzero(fresh)
    last = np.append(first[1:], len(at))[: len(first)] - 1
    after, before = np.arange(len(at)) + 1, np.arange(len(at)) - 1
    after[last], before[first] = first, last
    return after, before


def _unanimous(corners: Ints) -> Ints:
    """Rows (T, 3) that are there three times."""
    order = np.lexsort((corners[:, 2], corners[:, 1], corners[:, 0]))
    corners = corners[order]
    same = (corners[1:] == corners[:-1]).all(axis=1)
    thrice: Ints = corners[2:][same[1:] & same[:-1]] if len(corners) > 2 else corners[:0]
    return thrice
