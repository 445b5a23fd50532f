"""The part of a mesh inside an outline drawn along parallel lines of sight, or outside it; cut exactly along it.

Faces that no side of the outline touches lie wholly inside or outside. Most of the others are crossed by one side
straight through and are cut by its line, all at once; those that hold a corner, or meet several sides, are cut one by
one. A new point on an edge of the mesh follows from that edge and the outline's side alone, so that both faces at it
make the same point, bit for bit.
"""

import mapbox_earcut
import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from floorpan.frames import Pose
from floorpan.geometry.mesh import Floats, Mesh

Bools = NDArray[np.bool_]
Longs = NDArray[np.int64]

# Cells along the longer side of the outline in which its own line is looked for.
_CELLS = 384
# Faces longer than this share of the outline are looked for by their boxes.
_COARSEST = 48
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
    flat = np.stack([mesh.points @ turn[:, axis] - float(turn[:, axis] @ shift) for axis in (0, 1)], axis=1)
    inside = _inside(flat, outline)
    a, b, c = mesh.faces[:, 0], mesh.faces[:, 1], mesh.faces[:, 2]
    touched = np.flatnonzero(_near(flat, mesh, ring))
    sides, touched = _sides(flat[mesh.faces[touched]], ring, touched)
    whole = (inside[a] == keep) & (inside[b] == keep) & (inside[c] == keep)
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


def _inside(flat: Floats, outline: Polygon) -> Bools:
    low_x, low_y, high_x, high_y = outline.bounds
    x, y = flat[:, 0], flat[:, 1]
    near = np.flatnonzero((x >= low_x) & (x <= high_x) & (y >= low_y) & (y <= high_y))
    inside = np.zeros(len(flat), dtype=bool)
    shapely.prepare(outline)
    inside[near] = shapely.contains_xy(outline, x[near], y[near])
    return inside


def _near(flat: Floats, mesh: Mesh, ring: Floats) -> Bools:
    """Faces (M,) that may meet the outline: all it touches are among them."""
    size = float(np.ptp(ring, axis=0).max())
    fine = max(mesh.longest_side, size / _CELLS)
    grid = _RunThrough(ring, fine if fine < size / _COARSEST else size / _CELLS)
    if fine < size / _COARSEST:
        # No face is longer than a cell: one that meets the outline has its points in the cells around.
        near = grid.around(flat)
        found: Bools = near[mesh.faces[:, 0]] | near[mesh.faces[:, 1]] | near[mesh.faces[:, 2]]
        return found
    return grid.within_boxes(flat, mesh)


class _RunThrough:
    """The cells that an outline runs through, and one more all round for what falls between two places."""

    def __init__(self, ring: Floats, cell: float) -> None:
        self._low, self._cell = ring.min(axis=0), max(cell, 1e-9)
        size = np.maximum(np.ceil(np.ptp(ring, axis=0) / self._cell).astype(np.int64), 1) + 1
        run = np.zeros(tuple(size + 4), dtype=bool)
        following = np.roll(ring, -1, axis=0)
        steps = int(np.ceil(np.linalg.norm(following - ring, axis=1).max() / (0.5 * self._cell))) + 1
        share = np.linspace(0.0, 1.0, steps)[:, None, None]
        places = (
            ((ring + share * (following - ring) - self._low) / self._cell).astype(np.int64).reshape(-1, 2)
        )
        # Cell numbers have a margin of two.
        for dx in (1, 2, 3):
            for dy in (1, 2, 3):
                run[places[:, 0] + dx, places[:, 1] + dy] = True
        self._run = run

    def _cells(self, flat: Floats) -> NDArray[np.int32]:
        """Cell numbers (N, 2) of points, far ones held at the ends, which nothing runs through."""
        last = np.array(self._run.shape) - 1
        held: NDArray[np.int32] = np.clip((flat - self._low) / self._cell + 2.0, 0.0, last).astype(np.int32)
        return held

    def around(self, flat: Floats) -> Bools:
        """Which points (N,) lie no farther from the outline than a cell is long."""
        wide = self._run.copy()
        wide[1:] |= self._run[:-1]
        wide[:-1] |= self._run[1:]
        once = wide.copy()
        wide[:, 1:] |= once[:, :-1]
        wide[:, :-1] |= once[:, 1:]
        wide[0] = wide[-1] = wide[:, 0] = wide[:, -1] = False
        beyond = ((flat < self._low - 2.0 * self._cell) | (flat > self._low + self._cell * self._span)).any(
            axis=1
        )
        at = self._cells(flat)
        near: Bools = wide[at[:, 0], at[:, 1]] & ~beyond
        return near

    @property
    def _span(self) -> Floats:
        span: Floats = np.array(self._run.shape, dtype=np.float64)
        return span

    def within_boxes(self, flat: Floats, mesh: Mesh) -> Bools:
        """Faces (M,) whose box reaches a cell of these."""
        total = np.zeros((self._run.shape[0] + 1, self._run.shape[1] + 1), dtype=np.int32)
        total[1:, 1:] = self._run.cumsum(axis=0).cumsum(axis=1)
        at = self._cells(flat)
        corner = [at[mesh.faces[:, k]] for k in range(3)]
        first = np.minimum(np.minimum(corner[0], corner[1]), corner[2])
        last = np.maximum(np.maximum(corner[0], corner[1]), corner[2]) + 1
        found: Bools = (
            total[last[:, 0], last[:, 1]]
            - total[first[:, 0], last[:, 1]]
            - total[last[:, 0], first[:, 1]]
            + total[first[:, 0], first[:, 1]]
        ) > 0
        return found


def _sides(triangles: Floats, ring: Floats, faces: Longs) -> tuple[Bools, Longs]:
    """Which sides (F, K) of the outline touch which faces, of those that any touches, and these faces (F,)."""
    touch = np.zeros((len(faces), len(ring)), dtype=bool)
    low, high = triangles.min(axis=1), triangles.max(axis=1)
    following = np.roll(ring, -1, axis=0)
    least, most = np.minimum(ring, following), np.maximum(ring, following)
    for number in range(len(ring)):
        near = np.flatnonzero(
            (low[:, 0] <= most[number, 0])
            & (high[:, 0] >= least[number, 0])
            & (low[:, 1] <= most[number, 1])
            & (high[:, 1] >= least[number, 1])
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
        self._points: list[Floats] = []
        self._count = len(mesh.points)
        self._faces: list[Longs] = []
        self.owners: list[Longs] = []
        self._on_edge: dict[tuple[int, ...], int] = {}

    def joined(self, whole: Bools) -> Mesh:
        """The whole faces and the pieces as one mesh."""
        points = np.vstack([self._mesh.points, *self._points])
        cut = np.concatenate(self._faces) if self._faces else np.zeros((0, 3), dtype=np.int64)
        faces = np.vstack([self._mesh.faces[whole], cut.astype(np.int32)])
        return Mesh(points, faces).kept(np.ones(len(faces), dtype=bool))

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
        own = np.abs(self._flat[corner] - place).max(axis=1)
        if own.min() <= near:
            return int(corner[own.argmin()])
        best, edge = np.inf, (0, 1)
        for one, two in ((0, 1), (1, 2), (2, 0)):
            p, q = self._flat[corner[one]], self._flat[corner[two]]
            away = abs(float(np.cross([*(q - p), 0.0], [*(place - p), 0.0])[2])) / float(
                np.linalg.norm(q - p)
            )
            if away < best:
                best, edge = away, (one, two)
        if best <= near:
            side = int(self._side_distance(place).argmin())
            pair = np.array([corner[edge[0]]]), np.array([corner[edge[1]]])
            return int(self._crossings(*pair, np.array([side]))[0])
        return self._within(face, corner, place)

    def _side_distance(self, place: Floats) -> Floats:
        share = ((place - self._ring) * self._way).sum(axis=1) / (self._way**2).sum(axis=1)
        foot = self._ring + np.clip(share, 0.0, 1.0)[:, None] * self._way
        distance: Floats = np.linalg.norm(place - foot, axis=1)
        return distance

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
        low, high = np.minimum(one, two), np.maximum(one, two)
        key, new = np.unique(np.column_stack([low, high, side]), axis=0, return_inverse=True)
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
        return number[new.reshape(-1)]

    def _add(self, points: Floats) -> int:
        self._points.append(points)
        self._count += len(points)
        return self._count - 1

    def _keep_whole(self, owner: Longs, faces: Longs) -> None:
        real = (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])
        self._faces.append(faces[real])
        self.owners.append(owner[real])
