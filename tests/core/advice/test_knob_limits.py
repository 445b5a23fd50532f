"""Limits of the knob: rings and capsules against points strewn over them, sampled surfaces against the true gap."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.advice.knob_limits import KnobLimit, capsule_limit, plane_limit, torus_limit
from floorpan.advice.sampled_limit import field_limit, lost_mm
from floorpan.errors import BadValue

PLACES = np.random.default_rng(5).uniform(-400.0, 400.0, (300, 3))
ORIGIN = (0.0, 0.0, 0.0)
SPACING = 12.0


def nearest_of(points: np.ndarray, strewn: np.ndarray) -> np.ndarray:
    return np.min(np.linalg.norm(points[:, None, :] - strewn[None], axis=2), axis=1)


def test_a_ring_in_closed_form() -> None:
    """Ring of 180 about the X axis, tube 15, hand 55: from its hub, from beside the tube, on the tube's middle."""
    rim = torus_limit("wheel rim", ORIGIN, (2.0, 0.0, 0.0), 180.0, 15.0, 55.0)
    places = np.array([[0, 0, 0], [240, 0, 0], [100, 180, 0], [0, 300, 0], [0, 0, -180.0]])
    np.testing.assert_allclose(rim.margin(places), [110, 230, 30, 50, -70])


def test_a_leaning_ring_is_the_nearest_of_its_points() -> None:
    """The middle of the tube as 20,000 points; they lie 0.06 apart, so a nearest one is right to 0.01."""
    axis = np.array([3.0, 1.0, 2.0])
    one = np.cross(axis, [0.0, 0.0, 1.0])
    one /= np.linalg.norm(one)
    two = np.cross(axis, one) / np.linalg.norm(axis)
    turns = np.linspace(0.0, math.tau, 20_000)[:, None]
    centre = np.array([50.0, -20.0, 30.0])
    strewn = centre + 190.0 * (np.cos(turns) * one + np.sin(turns) * two)
    rim = torus_limit("wheel rim", (50.0, -20.0, 30.0), (3.0, 1.0, 2.0), 190.0, 14.0, 40.0)
    np.testing.assert_allclose(rim.margin(PLACES[:60]), nearest_of(PLACES[:60], strewn) - 54.0, atol=0.01)


def test_a_capsule_in_closed_form() -> None:
    thigh = capsule_limit("thigh", ORIGIN, (300.0, 0.0, 0.0), 80.0, 55.0)
    places = np.array([[150, 200, 0], [-30, 0, 40], [340, 0, 30], [10, 0, 0.0]])
    np.testing.assert_allclose(thigh.margin(places), [65, -85, -85, -135])


def test_a_capsule_is_the_nearest_of_the_balls_along_it() -> None:
    a, b = (-120.0, 40.0, 10.0), (200.0, -90.0, 160.0)
    along = np.linspace(0.0, 1.0, 20_000)[:, None]
    strewn = np.array(a) + along * (np.array(b) - np.array(a))
    thigh = capsule_limit("thigh", a, b, 70.0, 50.0)
    np.testing.assert_allclose(thigh.margin(PLACES[:60]), nearest_of(PLACES[:60], strewn) - 120.0, atol=0.01)


def test_a_capsule_without_length_is_a_ball() -> None:
    ball = capsule_limit("button", (1.0, 2.0, 3.0), (1.0, 2.0, 3.0), 20.0, 5.0)
    away = np.linalg.norm(PLACES - [1.0, 2.0, 3.0], axis=1)
    np.testing.assert_allclose(ball.margin(PLACES), away - 25.0)


def test_a_plane_keeps_the_hand_before_it() -> None:
    backrest = plane_limit("backrest", (900.0, 0.0, 0.0), (-2.0, 0.0, 0.0), 55.0)
    np.testing.assert_allclose(backrest.margin(np.array([[700.0, 9, 9], [950, 0, 0]])), [145.0, -105.0])


@pytest.mark.parametrize(
    "refused",
    [
        lambda: torus_limit("rim", ORIGIN, ORIGIN, 180.0, 15.0, 55.0),
        lambda: torus_limit("rim", ORIGIN, (1.0, 0.0, 0.0), 15.0, 15.0, 55.0),
        lambda: capsule_limit("thigh", ORIGIN, (math.nan, 0.0, 0.0), 80.0, 55.0),
        lambda: capsule_limit("thigh", ORIGIN, (1.0, 0.0, 0.0), -1.0, 55.0),
        lambda: plane_limit("backrest", ORIGIN, ORIGIN, 55.0),
        lambda: KnobLimit(name="dash", margin=lambda points: points[:, 0], steepness=0.0),
        lambda: field_limit("dash", ORIGIN, 10.0, np.zeros((3, 3)), 55.0),
        lambda: field_limit("dash", ORIGIN, 10.0, np.full((2, 2, 2), np.nan), 55.0),
        lambda: field_limit("dash", ORIGIN, 0.0, np.zeros((2, 2, 2)), 55.0),
        lambda: field_limit("dash", ORIGIN, 10.0, np.arange(8.0).reshape(2, 2, 2) * 11.0, 55.0),
    ],
)
def test_what_is_no_limit_is_refused(refused: object) -> None:
    assert callable(refused)
    with pytest.raises(BadValue):
        refused()


def to_a_ball(points: np.ndarray) -> np.ndarray:
    """Distance to a ball of 60 about (20, -10, 35), negative inside."""
    found: np.ndarray = np.linalg.norm(points - [20.0, -10.0, 35.0], axis=-1) - 60.0
    return found


def block(distance: object, cut_off: float = math.inf) -> np.ndarray:
    """Samples from -150 to 150, 12 apart."""
    assert callable(distance)
    ticks = np.arange(-150.0, 151.0, SPACING)
    places = np.stack(np.meshgrid(ticks, ticks, ticks, indexing="ij"), axis=-1)
    return np.asarray(np.minimum(distance(places), cut_off))


CORNER = (-150.0, -150.0, -150.0)


def test_a_sampled_surface_never_promises_more_than_the_true_gap_nor_loses_more_than_told() -> None:
    places = np.random.default_rng(6).uniform(-150.0, 150.0, (20_000, 3))
    limit = field_limit("dash", CORNER, SPACING, block(to_a_ball), 40.0)
    lost = to_a_ball(places) - 40.0 - limit.margin(places)
    assert lost.min() >= 0.0
    assert lost.max() <= 2.0 * lost_mm(SPACING)


def test_about_a_single_point_all_that_is_allowed_for_is_lost() -> None:
    """A point in the middle of a cell: every corner is half a diagonal away, and so says interpolation there."""
    middle = np.zeros(3)
    values = block(lambda places: np.linalg.norm(places - middle, axis=-1))
    limit = field_limit("dash", CORNER, SPACING, values, 0.0)
    assert float(limit.margin(middle[None])[0]) == pytest.approx(0.0, abs=1e-9)


def test_a_flat_wall_loses_half_of_it() -> None:
    values = block(lambda places: places[..., 0] + 150.0)
    limit = field_limit("dash", CORNER, SPACING, values, 40.0)
    places = np.random.default_rng(6).uniform(-140.0, 140.0, (200, 3))
    np.testing.assert_allclose(limit.margin(places), places[:, 0] + 110.0 - lost_mm(SPACING))


@pytest.mark.parametrize("cut_off", [math.inf, 50.0])
@pytest.mark.parametrize("whole_inside", [False, True])
def test_outside_its_block_it_stays_below_the_true_gap(whole_inside: bool, cut_off: float) -> None:
    places = np.random.default_rng(7).uniform(-500.0, 500.0, (20_000, 3))
    samples = block(to_a_ball, cut_off)
    limit = field_limit("dash", CORNER, SPACING, samples, 40.0, 3.0, whole_inside=whole_inside)
    assert (to_a_ball(places) - 40.0 - limit.margin(places)).min() >= 3.0 - 1e-9


def test_outside_a_block_that_holds_all_of_it_there_is_room() -> None:
    far = np.array([[0.0, 700.0, 0.0]])
    values = block(to_a_ball)
    whole = field_limit("dash", CORNER, SPACING, values, 40.0, whole_inside=True).margin(far)[0]
    unknown = field_limit("dash", CORNER, SPACING, values, 40.0).margin(far)[0]
    assert unknown < 0.0 < 500.0 < whole


@given(st.tuples(*[st.floats(-300.0, 300.0)] * 3), st.tuples(*[st.floats(-20.0, 20.0)] * 3), st.booleans())
def test_no_limit_is_steeper_than_it_says(
    place: tuple[float, float, float], step: tuple[float, float, float], whole_inside: bool
) -> None:
    ends = np.array([place, np.array(place) + step])
    for limit in (
        torus_limit("rim", (10.0, 20.0, 30.0), (1.0, 0.0, 0.4), 180.0, 15.0, 55.0),
        capsule_limit("thigh", ORIGIN, (200.0, 30.0, 40.0), 80.0, 55.0),
        plane_limit("backrest", ORIGIN, (-1.0, 0.2, 0.3), 55.0),
        field_limit("dash", CORNER, SPACING, SAMPLES, 55.0, whole_inside=whole_inside),
    ):
        change = abs(float(np.diff(limit.margin(ends))[0]))
        assert change <= limit.steepness * math.hypot(*step) + 1e-9, limit.name


SAMPLES = block(to_a_ball)
