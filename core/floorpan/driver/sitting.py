"""How somebody sits in a seat: where hip and torso line are once foam, jacket and the person's own way are counted."""

import math
from dataclasses import dataclass

import numpy as np

from floorpan.driver.person import Person
from floorpan.frames import Floats, Pose, Vector, vector_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Sitting:
    """A person as they sit at one notch.

    h_point  : hip point in car axes [mm]
    back_deg : torso line from upright, rearward
    turn_deg : the seat's turn about the upright
    """

    person: Person
    h_point: Vector
    back_deg: float
    turn_deg: float


def sit(
    person: Person, reference: Vector, back_deg: float, turn_deg: float = 0.0, foam_mm: float = 0.0
) -> Sitting:
    """A person in a seat whose reference point stands at `reference` in car axes [mm].

    Settled foam lets the hip down; a jacket behind the back moves hip and torso ahead, square to the torso line.
    """
    off = sunk_mm(person, back_deg, foam_mm) + np.array(
        [person.hip_back_mm, person.hip_right_mm, person.hip_up_mm]
    )
    return Sitting(
        person=person,
        h_point=vector_of(np.asarray(reference) + _turned(off, turn_deg)),
        back_deg=back_deg + person.lean_off_deg,
        turn_deg=turn_deg,
    )


def sunk_mm(person: Person, back_deg: float, foam_mm: float) -> Floats:
    """What foam and jacket move the hip by (3,), in the seat's axes [mm]."""
    lean = math.radians(back_deg + person.lean_off_deg)
    ahead = np.array([-math.cos(lean), 0.0, math.sin(lean)])
    moved: Floats = person.jacket_mm * ahead - np.array([0.0, 0.0, foam_mm])
    return moved


def _turned(vector: Floats, turn_deg: float) -> Floats:
    return Pose.turned((0.0, 0.0, 1.0), turn_deg).apply(vector) if turn_deg else vector
