"""The convex hull of a few points cut into simplices, by trying all of them: slow, plain and sure."""

from itertools import combinations

import numpy as np

from floorpan.errors import BadValue
from floorpan.sample.shapes import Floats

MOST_POINTS = 150
_FLAT = 1e-9
_AT_ONCE = 20_000


def simplices(points: Floats) -> Floats:
    """Points, segments, triangles or tetrahedra, (S, 1 to 4, 3), that together fill the hull of points (k, 3).

    They meet or overlap, none reaches outside. A hull of more than 150 points is refused (BadValue).
    """
    points = np.unique(np.asarray(points, dtype=np.float64).reshape(-1, 3), axis=0)
    if not 1 <= len(points) <= MOST_POINTS:
        raise BadValue(
            "hull-size",
            f"A hull is given by 1 to {MOST_POINTS} different points, not {len(points)}.",
            "Give the corners of the body only.",
        )
    spread = _independent(points)
    if len(spread) == 1:
        return points[None, :1]
    if len(spread) == 2:
        along = (points - points[0]) @ (spread[1] - spread[0])
        return points[None, [int(along.argmin()), int(along.argmax())]]
    if len(spread) == 3:
        normal = np.cross(spread[1] - spread[0], spread[2] - spread[0])
        return _fan(points, points[_one_sided_pairs(points, normal)])
    return _fan(points, points[_one_sided_triples(points)])


def _independent(points: Floats) -> Floats:
    """Up to four of the points that span what all of them span."""
    size = float(np.abs(points - points[0]).max())
    chosen = [points[0]]
    rest = points - points[0]
    for _ in range(3):
        length = np.sqrt(np.sum(rest * rest, axis=1))
        far = int(length.argmax())
        if length[far] <= _FLAT * max(size, 1.0):
            break
        chosen.append(points[far])
        axis = rest[far] / length[far]
        rest = rest - np.sum(rest * axis, axis=1)[:, None] * axis
    return np.array(chosen)


def _fan(points: Floats, facets: Floats) -> Floats:
    """Every facet (F, m, 3) joined to the middle of the points."""
    middle = np.broadcast_to(points.mean(axis=0), (len(facets), 1, 3))
    return np.concatenate((middle, facets), axis=1)


def _one_sided_pairs(points: Floats, normal: Floats) -> Floats:
    pairs = np.array(list(combinations(range(len(points)), 2)))
    along = points[pairs[:, 1]] - points[pairs[:, 0]]
    one_sided = _one_sided(points, points[pairs[:, 0]], np.cross(along, normal))
    return np.asarray(pairs[one_sided])


def _one_sided_triples(points: Floats) -> Floats:
    triples = np.array(list(combinations(range(len(points)), 3)))
    kept = []
    for start in range(0, len(triples), _AT_ONCE):
        part = triples[start : start + _AT_ONCE]
        first = points[part[:, 0]]
        normals = np.cross(points[part[:, 1]] - first, points[part[:, 2]] - first)
        kept.append(part[_one_sided(points, first, normals)])
    return np.concatenate(kept)


def _one_sided(points: Floats, first: Floats, normals: Floats) -> Floats:
    """Whether all points lie on one side of each plane through first (F, 3); planes without a normal do not count."""
    length = np.sqrt(np.sum(normals * normals, axis=1))
    real = length > _FLAT * max(float(length.max()), 1e-300)
    unit = normals / np.where(real, length, 1.0)[:, None]
    off = unit @ points.T - np.sum(unit * first, axis=1)[:, None]
    slack = _FLAT * max(float(np.abs(points).max()), 1.0)
    return np.asarray(real & (np.all(off <= slack, axis=1) | np.all(off >= -slack, axis=1)))
