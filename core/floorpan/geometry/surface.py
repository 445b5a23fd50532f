"""The scan as an obstacle: exact least distance to placed bodies, with a sign.

Sign rule, in this order, for each solid of a body:

1. The hull crosses the mesh, or holds a point of it inside: depth.
2. The nearest point of the mesh lies inside a face or on an edge or point with faces all round it: the pseudonormal
   there decides (see `normals`). Behind is depth.
3. The nearest point lies on an open edge. The normal says nothing there: the solid may stand beside the sheet. It
   counts as in front, unless the surface is a floor and the solid is under it: looking straight up from its lowest
   points the first thing met is the back of a face, and looking straight down there is no front of one.

Limits of the rule. Faces must point to the side that was scanned; an inside-out patch turns the sign near it. A part
under a hole that is wider than the part, with nothing of the sheet above it, counts as in front with the rim of the
hole as its nearest point (`at_rim`): to say that it is unseen is the caller's task. Two sheets closer together than
the part is thick are told apart by the nearest one only.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import Vector
from floorpan.geometry.approach import Approach, Trace, approach
from floorpan.geometry.depth import skin_points
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.near import NOTHING_NEAR, Near
from floorpan.geometry.normals import Facing, Landing
from floorpan.geometry.skins import Apart, depth_inside
from floorpan.geometry.solids import Body, Solid
from floorpan.geometry.tiles import TILE_TRIANGLES, Tile, box_gaps, point_gaps, split
from floorpan.geometry.vertical import crossings

Longs = NDArray[np.int64]

# Nearer than this a hull and the mesh touch; which side is which cannot be read from the two points [mm].
_TOUCH_MM = 1e-9


class GapMemory:
    """What a body learnt about one surface from pose to pose; owned by the caller, one for each body and surface.

    It only makes the next answer quicker, never another one. Solids that changed are noticed by their hulls.
    """

    __slots__ = ("_traces",)

    def __init__(self) -> None:
        self._traces: dict[int, Trace] = {}

    def trace(self, index: int, solid: Solid, tiles: int) -> Trace:
        """The trace of one solid, a fresh one where the hull or the surface is another."""
        held = self._traces.get(index)
        if held is None or held.hull is not solid.hull or len(held.gap_mm) != tiles:
            held = Trace(solid.hull, tiles)
            self._traces[index] = held
        return held


@dataclass(frozen=True, slots=True, eq=False)
class SignedPoints:
    """Points against a surface.

    distance_mm : (N,) negative behind
    nearest : (N, 3) nearest points on the mesh [mm]
    face    : (N,) face numbers
    at_rim  : (N,) mask: nearest point on an open edge; the distance is positive there
    """

    distance_mm: Floats
    nearest: Floats
    face: Longs
    at_rim: NDArray[np.bool_]


class Surface:
    """A welded mesh [mm] as an obstacle for bodies in the same axes.

    floor : what lies under this surface is in the metal (rule 3 above); False for a dash, a seat, a wall
    """

    def __init__(self, mesh: Mesh, *, floor: bool = True, tile_triangles: int = TILE_TRIANGLES) -> None:
        self.mesh = mesh
        self.floor = floor
        self._tile_triangles = tile_triangles
        self._cut: tuple[Tile, ...] | None = None
        self._boxes: Floats | None = None
        self._facing: Facing | None = None

    @property
    def tiles(self) -> tuple[Tile, ...]:
        """The mesh in tiles; cut on first use."""
        if self._cut is None:
            self._cut = tuple(Tile(self.mesh, group) for group in split(self.mesh, self._tile_triangles))
        return self._cut

    @property
    def boxes(self) -> Floats:
        """Boxes (T, 2, 3) of the tiles [mm]."""
        if self._boxes is None:
            self._boxes = np.array([tile.bounds for tile in self.tiles]).reshape(-1, 2, 3)
        return self._boxes

    @property
    def facing(self) -> Facing:
        """The pseudonormals of the mesh."""
        if self._facing is None:
            self._facing = Facing(self.mesh)
        return self._facing

    @property
    def built(self) -> float:
        """Share of the tiles that are ready, 0 to 1."""
        return sum(tile.built for tile in self.tiles) / len(self.tiles) if self.tiles else 1.0

    def build_next(self, near_mm: Vector | None = None) -> bool:
        """Make ready the unbuilt tile nearest to a point; False once all are. One call takes about 10 ms."""
        waiting = [k for k, tile in enumerate(self.tiles) if not tile.built]
        if not waiting:
            return False
        at = np.asarray(near_mm if near_mm is not None else self.mesh.bounds.mean(axis=0))
        gaps = box_gaps(self.boxes[waiting], at, at)
        self.tiles[waiting[int(gaps.argmin())]].skin()
        return True

    def gap(
        self, body: Body, *, limit_mm: float = math.inf, memory: GapMemory | None = None, build: bool = True
    ) -> Near:
        """Least signed distance from a body to the surface, exact where positive; see `depth` where negative.

        limit_mm : farther than this is answered with `found` False
        memory : makes the next pose quicker
        build : False leaves out tiles that are not ready; the answer tells by `settled` whether that mattered
        """
        met, solids = [], []
        floor_mm = math.inf
        for index, solid in enumerate(body):
            trace = memory.trace(index, solid, len(self.tiles)) if memory is not None else None
            found = approach(solid, self.tiles, self.boxes, trace, build)
            floor_mm = min(floor_mm, found.floor_mm - solid.hull.radius_mm)
            if found.apart is not None:
                met.append((index, found.apart))
                solids.append(solid)
        best = NOTHING_NEAR
        if met:
            best = min(self._signed_gaps(met, solids), key=lambda near: near.distance_mm)
        floor_mm = min(floor_mm, best.distance_mm)
        if best.distance_mm > limit_mm:
            return Near(distance_mm=math.inf, floor_mm=floor_mm if floor_mm <= limit_mm else math.inf)
        return _with_floor(best, floor_mm)

    def signed(self, points: Floats) -> SignedPoints:
        """Signed distance and nearest point for points (N, 3) [mm]; exact."""
        points = np.ascontiguousarray(points, dtype=np.float64).reshape(-1, 3)
        distance, face, nearest = self._unsigned(points)
        landing = self.facing.landing(face, nearest)
        behind = ~landing.open_rim & (np.einsum("ij,ij->i", points - nearest, landing.normal) < 0.0)
        return SignedPoints(np.where(behind, -distance, distance), nearest, face, landing.open_rim)

    def _unsigned(self, points: Floats) -> tuple[Floats, Longs, Floats]:
        best = np.full(len(points), np.inf)
        face = np.zeros(len(points), dtype=np.int64)
        nearest = np.zeros((len(points), 3))
        bound = point_gaps(self.boxes, points)
        order = np.argsort(bound, axis=0, kind="stable") if len(points) <= 4 else None
        first = bound.argmin(axis=0) if order is None else order[0]
        pending = np.ones_like(bound, dtype=bool)
        rounds: Sequence[int] = np.unique(first).tolist()
        for own in (True, False):
            for at in rounds:
                ask = np.flatnonzero(first == at) if own else np.flatnonzero(pending[at] & (bound[at] <= best))
                pending[at, ask] = False
                if not len(ask):
                    continue
                squared, faces, on = self.tiles[at].nearest(points[ask])
                better = squared < best[ask]
                rows = ask[better]
                best[rows], face[rows], nearest[rows] = squared[better], faces[better], on[better]
            rounds = np.argsort(bound.min(axis=1), kind="stable").tolist()
        return np.sqrt(best), face, nearest

    def _signed_gaps(self, met: list[tuple[int, Apart]], solids: list[Solid]) -> list[Near]:
        second = np.array([apart.second for _, apart in met])
        first = np.array([apart.first for _, apart in met])
        face = np.array([apart.face for _, apart in met])
        landing = self.facing.landing(face, second)
        ahead = np.einsum("ij,ij->i", first - second, landing.normal)
        found = []
        for row, ((index, apart), solid) in enumerate(zip(met, solids, strict=True)):
            inside = depth_inside(solid, second[row : row + 1])[0][0]
            if apart.distance_mm <= _TOUCH_MM or inside > 0.0:
                found.append(self._depth(index, solid, apart, crossing=True))
            elif landing.open_rim[row]:
                under = self.floor and self._is_under(solid)
                found.append(
                    self._depth(index, solid, apart, crossing=False, under=True)
                    if under
                    else _in_front(index, solid, apart, True)
                )
            elif ahead[row] < 0.0:
                found.append(self._depth(index, solid, apart, crossing=False))
            else:
                found.append(_in_front(index, solid, apart, False))
        return found

    def _depth(self, index: int, solid: Solid, apart: Apart, *, crossing: bool, under: bool = False) -> Near:
        points = solid.pose.apply(skin_points(solid.hull))
        if not crossing:
            points = np.vstack([apart.first, points])
        signed = self.signed(points)
        behind = np.abs(signed.distance_mm) if under else -signed.distance_mm
        row = int(behind.argmax())
        deepest = max(float(behind[row]), 0.0)
        stud = self._stud(solid) if crossing else None
        radius = solid.hull.radius_mm
        if stud is not None and stud[0] > deepest:
            depth, at, out = stud
            skin = at + out * (depth + radius)
            return _near(index, -depth - radius, skin, at, -out, -1)
        inward = signed.nearest[row] - points[row]
        length = float(np.linalg.norm(inward))
        normal = self.facing.landing(signed.face[row : row + 1], signed.nearest[row : row + 1]).normal[0]
        away = inward / length if length > _TOUCH_MM and deepest > 0.0 else normal
        return _near(
            index, -deepest - radius, points[row] - away * radius, signed.nearest[row], away, int(signed.face[row])
        )

    def _stud(self, solid: Solid) -> tuple[float, Floats, Floats] | None:
        """The point of the mesh deepest inside the hull: depth, place, outward direction of the nearest plane."""
        hull = solid.points()
        low, high = hull.min(axis=0), hull.max(axis=0)
        best: tuple[float, Floats, Floats] | None = None
        for at in np.flatnonzero(box_gaps(self.boxes, low, high) <= 0.0):
            points = self.tiles[at].points
            points = points[((points >= low) & (points <= high)).all(axis=1)]
            if not len(points):
                continue
            depth, plane = depth_inside(solid, points)
            row = int(depth.argmax())
            if depth[row] > 0.0 and (best is None or depth[row] > best[0]):
                best = (float(depth[row]), points[row], _plane_out(solid, int(plane[row])))
        return best

    def _is_under(self, solid: Solid) -> bool:
        points = solid.points()
        lowest = points[np.argsort(points[:, 2], kind="stable")[:3]]
        lines = np.vstack([lowest, points.mean(axis=0)])
        lines[:, 2] -= 0.0
        return all(self._sees_back_above(line) for line in lines)

    def _sees_back_above(self, point: Floats) -> bool:
        above, below = math.inf, -math.inf
        back_above = front_below = False
        over = (self.boxes[:, 0, :2] <= point[:2]).all(axis=1) & (self.boxes[:, 1, :2] >= point[:2]).all(axis=1)
        for at in np.flatnonzero(over):
            tile = self.tiles[at]
            met = crossings(self.mesh.points[self.mesh.faces[tile.faces]], point[None])
            for z, up in zip(met.z.tolist(), met.up.tolist(), strict=True):
                if z >= point[2] and z < above:
                    above, back_above = z, up
                elif z < point[2] and z > below:
                    below, front_below = z, up
        return back_above and not front_below


def _plane_out(solid: Solid, plane: int) -> Floats:
    from floorpan.geometry.skins import planes

    turn = np.reshape(solid.pose.rotation, (3, 3))
    out: Floats = turn @ planes(solid.hull)[plane, :3]
    return out


def _in_front(index: int, solid: Solid, apart: Apart, at_rim: bool) -> Near:
    away = (apart.first - apart.second) / apart.distance_mm
    skin = apart.first - away * solid.hull.radius_mm
    return _near(index, apart.distance_mm - solid.hull.radius_mm, skin, apart.second, away, apart.face, at_rim)


def _near(
    index: int, distance: float, skin: Floats, at: Floats, away: Floats, face: int, at_rim: bool = False
) -> Near:
    return Near(
        distance_mm=float(distance),
        on_body=vector(skin),
        on_surface=vector(at),
        away=vector(away),
        face=face,
        solid_index=index,
        at_rim=at_rim,
    )


def _with_floor(near: Near, floor_mm: float) -> Near:
    return Near(
        distance_mm=near.distance_mm,
        on_body=near.on_body,
        on_surface=near.on_surface,
        away=near.away,
        face=near.face,
        solid_index=near.solid_index,
        at_rim=near.at_rim,
        floor_mm=floor_mm,
    )


def vector(values: Floats) -> Vector:
    """Three numbers as a tuple."""
    x, y, z = (float(v) for v in values)
    return x, y, z


__all__ = ["Approach", "GapMemory", "Landing", "Near", "SignedPoints", "Surface"]
