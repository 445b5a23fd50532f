"""Whether a driver reaches what else is reached for, belts tight, at every used notch: switches, handbrake, a cup.

Whoever sits in a seat reaches for the buckle of their own belt, with the hand that reaches it better.
"""

from collections.abc import Callable, Iterator
from functools import partial
from typing import cast

from floorpan.checks.check import Check, Group, Reading
from floorpan.checks.finding import Doubt, Finding, Point, combined, verdict_of
from floorpan.checks.footings import sitting, standing
from floorpan.checks.pairs import limit_for, states
from floorpan.checks.reclining import slides
from floorpan.derive import Buckled, Footing, Scene, reach_from, sitting_in
from floorpan.driver import BELTS_AXIS, Person, Reach, Side
from floorpan.items import Buckle, Control, Handbrake, Seat, Vessel
from floorpan.items.handbrake import DOWN, LEVER, UP
from floorpan.items.states import State, state_of, stops_of
from floorpan.layout import Thing, record_of
from floorpan.limits import Limit

LIMIT = "reach-for"
EITHER = "either"
_BOTH: tuple[Side, Side] = ("left", "right")


def _reached_for(scene: Scene) -> Iterator[tuple[Thing, tuple[State, ...]]]:
    """Each thing as it stands, with the states of its own in which it is reached for."""
    for control in scene.layout.of(Control):
        yield control, ((),)
    for brake in scene.layout.of(Handbrake):
        yield brake, tuple(state_of({f"{brake.id}.{LEVER}": stop}) for stop in (DOWN, UP))
    for vessel in scene.layout.of(Vessel):
        if vessel.stands_in:
            yield scene.placed(vessel.id), (state_of({f"{vessel.id}.place": "in"}),)


def _reads(scene: Scene) -> Iterator[Group]:
    for person in scene.drivers():
        seat = scene.seat_of(person)
        for thing, own in _reached_for(scene) if seat is not None else ():
            assert seat is not None
            met, side = scene.footing(thing.id), _side(scene, thing)
            yield _for(scene, person, seat, met, side, thing, lambda _, thing=thing: thing, own)  # type: ignore[misc]


def _own_buckles(scene: Scene) -> Iterator[Group]:
    """Everybody at the buckle of the belt they wear, where the seat carries it at each of their notches."""
    buckled = Buckled(scene.layout, scene.memory)
    for person in scene.layout.people:
        seat = scene.seat_of(person)
        for buckle in scene.layout.of(Buckle):
            if seat is not None and buckle.seat_id == seat.id:
                met, carried = standing(scene, buckle.id), partial(buckled.carried, buckle)
                yield _for(scene, person, seat, met, EITHER, buckle, carried, ((),))


def _for(
    scene: Scene,
    person: Person,
    seat: Seat,
    met: Footing,
    side: str,
    thing: Thing,
    at_notch: Callable[[int], Thing],
    own: tuple[State, ...],
) -> Group:
    """Somebody reaching for a thing at each notch they use, in each of its own states."""
    wanted = limit_for(scene, LIMIT)

    def make(group: Group) -> Iterator[Reading]:
        for stops in own:
            for state in states(scene, slides(seat)):
                # Somebody else who sits in this seat may use other notches.
                if (notch := int(stops_of(state, seat.id)["notch"])) in person.notches_used:
                    full = state_of({**dict(state), **dict(stops), f"{person.id}.{BELTS_AXIS}": "tight"})
                    inputs = (person, seat, at_notch(notch), side, wanted)
                    yield Reading(group.subjects, full, inputs, group.pair)

    subjects = (f"{person.id}.hand", thing.id)
    return Group(subjects, sitting(scene, person, seat.id), met, (side, wanted), make)


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


def _all(scene: Scene) -> Iterator[Group]:
    yield from _reads(scene)
    yield from _own_buckles(scene)


CHECKS = (Check("reach-for", "live", _all, _judge),)
