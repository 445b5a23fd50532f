"""The two-link arm: right triangles, the law of cosines, and links that keep their lengths wherever the grip is."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from floorpan.driver.arm import ELBOW_LEAST_DEG, arm, elbow_deg
from floorpan.errors import BadValue

POINTS = st.tuples(*[st.floats(-900.0, 900.0)] * 3)
LINKS = st.floats(150.0, 450.0)


def test_three_four_five() -> None:
    """Links 300 and 400 to a grip 500 away: a right angle, the elbow 180 along and 240 off the line."""
    posed = arm((0.0, 0.0, 0.0), (-500.0, 0.0, 0.0), 300.0, 400.0)
    assert posed.elbow_deg == pytest.approx(90.0)
    np.testing.assert_allclose(posed.elbow_mm, [-180.0, 0.0, -240.0])
    assert posed.spare_mm == pytest.approx(200.0)
    assert posed.bends


def test_the_wrist_lies_on_the_forearm_short_of_the_grip() -> None:
    posed = arm((0.0, 0.0, 0.0), (-500.0, 0.0, 0.0), 300.0, 400.0, wrist_to_grip_mm=100.0)
    np.testing.assert_allclose(posed.wrist_mm, [-420.0, 0.0, -60.0])


@pytest.mark.parametrize("angle", [40.0, 60.0, 90.0, 120.0, 179.0])
def test_the_elbow_angle_is_the_one_that_was_built_in(angle: float) -> None:
    bend = math.radians(angle)
    span = math.dist((330.0, 0.0), (320 * math.cos(bend), 320 * math.sin(bend)))
    assert elbow_deg(span, 330.0, 320.0) == pytest.approx(angle)


@given(POINTS, POINTS, LINKS, LINKS, st.floats(-180.0, 180.0))
def test_links_keep_their_lengths_and_the_hand_its_grip(
    shoulder: tuple[float, float, float],
    grip: tuple[float, float, float],
    upper: float,
    lower: float,
    swivel: float,
) -> None:
    assume(math.dist(shoulder, grip) > 1.0)
    posed = arm(shoulder, grip, upper, lower, swivel)
    assert posed.grip_mm == pytest.approx(grip)
    assert math.dist(posed.shoulder_mm, posed.elbow_mm) == pytest.approx(upper, abs=1e-4)
    assert math.dist(posed.elbow_mm, posed.grip_mm) == pytest.approx(lower, abs=1e-4)
    assert math.dist(posed.wrist_mm, posed.grip_mm) == pytest.approx(62.0)
    assert posed.spare_mm == pytest.approx(upper + lower - math.dist(shoulder, grip))
    if abs(upper - lower) < math.dist(shoulder, grip) < upper + lower:
        assert posed.shoulder_mm == pytest.approx(shoulder)
    a, b = np.array(posed.shoulder_mm) - posed.elbow_mm, np.array(posed.grip_mm) - posed.elbow_mm
    cosine = float(a @ b) / (upper * lower)
    assert math.cos(math.radians(posed.elbow_deg)) == pytest.approx(cosine, abs=1e-6)


def test_a_grip_too_far_asks_the_shoulder_to_come_by_what_is_missing() -> None:
    posed = arm((0.0, 0.0, 0.0), (-700.0, 0.0, 0.0), 335.0, 330.0)
    assert posed.spare_mm == pytest.approx(-35.0)
    assert posed.elbow_deg == 180.0
    np.testing.assert_allclose(posed.shoulder_mm, [-35.0, 0.0, 0.0], atol=1e-9)


def test_a_grip_too_near_pushes_the_shoulder_away_and_is_told() -> None:
    posed = arm((0.0, 0.0, 0.0), (-50.0, 0.0, 0.0), 400.0, 300.0)
    assert not posed.bends
    assert posed.elbow_deg == pytest.approx(0.0)
    np.testing.assert_allclose(posed.shoulder_mm, [50.0, 0.0, 0.0], atol=1e-9)


def test_a_grip_in_the_shoulder_itself_is_posed_somehow() -> None:
    posed = arm((1.0, 2.0, 3.0), (1.0, 2.0, 3.0), 300.0, 300.0)
    assert not posed.bends
    assert np.isfinite(posed.elbow_mm).all()


def test_an_elbow_bends_143_degrees_from_straight_and_no_more() -> None:
    """Check value 2.17: elbow flexion 143 (Boone and Azen, men)."""
    assert ELBOW_LEAST_DEG == 37.0
    nearest = 2 * 330.0 * math.sin(math.radians(37.0 / 2))
    assert arm((0, 0, 0), (-nearest - 0.1, 0, 0), 330.0, 330.0).bends
    assert not arm((0, 0, 0), (-nearest + 0.1, 0, 0), 330.0, 330.0).bends


def test_the_elbow_swings_about_the_line_from_shoulder_to_grip() -> None:
    """Forward along -X the right hand rule takes a hanging elbow to the left."""
    hanging, left = (arm((0, 0, 0), (-500.0, 0, 0), 300.0, 400.0, swivel) for swivel in (0.0, 90.0))
    np.testing.assert_allclose(hanging.elbow_mm, [-180.0, 0.0, -240.0], atol=1e-9)
    np.testing.assert_allclose(left.elbow_mm, [-180.0, -240.0, 0.0], atol=1e-9)


def test_under_an_upright_arm_the_elbow_points_rearward() -> None:
    posed = arm((0.0, 0.0, 0.0), (0.0, 0.0, -500.0), 300.0, 400.0)
    np.testing.assert_allclose(posed.elbow_mm, [240.0, 0.0, -180.0], atol=1e-9)


@pytest.mark.parametrize("links", [(0.0, 300.0), (300.0, 0.0), (-1.0, 300.0)])
def test_an_arm_without_a_link_is_refused(links: tuple[float, float]) -> None:
    with pytest.raises(BadValue):
        arm((0, 0, 0), (-400, 0, 0), *links)
