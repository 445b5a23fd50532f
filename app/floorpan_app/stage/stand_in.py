"""The driver: arm, hand and thighs as they are measured; torso and head as an outline, with where the eyes look."""

import functools
import math
from dataclasses import dataclass

import numpy as np

from floorpan.derive import Scene, reach_in, sitting_in
from floorpan.driver import BELTS_AXIS, Person, Side, forearm, head, thigh, torso, upper_arm
from floorpan.frames import Pose, Vector
from floorpan.geometry.solids import Body, Hull, Solid, capsule
from floorpan.items import Seat, Shifter
from floorpan.items.states import State, stops_of

SIGHT_MM = 700.0
_EYES_AHEAD_MM = 85.0
_THIN = 1e-6
_SIDES: tuple[Side, Side] = ("left", "right")


@dataclass(frozen=True, slots=True, eq=False)
class StandIn:
    """One driver as drawn.

    id      : of the person
    arm     : name and body of hand, forearm and upper arm; nothing where nothing is reached for
    thighs  : name and body of each
    outline : torso and head
    sight   : from the eyes straight ahead, two points [mm]
    joints  : shoulder, elbow, wrist of the shifting arm (3, 3) [mm], None where nothing is reached for
    """

    id: str
    arm: tuple[tuple[str, Body], ...]
    thighs: tuple[tuple[str, Body], ...]
    outline: Body
    sight: tuple[Vector, Vector]
    joints: tuple[Vector, Vector, Vector] | None


def stand_in(scene: Scene, state: State) -> StandIn | None:
    """The design driver in a full state; None where nobody sits. The same inputs give the very same bodies."""
    person = scene.layout.driver()
    seat = scene.seat_of(person) if person is not None else None
    if person is None or seat is None:
        return None
    shifters = scene.layout.of(Shifter)
    notch, belts = stops_of(state, seat.id)["notch"], stops_of(state, person.id)[BELTS_AXIS]
    sitting: tuple[object, ...] = (person, seat)
    outline, sight, thighs = scene.memory.get(
        ("sitting", notch), sitting, lambda: _sitting(person, seat, int(notch))
    )
    if not shifters:
        return StandIn(person.id, (), thighs, outline, sight, None)
    shifter = shifters[0]
    gear = stops_of(state, shifter.id)["gear"]
    arm, joints = scene.memory.get(
        ("shifting arm", notch, belts, gear),
        (person, seat, shifter),
        lambda: _arm(scene, person, seat, shifter, state),
    )
    hand = (f"{person.id}.hand", scene.body(f"{person.id}.hand", state))
    return StandIn(person.id, (*arm, hand), thighs, outline, sight, joints)


def _sitting(
    person: Person, seat: Seat, notch: int
) -> tuple[Body, tuple[Vector, Vector], tuple[tuple[str, Body], ...]]:
    sitting = sitting_in(person, seat, notch)
    hip, back, turn = sitting.h_point, sitting.back_deg, sitting.turn_deg
    skull = head(person, hip, back, turn_deg=turn)
    outline = (*torso(person, hip, back, turn_deg=turn), *skull)
    ahead = Pose.turned((0.0, 0.0, 1.0), turn).apply(np.array([-1.0, 0.0, 0.0]))
    eyes = skull[0].points()[0] + _EYES_AHEAD_MM * ahead
    sight = (_vector(eyes), _vector(eyes + SIGHT_MM * ahead))
    thighs = tuple(
        (f"{person.id}.thigh {side}", _held(thigh(hip, seat.cushion_deg, side, turn))) for side in _SIDES
    )
    return outline, sight, thighs


def _arm(
    scene: Scene, person: Person, seat: Seat, shifter: Shifter, state: State
) -> tuple[tuple[tuple[str, Body], ...], tuple[Vector, Vector, Vector]]:
    posed = reach_in(person, seat, shifter, state, scene.hand_side()).arm
    limbs = (
        (f"{person.id}.forearm", _held(forearm(posed))),
        (f"{person.id}.upper arm", _held(upper_arm(posed))),
    )
    return limbs, (posed.shoulder_mm, posed.elbow_mm, posed.wrist_mm)


def _held(body: Body) -> Body:
    """The same body of rods that stand at poses, so that a limb that only moves keeps its hull."""
    return tuple(_standing_rod(solid) if len(solid.hull.points) == 2 else solid for solid in body)


def _standing_rod(solid: Solid) -> Solid:
    first, last = solid.points()
    along = last - first
    length = float(np.linalg.norm(along))
    hull = _rod(round(length, 3), solid.hull.radius_mm)
    if length < _THIN:
        return Solid(hull, Pose(shift_mm=_vector(first)))
    x, y, z = (along / length).tolist()
    flat = math.hypot(x, y)
    tilt = math.degrees(math.atan2(flat, z))
    axis = (-y / flat, x / flat, 0.0) if flat > _THIN else (1.0, 0.0, 0.0)
    turn = Pose.turned(axis, tilt)
    return Solid(hull, Pose(rotation=turn.rotation, shift_mm=_vector(first)))


@functools.lru_cache(maxsize=256)
def _rod(length_mm: float, radius_mm: float) -> Hull:
    return capsule(np.zeros(3), np.array([0.0, 0.0, length_mm]), radius_mm)


def _vector(values: object) -> Vector:
    x, y, z = (float(value) for value in np.asarray(values))
    return x, y, z
