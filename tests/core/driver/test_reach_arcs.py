"""Arcs of the straight arm: on them `reach` has nothing to spare, and by hand where the belts are tight."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.driver import Belts, Person, Side, sit
from floorpan.driver.reach import reach
from floorpan.driver.reach_arcs import on_backrest_mm, reach_along_mm, reach_arc
from floorpan.frames import Vector

SEAT: Vector = (900.0, -350.0, 230.0)
RISES = np.linspace(-80.0, 40.0, 25)


def spare(person: Person, belts: Belts, side: Side, at: np.ndarray, turn_deg: float) -> float:
    sitting = sit(person, SEAT, 24.0, turn_deg)
    grip = (float(at[0]), float(at[1]), float(at[2]))
    return reach(person, sitting.h_point, sitting.back_deg, belts, side, grip, turn_deg).spare_mm


@pytest.mark.parametrize("belts", ["tight", "loose"])
@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("turn_deg", [0.0, 7.0])
@pytest.mark.parametrize("knob", [(470.0, 0.0, 420.0), (500.0, -300.0, 700.0)])
def test_reach_has_nothing_to_spare_on_an_arc(
    belts: Belts, side: Side, turn_deg: float, knob: Vector
) -> None:
    person = Person(id="d-1", loose_forward_mm=110.0, loose_turn_deg=12.0, jacket_mm=8.0)
    arc = reach_arc(sit(person, SEAT, 24.0, turn_deg), belts, side, knob, RISES)
    spares = [spare(person, belts, side, at, turn_deg) for at in arc]
    np.testing.assert_allclose(spares, 0.0, atol=0.01)


def test_tight_is_a_circle_in_the_upright_plane_through_the_knob() -> None:
    person, knob = Person(id="d-1", shoulder_to_grip_mm=654.0), (470.0, 0.0, 420.0)
    sitting = sit(person, SEAT, 24.0)
    shoulder = on_backrest_mm(sitting, "right")
    arc = reach_arc(sitting, "tight", "right", knob, RISES)
    np.testing.assert_allclose(np.linalg.norm(arc - shoulder, axis=1), 654.0, atol=1e-9)
    across = np.cross(np.array(knob) - shoulder, [0.0, 0.0, 1.0])
    np.testing.assert_allclose((arc - shoulder) @ across, 0.0, atol=1e-6)
    rises = np.degrees(np.arctan2(arc[:, 2] - shoulder[2], np.hypot(*(arc - shoulder)[:, :2].T)))
    np.testing.assert_allclose(rises, RISES, atol=1e-9)


def test_a_knob_straight_under_the_shoulder_has_the_plane_ahead() -> None:
    sitting = sit(Person(id="d-1"), SEAT, 24.0)
    x, y, z = on_backrest_mm(sitting, "right")
    arc = reach_arc(sitting, "tight", "right", (float(x), float(y), float(z) - 400.0), np.array([0.0]))
    np.testing.assert_allclose(arc[0], (x - 665.0, y, z), atol=1e-9)


@given(st.floats(-180.0, 180.0), st.floats(-85.0, 85.0))
def test_loose_belts_reach_no_less_and_no_more_than_the_shoulder_moves(heading: float, rise: float) -> None:
    """By hand: the shoulder goes no farther than its chord about hip and chest."""
    person = Person(id="d-1")
    sitting = sit(person, SEAT, 24.0)
    turn, up = math.radians(heading), math.radians(rise)
    way = np.array([[math.cos(turn) * math.cos(up), math.sin(turn) * math.cos(up), math.sin(up)]])
    tight, loose = (reach_along_mm(sitting, belts, "right", way)[0] for belts in ("tight", "loose"))  # type: ignore[arg-type]
    most = person.loose_forward_mm + math.radians(person.loose_turn_deg) * person.shoulder_out_mm
    assert tight == pytest.approx(person.shoulder_to_grip_mm)
    assert tight <= loose <= tight + most


def test_a_mirrored_driver_has_the_mirrored_arc() -> None:
    person, mirrored = Person(id="d-1"), (SEAT[0], -SEAT[1], SEAT[2])
    right = reach_arc(sit(person, SEAT, 24.0), "loose", "right", (470.0, 0.0, 420.0), RISES)
    left = reach_arc(sit(person, mirrored, 24.0), "loose", "left", (470.0, 0.0, 420.0), RISES)
    np.testing.assert_allclose(right * [1.0, -1.0, 1.0], left, atol=1e-9)
