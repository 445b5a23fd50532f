"""The quick way to the arcs that keep clear gives what measuring every pose gives."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from floorpan.driver.joints import Hold, JointRanges, room_left_deg, torso_axes
from floorpan.driver.limbs import FOREARM_RADIUS_MM, UPPER_ARM_RADIUS_MM
from floorpan.driver.obstacles import Obstacles, gaps_mm
from floorpan.driver.swivel import Arc, allowed_arcs, comfortable_swivel, swivel_circle

UPPER, LOWER, HAND = 335.0, 330.0, 62.0
SHOULDER = (900.0, 200.0, 650.0)
ROUNDING = 1e-9


def measured(
    grip: tuple[float, float, float], torso, obstacles: Obstacles, clear_mm: float
) -> tuple[Arc, ...]:
    """Every pose measured against every obstacle."""
    circle = swivel_circle(SHOULDER, grip, UPPER, LOWER)
    start, end = np.array(SHOULDER), np.array(grip)

    def room(swivels: np.ndarray) -> np.ndarray:
        elbows = circle.elbows(swivels)
        joints = room_left_deg((elbows - start) / UPPER, (end - elbows) / LOWER, torso, JointRanges(), Hold())
        wrists = end + HAND / LOWER * (elbows - end)
        upper = gaps_mm(np.broadcast_to(start, elbows.shape), elbows, UPPER_ARM_RADIUS_MM, obstacles)
        gaps = np.minimum(upper, gaps_mm(elbows, wrists, FOREARM_RADIUS_MM, obstacles))
        return np.minimum(joints.min(axis=0), gaps - clear_mm)

    return allowed_arcs(room)


def strewn(draw: np.random.Generator, planes: int) -> Obstacles:
    """Rounded segments about the arm, and planes beside it."""
    starts = draw.uniform([300.0, -300.0, 150.0], [900.0, 500.0, 600.0], (30, 3))
    return Obstacles(
        starts=starts,
        ends=starts + draw.normal(0.0, 120.0, (30, 3)),
        radii=draw.uniform(0.0, 15.0, 30),
        on_planes=draw.uniform([300.0, 250.0, 0.0], [900.0, 600.0, 400.0], (planes, 3)),
        free_sides=np.tile([0.0, -1.0, 0.4], (planes, 1)),
    )


@pytest.mark.parametrize("planes", [0, 2])
def test_quick_and_measured_arcs_are_the_same(planes: int) -> None:
    draw = np.random.default_rng(21 + planes)
    torso = torso_axes(24.0, "right")
    seen: set[str] = set()
    for _ in range(60):
        way = draw.normal(size=3) * [1.0, 0.5, 0.5] - [1.2, 0.4, 0.5]
        span = draw.uniform(250.0, UPPER + LOWER - 5.0)
        x, y, z = np.array(SHOULDER) + span * way / np.linalg.norm(way)
        grip = (float(x), float(y), float(z))
        obstacles, clear_mm = strewn(draw, planes), float(draw.choice([0.0, 12.0, -30.0]))
        found = comfortable_swivel(
            SHOULDER, grip, UPPER, LOWER, torso, obstacles=obstacles, clear_mm=clear_mm, wanted_deg=-20.0
        )
        wanted = measured(grip, torso, obstacles, clear_mm)
        assert len(found.clear_deg) == len(wanted)
        np.testing.assert_allclose(np.ravel(found.clear_deg), np.ravel(wanted), rtol=0, atol=1e-6)
        same = found.clear_deg == found.by_joints_deg
        seen.add("nothing left" if not wanted else "all of it" if same else "cut")
    assert seen == {"nothing left", "all of it", "cut"}, "every case comes up"


def test_what_is_far_off_is_in_the_gap_too() -> None:
    """By hand: one ball straight under the middle of a level arm, far below: nothing is cut, the gap is told."""
    far = Obstacles(
        starts=np.array([[600.0, 200.0, -400.0]]),
        ends=np.array([[600.0, 200.0, -400.0]]),
        radii=np.array([10.0]),
    )
    grip = (SHOULDER[0] - 600.0, SHOULDER[1], SHOULDER[2])
    found = comfortable_swivel(SHOULDER, grip, UPPER, LOWER, torso_axes(24.0, "right"), obstacles=far)
    assert found.clear_deg == found.by_joints_deg
    assert found.elbow_mm is not None
    below = math.dist(found.elbow_mm, (600.0, 200.0, -400.0)) - 10.0
    assert below - UPPER_ARM_RADIUS_MM - 20.0 < found.gap_mm <= below - FOREARM_RADIUS_MM


def test_few_poses_are_measured_when_nothing_is_near(count_calls: Callable[[], list[int]]) -> None:
    """The bound does its work: of a whole turn no more than a pose every eight degrees is measured."""
    measured_poses = count_calls()
    far = Obstacles(starts=np.zeros((1, 3)), ends=np.zeros((1, 3)), radii=np.array([1.0]))
    grip = (SHOULDER[0] - 600.0, SHOULDER[1], SHOULDER[2])
    comfortable_swivel(SHOULDER, grip, UPPER, LOWER, torso_axes(24.0, "right"), obstacles=far)
    assert 0 < sum(measured_poses) <= 45 + 2


@pytest.fixture
def count_calls(monkeypatch: pytest.MonkeyPatch) -> Callable[[], list[int]]:
    """Counts the poses that are measured from the moment it is called."""
    from floorpan.driver.thick_arm import ThickArm

    counted: list[int] = []
    each = ThickArm.each_gap

    def counting(arm: ThickArm, swivels: np.ndarray, obstacles: Obstacles) -> np.ndarray:
        counted.append(len(swivels))
        return each(arm, swivels, obstacles)

    def begin() -> list[int]:
        monkeypatch.setattr(ThickArm, "each_gap", counting)
        return counted

    return begin
