"""Whether the hand reaches every gear: belts tight and loose, at every used notch; and how the elbow is bent."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import cast

from floorpan.checks.check import Bounded, Check, Group, Reading
from floorpan.checks.finding import Doubt, Finding, Point, combined, margin, verdict_of
from floorpan.checks.footings import sitting, standing
from floorpan.checks.pairs import limit_for, states
from floorpan.checks.reclining import slides
from floorpan.derive import Scene, reach_in
from floorpan.driver import BELTS_AXIS, Person, Reach, Side
from floorpan.driver.arm import elbow_deg
from floorpan.driver.reach_doubts import most_elbow_sd_deg, most_spare_sd_mm
from floorpan.items import Seat, Shifter
from floorpan.items.states import State, state_of, stops_of
from floorpan.limits import Limit

# Bounds are worked out in floating point; nearer than this they prove nothing [mm, deg].
_SLACK = 1e-6
_FARTHEST_MM = 256.0


def _reads(scene: Scene, limit: str, belts: str) -> Iterator[Group]:
    for person, shifter in scene.hands():
        seat = scene.seat_of(person)
        if seat is None:
            continue
        subjects = (f"{person.id}.hand", f"{shifter.id}.knob")
        wanted = limit_for(scene, limit)
        side = scene.hand_side()
        sits, knob = sitting(scene, person, seat.id), standing(scene, shifter.id)

        def one(
            group: Group,
            state: State,
            inputs: tuple[object, ...] = (person, seat, shifter),
            then: tuple[object, ...] = (side, wanted),
        ) -> Reading:
            return Reading(group.subjects, state, (*inputs, state, *then), group.pair)

        def make(
            group: Group,
            person: Person = person,
            seat: Seat = seat,
            shifter: Shifter = shifter,
            one: Callable[[Group, State], Reading] = one,
        ) -> Iterator[Reading]:
            for state in states(scene, slides(seat), f"{shifter.id}.knob"):
                if int(stops_of(state, seat.id)["notch"]) in person.notches_used:
                    yield one(group, state_of({**dict(state), f"{person.id}.{BELTS_AXIS}": belts}))

        yield Group(subjects, sits, knob, (side, wanted), make, one)


def _seen(reading: Reading) -> tuple[Reach, Limit]:
    person, seat, shifter, state, side, wanted = reading.inputs
    assert isinstance(person, Person)
    assert isinstance(seat, Seat)
    assert isinstance(shifter, Shifter)
    assert isinstance(wanted, Limit)
    return reach_in(person, seat, shifter, cast(State, state), cast(Side, side)), wanted


@dataclass(frozen=True, slots=True)
class OfSpare(Bounded):
    """Judges how much arm is to spare: the shoulder stays, so it changes by no more than the knob goes."""

    def __call__(self, reading: Reading) -> Finding:
        """The finding."""
        found, wanted = _seen(reading)
        return _finding("reach", reading, wanted, found, found.spare_mm, found.spare_sd_mm)

    def spare_mm(self, reading: Reading, told: Finding) -> float:
        """How far the knob may go while the reach stays clear."""
        person = reading.inputs[0]
        assert isinstance(person, Person)
        assert told.value is not None
        return margin(told.value, told.limit) - 2.0 * math.hypot(*most_spare_sd_mm(person)) - _SLACK


@dataclass(frozen=True, slots=True)
class OfElbow(Bounded):
    """Judges the elbow's angle, by how far the shoulder and the knob may be from each other."""

    def __call__(self, reading: Reading) -> Finding:
        """The finding."""
        found, wanted = _seen(reading)
        return _finding("elbow", reading, wanted, found, found.elbow_deg, found.elbow_sd_deg)

    def spare_mm(self, reading: Reading, told: Finding) -> float:
        """How far the knob may go while the angle stays clear: between two cuts of it, a 64th of the first apart."""
        person = reading.inputs[0]
        assert isinstance(person, Person)
        low, high = 0.0, _FARTHEST_MM
        while high - low > _FARTHEST_MM / 64:
            middle = (low + high) / 2
            nearest, farthest = _spans(told, middle)
            u = 2.0 * math.hypot(*most_elbow_sd_deg(person, nearest, farthest))
            clear = margin(self.at_worst(reading, told, middle), told.limit) - u > _SLACK
            low, high = (middle, high) if clear else (low, middle)
        return low

    def at_worst(self, reading: Reading, told: Finding, gone_mm: float) -> float:
        """The angle with less margin of the two that the knob may make."""
        person = reading.inputs[0]
        assert isinstance(person, Person)
        upper, lower = person.upper_arm_mm, person.forearm_mm()
        angles = [elbow_deg(span, upper, lower) for span in _spans(told, gone_mm)]
        return min(angles, key=lambda angle: margin(angle, told.limit))


def _spans(told: Finding, gone_mm: float) -> tuple[float, float]:
    """The least and greatest distance from shoulder to knob once the knob went so far."""
    assert told.at_mm is not None
    span = math.dist(*told.at_mm)
    return max(span - gone_mm, 0.0), span + gone_mm


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
    Check("reach", "live", partial(_reads, limit="reach", belts="tight"), OfSpare()),
    Check("elbow", "live", partial(_reads, limit="elbow", belts="tight"), OfElbow()),
    Check("reach-loose", "settled", partial(_reads, limit="reach", belts="loose"), OfSpare()),
)
