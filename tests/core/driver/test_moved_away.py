"""Old seat and new: the example worked by hand, and what must hold whatever the seats are."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.driver.moved_away import CAUSES, MovedAway, SeatLine, moved_away
from floorpan.driver.person import Person
from floorpan.driver.reach import reach
from floorpan.errors import BadValue
from floorpan.frames import Pose, Vector

TORSO, OUT = 550.0, 200.0
SHORT = st.floats(-300.0, 300.0)
POINTS = st.tuples(SHORT, SHORT, SHORT)
LINES = st.builds(SeatLine, h_point=POINTS, back_deg=st.floats(0.0, 45.0), turn_deg=st.floats(-20.0, 20.0))
ROUNDING = 1e-6


def compared(
    before: SeatLine, after: SeatLine, knob: Vector, knob_after: Vector | None = None, side: str = "right"
) -> MovedAway:
    return moved_away(
        before,
        after,
        knob,
        knob_after,
        shoulder_mm=TORSO,
        shoulder_out_mm=OUT,
        hand_side="right" if side == "right" else "left",
    )


def shares(found: MovedAway) -> dict[str, float]:
    return {cause.kind: cause.share_mm for cause in found.causes}


def ahead_of(line: SeatLine, forward: float, down: float) -> Vector:
    """A knob straight ahead of the right shoulder, worked out here by plain trigonometry."""
    lean = math.radians(line.back_deg)
    x, y, z = line.h_point
    return x + TORSO * math.sin(lean) - forward, y + OUT, z + TORSO * math.cos(lean) - down


def test_the_example_worked_by_hand() -> None:
    """450 forward and 330 down: 558. Down 50 and back 30: 556. Five degrees more on a 550 torso: 48 back, 598.

    The hand-worked recline goes straight back: the torso passes upright, from 2.5 degrees ahead to 2.5 behind.
    """
    before = SeatLine(h_point=(0.0, 0.0, 250.0), back_deg=-2.5)
    after = SeatLine(h_point=(30.0, 0.0, 200.0), back_deg=2.5)
    found = compared(before, after, ahead_of(before, 450.0, 330.0))
    drop, slide, _, recline, _, _ = found.causes
    assert (round(found.before_mm), round(slide.distance_mm), round(found.after_mm)) == (558, 556, 598)
    assert round(found.change_mm) == 40
    assert (drop.amount, slide.amount, recline.amount) == (50.0, 30.0, 5.0)
    assert found.raised_mm == 50.0


def test_each_share_of_the_example_in_closed_form() -> None:
    """By Pythagoras, step by step: (450, 330), (450, 280), (480, 280), (480 + 48, 280)."""
    before = SeatLine(h_point=(0.0, 0.0, 250.0), back_deg=-2.5)
    after = SeatLine(h_point=(30.0, 0.0, 200.0), back_deg=2.5)
    found = shares(compared(before, after, ahead_of(before, 450.0, 330.0)))
    back = 2 * TORSO * math.sin(math.radians(2.5))
    assert round(back) == 48
    spans = [math.hypot(450, 330), math.hypot(450, 280), math.hypot(480, 280), math.hypot(480 + back, 280)]
    assert found["drop"] == pytest.approx(spans[1] - spans[0])
    assert found["slide"] == pytest.approx(spans[2] - spans[1])
    assert found["recline"] == pytest.approx(spans[3] - spans[2])
    assert found["sideways"] == found["turn"] == found["knob"] == 0.0
    assert {kind: round(share) for kind, share in found.items() if share} == {
        "drop": -28,
        "slide": 26,
        "recline": 42,
    }


def test_a_shoulder_already_leaning_back_goes_less_far_away_and_sinks() -> None:
    """From 20 to 25 degrees: 44 back and 18 down, by the same trigonometry."""
    line = SeatLine(h_point=(0.0, 0.0, 0.0), back_deg=20.0)
    found = compared(line, dataclasses.replace(line, back_deg=25.0), ahead_of(line, 480.0, 280.0))
    back = TORSO * (math.sin(math.radians(25)) - math.sin(math.radians(20)))
    sunk = TORSO * (math.cos(math.radians(20)) - math.cos(math.radians(25)))
    assert (round(back), round(sunk)) == (44, 18)
    assert found.after_mm == pytest.approx(math.hypot(480 + back, 280 - sunk))


def test_the_distances_are_those_that_reach_goes_by() -> None:
    """The straight arm less what reach has to spare, belts tight, before and after."""
    person = Person(id="driver-1", shoulder_mm=TORSO, shoulder_out_mm=OUT)
    before = SeatLine(h_point=(0.0, -350.0, 250.0), back_deg=22.0, turn_deg=0.0)
    after = SeatLine(h_point=(40.0, -340.0, 215.0), back_deg=27.0, turn_deg=-3.0)
    knob, knob_after = (-420.0, -10.0, 480.0), (-400.0, -15.0, 500.0)
    found = compared(before, after, knob, knob_after)
    for line, at, distance in ((before, knob, found.before_mm), (after, knob_after, found.after_mm)):
        spare = reach(person, line.h_point, line.back_deg, "tight", "right", at, line.turn_deg).spare_mm
        assert person.shoulder_to_grip_mm - spare == pytest.approx(distance)


@given(LINES, LINES, POINTS, st.none() | POINTS)
def test_the_shares_are_the_whole_change(
    before: SeatLine, after: SeatLine, knob: Vector, knob_after: Vector | None
) -> None:
    found = compared(before, after, knob, knob_after)
    assert tuple(cause.kind for cause in found.causes) == CAUSES
    assert sum(cause.share_mm for cause in found.causes) == pytest.approx(found.change_mm, abs=ROUNDING)
    assert found.causes[-1].distance_mm == found.after_mm


@given(LINES, POINTS)
def test_no_change_does_nothing(line: SeatLine, knob: Vector) -> None:
    for found in (compared(line, line, knob), compared(line, line, knob, knob)):
        assert found.before_mm == found.after_mm
        assert all(cause.amount == 0.0 and cause.share_mm == 0.0 for cause in found.causes)
        assert found.raised_mm == 0.0


@given(LINES, LINES, POINTS, POINTS)
def test_no_share_is_more_than_its_cause_moved_anything(
    before: SeatLine, after: SeatLine, knob: Vector, knob_after: Vector
) -> None:
    """The triangle inequality: by a step no distance changes by more than that step."""
    found = {cause.kind: cause for cause in compared(before, after, knob, knob_after).causes}
    for kind in ("drop", "slide", "sideways", "knob"):
        assert abs(found[kind].share_mm) <= abs(found[kind].amount) + ROUNDING
    leant = 2 * TORSO * math.sin(math.radians(abs(found["recline"].amount)) / 2)
    assert abs(found["recline"].share_mm) <= leant + ROUNDING
    turned = 2 * math.hypot(TORSO, OUT) * math.sin(math.radians(abs(found["turn"].amount)) / 2)
    assert abs(found["turn"].share_mm) <= turned + ROUNDING


@given(LINES, LINES, POINTS, POINTS, POINTS, st.floats(-180.0, 180.0))
def test_moving_car_and_driver_together_changes_no_distance(
    before: SeatLine, after: SeatLine, knob: Vector, knob_after: Vector, by: Vector, turn: float
) -> None:
    """Shifted, every share stays; turned about the upright too, so do both distances and the drop."""

    def moved(pose: Pose, turn_deg: float) -> MovedAway:
        def at(point: Vector) -> Vector:
            x, y, z = (float(value) for value in pose.apply(np.array(point)))
            return x, y, z

        def line(old: SeatLine) -> SeatLine:
            return SeatLine(h_point=at(old.h_point), back_deg=old.back_deg, turn_deg=old.turn_deg + turn_deg)

        return compared(line(before), line(after), at(knob), at(knob_after))

    here = compared(before, after, knob, knob_after)
    shifted = moved(Pose(shift_mm=by), 0.0)
    assert shares(shifted) == pytest.approx(shares(here), abs=ROUNDING)
    turned = moved(Pose.turned((0.0, 0.0, 1.0), turn, by), turn)
    assert (turned.before_mm, turned.after_mm) == pytest.approx((here.before_mm, here.after_mm), abs=ROUNDING)
    assert turned.raised_mm == pytest.approx(here.raised_mm, abs=ROUNDING)


@given(LINES, LINES, POINTS, POINTS)
def test_the_mirrored_car_gives_the_mirrored_result(
    before: SeatLine, after: SeatLine, knob: Vector, knob_after: Vector
) -> None:
    def across(point: Vector) -> Vector:
        return point[0], -point[1], point[2]

    def line(old: SeatLine) -> SeatLine:
        return SeatLine(h_point=across(old.h_point), back_deg=old.back_deg, turn_deg=-old.turn_deg)

    here = compared(before, after, knob, knob_after)
    there = compared(line(before), line(after), across(knob), across(knob_after), side="left")
    assert shares(there) == pytest.approx(shares(here), abs=ROUNDING)
    amounts = {cause.kind: cause.amount for cause in here.causes}
    amounts |= {"sideways": -amounts["sideways"], "turn": -amounts["turn"]}
    assert {cause.kind: cause.amount for cause in there.causes} == pytest.approx(amounts)


def test_a_number_that_is_none_is_refused() -> None:
    line = SeatLine(h_point=(0.0, 0.0, math.nan), back_deg=20.0)
    with pytest.raises(BadValue) as refused:
        compared(line, line, (0.0, 0.0, 0.0))
    assert refused.value.code == "not-finite"
