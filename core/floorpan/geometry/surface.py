"""The scan as an obstacle: exact least distance to placed bodies, with a sign.

Sign rule, in this order, for a body, whose solids hang together:

1. A hull crosses the mesh, or holds an island of it inside: depth.
2. The nearest point of the mesh lies inside a face or on an edge or point with faces all round it: the pseudonormal
   there decides (see `normals`). Behind is depth.
3. The nearest point lies on an open edge. The normal says nothing there: the body may stand beside the sheet. It
   counts as in front, unless the surface is a floor and the body is under it: looking straight up from the lowest
   points of its nearest solid the first thing met is the back of a face, and looking straight down the front of
   one is not.

Limits of the rule. Faces must point to the side that was scanned; an inside-out patch turns the sign near it. A part
under a hole that is wider than the part, with nothing of the sheet above it, counts as in front with the rim of the
hole as its nearest point (`at_rim`): to say that it is unseen is the caller's task. In a body of pieces that do not
hang together only the nearest piece tells the side. Between two sheets the nearer one decides: a hand behind the back
of a scanned skin counts as in the metal once that back is nearer than anything else.
"""

import dataclasses
import math

import numpy as np

from floorpan.frames import Vector
from floorpan.geometry.approach import GapMemory, approach
from floorpan.geometry.depth import depths, touch
from floorpan.geometry.edges import islands
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.near import NOTHING_NEAR, Near, SignedPoints, near
from floorpan.geometry.normals import Facing
from floorpan.geometry.skin_tree import Apart
from floorpan.geometry.skins import depth_inside
from floorpan.geometry.solids import Body, Solid
from floorpan.geometry.splitting import TILE_TRIANGLES, split
from floorpan.geometry.tiles import PIECE_TRIANGLES, Longs, Tile, box_gaps, nearest_on
from floorpan.geometry.vertical import crossings

# Nearer than this a hull and the mesh touch; which side is which cannot be read from the two points [mm].
_TOUCH_MM = 1e-9


class Surface:
    """A welded mesh [mm] as an obstacle for bodies in the same axes.

    floor : what lies under this surface is in the metal (rule 3 above); False for a dash, a seat, a wall
    in_pieces : cut tiles once more, so that only what comes near is built; not where their skins are asked for
    """

    def __init__(
        self,
        mesh: Mesh,
        *,
        floor: bool = True,
        tile_triangles: int = TILE_TRIANGLES,
        in_pieces: bool = True,
    ) -> None:
        self.mesh = mesh
        self.floor = floor
        self._tile_triangles = tile_triangles
        self._in_pieces = in_pieces
        self._cut: tuple[Tile, ...] | None = None
        self._boxes: Floats | None = None
        self._facing: Facing | None = None
        self._one_each: Floats | None = None

    @property
    def tiles(self) -> tuple[Tile, ...]:
        """The mesh in tiles; cut on first use."""
        if self._cut is None:
            groups = split(self.mesh, self._tile_triangles)
            self._cut = tuple(Tile(self.mesh, group, cut=self._pieces(len(group))) for group in groups)
        return self._cut

    def _pieces(self, triangles: int) -> bool:
        """Whether a tile is cut into pieces: not what is small already, nor where larger tiles are asked for."""
        return self._in_pieces and PIECE_TRIANGLES < triangles <= TILE_TRIANGLES

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
            self._facing = Facing(self.mesh, self._faces_at)
        return self._facing

    def _faces_at(self, place: Floats) -> Longs:
        """Faces (K,) that may touch a place (3,), by number."""
        near = np.flatnonzero(box_gaps(self.boxes, place, place) <= 0.0).tolist()
        return np.concatenate([np.zeros(0, dtype=np.int64), *(self.tiles[at].faces for at in near)])

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
        self.tiles[waiting[int(gaps.argmin())]].build()
        if len(waiting) == 1:
            self.facing.make_ready()
        return True

    def gap(
        self, body: Body, *, limit_mm: float = math.inf, memory: GapMemory | None = None, build: bool = True
    ) -> Near:
        """Least signed distance from a body to the surface, exact where positive; a negative one is a depth.

        limit_mm : farther than this is answered with `found` False
        memory : makes the next pose quicker, never another answer
        build : False leaves out tiles that are not ready; the answer tells by `settled` whether that mattered
        """
        if not body or not self.tiles:
            return NOTHING_NEAR
        met = approach(body, self.tiles, self.boxes, memory, build)
        best = self._signed_gap(body, met.index, met.apart) if met.apart is not None else NOTHING_NEAR
        if best.distance_mm > limit_mm:
            best = NOTHING_NEAR
        floor_mm = met.floor_mm if met.floor_mm <= limit_mm else math.inf
        return dataclasses.replace(best, floor_mm=min(floor_mm, best.distance_mm))

    def distance(self, body: Body) -> Near:
        """Least distance from a body to the sheet, whichever side it is on; its hulls are 0 away where they cross."""
        if not body or not self.tiles:
            return NOTHING_NEAR
        met = approach(body, self.tiles, self.boxes)
        if met.apart is None:
            return NOTHING_NEAR
        solid = body[met.index]
        if met.apart.distance_mm > _TOUCH_MM:
            return _in_front(met.index, solid, met.apart, False)
        # Where skins cross the library's points are no points.
        middle = solid.points().mean(axis=0)
        nearest = self.signed(middle[None])
        there, normal, face = nearest.nearest[0], nearest.normal[0], int(nearest.face[0])
        return near(met.index, -solid.hull.radius_mm, middle, there, normal, face)

    @property
    def bounds(self) -> Floats:
        """Least and greatest corner (2, 3) [mm]."""
        return np.array([self.boxes[:, 0].min(axis=0), self.boxes[:, 1].max(axis=0)])

    def signed(self, points: Floats) -> SignedPoints:
        """Signed distance and nearest point for points (N, 3) [mm]; exact."""
        points = np.ascontiguousarray(points, dtype=np.float64).reshape(-1, 3)
        distance, face, nearest = nearest_on(self.tiles, self.boxes, points)
        landing = self.facing.landing(face, nearest)
        behind = ~landing.open_rim & (np.einsum("ij,ij->i", points - nearest, landing.normal) < 0.0)
        return SignedPoints(
            np.where(behind, -distance, distance), nearest, face, landing.open_rim, landing.normal
        )

    def _signed_gap(self, body: Body, index: int, apart: Apart) -> Near:
        landing = self.facing.landing(np.array([apart.face]), apart.second[None])
        rim = bool(landing.open_rim[0])
        gap = apart.distance_mm - body[index].hull.radius_mm
        touching = apart.distance_mm <= _TOUCH_MM
        holding = self._holding(body)
        ahead = float((apart.first - apart.second) @ landing.normal[0])
        behind = not touching and ahead < 0.0 and not rim
        under = not touching and rim and self.floor and self._is_under(body[index])
        found = []
        if not touching and not behind and not under:
            found.append(_in_front(index, body[index], apart, rim))
        if gap <= _TOUCH_MM or behind or under or any(holding):
            found += depths(self, body, index, apart, behind=behind or under, under=under, holding=holding)
        if not found:
            # Any place where they touch may be told: the one that tiles as a whole tell.
            whole = approach((body[index],), self.tiles, self.boxes, whole=True).apart
            found = [touch(self, index, body[index], whole or apart)]
        return min(found, key=lambda one: one.distance_mm)

    def _holding(self, body: Body) -> list[bool]:
        """Which solids have a point of an island inside: the only sign of one held whole, where nothing crosses."""
        if self._one_each is None:
            if not any(self._reaches_into(*solid.box()) for solid in body):
                return [False] * len(body)
            _, first = np.unique(islands(self.mesh), return_index=True)
            self._one_each = self.mesh.points[self.mesh.faces[first, 0]]
        holding = []
        for solid in body:
            low, high = solid.box()
            inside = self._one_each[((self._one_each >= low) & (self._one_each <= high)).all(axis=1)]
            holding.append(bool(len(inside)) and float(depth_inside(solid, inside).max()) > 0.0)
        return holding

    def _reaches_into(self, low: Floats, high: Floats) -> bool:
        """Whether any point of the mesh lies in a box: where none does, none of an island does."""
        for at in np.flatnonzero(box_gaps(self.boxes, low, high) <= 0.0).tolist():
            points = self.tiles[at].points
            within = (points >= low) & (points <= high)
            if (within[:, 0] & within[:, 1] & within[:, 2]).any():
                return True
        return False

    def _is_under(self, solid: Solid) -> bool:
        points = solid.points()
        lowest = points[np.argsort(points[:, 2], kind="stable")[:3]]
        lines = np.vstack([lowest, points.mean(axis=0)])
        return all(self._sees_back_above(line) for line in lines)

    def _sees_back_above(self, point: Floats) -> bool:
        above, below = math.inf, -math.inf
        back_above = front_below = False
        over = (self.boxes[:, 0, :2] <= point[:2]).all(axis=1) & (self.boxes[:, 1, :2] >= point[:2]).all(
            axis=1
        )
        for at in np.flatnonzero(over):
            met = crossings(self.tiles[at].corners(), point[None])
            for z, up in zip(met.z.tolist(), met.up.tolist(), strict=True):
                if point[2] <= z < above:
                    above, back_above = z, up
                elif below < z < point[2]:
                    below, front_below = z, up
        return back_above and not front_below


def _in_front(index: int, solid: Solid, apart: Apart, at_rim: bool) -> Near:
    away = (apart.first - apart.second) / apart.distance_mm
    skin = apart.first - away * solid.hull.radius_mm
    return near(index, apart.distance_mm - solid.hull.radius_mm, skin, apart.second, away, apart.face, at_rim)
