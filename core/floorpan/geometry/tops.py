"""How high a rounded convex solid stands over places of the ground: where a drop that falls there lands on it."""

import numpy as np

from floorpan.geometry.mesh import Floats
from floorpan.geometry.solids import Body, Solid, hull_faces
from floorpan.geometry.vertical import crossings

# Along Z but for less than this a line has no top of its own: its upper end has.
_UPRIGHT = 1e-12


def tops(body: Body, at_mm: Floats) -> Floats:
    """Greatest height (N,) of a body over places (N, 2) in its axes [mm]; minus infinity beside it.

    Exact for the rounded hulls: its skin is made of shifted faces, of rods along edges and of balls at corners, all of
    which lie in it, so the highest of them is its top.
    """
    highest = np.full(len(at_mm), -np.inf)
    for solid in body:
        reach = solid.hull.radius_mm
        low, high = solid.box()[:, :2] + [[-reach], [reach]]
        near = np.all((at_mm >= low) & (at_mm <= high), axis=1)
        if near.any():
            highest[near] = np.maximum(highest[near], _tops(solid, at_mm[near]))
    return highest


def _tops(solid: Solid, at_mm: Floats) -> Floats:
    points, faces = hull_faces(solid.points())
    corners, radius = points[faces], solid.hull.radius_mm
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    length = np.linalg.norm(normal, axis=1)
    real = length > 0.0
    shifted = corners[real] + radius * (normal[real] / length[real, None])[:, None]
    highest = np.full(len(at_mm), -np.inf)
    met = crossings(shifted, at_mm)
    np.maximum.at(highest, met.line, met.z)
    if radius > 0.0:
        edges = np.unique(np.sort(faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1), axis=0)
        highest = np.maximum(highest, _over_balls(points, radius, at_mm))
        highest = np.maximum(highest, _over_rods(points[edges], radius, at_mm))
    return highest


def _over_balls(points: Floats, radius: float, at_mm: Floats) -> Floats:
    aside = ((at_mm[:, None] - points[None, :, :2]) ** 2).sum(axis=2)
    rise = np.sqrt(np.maximum(radius**2 - aside, 0.0))
    over: Floats = np.where(aside <= radius**2, points[None, :, 2] + rise, -np.inf).max(axis=1)
    return over


def _over_rods(ends: Floats, radius: float, at_mm: Floats) -> Floats:
    """Over rods (E, 2, 3) without their ends: the upper place on a line that is a radius from the rod's axis."""
    way = ends[:, 1] - ends[:, 0]
    length = np.linalg.norm(way, axis=1)
    way, start, length = way[length > 0.0], ends[length > 0.0, 0], length[length > 0.0]
    along = way / length[:, None]
    level = 1.0 - along[:, 2] ** 2
    kept = level > _UPRIGHT
    along, start, length, level = along[kept], start[kept], length[kept], level[kept]
    if not len(along):
        return np.full(len(at_mm), -np.inf)
    aside = at_mm[:, None] - start[None, :, :2]
    run = np.einsum("nek,ek->ne", aside, along[:, :2])
    half = run * along[:, 2]
    left = half**2 - level * ((aside**2).sum(axis=2) - run**2 - radius**2)
    rise = (half + np.sqrt(np.maximum(left, 0.0))) / level
    foot = run + rise * along[:, 2]
    met = (left >= 0.0) & (foot >= 0.0) & (foot <= length)
    over: Floats = np.where(met, start[:, 2] + rise, -np.inf).max(axis=1)
    return over
