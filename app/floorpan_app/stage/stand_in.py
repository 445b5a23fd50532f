"""The driver: arm, hand and thighs as they are measured; torso and head as an outline, with where the eyes look."""

import functools
import math
from dataclasses import dataclass

import numpy as np

from floorpan.derive import Scene, elbow_in, reach_in, sitting_in
from floorpan.driver import Arm, Person, Side, forearm, head, thigh, torso, upper_arm
from floorpan.frames import Pose, Vector, vector_of
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

    person  : who is drawn
    arm     : name and body of hand, forearm and upper arm; nothing where nothing is reached for
    thighs  : name and body of each
    outline : torso and head
    sight   : from the eyes straight ahead, two points [mm]
    chain   : hip, shoulder, elbow, wrist and grip of the shifting arm [mm]; the hip alone where nothing is reached for
    """

    person: Person
    arm: tuple[tuple[str, Body], ...]
    thighs: tuple[tuple[str, Body], ...]
    outline: Body
    sight: tuple[Vector, Vector]
    chain: tuple[Vector, ...]

    @property
    def id(self) -> str:
        """The person's."""
        return self.person.id


def stand_in(scene: Scene, state: State, person: Person | None) -> StandIn | None:
    """A driver in a full state; None where nobody sits. The same inputs give the very same bodies."""
    seat = scene.seat_of(person) if person is not None else None
    if person is None or seat is None:
        return None
    shifters = scene.layout.of(Shifter)
    notch = int(stops_of(state, seat.id)["notch"])
    outline, sight, thighs = scene.memory.get(
        ("sitting", notch), (person, seat), lambda: _sitting(person, seat, notch)
    )
    hip = sitting_in(person, seat, notch).h_point
    if not shifters:
        return StandIn(person, (), thighs, outline, sight, (hip,))
    posed = posed_arm(scene, person, seat, shifters[0], state)
    arm = scene.memory.get("arm", (person, posed), lambda: _arm(person, posed))
    hand = (f"{person.id}.hand", scene.body(f"{person.id}.hand", state))
    chain = (hip, posed.shoulder_mm, posed.elbow_mm, posed.wrist_mm, posed.grip_mm)
    return StandIn(person, (*arm, hand), thighs, outline, sight, chain)


def posed_arm(scene: Scene, person: Person, seat: Seat, shifter: Shifter, state: State) -> Arm:
    """The arm on the knob, its elbow where joints and things about let it be; stretched out where it falls short."""
    found = elbow_in(scene, person, seat, shifter, state)
    return found.posed if found is not None else reach_in(person, seat, shifter, state, scene.hand_side()).arm


def _sitting(
    person: Person, seat: Seat, notch: int
) -> tuple[Body, tuple[Vector, Vector], tuple[tuple[str, Body], ...]]:
    sitting = sitting_in(person, seat, notch)
    hip, back, turn = sitting.h_point, sitting.back_deg, sitting.turn_deg
    skull = head(person, hip, back, turn_deg=turn)
    outline = (*torso(person, hip, back, turn_deg=turn), *skull)
    ahead = Pose.turned((0.0, 0.0, 1.0), turn).apply(np.array([-1.0, 0.0, 0.0]))
    eyes = skull[0].points()[0] + _EYES_AHEAD_MM * ahead
    sight = (vector_of(eyes), vector_of(eyes + SIGHT_MM * ahead))
    thighs = tuple(
        (f"{person.id}.thigh {side}", _held(thigh(hip, seat.cushion_deg, side, turn))) for side in _SIDES
    )
    return outline, sight, thighs


def _arm(person: Person, posed: Arm) -> tuple[tuple[str, Body], ...]:
    return (
        (f"{person.id}.forearm", _held(forearm(posed, person.jacket_mm))),
        (f"{person.id}.upper arm", _held(upper_arm(posed, person.jacket_mm))),
    )


def _held(body: Body) -> Body:
    """The same body of rods that stand at poses, so that a limb that only moves keeps its hull."""
    return tuple(_standing_rod(solid) if len(solid.hull.points) == 2 else solid for solid in body)


def _standing_rod(solid: Solid) -> Solid:
    first, last = (vector_of(end) for end in solid.points())
    return Solid(_rod(round(math.dist(first, last), 3), solid.hull.radius_mm), Pose.along(first, last))


@functools.lru_cache(maxsize=256)
def _rod(length_mm: float, radius_mm: float) -> Hull:
    return capsule(np.zeros(3), np.array([0.0, 0.0, length_mm]), radius_mm)
