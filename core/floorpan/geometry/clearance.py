"""Least gap, or depth, between two bodies of rounded convex solids.

Apart: the distance of the undilated hulls less both radii, exact. Crossing: the least translation that parts the two
solids, which is the distance from the origin to the nearest facet of the hull of all differences of their corners
(the Minkowski difference), plus both radii, exact too: every such facet is square to a face or to two edges. Where one
of them is a mesh, see `overlaps`. Between bodies of several solids a depth is the greatest over pairs of solids: what
it takes to part that pair, not the whole bodies.
"""

import math
from weakref import WeakKeyDictionary

import numpy as np

from floorpan.geometry.mesh import Floats
from floorpan.geometry.near import NOTHING_NEAR, Near, vector
from floorpan.geometry.overlaps import overlap
from floorpan.geometry.pair_memory import PairMemory
from floorpan.geometry.skins import depth_inside, posed
from floorpan.geometry.solids import Body, Hull, Solid
from floorpan.geometry.tiled_skin import apart as skins_apart
from floorpan.geometry.tiled_skin import box_gaps_between

# Nearer than this two hulls touch, and which way they part cannot be read from their nearest points [mm].
_TOUCH_MM = 1e-7
# Ways shorter than this share of the longest have no length.
_FLAT = 1e-9
_SLACK_MM = 1e-9

_sides_of: WeakKeyDictionary[Hull, tuple[Floats, Floats]] = WeakKeyDictionary()


def body_gap(body: Body, other: Body, memory: PairMemory | None = None) -> Near:
    """Least signed gap between two bodies; `on_surface` lies on the other body, `other_index` names its solid.

    memory : makes the next pose of the body quicker, never another answer
    """
    if not body or not other:
        return NOTHING_NEAR
    if len(body) == len(other) == 1:
        return solid_gap(body[0], other[0])
    apart_mm = box_gaps_between(
        np.array([solid.box() for solid in body]), np.array([solid.box() for solid in other])
    )
    if memory is not None:
        apart_mm = np.maximum(apart_mm, memory.bounds(body, other))
    own, theirs = ([solid.hull.radius_mm for solid in one] for one in (body, other))
    radii_mm = np.add.outer(own, theirs)
    waiting = apart_mm - radii_mm
    best = NOTHING_NEAR
    while True:
        i, j = divmod(int(waiting.argmin()), len(other))
        # Boxes that overlap say nothing about how deep their solids are.
        if waiting[i, j] > max(best.distance_mm, 0.0) + _SLACK_MM or waiting[i, j] == math.inf:
            break
        found = solid_gap(body[i], other[j], i, j)
        apart_mm[i, j] = found.distance_mm + radii_mm[i, j]
        waiting[i, j] = math.inf
        if (found.distance_mm, i, j) < (best.distance_mm, best.solid_index, best.other_index):
            best = found
            if apart_mm[i, j] > _TOUCH_MM and waiting.min() <= max(best.distance_mm, 0.0) + _SLACK_MM:
                ahead = _apart_along(body, other, np.array(found.away))
                apart_mm = np.where(waiting < math.inf, np.maximum(apart_mm, ahead), apart_mm)
                waiting = np.maximum(waiting, ahead - radii_mm)
    if memory is not None:
        memory.learn(apart_mm)
    return best


def _apart_along(body: Body, other: Body, way: Floats) -> Floats:
    """What each undilated solid (M,) of a body is apart at least from each (N,) of the other, seen along a unit way."""
    low = [float((solid.points() @ way).min()) for solid in body]
    high = [float((solid.points() @ way).max()) for solid in other]
    return np.subtract.outer(low, high)


def solid_gap(solid: Solid, other: Solid, index: int = 0, other_index: int = 0) -> Near:
    """Least signed gap between two solids."""
    apart = skins_apart(posed(solid), posed(other, twin=True))
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
    inside = (depth_inside(other, _one_each(solid)) > 0.0).any()
    return bool(inside or (depth_inside(solid, _one_each(other)) > 0.0).any())


def _one_each(solid: Solid) -> Floats:
    """A point of each piece of a solid: where skins do not cross, one is inside as all of it is."""
    uneven = solid.hull.uneven
    return solid.points()[:1] if uneven is None else solid.pose.apply(uneven.one_each())


def _crossing(solid: Solid, other: Solid, index: int, other_index: int) -> Near:
    way, depth = least_way_out(solid, other)
    own, theirs = solid.points(), other.points()
    # The two sides that meet once the first has gone that way: their points, and those of them that lie nearest.
    low, high = own @ way, theirs @ way
    near = 1e-7 * (1.0 + float(np.ptp(low)) + float(np.ptp(high)))
    own, theirs = own[low <= low.min() + near], theirs[high >= high.max() - near]
    between = (own[:, None, :] - theirs[None, :, :]).reshape(-1, 3) + depth * way
    share = _shares_at_origin(between)
    first = share @ own[np.arange(len(between)) // len(theirs)]
    second = share @ theirs[np.arange(len(between)) % len(theirs)]
    return _near(solid, other, (index, other_index), -depth, first, second, way)


def least_way_out(solid: Solid, other: Solid) -> tuple[Floats, float]:
    """The unit vector (3,) along which the first undilated hull is moved least to part from the other, and how far.

    The least lies square to a face of either or to an edge of each (the faces of the hull of all differences of
    their points); along any other way it takes as much or more. So the least over all of these is it.
    """
    ways = _ways_out(solid, other)
    low, high = (solid.points() @ ways.T).min(axis=0), (other.points() @ ways.T).max(axis=0)
    depth = high - low
    row = int(depth.argmin())
    return ways[row], max(float(depth[row]), 0.0)


def _ways_out(solid: Solid, other: Solid) -> Floats:
    """Unit vectors (N, 3), each with its opposite."""
    faces, edges = zip(*(_sides(one) for one in (solid, other)), strict=True)
    across = np.cross(edges[0][:, None, :], edges[1][None, :, :]).reshape(-1, 3)
    # What is flat, a line or a point has too few faces: a push square to it is one more way.
    beside = np.cross(np.vstack([*edges, np.eye(3)])[:, None, :], np.eye(3)[None]).reshape(-1, 3)
    ways = np.vstack([*faces, across, beside])
    length = np.linalg.norm(ways, axis=1)
    ways = ways[length > _FLAT] / length[length > _FLAT, None]
    return np.vstack([ways, -ways])


def _sides(solid: Solid) -> tuple[Floats, Floats]:
    """Normals of a hull's faces and ways along its edges in car axes, unit vectors (N, 3)."""
    held = _sides_of.get(solid.hull)
    if held is None:
        held = _find_sides(solid.hull)
        _sides_of[solid.hull] = held
    turn = np.reshape(solid.pose.rotation, (3, 3))
    return held[0] @ turn.T, held[1] @ turn.T


def _find_sides(hull: Hull) -> tuple[Floats, Floats]:
    skin = hull.skin()
    corner = skin.points[skin.faces]
    sides = np.roll(corner, -1, axis=1) - corner
    normals = np.cross(sides[:, 0], sides[:, 1])
    return _once_each(normals), _once_each(sides.reshape(-1, 3))


def _once_each(ways: Floats) -> Floats:
    """Unit vectors (N, 3) of ways that have a length; of those that are alike or opposite, one."""
    length = np.linalg.norm(ways, axis=1, keepdims=True)
    real = length[:, 0] > _FLAT * float(length.max(initial=0.0))
    units = ways[real] / length[real]
    lead = np.take_along_axis(units, np.abs(units).argmax(axis=1)[:, None], axis=1)
    units = np.where(lead < 0.0, -units, units)
    _, kept = np.unique(np.round(units, 12), axis=0, return_index=True)
    once: Floats = units[np.sort(kept)]
    return once


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
