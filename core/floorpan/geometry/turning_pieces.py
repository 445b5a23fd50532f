"""A solid on a turn about a fixed line, cut into pieces by how far each of them travels.

What lies near the line hardly moves: a bound for the whole solid that goes by its farthest point would have the least
gap of a hinge looked for as closely as that of the edge it swings. A convex solid between two planes is convex again,
and the pieces together are the solid.
"""

import itertools
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from floorpan.frames import Pose
from floorpan.geometry.mesh import Floats
from floorpan.geometry.near import vector
from floorpan.geometry.solids import Hull, Solid

# Where a turn is held against what the solid really does, and how well it has to agree [mm, and as a part of a turn].
LOOKS = (0.23, 0.5, 0.71, 1.0)
_SAME = 1e-6
_LEAST_RAD = 1e-4
# Pieces end at these shares of the farthest point's distance from the line.
_CUTS = (1 / 8, 1 / 4, 1 / 2)


@dataclass(frozen=True, slots=True, eq=False)
class Turn:
    """A turn about a fixed line, evenly along a way: at share 1 by angle_rad.

    along, through : (3,) unit vector and a point of the line in car axes [mm]
    """

    along: Floats
    through: Floats
    angle_rad: float

    def off(self, points: Floats) -> Floats:
        """Vectors (N, 3) from the line to points (N, 3), square to it."""
        away = points - self.through
        off: Floats = away - np.outer(away @ self.along, self.along)
        return off

    def taken(self, start: Pose, share: float) -> Pose:
        """Where a pose is taken by a share of the way."""
        by = math.degrees(self.angle_rad * share)
        return Pose.turned(vector(self.along), by, vector(self.through)).after(start)


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """A piece of a solid in its own axes, and how far any point of it travels over the whole way [mm]."""

    hull: Hull
    travel_mm: float


def turn_of(solid_at: Callable[[float], Solid]) -> Turn | None:
    """The turn that takes a solid along its way; None where it does anything else."""
    start, end = solid_at(0.0).pose, solid_at(1.0).pose
    moved = end.after(start.inverse())
    turn = np.reshape(moved.rotation, (3, 3))
    angle = math.acos(min(max((float(np.trace(turn)) - 1.0) / 2.0, -1.0), 1.0))
    if not _LEAST_RAD <= angle <= math.pi - _LEAST_RAD:
        return None
    skew = np.array([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]])
    along = skew / np.linalg.norm(skew)
    through = np.linalg.lstsq(np.eye(3) - turn, np.array(moved.shift_mm), rcond=None)[0]
    found = Turn(along, through, angle)
    return found if all(_agrees(found, start, solid_at(share).pose, share) for share in LOOKS) else None


def pieces(solid: Solid, turn: Turn) -> tuple[Piece, ...]:
    """A solid as it stands at the start of a turn, in pieces, what travels least first."""
    points = solid.points()
    off = turn.off(points)
    radius = np.linalg.norm(off, axis=1)
    farthest = int(radius.argmax())
    if radius[farthest] <= _SAME:
        return (Piece(solid.hull, 0.0),)
    way = off[farthest] / radius[farthest]
    local = solid.pose.inverse()
    found = []
    for inside in _between(points, off @ way, [share * float(radius[farthest]) for share in _CUTS]):
        travel = float(np.linalg.norm(turn.off(inside), axis=1).max()) * turn.angle_rad
        found.append(Piece(Hull(local.apply(inside), solid.hull.radius_mm, solid.hull.facet_mm), travel))
    return tuple(found)


def _agrees(turn: Turn, start: Pose, there: Pose, share: float) -> bool:
    told = turn.taken(start, share)
    same_turn = np.abs(np.subtract(told.rotation, there.rotation)).max() <= _SAME
    return bool(same_turn and np.abs(np.subtract(told.shift_mm, there.shift_mm)).max() <= _SAME)


def _between(points: Floats, heights: Floats, cuts: list[float]) -> Iterator[Floats]:
    """The corners of a convex solid's parts between planes: its own, and where lines between any two of them cross."""
    first, second = np.triu_indices(len(points), 1)
    low, high = heights[first], heights[second]
    edges = [-math.inf, *cuts, math.inf]
    crossed = {}
    for cut in cuts:
        over = (low - cut) * (high - cut) < 0.0
        share = (cut - low[over]) / (high[over] - low[over])
        crossed[cut] = points[first[over]] + share[:, None] * (points[second[over]] - points[first[over]])
    for bottom, top in itertools.pairwise(edges):
        own = points[(heights >= bottom) & (heights <= top)]
        inside = np.vstack([own, *(crossed[cut] for cut in (bottom, top) if cut in crossed)])
        if len(inside):
            yield inside
