"""Whether a driver reaches what else is reached for, belts tight, at every used notch: switches, handbrake, a cup."""

from collections.abc import Iterator

from floorpan.checks.check import Check, Reading
from floorpan.checks.finding import Doubt, Finding, Point, combined, verdict_of
from floorpan.checks.pairs import limit_for, states
from floorpan.derive import Scene, reach_from, sitting_in
from floorpan.driver import BELTS_AXIS, Person, Side
from floorpan.items import Control, Handbrake, Seat, Vessel
from floorpan.items.handbrake import DOWN, LEVER, UP
from floorpan.items.states import State, state_of, stops_of
from floorpan.layout import Thing, record_of
from floorpan.limits import Limit

LIMIT = "reach-for"


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
            for state in states(scene, seat.id):
                # Somebody else who sits in this seat may use other notches.
                if int(stops_of(state, seat.id)["notch"]) in person.notches_used:
                    full = state_of({**dict(state), **dict(own), f"{person.id}.{BELTS_AXIS}": "tight"})
                    yield Reading((f"{person.id}.hand", thing.id), full, (person, seat, thing, side, wanted))


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
    assert isinstance(thing, Control | Handbrake | Vessel)
    assert isinstance(wanted, Limit)
    assert side == "left" or side == "right"
    grip = record_of(thing).grips(thing, stops_of(reading.state, thing.id))[0]
    fingers = thing.fingers_mm() if isinstance(thing, Control) else 0.0
    sitting = sitting_in(person, seat, int(stops_of(reading.state, seat.id)["notch"]))
    found = reach_from(sitting, "tight", side, grip.at_mm, fingers)
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


CHECKS = (Check("reach-for", "live", _reads, _judge),)
