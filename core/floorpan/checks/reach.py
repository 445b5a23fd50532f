"""Whether the hand reaches every gear: belts tight and loose, at every used notch; and how the elbow is bent."""

from collections.abc import Iterator

from floorpan.checks.check import Check, Reading
from floorpan.checks.finding import Doubt, Finding, Point, verdict_of
from floorpan.checks.pairs import limit_for, states
from floorpan.derive import Scene
from floorpan.driver import Reach
from floorpan.limits import Limit


def _reads(scene: Scene, limit: str) -> Iterator[Reading]:
    for person, shifter in scene.hands():
        seat = scene.seat_of(person)
        if seat is None:
            continue
        subjects = (f"{person.id}.hand", f"{shifter.id}.knob")
        for state in states(scene, person.id, seat.id, f"{shifter.id}.knob"):
            if limit == "elbow" and (f"{person.id}.belts", "loose") in state:
                continue
            yield Reading(subjects, state, (scene.reach(person, shifter, state), limit_for(scene, limit)))


def _judge_reach(reading: Reading) -> Finding:
    found, wanted = reading.inputs
    assert isinstance(found, Reach)
    assert isinstance(wanted, Limit)
    return _finding("reach", reading, wanted, found, found.spare_mm, found.spare_u_mm)


def _judge_elbow(reading: Reading) -> Finding:
    found, wanted = reading.inputs
    assert isinstance(found, Reach)
    assert isinstance(wanted, Limit)
    return _finding("elbow", reading, wanted, found, found.elbow_deg, found.elbow_u_deg)


def _finding(check: str, reading: Reading, wanted: Limit, found: Reach, value: float, u: float) -> Finding:
    ends: tuple[Point, Point] = (found.arm.shoulder_mm, found.arm.grip_mm)
    return Finding(
        check=check,
        subjects=reading.subjects,
        state=reading.state,
        verdict=verdict_of(value, u, wanted, is_gap=False),
        value=value,
        uncertainty=u,
        doubts=(Doubt("taped body", standard=u / 2),),
        limit=wanted,
        is_gap=False,
        at_mm=ends,
        met="knob",
        note=found.limited_by,
    )


CHECKS = (
    Check("reach", "live", lambda scene: _reads(scene, "reach"), _judge_reach),
    Check("elbow", "live", lambda scene: _reads(scene, "elbow"), _judge_elbow),
)
