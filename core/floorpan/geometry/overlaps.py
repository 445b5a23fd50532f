"""How deep two solids overlap of which one at least is a mesh.

The deepest point of either inside the other counts, by its distance to the other's surface, plus both radii. Points
are the corners of each and some spread over its faces, so that a depth between them is missed by at most the way to
the next one; that two overlap does not hang on them: skins that cross without a point inside are 0 deep, less the
radii.
"""

import numpy as np

from floorpan.geometry.depth import skin_points
from floorpan.geometry.mesh import Floats
from floorpan.geometry.near import Near, unit_to, vector
from floorpan.geometry.skin_tree import Apart
from floorpan.geometry.skins import deepest_inside
from floorpan.geometry.solids import Solid

_UP = np.array([0.0, 0.0, 1.0])


def overlap(solid: Solid, other: Solid, apart: Apart, index: int, other_index: int) -> Near:
    """The depth as a negative gap; `away` is the way to move the first solid."""
    depth, first, second, way = 0.0, apart.first, apart.second, _between(solid, other)
    for one, two, sign in ((solid, other, 1.0), (other, solid, -1.0)):
        found = _deepest(one, two)
        if found is not None and found[0] > depth:
            depth, point, out = found
            way = sign * out
            ends = (point, point + depth * out)
            first, second = ends if sign > 0.0 else ends[::-1]
    radius, other_radius = solid.hull.radius_mm, other.hull.radius_mm
    distance = -depth - radius - other_radius
    return Near(
        distance_mm=float(distance),
        on_body=vector(first - way * radius),
        on_surface=vector(second + way * other_radius),
        away=vector(way),
        solid_index=index,
        other_index=other_index,
        floor_mm=float(distance),
    )


def _deepest(one: Solid, two: Solid) -> tuple[float, Floats, Floats] | None:
    """The point of one's skin that is deepest in two: how deep, where, and the way out; None where none is inside."""
    low, high = two.box()
    points = one.pose.apply(skin_points(one.hull))
    points = points[((points >= low) & (points <= high)).all(axis=1)]
    found = deepest_inside(two, points)
    return None if found is None else (found[1], points[found[0]], found[2])


def _between(solid: Solid, other: Solid) -> Floats:
    """From the middle of the other to the middle of the first."""
    return unit_to(other.box().mean(axis=0), solid.box().mean(axis=0), _UP)
