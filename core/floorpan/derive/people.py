"""People in their seats: how they sit at a notch, and a hand on a grip from there."""

import functools
from typing import cast

from floorpan.driver import BELTS_AXIS, Belts, Person, Reach, Side, Sitting, reach, sit
from floorpan.frames import Vector
from floorpan.items import Seat, Shifter, h_point
from floorpan.items.states import State, stops_of
from floorpan.layout import record_of


@functools.lru_cache(maxsize=1024)
def sitting_in(person: Person, seat: Seat, notch: int) -> Sitting:
    """How a person sits in a seat at a notch; raises BadValue for a notch the slide does not have."""
    return sit(person, h_point(seat, notch), seat.back_deg, seat.place.turn_deg, seat.foam_mm)


def reach_from(sitting: Sitting, belts: Belts, side: Side, grip_mm: Vector, fingers_mm: float = 0.0) -> Reach:
    """How somebody who sits so reaches a grip in car axes [mm]; fingers_mm as in `reach`."""
    at, back, turn = sitting.h_point, sitting.back_deg, sitting.turn_deg
    return reach(sitting.person, at, back, belts, side, grip_mm, turn, fingers_mm)


@functools.lru_cache(maxsize=4096)
def reach_in(person: Person, seat: Seat, shifter: Shifter, state: State, side: Side) -> Reach:
    """How a person reaches a shifter's grip in a state (gear, belts, notch)."""
    gear = stops_of(state, shifter.id)["gear"]
    notch = stops_of(state, seat.id)["notch"]
    belts = cast(Belts, stops_of(state, person.id)[BELTS_AXIS])
    grip = record_of(shifter).grips(shifter, {"gear": gear})[0]
    return reach_from(sitting_in(person, seat, int(notch)), belts, side, grip.at_mm)
