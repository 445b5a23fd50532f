"""The published hand-reach plane against values worked from its published formula."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.driver.hand_reach_plane import (
    GRASP_MM,
    Cover,
    HandReachPlane,
    hand_reach_plane,
    package_factor,
    rear_of_heel_mm,
)
from floorpan.driver.person import Side
from floorpan.errors import BadValue
from floorpan.frames import Vector

HEEL = (0.0, -360.0, 40.0)
SHORT = st.floats(-500.0, 500.0)


def plane(
    seat_over: float = 250.0, wheel_over: float = 600.0, seat_x: float = 900.0, side: Side = "left"
) -> HandReachPlane:
    y = -350.0 if side == "left" else 350.0
    return hand_reach_plane(
        (0.0, y, 40.0), (seat_x, y, 40.0 + seat_over), (350.0, y, 40.0 + wheel_over), side
    )


@pytest.mark.parametrize(
    ("seat_over", "wheel_over", "rear"),
    [
        (250, 600, 853.6),
        (300, 650, 823.3),
        (200, 580, 875.4),
        (150, 560, 897.2),
        (400, 720, 771.1),
    ],
)
def test_published_distance_behind_the_heel(seat_over: float, wheel_over: float, rear: float) -> None:
    """Check value 2.03, SAE J287 (2022) after a secondary source."""
    assert round(rear_of_heel_mm(package_factor(seat_over, wheel_over)), 1) == rear
    found = plane(seat_over, wheel_over, seat_x=2000.0)
    assert round(found.rear_of_heel_mm, 1) == rear
    assert found.x_mm == found.rear_of_heel_mm
    assert not found.at_seat


def test_published_package_factor() -> None:
    """Check value 2.01: seat 250 and wheel 600 over the heel give -0.6825."""
    assert package_factor(250.0, 600.0) == pytest.approx(-0.6825, abs=1e-12)


def test_a_plane_behind_the_seat_moves_to_it() -> None:
    """Check value 2.03, second half: 853.6 is behind a seat reference point at 840."""
    found = plane(seat_x=840.0)
    assert found.at_seat
    assert found.x_mm == 840.0
    assert round(found.rear_of_heel_mm, 1) == 853.6


def test_the_rectangle_of_the_tables() -> None:
    """Check value 2.04: 400 outboard to 600 inboard of the occupant's middle, 100 below to 800 above."""
    found = plane()
    x = found.x_mm
    assert found.corners_mm() == (
        (x, -750.0, 190.0),
        (x, 250.0, 190.0),
        (x, 250.0, 1090.0),
        (x, -750.0, 1090.0),
    )


@pytest.mark.parametrize(
    ("off", "why"),
    [
        ((-200.0, 340.0, 100.0), ("covered",)),
        ((-200.0, 600.0, 800.0), ("covered",)),
        ((-200.0, -400.0, -100.0), ("covered",)),
        ((-200.0, 601.0, 100.0), ("too far inboard",)),
        ((-200.0, -401.0, 100.0), ("too far outboard",)),
        ((-200.0, 340.0, -101.0), ("too low",)),
        ((-200.0, 340.0, 801.0), ("too high",)),
        ((50.0, 340.0, 0.0), ("behind the plane",)),
        ((50.0, 700.0, -150.0), ("too far inboard", "too low", "behind the plane")),
    ],
)
@pytest.mark.parametrize("side", ["left", "right"])
def test_what_the_tables_speak_of(side: Side, off: Vector, why: tuple[str, ...]) -> None:
    """A knob more than 600 inboard or 100 under the seat reference point is outside: no answer (check value 2.04)."""
    inward = 1.0 if side == "left" else -1.0
    middle = -350.0 * inward
    found = plane(side=side)
    point = (found.x_mm + off[0], middle + inward * off[1], 290.0 + off[2])
    assert found.covers(point) == Cover(covered=why == ("covered",), why=why)


def test_grasps() -> None:
    """Check value 2.05: a finger reaches 50 further than three fingers, a full hand 50 less."""
    assert GRASP_MM == {"three fingers": 0.0, "extended finger": 50.0, "full hand": -50.0}


def test_the_source_says_how_far_it_can_be_trusted() -> None:
    source = plane().source
    assert "secondary source" in source
    assert "from memory" in source
    assert "not in hand" in source


@given(st.tuples(SHORT, SHORT, SHORT), st.tuples(SHORT, SHORT, SHORT))
def test_car_and_driver_moved_together_or_mirrored(by: Vector, point: Vector) -> None:
    """The plane moves with the car; seen in a mirror it covers the mirrored points."""
    points = ((0.0, -350.0, 40.0), (900.0, -350.0, 290.0), (350.0, -350.0, 640.0))
    here = hand_reach_plane(*points, "left")
    moved = hand_reach_plane(*((x + by[0], y + by[1], z + by[2]) for x, y, z in points), "left")
    assert moved.x_mm - here.x_mm == pytest.approx(by[0], abs=1e-6)
    assert moved.package_factor == pytest.approx(here.package_factor, abs=1e-9)
    there = hand_reach_plane(*((x, -y, z) for x, y, z in points), "right")
    x, y, z = point
    assert there.covers((x, -y, z)) == here.covers(point)


@pytest.mark.parametrize(
    ("seat_z", "wheel_z", "code"),
    [(40.0, 600.0, "heel-too-high"), (300.0, 30.0, "heel-too-high"), (math.inf, 600.0, "not-finite")],
)
def test_positions_that_cannot_be_are_refused(seat_z: float, wheel_z: float, code: str) -> None:
    with pytest.raises(BadValue) as refused:
        hand_reach_plane(HEEL, (900.0, -360.0, seat_z), (350.0, -360.0, wheel_z), "left")
    assert refused.value.code == code
