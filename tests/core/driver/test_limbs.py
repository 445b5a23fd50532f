"""The body as solids: where they are and how thick."""

import math

import numpy as np
import pytest

from floorpan.driver.limbs import (
    FOREARM_RADIUS_MM,
    WRIST_RADIUS_MM,
    forearm,
    hand,
    head,
    thigh,
    torso,
    upper_arm,
)
from floorpan.driver.person import Person
from floorpan.driver.posture import shoulder_point
from floorpan.driver.reach import pose_arm
from floorpan.frames import Vector

HIP: Vector = (900.0, -350.0, 200.0)


class AGrip:
    at_mm: Vector = (500.0, 20.0, 400.0)
    radius_mm = 55.0
    knuckles_mm = 0.0
    knuckles_deep_mm = 0.0


def test_a_hand_is_a_ball_about_the_grip() -> None:
    """Common practice, no source: 55 mm bare, 65 gloved."""
    (solid,) = hand(Person(id="d-1", glove_mm=10.0), AGrip())
    np.testing.assert_allclose(solid.points(), [AGrip.at_mm])
    assert solid.hull.radius_mm == 65.0


class AFist(AGrip):
    knuckles_mm = 125.0
    knuckles_deep_mm = 95.0


@pytest.mark.parametrize("glove", [0.0, 8.0])
def test_a_fist_is_never_less_than_the_ball_and_fills_a_published_opening(glove: float) -> None:
    """MIL-STD-1472D, figure 38: a bare clenched fist goes through 95 by 125 mm."""
    person = Person(id="d-1", glove_mm=glove)
    palm, knuckles = hand(person, AFist())
    (bare,) = hand(person, AGrip())
    assert palm.hull.radius_mm == bare.hull.radius_mm
    np.testing.assert_allclose(palm.points(), bare.points())
    ends, deep = knuckles.points() - np.array(AGrip.at_mm), knuckles.hull.radius_mm
    assert np.ptp(ends[:, 1]) + 2 * deep == 125.0 + 2 * glove
    assert 2 * deep == 95.0 + 2 * glove
    # The ball by itself is deeper than the opening and 7.5 mm narrower on either side.
    assert bare.hull.radius_mm - glove - 95.0 / 2 == 7.5
    assert 125.0 / 2 - (bare.hull.radius_mm - glove) == 7.5


def test_the_arm_hangs_together() -> None:
    person = Person(id="d-1")
    posed = pose_arm(person, (900.0, -150.0, 700.0), "right", AGrip.at_mm)
    (fore,), (upper,) = forearm(posed), upper_arm(posed)
    elbow, wrist = np.array(posed.elbow_mm), np.array(posed.wrist_mm)
    along = (wrist - elbow) / np.linalg.norm(wrist - elbow)
    np.testing.assert_allclose(fore.points()[-1], wrist, atol=1e-3)
    # Full from the elbow over a third of the way, then down to the wrist: breadth square to the arm.
    away = fore.points() - elbow
    round_ = np.linalg.norm(away - np.outer(away @ along, along), axis=1) + fore.hull.radius_mm
    np.testing.assert_allclose(round_[:-1], FOREARM_RADIUS_MM, atol=fore.hull.facet_mm + 1e-9)
    assert round_[-1] == pytest.approx(WRIST_RADIUS_MM)
    np.testing.assert_allclose(upper.points(), [posed.shoulder_mm, posed.elbow_mm])
    assert fore.hull.facet_mm < 0.5


def test_helmet_and_jacket_are_worn_all_round() -> None:
    """By hand: each adds to the radius what it is thick."""
    posed = pose_arm(Person(id="d-1"), (900.0, -150.0, 700.0), "right", AGrip.at_mm)
    for limb in (forearm, upper_arm):
        (bare,), (dressed,) = limb(posed), limb(posed, 12.0)
        assert dressed.hull.radius_mm == bare.hull.radius_mm + 12.0
        np.testing.assert_allclose(dressed.points(), bare.points())
    bare, helmeted = (head(Person(id="d-1", helmet_mm=mm), HIP, 24.0) for mm in (0.0, 35.0))
    assert helmeted[0].hull.radius_mm == bare[0].hull.radius_mm + 35.0
    assert helmeted[1].hull.radius_mm == bare[1].hull.radius_mm, "the neck stays"


def test_torso_and_head_are_about_the_shoulders() -> None:
    person = Person(id="d-1")
    left, right = (shoulder_point(person, HIP, 24.0, side) for side in ("left", "right"))  # type: ignore[arg-type]
    (trunk,) = torso(person, HIP, 24.0)
    reached = trunk.points()[:, 1].max() + trunk.hull.radius_mm
    assert reached == pytest.approx(right[1], abs=1e-6)
    skull, neck = head(person, HIP, 24.0)
    middle = (left + right) / 2
    np.testing.assert_allclose(skull.points()[0][:2], middle[:2], atol=1e-9)
    np.testing.assert_allclose(neck.points()[0], middle)


def test_a_turned_seat_turns_the_body() -> None:
    person = Person(id="d-1")
    (plain,), (turned,) = torso(person, (0, 0, 0), 24.0), torso(person, (0, 0, 0), 24.0, turn_deg=90.0)
    quarter = np.array([[0, -1, 0], [1, 0, 0], [0, 0, 1]], dtype=float)
    np.testing.assert_allclose(turned.points(), plain.points() @ quarter.T, atol=1e-9)


def test_a_thigh_runs_forward_and_up_from_the_hip() -> None:
    (solid,) = thigh(HIP, 12.0, "left")
    hip, knee = solid.points()
    assert hip[1] < HIP[1]
    assert knee[0] < hip[0]
    assert math.degrees(math.atan2(knee[2] - hip[2], hip[0] - knee[0])) == pytest.approx(12.0)
