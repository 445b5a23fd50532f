"""Whether a driver reaches what else is reached for, belts tight, at every used notch: switches, handbrake, a cup.

Whoever sits in a seat reaches for the buckle of their own belt, with the hand that reaches it better.
"""

from collections.abc import Iterator
from typing import cast

from floorpan.checks.check import Check, Reading
from floorpan.checks.finding import Doubt, Finding, Point, combined, verdict_of
from floorpan.checks.pairs import limit_for, states
from floorpan.checks.reclining import slides
from floorpan.derive import Buckled, Scene, reach_from, sitting_in
from floorpan.driver import BELTS_AXIS, Person, Reach, Side
from floorpan.items import Buckle, Control, Handbrake, Seat, Vessel
from floorpan.items.handbrake import DOWN, LEVER, UP
from floorpan.items.states import State, state_of, stops_of
from floorpan.layout import Thing, record_of
from floorpan.limits import Limit

LIMIT = "reach-for"
EITHER = "either"
_BOTH: tuple[Side, Side] = ("left", "right")


def _reached_for(scene: Scene) -> Iterator[tuple[Thing, State]]:
    """Each thing as it stands, with the state of its own in which it is reached for."""
    for control in scene.layout.of(Control):
        yield control, ()
    for brake in scene.layout.of(Handbrake):
        for stop in (DOWN, UP):
            yield brake, state_of({f"{brake.id}.{LEVER}": stop})
    for vessel in scene.layout.of(Vessel):
        if vessel.stands_in:
            yield scene.placed(vessel.id), state_of({f"{vessel.id}.place": "in"})


def _reads(scene: Scene) -> Iterator[Reading]:
    wanted = limit_for(scene, LIMIT)
    for person in scene.drivers():
        seat = scene.seat_of(person)
        if seat is None:
            continue
        for thing, own in _reached_for(scene):
            side = _side(scene, thing)
            for state in states(scene, slides(seat)):
                # Somebody else who sits in this seat may use other notches.
                if int(stops_of(state, seat.id)["notch"]) in person.notches_used:
                    full = state_of({**dict(state), **dict(own), f"{person.id}.{BELTS_AXIS}": "tight"})
                    yield Reading((f"{person.id}.hand", thing.id), full, (person, seat, thing, side, wanted))


def _own_buckles(scene: Scene) -> Iterator[Reading]:
    """Everybody at the buckle of the belt they wear, where the seat carries it at each of their notches."""
    wanted, buckled = limit_for(scene, LIMIT), Buckled(scene.layout, scene.memory)
    for person in scene.layout.people:
        seat = scene.seat_of(person)
        for buckle in scene.layout.of(Buckle):
            if seat is None or buckle.seat_id != seat.id:
                continue
            for state in states(scene, slides(seat)):
                notch = int(stops_of(state, seat.id)["notch"])
                if notch in person.notches_used:
                    full = state_of({**dict(state), f"{person.id}.{BELTS_AXIS}": "tight"})
                    there = buckled.carried(buckle, notch)
                    yield Reading(
                        (f"{person.id}.hand", buckle.id), full, (person, seat, there, EITHER, wanted)
                    )


def _side(scene: Scene, thing: Thing) -> Side:
    """The shifting hand's side, or the other where a switch says so."""
    shifting = scene.hand_side()
    if isinstance(thing, Control) and thing.hand == "other hand":
        return "left" if shifting == "right" else "right"
    return shifting


def _judge(reading: Reading) -> Finding:
    person, seat, thing, side, wanted = reading.inputs
    assert isinstance(person, Person)
    assert isinstance(seat, Seat)
    assert isinstance(thing, Buckle | Control | Handbrake | Vessel)
    assert isinstance(wanted, Limit)
    grip = record_of(thing).grips(thing, stops_of(reading.state, thing.id))[0]
    fingers = thing.fingers_mm() if isinstance(thing, Buckle | Control) else 0.0
    sitting = sitting_in(person, seat, int(stops_of(reading.state, seat.id)["notch"]))
    sides = _BOTH if side == EITHER else (cast(Side, side),)
    tried = (reach_from(sitting, "tight", one, grip.at_mm, fingers) for one in sides)
    found: Reach = max(tried, key=lambda one: one.spare_mm)
    by_tape, by_body = found.spare_sd_mm
    doubts = (Doubt("taped body", standard=by_tape), Doubt("sizes not taped", standard=by_body))
    u = combined(doubts)
    ends: tuple[Point, Point] = (found.arm.shoulder_mm, grip.at_mm)
    return Finding(
        check="reach-for",
        subjects=reading.subjects,
        state=reading.state,
        verdict=verdict_of(found.spare_mm, u, wanted, is_gap=False),
        value=found.spare_mm,
        uncertainty=u,
        doubts=tuple(doubt for doubt in doubts if doubt.standard > 0.0 or doubt is doubts[0]),
        limit=wanted,
        is_gap=False,
        at_mm=ends,
        note=found.limited_by,
    )


def _all(scene: Scene) -> Iterator[Reading]:
    yield from _reads(scene)
    yield from _own_buckles(scene)


CHECKS = (Check("reach-for", "live", _all, _judge),)
