"""A hand that touches with its fingers stretched reaches further than one that grips, by the fingers and no more."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.driver.person import Belts, Person
from floorpan.driver.posture import shoulder_point
from floorpan.driver.reach import reach

HIP = (0.0, 0.0, 0.0)
NEAR = st.floats(-500.0, 500.0)


def ahead(person: Person, forward: float, down: float) -> tuple[float, float, float]:
    x, y, z = (float(v) for v in shoulder_point(person, HIP, 24.0, "right"))
    return x - forward, y, z - down


def test_the_straight_arm_ends_at_the_fingertip() -> None:
    """Straight arm 665 to the grip and fingers 100 further: 765."""
    person = Person(id="driver-1", shoulder_to_grip_mm=665.0)
    for forward, spare in ((765.0, 0.0), (700.0, 65.0), (800.0, -35.0)):
        found = reach(person, HIP, 24.0, "tight", "right", ahead(person, forward, 0.0), fingers_mm=100.0)
        assert found.spare_mm == pytest.approx(spare, abs=1e-9)


def test_the_forearm_is_longer_by_the_fingers_in_the_law_of_cosines() -> None:
    """Links 300 and 400 with 100 of fingers in the 400: at 500 a right angle, 200 to spare."""
    person = Person(id="driver-1", shoulder_to_grip_mm=600.0, upper_arm_mm=300.0)
    found = reach(person, HIP, 24.0, "tight", "right", ahead(person, 300.0, 400.0), fingers_mm=100.0)
    assert found.elbow_deg == pytest.approx(90.0)
    assert found.spare_mm == pytest.approx(200.0)
    assert math.dist(found.arm.elbow_mm, found.arm.grip_mm) == pytest.approx(400.0)
    assert math.dist(found.arm.wrist_mm, found.arm.grip_mm) == pytest.approx(person.wrist_to_grip_mm + 100.0)


@given(st.sampled_from(["tight", "loose"]), NEAR, NEAR, NEAR, st.floats(0.0, 100.0))
def test_fingers_are_to_spare_to_the_millimetre(
    belts: Belts, x: float, y: float, z: float, fingers: float
) -> None:
    person = Person(id="driver-1")
    gripped = reach(person, HIP, 24.0, belts, "right", (x, y, z))
    touched = reach(person, HIP, 24.0, belts, "right", (x, y, z), fingers_mm=fingers)
    assert touched.spare_mm - gripped.spare_mm == pytest.approx(fingers, abs=1e-6)
    assert touched.spare_sd_mm == pytest.approx(gripped.spare_sd_mm, abs=1e-9)
