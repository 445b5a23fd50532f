"""How deep a body stands in or behind an open surface.

Two measures, the greater counts: how far the deepest point of a solid's skin lies behind the surface (its
distance to the surface), and how deep the deepest point of the surface lies inside a solid (its distance to the
nearest plane of the hull). The first is right for a part sunk through a sheet, the second for a stud that pokes
into a part. The solid's radius is added to both.

Skin points are taken at corners and spread over faces, so a depth between them is missed by at most the distance to
the next one; that a body crosses the surface does not hang on them.
"""

import math
from weakref import WeakKeyDictionary

import numpy as np

from floorpan.geometry.mesh import Floats
from floorpan.geometry.solids import Hull

_samples: WeakKeyDictionary[Hull, Floats] = WeakKeyDictionary()

_SKIN_POINTS = 200
_MOST_STEPS = 12


def skin_points(hull: Hull) -> Floats:
    """Points (N, 3) on the undilated skin in the hull's own coordinates: corners and points spread over faces."""
    held = _samples.get(hull)
    if held is None:
        held = _spread(hull)
        held.setflags(write=False)
        _samples[hull] = held
    return held


def _spread(hull: Hull) -> Floats:
    skin = hull.skin()
    corner = skin.points[skin.faces]
    area = np.linalg.norm(np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]), axis=1) / 2.0
    total = float(area.sum())
    if total <= 0.0:
        return _on_line(skin.points)
    spacing = math.sqrt(total / _SKIN_POINTS)
    pieces = [skin.points[np.unique(skin.faces)]]
    pieces += [_grid_on(triangle, spacing) for triangle in corner]
    return np.unique(np.vstack(pieces), axis=0)


def _on_line(points: Floats) -> Floats:
    """A point, or a segment with points along it."""
    if len(points) == 1:
        return points
    share = np.linspace(0.0, 1.0, 33)[:, None]
    return np.vstack([points[0] + share * (end - points[0]) for end in points[1:]])


def _grid_on(triangle: Floats, spacing: float) -> Floats:
    """Points of a triangle no farther apart than spacing along its sides, corners included."""
    longest = max(float(np.linalg.norm(triangle[k] - triangle[k - 1])) for k in range(3))
    steps = max(1, min(_MOST_STEPS, math.ceil(longest / spacing)))
    share = np.array([[i, j, steps - i - j] for i in range(steps + 1) for j in range(steps + 1 - i)]) / steps
    points: Floats = share @ triangle
    return points
