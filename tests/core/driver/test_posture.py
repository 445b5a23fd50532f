"""Where the shoulder is, in closed form."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.driver.person import Person, Side
from floorpan.driver.posture import most_share, shoulder_point, shoulder_points

HIP = (1000.0, -350.0, 220.0)


def test_the_shoulder_lies_up_the_torso_line_and_out_to_the_side() -> None:
    person = Person(id="d-1", shoulder_mm=500.0, shoulder_out_mm=200.0)
    np.testing.assert_allclose(
        shoulder_point(person, HIP, 30.0, "right"), [1250.0, -150.0, 220.0 + 250.0 * math.sqrt(3)]
    )
    np.testing.assert_allclose(shoulder_point(person, HIP, 0.0, "left"), [1000.0, -550.0, 720.0])


def test_five_degrees_more_recline_takes_the_shoulder_48_back() -> None:
    """Worked by hand: 550 mm of torso, upright to 5 degrees: 550 sin 5 = 48."""
    person = Person(id="d-1", shoulder_mm=550.0)
    before, after = (shoulder_point(person, HIP, back, "right") for back in (0.0, 5.0))
    assert round(after[0] - before[0]) == 48


def test_loose_belts_let_the_shoulder_forward_along_its_arc() -> None:
    """With no turn the shoulder's arc about the hip is as long as was said."""
    person = Person(id="d-1", shoulder_mm=500.0, loose_forward_mm=100.0, loose_turn_deg=0.0)
    back, front = (shoulder_point(person, HIP, 24.0, "right", share) for share in (0.0, 1.0))
    assert math.dist(back, front) == pytest.approx(2 * 500 * math.sin(0.2 / 2))
    assert front[0] < back[0]
    assert front[1] == pytest.approx(back[1])


@pytest.mark.parametrize("side", ["left", "right"])
def test_loose_belts_let_the_hand_s_shoulder_turn_forward(side: Side) -> None:
    """A turn alone takes the shoulder round the torso line: out * sin forward, out * (1 - cos) inward."""
    person = Person(id="d-1", shoulder_out_mm=200.0, loose_forward_mm=0.0, loose_turn_deg=30.0)
    back, front = (shoulder_point(person, HIP, 0.0, side, share) for share in (0.0, 1.0))
    inward = 200 * (1 - math.sqrt(3) / 2)
    np.testing.assert_allclose(front - back, [-100.0, inward if side == "left" else -inward, 0.0], atol=1e-9)


@given(st.floats(0, 45), st.floats(0, 1), st.floats(-180, 180))
def test_the_shoulder_stays_a_body_s_length_from_the_hip(back: float, share: float, turn: float) -> None:
    person = Person(id="d-1")
    point = shoulder_point(person, HIP, back, "right", share, turn)
    assert math.dist(point, HIP) == pytest.approx(math.hypot(person.shoulder_mm, person.shoulder_out_mm))


def test_a_turned_seat_turns_the_body_with_it() -> None:
    person = Person(id="d-1", shoulder_mm=500.0, shoulder_out_mm=200.0)
    point = shoulder_point(person, (0, 0, 0), 30.0, "right", turn_deg=90.0)
    np.testing.assert_allclose(point, [-200.0, 250.0, 250 * math.sqrt(3)], atol=1e-9)


def test_many_shares_at_once_are_the_same() -> None:
    person, shares = Person(id="d-1"), np.linspace(0, 1, 7)
    many = shoulder_points(person, HIP, 24.0, "left", shares)
    one_by_one = [shoulder_point(person, HIP, 24.0, "left", float(share)) for share in shares]
    np.testing.assert_allclose(many, one_by_one)


def test_tight_belts_pin_the_shoulder() -> None:
    assert most_share("tight") == 0.0
    assert most_share("loose") == 1.0
