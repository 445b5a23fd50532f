"""How deep a body stands in or behind an open surface.

Two measures, the greater counts: how far the deepest point of a solid's skin lies behind the surface (its
distance to the surface), and how deep the deepest point of the surface lies inside a solid (its distance to the
nearest plane of the hull). The first is right for a part sunk through a sheet, the second for a stud that pokes
into a part. The solid's radius is added to both.

Skin points are taken at corners and spread over faces, so a depth between them is missed by at most the distance to
the next one; that a body crosses the surface does not hang on them.
"""

import math
from collections.abc import Sequence
from typing import Protocol
from weakref import WeakKeyDictionary

import numpy as np

from floorpan.geometry.curve import along_curve
from floorpan.geometry.mesh import Floats
from floorpan.geometry.near import Near, SignedPoints, near, unit_to
from floorpan.geometry.skin_tree import Apart
from floorpan.geometry.skins import deepest_inside, posed
from floorpan.geometry.solids import Body, Hull, Solid
from floorpan.geometry.tiled_skin import Posed, box_bounds, crosses
from floorpan.geometry.tiles import Tile, box_gaps

_samples: WeakKeyDictionary[Hull, Floats] = WeakKeyDictionary()

_SKIN_POINTS = 48
_MOST_STEPS = 12
_FINE_FACES = 2000
_FINE_POINTS = 4000
# Bounds are worked out in floating point; nearer than this they do not rule a piece out [mm].
_SLACK_MM = 1e-9


class Obstacle(Protocol):
    """What a depth is measured against."""

    @property
    def tiles(self) -> Sequence[Tile]:
        """The mesh in tiles."""
        ...

    @property
    def boxes(self) -> Floats:
        """Boxes (T, 2, 3) of the tiles [mm]."""
        ...

    def signed(self, points: Floats) -> SignedPoints:
        """Signed distances of points (N, 3)."""
        ...


def depths(
    obstacle: Obstacle,
    body: Body,
    index: int,
    apart: Apart,
    *,
    behind: bool,
    under: bool,
    holding: Sequence[bool],
) -> list[Near]:
    """Depths of the solids that cross the obstacle or hold an island of it, and of those that lie behind it whole.

    index, apart : the nearest solid and its nearest points
    behind : the body as a whole is behind; under: and the normals do not tell, so distances count unsigned
    holding : which solids hold an island of the mesh without crossing it
    """
    crossing = [_crosses(obstacle, solid) for solid in body]
    rows = [k for k in range(len(body)) if behind or crossing[k] or _joined(body, k, crossing)]
    points = [
        body[k].pose.apply(skin_points(body[k].hull) if crossing[k] else body[k].hull.points) for k in rows
    ]
    if behind:
        points[rows.index(index)] = np.vstack([apart.first, points[rows.index(index)]])
    found: list[Near] = []
    if rows:
        signed = obstacle.signed(np.vstack(points))
        off = np.abs(signed.distance_mm) if under else -signed.distance_mm
        start = 0
        for k, own in zip(rows, points, strict=True):
            part = slice(start, start + len(own))
            start += len(own)
            whole = crossing[k] or behind or bool((off[part] > 0.0).all())
            row = part.start + int(off[part].argmax())
            if whole and off[row] >= 0.0:
                found.append(_deepest(k, body[k], own[row - part.start], signed, row, float(off[row])))
    for k, solid in enumerate(body):
        if crossing[k] or behind or holding[k]:
            found += _stud(obstacle, k, solid)
    return found


def touch(obstacle: Obstacle, index: int, solid: Solid, apart: Apart) -> Near:
    """A hull that touches with nothing behind: the depth is its radius alone."""
    return _deepest(index, solid, apart.first, obstacle.signed(apart.first[None]), 0, 0.0)


def _crosses(obstacle: Obstacle, solid: Solid) -> bool:
    near_by = np.flatnonzero(box_gaps(obstacle.boxes, *solid.box()) <= 0.0)
    skin = posed(solid)
    return any(_crosses_tile(skin, obstacle.tiles[int(at)]) for at in near_by)


def _crosses_tile(skin: Posed, tile: Tile) -> bool:
    """Whether a solid crosses a tile."""
    if not tile.cut:
        return crosses(skin, tile.skin())
    pieces = tile.pieces()
    near_by = np.flatnonzero(box_bounds(skin, pieces.boxes) <= _SLACK_MM).tolist()
    return any(crosses(skin, pieces.skin(at)) for at in near_by)


def _joined(body: Body, index: int, crossing: list[bool]) -> bool:
    """Whether the box of a solid meets the box of one that crosses."""
    low, high = body[index].box()
    own = body[index].hull.radius_mm
    for other, through in zip(body, crossing, strict=True):
        if through:
            (least, most), reach = other.box(), own + other.hull.radius_mm
            if (least - reach <= high).all() and (most + reach >= low).all():
                return True
    return False


def _deepest(index: int, solid: Solid, point: Floats, signed: SignedPoints, row: int, depth: float) -> Near:
    """A point of the hull this far behind."""
    nearest, normal = signed.nearest[row], signed.normal[row]
    away = unit_to(point, nearest, normal)
    if signed.distance_mm[row] > 0.0 and depth <= 0.0:
        away = -away
    radius = solid.hull.radius_mm
    return near(index, -depth - radius, point - away * radius, nearest, away, int(signed.face[row]))


def _stud(obstacle: Obstacle, index: int, solid: Solid) -> list[Near]:
    """The point of the mesh deepest inside the hull; none where none is inside."""
    low, high = solid.box()
    best, depth = None, 0.0
    for at in np.flatnonzero(box_gaps(obstacle.boxes, low, high) <= 0.0):
        points = obstacle.tiles[int(at)].points
        points = points[((points >= low) & (points <= high)).all(axis=1)]
        found = deepest_inside(solid, points)
        if found is not None and found[1] > depth:
            row, depth, out = found
            best = points[row], out
    if best is None:
        return []
    at_mm, out = best
    radius = solid.hull.radius_mm
    return [near(index, -depth - radius, at_mm + out * (depth + radius), at_mm, -out, -1)]


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
    if len(skin.faces) > _FINE_FACES:
        # A fine mesh has points enough of its own: every so many, along a curve through all of them.
        every = -(-len(skin.points) // _FINE_POINTS)
        return skin.points[along_curve(skin.points)[::every]]
    corner = skin.points[skin.faces]
    area = np.linalg.norm(np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]), axis=1) / 2.0
    total = float(area.sum())
    if total <= 0.0:
        return _on_line(skin.points)
    spacing = math.sqrt(total / _SKIN_POINTS)
    corners = skin.points[np.unique(skin.faces)]
    on_faces = np.unique(np.vstack([_grid_on(triangle, spacing) for triangle in corner]), axis=0)
    return np.vstack([corners, _far_from(corners, on_faces, _SKIN_POINTS)])


def _far_from(there: Floats, points: Floats, count: int) -> Floats:
    """Some of the points (N, 3), each the farthest from all that are there already."""
    off = np.min([np.einsum("ij,ij->i", points - one, points - one) for one in there], axis=0)
    taken = []
    for _ in range(min(count, len(points))):
        row = int(off.argmax())
        if off[row] <= 0.0:
            break
        taken.append(row)
        way = points - points[row]
        off = np.minimum(off, np.einsum("ij,ij->i", way, way))
    chosen: Floats = points[taken]
    return chosen


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
