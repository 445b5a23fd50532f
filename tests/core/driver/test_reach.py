"""Reach: worked examples, uncertainties against random draws, and tight belts never reaching further than loose."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.driver.arm import elbow_deg
from floorpan.driver.person import Person, Side
from floorpan.driver.posture import shoulder_point, shoulder_points
from floorpan.driver.reach import pose_arm, reach
from floorpan.driver.reach_doubts import elbow_sd_deg, spare_sd_mm

HIP = (0.0, 0.0, 0.0)
DRAWS = 400_000
AHEAD, OUT, UP = np.eye(3)


def elbow_u_deg(person: Person, span_mm: float) -> float:
    away = span_mm * AHEAD
    return 2.0 * math.hypot(*elbow_sd_deg(person, away, UP, OUT, spare_sd_mm(person, away, UP, OUT)))


def knob_from(person: Person, forward: float, down: float, back_deg: float) -> tuple[float, float, float]:
    x, y, z = shoulder_point(person, HIP, back_deg, "right")
    return (float(x) - forward, float(y), float(z) - down)


@pytest.mark.parametrize(("forward", "down", "away"), [(450, 330, 558), (480, 280, 556), (528, 280, 598)])
def test_why_the_knob_got_further_away(forward: float, down: float, away: float) -> None:
    """Worked by hand: 450 forward and 330 down is 558; seat down 50 and back 30: 556; five degrees more: 598."""
    person = Person(id="d-1")
    found = reach(person, HIP, 24.0, "tight", "right", knob_from(person, forward, down, 24.0))
    assert round(person.shoulder_to_grip_mm - found.spare_mm) == away


def test_the_same_through_seat_and_backrest() -> None:
    """The same car: knob fixed, hip down 50 and back 30, then the backrest from upright to 5 degrees.

    The hand-worked 598 leaves out that the shoulder also sinks by 2 mm, so this comes to 597.
    """
    person = Person(id="d-1", shoulder_mm=550.0)
    knob = knob_from(person, 450.0, 330.0, 0.0)
    lower, reclined = (
        person.shoulder_to_grip_mm - reach(person, (30.0, 0.0, -50.0), back, "tight", "right", knob).spare_mm
        for back in (0.0, 5.0)
    )
    assert round(lower) == 556
    assert reclined == pytest.approx(598, abs=1.5)


def test_spare_and_elbow_in_closed_form() -> None:
    """Links 300 and 400, grip 500 from the shoulder: 200 to spare, a right angle."""
    person = Person(id="d-1", shoulder_to_grip_mm=700.0, upper_arm_mm=300.0)
    found = reach(person, HIP, 20.0, "tight", "right", knob_from(person, 300.0, 400.0, 20.0))
    assert found.spare_mm == pytest.approx(200.0)
    assert found.elbow_deg == pytest.approx(90.0)
    assert found.limited_by == "nothing"
    assert found.shoulder_off_mm == 0.0


@pytest.mark.parametrize(
    ("span", "limit"), [(663.0, "elbow too straight"), (380.0, "elbow too bent"), (150.0, "elbow joint")]
)
def test_what_limits_a_reach(span: float, limit: str) -> None:
    person = Person(id="d-1")
    found = reach(person, HIP, 24.0, "tight", "right", knob_from(person, span, 0.0, 24.0))
    assert found.limited_by == limit


def test_beyond_the_arm_the_missing_length_is_told() -> None:
    person = Person(id="d-1")
    found = reach(person, HIP, 24.0, "tight", "right", knob_from(person, 690.0, 0.0, 24.0))
    assert found.limited_by == "arm length"
    assert found.spare_mm == pytest.approx(-25.0)
    assert found.shoulder_off_mm == pytest.approx(25.0)
    assert found.arm.elbow_deg == 180.0


def test_loose_belts_let_the_shoulder_go_only_as_far_as_it_must() -> None:
    person = Person(id="d-1", loose_turn_deg=0.0)
    near, far = (knob_from(person, forward, 0.0, 24.0) for forward in (600.0, 690.0))
    assert reach(person, HIP, 24.0, "loose", "right", near).shoulder_off_mm == 0.0
    found = reach(person, HIP, 24.0, "loose", "right", far)
    assert found.spare_mm > 0.0
    assert math.dist(found.shoulder_mm, far) == pytest.approx(665.0)
    tight = reach(person, HIP, 24.0, "tight", "right", far)
    # Coming forward on an arc takes a little more than the straight way.
    assert -tight.spare_mm < found.shoulder_off_mm < -tight.spare_mm + 15.0


SIDES: tuple[Side, Side] = ("left", "right")


@given(
    st.tuples(st.floats(-900, 300), st.floats(-500, 500), st.floats(-200, 700)),
    st.floats(0, 45),
    st.sampled_from(SIDES),
    st.floats(0, 200),
    st.floats(0, 40),
)
def test_tight_belts_never_reach_further_than_loose(
    grip: tuple[float, float, float], back: float, side: Side, forward: float, turn: float
) -> None:
    """Check value 2.06: a belted envelope never exceeds the unbelted one."""
    person = Person(id="d-1", loose_forward_mm=forward, loose_turn_deg=turn)
    tight, loose = (reach(person, HIP, back, belts, side, grip) for belts in ("tight", "loose"))
    assert loose.spare_mm >= tight.spare_mm
    # Second way for the nearest the belts allow: two thousand shoulders.
    shoulders = shoulder_points(person, HIP, back, side, np.linspace(0, 1, 2001))
    nearest = float(np.linalg.norm(shoulders - grip, axis=1).min())
    assert loose.spare_mm == pytest.approx(person.shoulder_to_grip_mm - nearest, abs=1e-3)
    assert loose.spare_mm >= person.shoulder_to_grip_mm - nearest - 1e-9


def test_the_spare_s_give_or_take_against_random_draws() -> None:
    """Monte Carlo after JCGM 101: the taped arm and the taped shoulder, 95 % half-width 10 mm each."""
    draw = np.random.default_rng(7)
    arms, shoulders = draw.normal(0.0, 5.0, (2, DRAWS))
    person = Person(id="d-1", tape_u_mm=10.0)
    found = reach(person, HIP, 24.0, "tight", "right", knob_from(person, 500.0, 200.0, 24.0))
    assert found.spare_u_mm == pytest.approx(2 * float(np.std(arms - shoulders)), rel=0.01)


@pytest.mark.parametrize("span", [300.0, 450.0, 558.0, 610.0])
def test_the_elbow_s_give_or_take_against_random_draws(span: float) -> None:
    """Monte Carlo after JCGM 101 with both links in fixed shares of the taped arm."""
    draw = np.random.default_rng(11)
    person = Person(id="d-1", tape_u_mm=6.0)
    length = person.shoulder_to_grip_mm + draw.normal(0.0, 3.0, DRAWS)
    away = span + draw.normal(0.0, 3.0, DRAWS)
    share = person.upper_arm_mm / person.shoulder_to_grip_mm
    upper, lower = share * length, (1 - share) * length
    cosine = (upper**2 + lower**2 - away**2) / (2 * upper * lower)
    spread = 2 * float(np.std(np.degrees(np.arccos(np.clip(cosine, -1, 1)))))
    assert elbow_u_deg(person, span) == pytest.approx(spread, rel=0.03)


def test_near_the_straight_arm_the_give_or_take_stays_finite() -> None:
    person = Person(id="d-1", tape_u_mm=10.0)
    for span in (664.9, 665.0, 666.0):
        change = math.sqrt(2) * 10.0
        whole = 180.0 - elbow_deg(span - change, person.upper_arm_mm, person.forearm_mm())
        assert 0.0 < elbow_u_deg(person, span) <= whole + 1e-9
    assert elbow_u_deg(dataclasses.replace(person, tape_u_mm=0.0), 500.0) == 0.0


def test_the_elbow_hangs_down_and_outward() -> None:
    person = Person(id="d-1")
    for side, sign in (("left", -1.0), ("right", 1.0)):
        posed = pose_arm(person, (0.0, 0.0, 0.0), side, (-550.0, 0.0, 0.0))  # type: ignore[arg-type]
        assert posed.elbow_mm[2] < 0.0
        assert sign * posed.elbow_mm[1] > 0.0


def test_mirroring_body_and_grip_changes_nothing() -> None:
    person = Person(id="d-1")
    right = reach(person, HIP, 24.0, "loose", "right", (-450.0, 300.0, 180.0))
    left = reach(person, HIP, 24.0, "loose", "left", (-450.0, -300.0, 180.0))
    assert left.spare_mm == pytest.approx(right.spare_mm)
    assert left.elbow_deg == pytest.approx(right.elbow_deg)
    np.testing.assert_allclose(np.array(left.arm.elbow_mm) * [1, -1, 1], right.arm.elbow_mm, atol=1e-6)


def test_turning_the_seat_and_the_grip_together_changes_nothing() -> None:
    person = Person(id="d-1")
    plain = reach(person, HIP, 24.0, "tight", "right", (-450.0, 300.0, 180.0))
    turned = reach(person, HIP, 24.0, "tight", "right", (-300.0, -450.0, 180.0), turn_deg=90.0)
    assert turned.spare_mm == pytest.approx(plain.spare_mm)
