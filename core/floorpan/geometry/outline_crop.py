"""The part of a mesh inside an outline drawn along parallel lines of sight, or outside it; cut exactly along it.

Faces that no side of the outline touches lie wholly inside or outside. Most of the others are crossed by one side
straight through and are cut by its line, all at once; those that hold a corner, or meet several sides, are cut one by
one. A new point on an edge of the mesh follows from that edge and the outline's side alone, so that both faces at it
make the same point, bit for bit.
"""

import math

import mapbox_earcut
import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from floorpan.frames import Pose
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.outline_cells import INSIDE, NEAR, OutlineCells

Bools = NDArray[np.bool_]
Longs = NDArray[np.int64]

# Where faces are longer than this share of the outline, all are looked for by their boxes.
_COARSEST = 48
# Faces looked at together: they stay in the nearest memory.
_AT_ONCE = 1 << 14
# Points nearer than this share of the outline's size are the same.
_SAME = 1e-9


def crop_outline(mesh: Mesh, frame: Pose, corners_mm: Floats, *, keep: bool = True, cut: bool = True) -> Mesh:
    """Faces inside an outline, or outside where keep is False; order kept, what a cut adds comes last.

    frame   : from the outline's coordinates to the mesh's own; z is the line of sight
    corners_mm : (K, 2) where it turns, in the frame's x and y; a simple polygon
    cut     : whether faces across it are cut along it, or kept whole
    """
    outline = shapely.orient_polygons(Polygon(corners_mm))
    ring = np.asarray(outline.exterior.coords, dtype=np.float64)[:-1]
    turn = np.reshape(frame.rotation, (3, 3))
    shift = np.asarray(frame.shift_mm)
    # Columns stand apart in memory: most looks are at one of them.
    flat = np.stack([mesh.points @ turn[:, axis] - float(turn[:, axis] @ shift) for axis in (0, 1)]).T
    whole, maybe = _sorted_out(mesh, flat, outline, ring, keep=keep)
    sides, touched = _sides(flat[mesh.faces[maybe]], ring, maybe)
    whole[touched] = False
    if not len(touched):
        return mesh.kept(whole)
    pieces = _Pieces(mesh, flat, ring, keep)
    alone = sides.sum(axis=1) == 1
    pieces.cut_through(touched[alone], sides[alone].argmax(axis=1))
    region = outline if keep else shapely.box(*_around(flat[mesh.faces[touched]])).difference(outline)
    pieces.cut_one_by_one(touched[~alone], region)
    if not cut:
        whole[np.unique(np.concatenate(pieces.owners))] = True
        return mesh.kept(whole)
    return pieces.joined(whole)


def _sorted_out(
    mesh: Mesh, flat: Floats, outline: Polygon, ring: Floats, *, keep: bool
) -> tuple[Bools, Longs]:
    """Faces (M,) with all points on the side that stays, and the numbers of all that the outline may touch."""
    shapely.prepare(outline)
    short = mesh.longest_side < float(np.ptp(ring, axis=0).max()) / _COARSEST
    cells = OutlineCells(outline, ring, mesh.longest_side if short else 0.0)
    marks = cells.marks(flat)
    if not keep:
        marks ^= INSIDE
    whole = np.empty(len(mesh.faces), dtype=bool)
    near = np.empty(len(mesh.faces), dtype=bool)
    for start in range(0, len(mesh.faces), _AT_ONCE):
        corner = marks.take(mesh.faces[start : start + _AT_ONCE])
        every = corner[:, 0] & corner[:, 1] & corner[:, 2]
        whole[start : start + _AT_ONCE] = every & INSIDE
        # A face that meets the outline is nowhere farther from it than the longest face is long.
        near[start : start + _AT_ONCE] = every & NEAR
    maybe = np.flatnonzero(near) if short else np.arange(len(mesh.faces))
    return whole, maybe.compress(cells.reached(flat, mesh.faces.take(maybe, axis=0)))


def _sides(triangles: Floats, ring: Floats, faces: Longs) -> tuple[Bools, Longs]:
    """Which sides (F, K) of the outline touch which faces, of those that any touches, and these faces (F,)."""
    touch = np.zeros((len(faces), len(ring)), dtype=bool)
    axes = (triangles[..., 0], triangles[..., 1])
    left, low = (np.minimum(np.minimum(at[:, 0], at[:, 1]), at[:, 2]) for at in axes)
    right, high = (np.maximum(np.maximum(at[:, 0], at[:, 1]), at[:, 2]) for at in axes)
    following = np.roll(ring, -1, axis=0)
    least, most = np.minimum(ring, following), np.maximum(ring, following)
    for number in range(len(ring)):
        near = np.flatnonzero(
            (left <= most[number, 0])
            & (right >= least[number, 0])
            & (low <= most[number, 1])
            & (high >= least[number, 1])
        )
        touch[near, number] = _touching(triangles[near], ring[number], following[number] - ring[number])
    any_ = touch.any(axis=1)
    return touch[any_], faces[any_]


def _touching(triangles: Floats, start: Floats, way: Floats) -> Bools:
    """(F,) whether a side of the outline touches triangles (F, 3, 2), borders counted."""
    off = triangles - start
    side = way[0] * off[..., 1] - way[1] * off[..., 0]
    along = (off @ way) / float(way @ way)
    least = np.full(len(triangles), np.inf)
    most = np.full(len(triangles), -np.inf)
    for one, two in ((0, 1), (1, 2), (2, 0)):
        p, q = side[:, one], side[:, two]
        meets = (np.minimum(p, q) <= 0.0) & (np.maximum(p, q) >= 0.0)
        flat = meets & (p == q)
        with np.errstate(divide="ignore", invalid="ignore"):
            at = along[:, one] + np.where(p == q, 0.0, p / (p - q)) * (along[:, two] - along[:, one])
        for held, value in ((meets, at), (flat, along[:, two])):
            least = np.where(held, np.minimum(least, value), least)
            most = np.where(held, np.maximum(most, value), most)
    touching: Bools = (least <= 1.0) & (most >= 0.0)
    return touching


def _around(triangles: Floats) -> tuple[float, float, float, float]:
    low, high = triangles.reshape(-1, 2).min(axis=0) - 1.0, triangles.reshape(-1, 2).max(axis=0) + 1.0
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


class _Pieces:
    """Pieces of cut faces; points beyond the mesh's own are new, each known by what it follows from."""

    def __init__(self, mesh: Mesh, flat: Floats, ring: Floats, keep: bool) -> None:
        self._mesh, self._flat, self._ring, self._keep = mesh, flat, ring, keep
        self._way = np.roll(ring, -1, axis=0) - ring
        self._squares = (self._way**2).sum(axis=1)
        self._points: list[Floats] = []
        self._count = len(mesh.points)
        self._faces: list[Longs] = []
        self.owners: list[Longs] = []
        self._on_edge: dict[tuple[int, ...], int] = {}

    def joined(self, whole: Bools) -> Mesh:
        """The whole faces and the pieces as one mesh."""
        points = np.concatenate([np.zeros((0, 3)), *self._points])
        return self._mesh.kept_with(whole, points, np.concatenate([np.zeros((0, 3), np.int64), *self._faces]))

    def cut_through(self, faces: Longs, side: Longs) -> None:
        """Faces (F,) each crossed by one side (F,) of the outline straight through."""
        corner = self._mesh.faces[faces].astype(np.int64)
        held = self._out(corner, side[:, None])
        out = held > 0.0
        count = out.sum(axis=1)
        self._keep_whole(faces[count == 0], corner[count == 0])
        one, two = np.flatnonzero(count == 1), np.flatnonzero(count == 2)
        rows = np.concatenate([one, two])
        # Turned so that the odd corner comes first.
        odd = np.concatenate([out[one].argmax(axis=1), (~out[two]).argmax(axis=1)])
        turned = corner[rows[:, None], (odd[:, None] + np.arange(3)) % 3]
        ends = np.concatenate([turned[:, 1], turned[:, 2]])
        new = self._crossings(np.tile(turned[:, 0], 2), ends, np.tile(side[rows], 2))
        ab, ac = new[: len(rows)], new[len(rows) :]
        b, c = turned[:, 1], turned[:, 2]
        cut = len(one)
        self._keep_whole(faces[one], np.column_stack([ab, b, c])[:cut])
        self._keep_whole(faces[one], np.column_stack([ab, c, ac])[:cut])
        self._keep_whole(faces[two], np.column_stack([turned[:, 0], ab, ac])[cut:])

    def cut_one_by_one(self, faces: Longs, region: BaseGeometry) -> None:
        """Faces (F,) that hold corners of the outline or meet several sides of it."""
        scale = float(np.ptp(self._ring, axis=0).max())
        shapely.prepare(region)
        for face in faces.tolist():
            corner = self._mesh.faces[face].astype(np.int64)
            triangle = Polygon(self._flat[corner])
            if triangle.area <= 0.0:
                continue
            part = triangle.intersection(region)
            parts = part.geoms if isinstance(part, MultiPolygon) else [part]
            ccw = triangle.exterior.is_ccw
            for polygon in parts:
                if isinstance(polygon, Polygon) and polygon.area > 0.0:
                    self._fill(face, corner, polygon, _SAME * scale, ccw=ccw)

    def _fill(self, face: int, corner: Longs, polygon: Polygon, near: float, *, ccw: bool) -> None:
        """One piece of a face, in triangles."""
        rings = [np.asarray(ring.coords)[:-1] for ring in (polygon.exterior, *polygon.interiors)]
        flat = np.vstack(rings)
        ends = np.cumsum([len(ring) for ring in rings]).astype(np.uint32)
        made = mapbox_earcut.triangulate_float64(flat, ends).reshape(-1, 3).astype(np.int64)
        number = np.array([self._number(face, corner, place, near) for place in flat], dtype=np.int64)
        p, q, r = (flat[made[:, k]] for k in range(3))
        left = (q[:, 0] - p[:, 0]) * (r[:, 1] - p[:, 1]) - (q[:, 1] - p[:, 1]) * (r[:, 0] - p[:, 0])
        wrong = (left > 0.0) != ccw
        made[wrong] = made[wrong][:, ::-1]
        pieces = number[made]
        self._keep_whole(np.full(len(pieces), face, dtype=np.int64), pieces)

    def _number(self, face: int, corner: Longs, place: Floats, near: float) -> int:
        """The point of a place on a face: its own corner, one on its edge, or one of the outline's corners in it."""
        # Single numbers, one after another: arrays of two and three cost many times more.
        x, y = place.tolist()
        at = self._flat[corner].tolist()
        own = [max(abs(p - x), abs(q - y)) for p, q in at]
        if min(own) <= near:
            return int(corner[own.index(min(own))])
        away = []
        for (p, q), (r, s) in zip(at, (at[1], at[2], at[0]), strict=True):
            away.append(abs((r - p) * (y - q) - (s - q) * (x - p)) / math.hypot(r - p, s - q))
        if min(away) <= near:
            edge = away.index(min(away))
            return self._crossing(int(corner[edge]), int(corner[(edge + 1) % 3]), self._nearest_side(place))
        return self._within(face, corner, place)

    def _nearest_side(self, place: Floats) -> int:
        share = ((place - self._ring) * self._way).sum(axis=1) / self._squares
        foot = self._ring + np.minimum(np.maximum(share, 0.0), 1.0)[:, None] * self._way
        return int(np.linalg.norm(place - foot, axis=1).argmin())

    def _within(self, face: int, corner: Longs, place: Floats) -> int:
        """A new point inside a face, over a place of the outline."""
        a, b, c = self._flat[corner]
        share = np.linalg.solve(np.column_stack([b - a, c - a]), place - a)
        points = self._mesh.points[corner]
        return self._add((points[0] + share @ (points[1:] - points[0]))[None])

    def _out(self, corner: Longs, side: Longs) -> Floats:
        """How far points lie on the side of the outline's side that goes; kept ones have 0 or less."""
        off = self._flat[corner] - self._ring[side]
        way = self._way[side]
        left: Floats = way[..., 0] * off[..., 1] - way[..., 1] * off[..., 0]
        return -left if self._keep else left

    def _crossings(self, one: Longs, two: Longs, side: Longs) -> Longs:
        """Where edges of the mesh meet sides of the outline: the same point for both faces at an edge."""
        # Both numbers of an edge in one, and it with the side: one number sorts many times faster than three.
        count = len(self._mesh.points)
        edge, at = np.unique(np.minimum(one, two) * count + np.maximum(one, two), return_inverse=True)
        both, new = np.unique(at.reshape(-1) * len(self._ring) + side, return_inverse=True)
        at, side = np.divmod(both, len(self._ring))
        key = np.column_stack([*np.divmod(edge[at], count), side])
        p, q = self._out(key[:, 0], key[:, 2]), self._out(key[:, 1], key[:, 2])
        with np.errstate(divide="ignore", invalid="ignore"):
            share = np.clip(np.where(p == q, 0.0, p / (p - q)), 0.0, 1.0)
        start, end = self._mesh.points[key[:, 0]], self._mesh.points[key[:, 1]]
        number = np.where(share == 0.0, key[:, 0], np.where(share == 1.0, key[:, 1], -1))
        named = list(map(tuple, key.tolist()))
        for row in np.flatnonzero(number < 0).tolist() if self._on_edge else ():
            number[row] = self._on_edge.get(named[row], -1)
        fresh = np.flatnonzero(number < 0)
        number[fresh] = self._count + np.arange(len(fresh))
        self._points.append(start[fresh] + share[fresh, None] * (end[fresh] - start[fresh]))
        self._count += len(fresh)
        self._on_edge.update((named[row], int(number[row])) for row in fresh.tolist())
        numbers: Longs = number[new.reshape(-1)]
        return numbers

    def _crossing(self, one: int, two: int, side: int) -> int:
        known = self._on_edge.get((min(one, two), max(one, two), side))
        if known is not None:
            return known
        return int(self._crossings(np.array([one]), np.array([two]), np.array([side]))[0])

    def _add(self, points: Floats) -> int:
        self._points.append(points)
        self._count += len(points)
        return self._count - 1

    def _keep_whole(self, owner: Longs, faces: Longs) -> None:
        real = (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])
        self._faces.append(faces[real])
        self.owners.append(owner[real])
