"""How deep a solid stands in or behind an open surface.

Two measures, the greater counts: how far the deepest point of the solid's skin lies behind the surface (its
distance to the surface), and how deep the deepest point of the surface lies inside the solid (its distance to the
nearest plane of the hull). The first is right for a part sunk through a sheet, the second for a stud that
pokes into a part. Skin points are taken at corners and over the faces, so a depth between them is missed by at
most half their spacing, which `spacing_mm` tells; the verdict does not hang on it.
"""

import math
from weakref import WeakKeyDictionary

import numpy as np

from floorpan.geometry.mesh import Floats
from floorpan.geometry.solids import Hull

_samples: WeakKeyDictionary[Hull, Floats] = WeakKeyDictionary()

_SKIN_POINTS = 240


def skin_points(hull: Hull) -> Floats:
    """Points (N, 3) on the undilated skin in the hull's own coordinates: corners first, then spread over faces."""
    held = _samples.get(hull)
    if held is None:
        held = _spread(hull)
        held.setflags(write=False)
        _samples[hull] = held
    return held


def spacing_mm(hull: Hull) -> float:
    """Greatest distance from a point of the skin to the next of `skin_points`, about [mm]."""
    skin = hull.skin()
    area = float(_areas(skin.points[skin.faces]).sum())
    return math.sqrt(area / max(_SKIN_POINTS - len(skin.points), 1))


def _spread(hull: Hull) -> Floats:
    skin = hull.skin()
    corner = skin.points[skin.faces]
    area = _areas(corner)
    total = float(area.sum())
    if total <= 0.0:
        ends = corner[0]
        share = np.linspace(0.0, 1.0, 33)[1:-1, None]
        return np.vstack([skin.points, *[ends[0] + share * (end - ends[0]) for end in ends[1:]]])
    spacing = math.sqrt(total / _SKIN_POINTS)
    pieces = [skin.points]
    for triangle, size in zip(corner, area, strict=True):
        if size > 0.0:
            pieces.append(_grid_on(triangle, spacing))
    return np.unique(np.vstack(pieces), axis=0)


def _grid_on(triangle: Floats, spacing: float) -> Floats:
    """Points of a triangle no farther apart than spacing along its sides, corners included."""
    longest = max(float(np.linalg.norm(triangle[k] - triangle[k - 1])) for k in range(3))
    steps = max(1, min(12, math.ceil(longest / spacing)))
    share = np.array([[i, j, steps - i - j] for i in range(steps + 1) for j in range(steps + 1 - i)]) / steps
    points: Floats = share @ triangle
    return points


def _areas(corner: Floats) -> Floats:
    areas: Floats = np.linalg.norm(np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]), axis=1) / 2.0
    return areas
