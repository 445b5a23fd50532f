"""How high rounded solids stand over places: closed forms of balls, rods, boxes and a cone."""

import math

import numpy as np
import pytest
from scipy.optimize import linprog

from floorpan.frames import Pose
from floorpan.geometry.solids import Hull, Solid, ball, box, capsule, frustum
from floorpan.geometry.tops import tops


def at(*places: tuple[float, float]) -> np.ndarray:  # type: ignore[type-arg]
    return np.array(places)


def test_over_a_ball() -> None:
    found = tops((Solid(ball(np.array([10.0, 0.0, 5.0]), 4.0)),), at((10, 0), (12, 0), (10, 3.9), (14.1, 0)))
    assert found[:3] == pytest.approx([9.0, 5.0 + math.sqrt(12.0), 5.0 + math.sqrt(16.0 - 3.9**2)])
    assert found[3] == -np.inf


def test_over_a_rod_that_leans() -> None:
    """Over its axis a rod stands higher than the axis by the radius over the cosine of its slope."""
    rod = Solid(capsule(np.array([0.0, 0.0, 0.0]), np.array([100.0, 0.0, 100.0]), 10.0))
    found = tops((rod,), at((50.0, 0.0), (50.0, 6.0), (50.0, 10.5)))
    assert found[0] == pytest.approx(50.0 + 10.0 * math.sqrt(2.0))
    # Six aside a chord of eight is left of the ten.
    assert found[1] == pytest.approx(50.0 + 8.0 * math.sqrt(2.0))
    assert found[2] == -np.inf
    upright = Solid(capsule(np.zeros(3), np.array([0.0, 0.0, 50.0]), 10.0))
    assert tops((upright,), at((6.0, 0.0)))[0] == pytest.approx(58.0)


def test_over_a_round_box_and_a_cone() -> None:
    brick = Solid(box(np.zeros(3), np.array([40.0, 30.0, 20.0]), 5.0))
    found = tops((brick,), at((20.0, 15.0), (1.0, 15.0), (1.0, 2.0), (0.0, 0.0)))
    assert found[0] == pytest.approx(20.0)
    assert found[1] == pytest.approx(15.0 + 3.0)
    assert found[2] == pytest.approx(15.0 + math.sqrt(25.0 - 16.0 - 9.0))
    assert found[3] == -np.inf
    cone = Solid(frustum(0.0, 40.0, 40.0, 1e-6, 400), Pose(shift_mm=(100.0, 0.0, 7.0)))
    assert tops((cone,), at((110.0, 0.0)))[0] == pytest.approx(37.0, abs=0.01)


def test_the_highest_of_several_solids_and_a_flat_sheet() -> None:
    low = Solid(box(np.zeros(3), np.array([40.0, 30.0, 20.0])))
    high = Solid(ball(np.array([20.0, 15.0, 30.0]), 5.0))
    assert tops((low, high), at((20.0, 15.0), (5.0, 5.0))) == pytest.approx([35.0, 20.0])
    sheet = Solid(Hull(np.array([[0.0, 0.0, 3.0], [10.0, 0.0, 3.0], [10.0, 10.0, 3.0], [0.0, 10.0, 3.0]])))
    assert tops((sheet,), at((5.0, 5.0)))[0] == pytest.approx(3.0)


def test_a_turned_solid_against_a_linear_programme() -> None:
    """scipy's linprog: the greatest height of a mean of the corners that lies over the place."""
    rng = np.random.default_rng(3)
    solid = Solid(Hull(rng.uniform(-20.0, 20.0, (12, 3))), Pose.turned((1.0, 2.0, 3.0), 40.0))
    places = rng.uniform(-15.0, 15.0, (30, 2))
    found = tops((solid,), places)
    corners = solid.points()
    rows = np.vstack([corners[:, :2].T, np.ones(len(corners))])
    for place, height in zip(places, found, strict=True):
        best = linprog(-corners[:, 2], A_eq=rows, b_eq=[*place, 1.0])
        assert best.success == bool(np.isfinite(height))
        if best.success:
            assert height == pytest.approx(-best.fun, abs=1e-7)
    assert np.isfinite(found).sum() > 10
