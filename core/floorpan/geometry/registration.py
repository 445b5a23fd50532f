"""One surface laid onto another: the rigid move that leaves least between them, and the ways it cannot tell.

Point to plane after Y. Chen and G. Medioni, "Object modelling by registration of multiple range images", Image and
Vision Computing 10(3), 1992. Both sides of each distance are planes through the same radius of surface, so that
roughness is averaged out alike and a copy of a surface comes back exactly. Which moves the surfaces do not hold is read
from the eigenvectors of the normal equations, after N. Gelfand et al., "Geometrically stable sampling for the ICP
algorithm", 3DIM 2003; such a move is not taken from the surfaces: it stays as it was.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import STILL, Pose, Vector
from floorpan.geometry.local_planes import Neighbourhoods, spread_out
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.progress import Step, Work

RADIUS_MM = 8.0
"""A plane is laid through so much surface all round a point."""

# A place says something of a move once it faces it by this share: flatter ones tell of warp and roughness.
_FACES_IT = 0.25
# So much of all places, and at least so many, must face a move for it to be held.
_LEAST_SHARE, _LEAST_PLACES = 0.005, 12
# Surfaces that lean farther from each other than this are not the same place.
_SAME_WAY = math.cos(math.radians(30.0))
# Distances beyond so many times the middle one's sigma are not the same surface; nor nearer than this worth a look.
_TIMES_SIGMA, _LEAST_GATE_MM = 3.0, 0.05
_MAD_TO_SIGMA = 1.4826
_ROUNDS, _STILL_MM = 60, 1e-11
_SETTLED_MM = 1e-3
FEWEST_PLACES = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseWay:
    """A move that leaves both surfaces on each other, so that the surfaces do not tell it.

    kind : `slide` along, or `turn` about, a direction (unit, in the fixed surface's coordinates)
    """

    kind: Literal["slide", "turn"]
    along: Vector


@dataclass(frozen=True, slots=True, eq=False)
class SurfaceMatch:
    """How one surface lies on another.

    pose     : from the moved surface's coordinates to the fixed one's
    loose    : moves that the surfaces do not hold; in them the pose is what it was at the start
    places   : how many places of the moved surface took part, of offered
    rms_mm   : root mean square of what is left between the surfaces there
    at_mm    : (K, 3) those places, in the fixed surface's coordinates; off_mm : (K,) how far each is over it
    centre_mm : middle of the places; u_mm, u_deg : how well the moves that are held are known, half-widths at about
               95 %, the worst shift of the centre and the worst turn about it
    settled  : whether the last rounds changed nothing that matters
    """

    pose: Pose
    loose: tuple[LooseWay, ...]
    places: int
    offered: int
    rms_mm: float
    at_mm: Floats
    off_mm: Floats
    centre_mm: Vector
    u_mm: float
    u_deg: float
    settled: bool


def match_surfaces(
    fixed: Mesh,
    moved: Mesh,
    start: Pose = STILL,
    *,
    reach_mm: float = 30.0,
    radius_mm: float = RADIUS_MM,
    rounds: int = _ROUNDS,
) -> Work[SurfaceMatch | None]:
    """Lay a mesh onto another, from a pose that is nearly right; None where too little of them lies together.

    reach_mm  : how far apart places may be at the start
    radius_mm : of the surface that each plane averages
    rounds    : at most so many; with none it only tells what the start leaves
    """
    yield Step(0.0, "Looking at both surfaces")
    there = Neighbourhoods(fixed, radius_mm)
    yield Step(0.1, "Looking at both surfaces")
    here = Neighbourhoods(moved, radius_mm)
    own = _own(here, radius_mm)
    pose, gate, last = start, reach_mm, math.inf
    for number in range(rounds):
        yield Step(0.2 + 0.7 * number / rounds, "Laying one surface on the other")
        held = _pairs(there, own, pose, gate, radius_mm)
        if len(held.off) < FEWEST_PLACES:
            return None
        move = _best_move(held)
        pose = _rigid(move.pose().after(pose))
        last = move.size_mm
        if last < _STILL_MM:
            break
        gate = min(gate, max(_gate(held.off), 2.0 * last))
    yield Step(0.95, "Telling what is left")
    held = _pairs(there, own, pose, gate, radius_mm)
    return _told(pose, held, len(own.at), last) if len(held.off) >= FEWEST_PLACES else None


@dataclass(frozen=True, slots=True, eq=False)
class _Own:
    """Places of the moved surface in its own coordinates: points (N, 3), middles and normals of their planes."""

    at: Floats
    centre: Floats
    normal: Floats


def _own(here: Neighbourhoods, radius: float) -> _Own:
    numbers = spread_out(here.points, 2.0 * radius)
    planes = here.planes(numbers)
    return _Own(here.points[numbers][planes.good], planes.centre[planes.good], planes.normal[planes.good])


@dataclass(frozen=True, slots=True, eq=False)
class _Pairs:
    """Places (K, 3) on the moved surface, normals (K, 3) of the fixed one, and how far off it they are (K,)."""

    at: Floats
    normal: Floats
    off: Floats


def _pairs(there: Neighbourhoods, own: _Own, pose: Pose, gate: float, radius: float) -> _Pairs:
    # A place no farther over the surface than the gate, and no farther beside its nearest point than the radius.
    nearest = there.nearest(pose.apply(own.at), math.hypot(gate, radius) + radius)
    met = nearest >= 0
    planes = there.planes(nearest[met])
    at, facing = pose.apply(own.centre[met]), _turned(pose, own.normal[met])
    away = at - planes.centre
    off = np.einsum("ij,ij->i", away, planes.normal)
    beside = np.linalg.norm(away - off[:, None] * planes.normal, axis=1)
    same_way = np.einsum("ij,ij->i", planes.normal, facing) > _SAME_WAY
    # Past the rim of the fixed surface its plane goes on, the surface does not.
    take = planes.good & same_way & (np.abs(off) <= gate) & (beside <= radius)
    return _Pairs(at[take], planes.normal[take], off[take])


def _gate(off: Floats) -> float:
    sigma = _MAD_TO_SIGMA * float(np.median(np.abs(off - np.median(off))))
    return max(_TIMES_SIGMA * sigma + abs(float(np.median(off))), _LEAST_GATE_MM)


@dataclass(frozen=True, slots=True, eq=False)
class _Move:
    """A small move about a centre: turn [rad] (3,) then shift [mm] (3,)."""

    centre: Floats
    turn: Floats
    shift: Floats
    size_mm: float

    def pose(self) -> Pose:
        angle = float(np.linalg.norm(self.turn))
        x, y, z = self.shift
        shift = Pose(shift_mm=(float(x), float(y), float(z)))
        if angle == 0.0:
            return shift
        axis, at = _three(self.turn / angle), _three(self.centre)
        return shift.after(Pose.turned(axis, math.degrees(angle), at))


@dataclass(frozen=True, slots=True, eq=False)
class _Hold:
    """How the places hold each of six moves: turns are counted in mm at the places' root mean square arm.

    rows  : (K, 6) how much each place feels each coordinate move
    ways  : (6, 6) orthonormal moves as columns; strength : (6,) mean square that each is felt; held : (6,)
    """

    centre: Floats
    arm: float
    rows: Floats
    ways: Floats
    strength: Floats
    held: NDArray[np.bool_]


def _hold(pairs: _Pairs) -> _Hold:
    centre = pairs.at.mean(axis=0)
    arms = pairs.at - centre
    arm = max(float(np.sqrt(np.mean(np.einsum("ij,ij->i", arms, arms)))), 1e-9)
    rows = np.hstack([np.cross(arms, pairs.normal) / arm, pairs.normal])
    strength, ways = np.linalg.eigh(rows.T @ rows / len(rows))
    felt = np.square(rows @ ways)
    facing = np.where(felt > _FACES_IT**2, felt, 0.0).sum(axis=0)
    held = facing >= max(_LEAST_PLACES, _LEAST_SHARE * len(rows))
    return _Hold(centre, arm, rows, ways, strength, held)


def _best_move(pairs: _Pairs) -> _Move:
    hold = _hold(pairs)
    ways = hold.ways[:, hold.held]
    pull = ways.T @ (hold.rows.T @ pairs.off) / len(pairs.off)
    move = -ways @ (pull / hold.strength[hold.held])
    return _Move(hold.centre, move[:3] / hold.arm, move[3:], float(np.linalg.norm(move)))


def _told(pose: Pose, pairs: _Pairs, offered: int, last_mm: float) -> SurfaceMatch:
    hold = _hold(pairs)
    count, held = len(pairs.off), hold.held
    variance = float(pairs.off @ pairs.off) / max(count - int(held.sum()), 1)
    spread = hold.ways[:, held] / (count * hold.strength[held]) @ hold.ways[:, held].T * variance
    turn = float(np.linalg.eigvalsh(spread[:3, :3])[-1]) / hold.arm**2
    shift = float(np.linalg.eigvalsh(spread[3:, 3:])[-1])
    return SurfaceMatch(
        pose=pose,
        loose=_loose(hold),
        places=count,
        offered=offered,
        rms_mm=float(np.sqrt(np.mean(pairs.off**2))),
        at_mm=pairs.at,
        off_mm=pairs.off,
        centre_mm=_three(hold.centre),
        u_mm=2.0 * math.sqrt(max(shift, 0.0)),
        u_deg=2.0 * math.degrees(math.sqrt(max(turn, 0.0))),
        settled=last_mm < _SETTLED_MM,
    )


def _loose(hold: _Hold) -> tuple[LooseWay, ...]:
    """The moves that are not held, slides told apart from turns."""
    ways = hold.ways[:, ~hold.held]
    if not ways.shape[1]:
        return ()
    _, turning, mix = np.linalg.svd(ways[:3])
    turning = np.concatenate([turning, np.zeros(ways.shape[1] - len(turning))])
    found = []
    for share, one in zip(turning, (ways @ mix.T).T, strict=True):
        kind: Literal["slide", "turn"] = "turn" if share > 0.5 else "slide"
        along = one[:3] if kind == "turn" else one[3:]
        along = along / np.linalg.norm(along)
        # The same way always, whichever sign the library happened to give.
        found.append(LooseWay(kind=kind, along=_three(along * np.sign(along[np.argmax(np.abs(along))]))))
    return tuple(found)


def _turned(pose: Pose, directions: Floats) -> Floats:
    turned: Floats = directions @ np.reshape(pose.rotation, (3, 3)).T
    return turned


def _rigid(pose: Pose) -> Pose:
    """The same pose with a turn that is orthonormal to the last digit, however many small ones made it."""
    left, _, right = np.linalg.svd(np.reshape(pose.rotation, (3, 3)))
    matrix = np.eye(4)
    matrix[:3, :3], matrix[:3, 3] = left @ right, pose.shift_mm
    return Pose.from_matrix(matrix)


def _three(values: Floats) -> Vector:
    x, y, z = (float(value) for value in values)
    return x, y, z
