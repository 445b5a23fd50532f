"""Whether the hand reaches every gear: belts tight and loose, at every used notch; and how the elbow is bent."""

from collections.abc import Iterator
from functools import partial
from typing import cast

from floorpan.checks.check import Check, Reading
from floorpan.checks.finding import Doubt, Finding, Point, combined, verdict_of
from floorpan.checks.pairs import limit_for, states
from floorpan.checks.reclining import slides
from floorpan.derive import Scene, reach_in
from floorpan.driver import BELTS_AXIS, Person, Reach, Side
from floorpan.items import Seat, Shifter
from floorpan.items.states import State, state_of, stops_of
from floorpan.limits import Limit


def _reads(scene: Scene, limit: str, belts: str) -> Iterator[Reading]:
    for person, shifter in scene.hands():
        seat = scene.seat_of(person)
        if seat is None:
            continue
        subjects = (f"{person.id}.hand", f"{shifter.id}.knob")
        wanted = limit_for(scene, limit)
        for state in states(scene, slides(seat), f"{shifter.id}.knob"):
            if int(stops_of(state, seat.id)["notch"]) not in person.notches_used:
                continue
            full = state_of({**dict(state), f"{person.id}.{BELTS_AXIS}": belts})
            yield Reading(subjects, full, (person, seat, shifter, full, scene.hand_side(), wanted))


def _seen(reading: Reading) -> tuple[Reach, Limit]:
    person, seat, shifter, state, side, wanted = reading.inputs
    assert isinstance(person, Person)
    assert isinstance(seat, Seat)
    assert isinstance(shifter, Shifter)
    assert isinstance(wanted, Limit)
    return reach_in(person, seat, shifter, cast(State, state), cast(Side, side)), wanted


def _judge_reach(reading: Reading) -> Finding:
    found, wanted = _seen(reading)
    return _finding("reach", reading, wanted, found, found.spare_mm, found.spare_sd_mm)


def _judge_elbow(reading: Reading) -> Finding:
    found, wanted = _seen(reading)
    return _finding("elbow", reading, wanted, found, found.elbow_deg, found.elbow_sd_deg)


def _finding(
    check: str, reading: Reading, wanted: Limit, found: Reach, value: float, sd: tuple[float, float]
) -> Finding:
    by_tape, by_body = sd
    doubts = (Doubt("taped body", standard=by_tape), Doubt("sizes not taped", standard=by_body))
    u = combined(doubts)
    ends: tuple[Point, Point] = (found.arm.shoulder_mm, found.arm.grip_mm)
    return Finding(
        check=check,
        subjects=reading.subjects,
        state=reading.state,
        verdict=verdict_of(value, u, wanted, is_gap=False),
        value=value,
        uncertainty=u,
        doubts=tuple(doubt for doubt in doubts if doubt.standard > 0.0 or doubt is doubts[0]),
        limit=wanted,
        is_gap=False,
        at_mm=ends,
        met="knob",
        note=found.limited_by,
    )


CHECKS = (
    Check("reach", "live", partial(_reads, limit="reach", belts="tight"), _judge_reach),
    Check("elbow", "live", partial(_reads, limit="elbow", belts="tight"), _judge_elbow),
    Check("reach-loose", "settled", partial(_reads, limit="reach", belts="loose"), _judge_reach),
)
