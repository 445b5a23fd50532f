"""The truth against closed forms, against dense samples, and one way against another."""

import math
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from scipy.spatial import ConvexHull
from scipy.spatial.transform import Rotation

from floorpan.errors import BadValue
from floorpan.sample.car import Car
from floorpan.sample.hulls import simplices
from floorpan.sample.plan import CarSizes
from floorpan.sample.shapes import Capsule, Placement, Ring, RoundedBox, Sphere, turned
from floorpan.sample.truth import TOLERANCE_MM, gap_between, gap_to_car

SLAB = RoundedBox(
    label="floor",
    placement=Placement(origin_mm=(0.0, 0.0, -100.0)),
    half_mm=(500.0, 500.0, 100.0),
    radius_mm=5.0,
)
RIDGE = RoundedBox(
    label="ridge",
    placement=turned((0.0, 0.0, 0.0), about_x_deg=45.0),
    half_mm=(200.0, 50.0, 50.0),
    radius_mm=6.0,
)


def brick(x: float, y: float, z: float, *, half: tuple[float, float, float]) -> np.ndarray:
    return np.array((x, y, z)) + np.array(list(product((-1.0, 1.0), repeat=3))) * np.array(half)


def within(gap: float, true: float) -> bool:
    """A gap found is never below the true one, and above it by the bound at most."""
    return true - 1e-9 <= gap <= true + TOLERANCE_MM


def test_a_ball_over_a_plane_and_in_it() -> None:
    car = Car((SLAB,))
    found = gap_to_car(np.array([(10.0, 20.0, 70.0)]), 55.0, car)
    assert found.gap_mm == pytest.approx(15.0)
    assert found.at_mm == (10.0, 20.0, 70.0)
    assert_allclose(found.on_car_mm, (10.0, 20.0, 0.0), atol=1e-6)
    assert found.label == "floor"
    assert gap_to_car(np.array([(10.0, 20.0, 30.0)]), 55.0, car).gap_mm == pytest.approx(-25.0)


def test_a_brick_over_a_plane_lies_at_one_height_all_over() -> None:
    found = gap_to_car(brick(0.0, 0.0, 60.0, half=(100.0, 80.0, 30.0)), 2.0, Car((SLAB,)))
    assert found.gap_mm == pytest.approx(28.0)
    # Sunk in, its deepest face counts.
    sunk = gap_to_car(brick(0.0, 0.0, 20.0, half=(100.0, 80.0, 30.0)), 2.0, Car((SLAB,)))
    assert sunk.gap_mm == pytest.approx(-12.0)


def test_two_capsules_with_skew_axes() -> None:
    rod = Capsule(label="rod", start_mm=(-100.0, 0.0, 0.0), end_mm=(100.0, 0.0, 0.0), radius_mm=12.0)
    ends = np.array([(30.0, -90.0, 40.0), (30.0, 110.0, 40.0)])
    found = gap_to_car(ends, 10.0, Car((rod,)))
    assert within(found.gap_mm, 40.0 - 12.0 - 10.0)
    assert_allclose(found.at_mm, (30.0, 0.0, 40.0), atol=1.0)
    # Beyond the ends of both the nearest are two end points.
    apart = gap_to_car(ends + np.array((130.0, 120.0, 0.0)), 10.0, Car((rod,)))
    assert within(apart.gap_mm, math.sqrt(60.0**2 + 30.0**2 + 40.0**2) - 22.0)


def test_two_edges_that_cross() -> None:
    """An edge of the hull along Y over a rounded edge along X; both bodies stand on edge."""
    roof = math.sqrt(2.0) * (50.0 - 6.0) + 6.0
    on_edge = (
        brick(0.0, 0.0, 0.0, half=(30.0, 150.0, 30.0))
        @ Rotation.from_euler("y", 45, degrees=True).as_matrix().T
    )
    lifted = on_edge + np.array((15.0, 0.0, roof + math.sqrt(2.0) * 30.0 + 17.0))
    found = gap_to_car(lifted, 3.0, Car((RIDGE,)))
    assert within(found.gap_mm, 14.0)
    assert_allclose(found.at_mm, (15.0, 0.0, roof + 17.0), atol=1.0)


def test_a_corner_beside_a_corner() -> None:
    box = RoundedBox(label="box", placement=Placement(), half_mm=(50.0, 40.0, 30.0), radius_mm=6.0)
    hull = brick(44.0 + 10.0 + 20.0, 34.0 + 20.0 + 20.0, 24.0 + 20.0 + 20.0, half=(20.0, 20.0, 20.0))
    assert within(gap_to_car(hull, 1.0, Car((box,))).gap_mm, 30.0 - 6.0 - 1.0)


def test_a_stud_wholly_inside_a_body_is_as_deep_as_it_is_thick() -> None:
    stud = Capsule(label="stud", start_mm=(0.0, 0.0, 0.0), end_mm=(0.0, 0.0, 20.0), radius_mm=4.0)
    found = gap_to_car(brick(3.0, 2.0, 10.0, half=(60.0, 50.0, 40.0)), 0.0, Car((stud,)))
    assert -4.0 <= found.gap_mm <= -4.0 + TOLERANCE_MM


def test_a_rod_through_a_ring_and_beside_it() -> None:
    rim = Ring(label="rim", placement=Placement(), ring_radius_mm=180.0, tube_radius_mm=14.0)
    through = np.array([(100.0, 0.0, -200.0), (100.0, 0.0, 200.0)])
    assert within(gap_to_car(through, 10.0, Car((rim,))).gap_mm, 80.0 - 24.0)
    beside = np.array([(230.0, -50.0, 0.0), (230.0, 50.0, 0.0)])
    assert within(gap_to_car(beside, 10.0, Car((rim,))).gap_mm, 50.0 - 24.0)


def test_only_what_is_asked_for_is_measured_to() -> None:
    post = Sphere(label="post", centre_mm=(0.0, 0.0, 90.0), radius_mm=10.0)
    car = Car((SLAB, post))
    ball = np.array([(0.0, 0.0, 130.0)])
    assert gap_to_car(ball, 5.0, car).label == "post"
    assert gap_to_car(ball, 5.0, car, exclude=["post"]).gap_mm == pytest.approx(125.0)
    assert gap_to_car(ball, 5.0, car, only=["floor"]).label == "floor"
    with pytest.raises(BadValue):
        gap_to_car(ball, 5.0, car, only=["roof"])


@pytest.mark.parametrize("place", [(300.0, 12.0, 330.0), (500.0, 20.0, 250.0), (100.0, -300.0, 200.0)])
def test_no_sample_of_a_body_is_nearer_to_the_car_than_the_truth(
    place: tuple[float, float, float], car: Car
) -> None:
    """Many points of the hull, drawn at random: none is below the truth, some come close to it."""
    turn = Rotation.from_euler("zyx", (25.0, 10.0, -15.0), degrees=True).as_matrix()
    hull = brick(0.0, 0.0, 0.0, half=(50.0, 35.0, 25.0)) @ turn.T + place
    found = gap_to_car(hull, 4.0, car)
    random = np.random.default_rng(11)
    # Every third of them on one pair of faces.
    shares = random.uniform(-1.0, 1.0, (60_000, 3))
    shares[np.arange(len(shares)), np.arange(len(shares)) % 3] = random.choice((-1.0, 1.0), len(shares))
    inside = shares * (50.0, 35.0, 25.0)
    least = float(car.distance(inside @ turn.T + place).min()) - 4.0
    assert found.gap_mm - found.within_mm <= least < found.gap_mm + 3.0
    assert float(car.distance(np.array([found.at_mm]))[0]) - 4.0 == pytest.approx(found.gap_mm, abs=1e-9)


turns = st.tuples(*(st.integers(-180, 180) for _ in range(3)))
shifts = st.tuples(*(st.integers(-160, 160) for _ in range(3)))


@settings(max_examples=40)
@given(turn=turns, shift=shifts, radius=st.floats(0.0, 20.0))
def test_both_ways_give_the_same_gap(
    turn: tuple[int, int, int], shift: tuple[int, int, int], radius: float
) -> None:
    """Bisection of the distance to a rounded box, and the point of least norm of a difference of corners."""
    box = RoundedBox(label="box", placement=Placement(), half_mm=(60.0, 40.0, 25.0), radius_mm=5.0)
    core = brick(0.0, 0.0, 0.0, half=(55.0, 35.0, 20.0))
    hull = brick(0.0, 0.0, 0.0, half=(40.0, 20.0, 15.0)) @ Rotation.from_euler(
        "xyz", turn, degrees=True
    ).as_matrix().T + np.array(shift)
    one = gap_to_car(hull, radius, Car((box,)))
    other = gap_between(core, 5.0, hull, radius)
    assert other.within_mm < 1e-6
    if other.gap_mm > -radius:
        assert other.gap_mm - 1e-6 <= one.gap_mm <= other.gap_mm + TOLERANCE_MM + 1e-6
    else:
        # The hull itself is in the box. To part the two takes at least its deepest point's way out.
        assert one.gap_mm >= other.gap_mm - 1e-6
        assert one.gap_mm <= -radius + TOLERANCE_MM


def test_balls_and_rods_against_closed_forms() -> None:
    a, b = np.array([(0.0, 0.0, 0.0)]), np.array([(30.0, 40.0, 0.0)])
    found = gap_between(a, 12.0, b, 8.0)
    assert found.gap_mm == pytest.approx(30.0)
    assert_allclose(found.direction, (0.6, 0.8, 0.0), atol=1e-12)
    rod = np.array([(-100.0, 0.0, 0.0), (100.0, 0.0, 0.0)])
    skew = np.array([(20.0, -60.0, 35.0), (20.0, 80.0, 35.0)])
    assert gap_between(rod, 10.0, skew, 5.0).gap_mm == pytest.approx(20.0)
    # Dilated bodies that cross while their axes do not.
    assert gap_between(rod, 20.0, skew, 25.0).gap_mm == pytest.approx(-10.0)


def test_bricks_that_overlap_are_parted_by_the_least_way() -> None:
    one = brick(0.0, 0.0, 0.0, half=(60.0, 40.0, 30.0))
    found = gap_between(one, 1.0, brick(100.0, 10.0, 3.0, half=(60.0, 40.0, 30.0)), 2.0)
    assert found.gap_mm == pytest.approx(-23.0)
    assert_allclose(found.direction, (1.0, 0.0, 0.0), atol=1e-9)
    parted = brick(100.0, 10.0, 3.0, half=(60.0, 40.0, 30.0)) + found.direction * 20.0
    assert gap_between(one, 0.0, parted, 0.0).gap_mm == pytest.approx(0.0, abs=1e-9)


@settings(max_examples=40)
@given(turn=turns, shift=shifts)
def test_the_way_out_leads_out(turn: tuple[int, int, int], shift: tuple[int, int, int]) -> None:
    """Moved by the gap along the direction the second body just touches; by 1 mm more it is 1 mm away."""
    one = brick(0.0, 0.0, 0.0, half=(60.0, 40.0, 30.0))
    other = (
        brick(0.0, 0.0, 0.0, half=(50.0, 30.0, 20.0))
        @ Rotation.from_euler("xyz", turn, degrees=True).as_matrix().T
        + np.array(shift) / 2.0
    )
    found = gap_between(one, 0.0, other, 0.0)
    touching = gap_between(one, 0.0, other - found.gap_mm * found.direction, 0.0)
    assert touching.gap_mm == pytest.approx(0.0, abs=1e-6)
    beyond = gap_between(one, 0.0, other + (1.0 - found.gap_mm) * found.direction, 0.0)
    assert beyond.gap_mm == pytest.approx(1.0, abs=1e-6)


def test_simplices_fill_the_hull_of_points_in_no_special_place() -> None:
    """Volume and area from a general library's hull."""
    points = np.random.default_rng(8).uniform(-50.0, 50.0, (25, 3))
    cells = simplices(points)
    arms = cells[:, 1:] - cells[:, :1]
    assert np.abs(np.linalg.det(arms)).sum() / 6.0 == pytest.approx(ConvexHull(points).volume)
    flat = points * (1.0, 1.0, 0.0)
    triangles = simplices(flat @ Rotation.from_euler("x", 30.0, degrees=True).as_matrix().T)
    areas = np.linalg.norm(
        np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]), axis=1
    )
    assert areas.sum() / 2.0 == pytest.approx(ConvexHull(flat[:, :2]).volume)


def test_simplices_of_points_on_a_line_and_of_one() -> None:
    line = np.outer((0.3, -1.0, 2.0, 0.3), (1.0, 2.0, 3.0))
    (segment,) = simplices(line)
    assert_allclose(sorted(segment[:, 0]), (-1.0, 2.0))
    assert simplices(np.ones((5, 3))).shape == (1, 1, 3)
    with pytest.raises(BadValue):
        simplices(np.random.default_rng(9).uniform(size=(151, 3)))


def test_a_known_place_in_the_car(car: Car) -> None:
    """A ball over the tunnel's top: the way along the top's normal, from the plan's own numbers."""
    sizes = CarSizes()
    x, y, z = sizes.on_tunnel(420.0)
    found = gap_to_car(np.array([(x, y, z + 60.0)]), 20.0, car, only=["tunnel"])
    assert found.gap_mm == pytest.approx(
        60.0 * math.cos(math.radians(sizes.tunnel_rise_deg)) - 20.0, abs=1e-3
    )
