"""Least gap, or depth, between two bodies of rounded convex solids.

Apart: the distance of the undilated hulls less both radii, exact. Crossing: the least translation that parts the two
solids, which is the distance from the origin to the nearest facet of the hull of all differences of their corners
(the Minkowski difference), plus both radii, exact too; where one of them is a mesh, see `overlaps`. Between bodies of
several solids a depth is the greatest over pairs of solids: what it takes to part that pair, not the whole bodies.
"""

import math

import numpy as np
from scipy.spatial import ConvexHull, QhullError

from floorpan.geometry.mesh import Floats
from floorpan.geometry.near import NOTHING_NEAR, Near, vector
from floorpan.geometry.overlaps import overlap
from floorpan.geometry.skins import depth_inside, posed
from floorpan.geometry.solids import Body, Solid

# Nearer than this two hulls touch, and which way they part cannot be read from their nearest points [mm].
_TOUCH_MM = 1e-7
# Differences whose thickness is below this share of their width lie in a plane.
_FLAT = 1e-9
_SLACK_MM = 1e-9


def body_gap(body: Body, other: Body) -> Near:
    """Least signed gap between two bodies; `on_surface` lies on the other body, `other_index` names its solid."""
    if not body or not other:
        return NOTHING_NEAR
    own, theirs = [solid.box() for solid in body], [solid.box() for solid in other]
    bounds = sorted(
        (_box_gap(own[i], theirs[j]) - body[i].hull.radius_mm - other[j].hull.radius_mm, i, j)
        for i in range(len(body))
        for j in range(len(other))
    )
    best = NOTHING_NEAR
    for bound, i, j in bounds:
        # Boxes that overlap say nothing about how deep their solids are.
        if bound > max(best.distance_mm, 0.0) + _SLACK_MM:
            break
        found = solid_gap(body[i], other[j], i, j)
        if (found.distance_mm, i, j) < (best.distance_mm, best.solid_index, best.other_index):
            best = found
    return best


def solid_gap(solid: Solid, other: Solid, index: int = 0, other_index: int = 0) -> Near:
    """Least signed gap between two solids."""
    apart = posed(solid).apart(posed(other, twin=True))
    if apart.distance_mm <= _TOUCH_MM or _one_holds_other(solid, other):
        if solid.hull.uneven is not None or other.hull.uneven is not None:
            return overlap(solid, other, apart, index, other_index)
        return _crossing(solid, other, index, other_index)
    way = (apart.first - apart.second) / apart.distance_mm
    return _near(solid, other, (index, other_index), apart.distance_mm, apart.first, apart.second, way)


def _one_holds_other(solid: Solid, other: Solid) -> bool:
    own, theirs = solid.box(), other.box()
    if (own[0] > theirs[1]).any() or (theirs[0] > own[1]).any():
        return False
    inside = (depth_inside(other, _one_each(solid))[0] > 0.0).any()
    return bool(inside or (depth_inside(solid, _one_each(other))[0] > 0.0).any())


def _one_each(solid: Solid) -> Floats:
    """A point of each piece of a solid: where skins do not cross, one is inside as all of it is."""
    uneven = solid.hull.uneven
    return solid.points()[:1] if uneven is None else solid.pose.apply(uneven.one_each())


def _crossing(solid: Solid, other: Solid, index: int, other_index: int) -> Near:
    own, theirs = solid.points(), other.points()
    between = (own[:, None, :] - theirs[None, :, :]).reshape(-1, 3)
    depth, way, share = _least_way_out(between)
    first = share @ own[np.arange(len(between)) // len(theirs)]
    second = share @ theirs[np.arange(len(between)) % len(theirs)]
    return _near(solid, other, (index, other_index), -depth, first, second, way)


def _least_way_out(between: Floats) -> tuple[float, Floats, Floats]:
    """How far the origin is inside the hull of differences (N, 3), the way to move the first solid, and shares.

    The shares (N,) over the differences give the point of the nearest facet that the origin is nearest to.
    """
    middle = between.mean(axis=0)
    # The axes are all three either way; a square matrix over the differences would not fit into memory.
    _, spread, axes = np.linalg.svd(between - middle, full_matrices=len(between) < 3)
    spread = np.concatenate([spread, np.zeros(3 - len(spread))])
    if spread[2] <= _FLAT * max(float(spread[0]), 1e-300):
        # A flat set of differences: a push square to it parts the hulls at once.
        return 0.0, axes[2], _shares_at_origin(between)
    try:
        hull = ConvexHull(between)
    except QhullError:
        return 0.0, axes[2], _shares_at_origin(between)
    # Planes: normal . x + offset <= 0 inside; the origin is -offset below each.
    row = int(hull.equations[:, 3].argmax())
    normal, offset = hull.equations[row, :3], float(hull.equations[row, 3])
    # A flat side comes in several triangles: of their corners those that come nearest to the origin's foot.
    same = np.abs(hull.equations - hull.equations[row]).max(axis=1) <= 1e-7 * (1.0 + abs(offset))
    corner = np.unique(hull.simplices[same])
    share = np.zeros(len(between))
    share[corner] = _shares_at_origin(between[corner] + offset * normal)
    return max(-offset, 0.0), -normal, share


def _shares_at_origin(between: Floats) -> Floats:
    """Shares of points (K, 3) whose mean comes nearest to the origin: non-negative least squares."""
    # Slow to load, and needed for solids that overlap only.
    from scipy.optimize import nnls

    scale = float(np.abs(between).max()) or 1.0
    system = np.vstack([between.T / scale, np.ones(len(between))])
    share, _ = nnls(system, np.array([0.0, 0.0, 0.0, 1.0]))
    shares: Floats = share / share.sum()
    return shares


def _near(
    solid: Solid,
    other: Solid,
    indices: tuple[int, int],
    hulls_mm: float,
    first: Floats,
    second: Floats,
    way: Floats,
) -> Near:
    distance = hulls_mm - solid.hull.radius_mm - other.hull.radius_mm
    return Near(
        distance_mm=float(distance),
        on_body=vector(first - way * solid.hull.radius_mm),
        on_surface=vector(second + way * other.hull.radius_mm),
        away=vector(way),
        solid_index=indices[0],
        other_index=indices[1],
        floor_mm=float(distance),
    )


def _box_gap(one: Floats, two: Floats) -> float:
    out = np.maximum(np.maximum(one[0] - two[1], two[0] - one[1]), 0.0)
    return math.sqrt(float(out @ out))
