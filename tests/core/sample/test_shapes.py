"""Every solid against closed forms, and what holds for any exact distance."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from floorpan.errors import BadValue
from floorpan.sample.prisms import rounded_prism
from floorpan.sample.shapes import (
    Capsule,
    Placement,
    Ring,
    RoundedBox,
    RoundedCylinder,
    Shape,
    Sphere,
    turned,
)

TILTED = turned((20.0, -30.0, 40.0), about_z_deg=25.0, about_y_deg=-40.0, about_x_deg=15.0)
BOX = RoundedBox(label="box", placement=Placement(), half_mm=(50.0, 40.0, 30.0), radius_mm=6.0)
SOLIDS: dict[str, Shape] = {
    "sphere": Sphere(label="ball", centre_mm=(5.0, -8.0, 12.0), radius_mm=35.0),
    "capsule": Capsule(label="rod", start_mm=(-40.0, 10.0, 0.0), end_mm=(60.0, -20.0, 30.0), radius_mm=14.0),
    "box": RoundedBox(label="box", placement=TILTED, half_mm=(50.0, 40.0, 30.0), radius_mm=6.0),
    "sharp box": RoundedBox(label="box", placement=TILTED, half_mm=(50.0, 40.0, 30.0), radius_mm=0.0),
    "cylinder": RoundedCylinder(
        label="can", placement=TILTED, radius_mm=33.0, half_length_mm=61.0, rounding_mm=5.0
    ),
    "ring": Ring(label="rim", placement=TILTED, ring_radius_mm=60.0, tube_radius_mm=12.0),
    "prism": rounded_prism(
        "prism", TILTED, ((-60.0, -30.0), (70.0, -30.0), (40.0, 25.0), (-20.0, 45.0)), 50.0, 7.0
    ),
}
every_solid = pytest.mark.parametrize("solid", SOLIDS.values(), ids=SOLIDS.keys())


def at(*point: float) -> np.ndarray:
    return np.array([point], dtype=np.float64)


def test_a_ball_is_as_far_as_its_middle_less_its_radius() -> None:
    ball = Sphere(label="ball", centre_mm=(1.0, 2.0, 3.0), radius_mm=10.0)
    assert_allclose(ball.distance(at(1.0, 2.0, 33.0)), 20.0)
    assert_allclose(ball.distance(at(4.0, 6.0, 3.0)), -5.0)


def test_a_capsule_beside_and_beyond_its_segment() -> None:
    rod = Capsule(label="rod", start_mm=(0.0, 0.0, 0.0), end_mm=(100.0, 0.0, 0.0), radius_mm=8.0)
    assert_allclose(rod.distance(at(40.0, 30.0, 40.0)), 42.0)
    assert_allclose(rod.distance(at(103.0, 0.0, 4.0)), -3.0)
    assert_allclose(rod.distance(at(-30.0, 40.0, 0.0)), 42.0)
    assert_allclose(rod.distance(at(70.0, 0.0, 0.0)), -8.0)


@pytest.mark.parametrize(
    ("point", "away"),
    [
        ((50.0 + 17.0, 3.0, 4.0), 17.0),
        ((1.0, -40.0 - 17.0, 4.0), 17.0),
        # Beyond an edge and a corner the rounding's centre is 6 inside both or all three faces.
        ((44.0 + 30.0, 34.0 + 40.0, 0.0), 44.0),
        ((44.0 + 10.0, 34.0 + 20.0, 24.0 + 20.0), 24.0),
        ((0.0, 0.0, 28.0), -2.0),
        ((0.0, 0.0, 0.0), -30.0),
        # On the rounding at 45 degrees.
        ((44.0 + 6.0 / math.sqrt(2.0), 34.0 + 6.0 / math.sqrt(2.0), 0.0), 0.0),
    ],
)
def test_a_rounded_box_by_face_edge_and_corner(point: tuple[float, float, float], away: float) -> None:
    assert_allclose(BOX.distance(at(*point)), away, atol=1e-12)


def test_a_capped_cylinder_by_side_cap_and_rim() -> None:
    can = RoundedCylinder(
        label="can", placement=Placement(), radius_mm=30.0, half_length_mm=50.0, rounding_mm=5.0
    )
    assert_allclose(can.distance(at(30.0, 40.0, 10.0)), 20.0)
    assert_allclose(can.distance(at(3.0, 4.0, -61.0)), 11.0)
    assert_allclose(can.distance(at(0.0, 25.0 + 30.0, 45.0 + 40.0)), 45.0)
    assert_allclose(can.distance(at(0.0, 0.0, 0.0)), -30.0)


def test_a_ring_on_its_axis_beside_it_and_in_its_tube() -> None:
    rim = Ring(label="rim", placement=Placement(), ring_radius_mm=180.0, tube_radius_mm=14.0)
    assert_allclose(rim.distance(at(0.0, 0.0, 0.0)), 166.0)
    assert_allclose(rim.distance(at(0.0, 180.0, 30.0)), 16.0)
    assert_allclose(rim.distance(at(-183.0, 0.0, 4.0)), -9.0)


def test_a_prism_with_a_rectangle_for_outline_is_a_box() -> None:
    """Two formulas for one solid."""
    prism = rounded_prism(
        "prism", TILTED, ((-50.0, -40.0), (50.0, -40.0), (50.0, 40.0), (-50.0, 40.0)), 30.0, 6.0
    )
    points = np.random.default_rng(5).uniform(-120.0, 120.0, size=(4000, 3))
    assert_allclose(prism.distance(points), SOLIDS["box"].distance(points), atol=1e-10)


def test_a_prism_keeps_its_slanted_faces_where_they_were_drawn() -> None:
    right_angled = rounded_prism("wedge", Placement(), ((0.0, 0.0), (40.0, 0.0), (0.0, 30.0)), 100.0, 2.0)
    # The slanted side of a 30-40-50 triangle, met square in its middle from 15 mm out.
    assert_allclose(right_angled.distance(at(20.0 + 9.0, 15.0 + 12.0, 0.0)), 15.0)
    assert_allclose(right_angled.distance(at(10.0, -7.0, 0.0)), 7.0)
    # The inscribed circle of that triangle has a radius of 10 and its middle at (10, 10).
    assert_allclose(right_angled.distance(at(10.0, 10.0, 0.0)), -10.0)


coordinate = st.floats(-150.0, 150.0)
point_pairs = st.tuples(*(coordinate for _ in range(6))).map(lambda six: np.reshape(six, (2, 3)))


@every_solid
@given(points=point_pairs)
def test_a_distance_changes_no_more_than_the_way_gone(solid: Shape, points: np.ndarray) -> None:
    one, other = solid.distance(points)
    assert abs(one - other) <= np.linalg.norm(points[0] - points[1]) + 1e-9


@every_solid
@given(points=point_pairs, share=st.floats(0.0, 1.0))
def test_the_distance_to_a_convex_solid_is_convex(solid: Shape, points: np.ndarray, share: float) -> None:
    between = share * points[0] + (1.0 - share) * points[1]
    one, other = solid.distance(points)
    over_it = float(solid.distance(between[None])[0]) <= share * one + (1.0 - share) * other + 1e-9
    assert over_it or not solid.convex


def gradient(shape: Callable[[np.ndarray], np.ndarray], points: np.ndarray) -> np.ndarray:
    step = 1e-5
    columns = [
        (shape(points + step * axis) - shape(points - step * axis)) / (2.0 * step) for axis in np.eye(3)
    ]
    return np.stack(columns, axis=1)


@every_solid
def test_walking_the_distance_against_its_gradient_ends_on_the_surface(solid: Shape) -> None:
    """Exact outside and, for a few mm, inside: an underestimate would stop short of the surface."""
    points = np.random.default_rng(3).uniform(-150.0, 150.0, size=(4000, 3))
    away = solid.distance(points)
    points, away = points[away > -3.0], away[away > -3.0]
    landed = points - away[:, None] * gradient(solid.distance, points)
    assert np.abs(solid.distance(landed)).max() < 1e-3
    assert (away < 0.0).any()


@every_solid
def test_the_bounds_hold_the_solid_and_touch_it(solid: Shape) -> None:
    low, high = solid.bounds()
    points = np.random.default_rng(4).uniform(low - 20.0, high + 20.0, size=(60_000, 3))
    inside = points[solid.distance(points) <= 0.0]
    assert (inside >= low).all()
    assert (inside <= high).all()
    # Square to a face of the bounds the solid is met: the nearest of many points on it is close.
    for axis in range(3):
        for value in (low[axis], high[axis]):
            on_face = points.copy()
            on_face[:, axis] = value
            assert abs(solid.distance(on_face).min()) < 1.0


@every_solid
def test_the_mirror_image_is_as_far_from_the_mirrored_point(solid: Shape) -> None:
    points = np.random.default_rng(6).uniform(-150.0, 150.0, size=(500, 3))
    assert_allclose(
        solid.mirrored().distance(points * np.array((1.0, -1.0, 1.0))), solid.distance(points), atol=1e-12
    )


def test_turned_axes_follow_the_right_hand() -> None:
    assert_allclose(turned((0.0, 0.0, 0.0), about_z_deg=90.0).axes[0], (0.0, 1.0, 0.0), atol=1e-15)
    assert_allclose(turned((0.0, 0.0, 0.0), about_y_deg=90.0).axes[2], (1.0, 0.0, 0.0), atol=1e-15)
    assert_allclose(turned((0.0, 0.0, 0.0), about_x_deg=90.0).axes[1], (0.0, 0.0, 1.0), atol=1e-15)
    assert_allclose(TILTED.to_car([(1.0, 2.0, 3.0)]) @ np.eye(3), TILTED.to_car([(1.0, 2.0, 3.0)]))
    assert_allclose(np.stack(TILTED.local(TILTED.to_car([(1.0, 2.0, 3.0)]))).ravel(), (1.0, 2.0, 3.0))


def test_sizes_that_make_no_solid_are_refused() -> None:
    with pytest.raises(BadValue):
        RoundedBox(label="box", placement=Placement(), half_mm=(5.0, 40.0, 30.0), radius_mm=6.0)
    with pytest.raises(BadValue):
        RoundedCylinder(
            label="can", placement=Placement(), radius_mm=3.0, half_length_mm=9.0, rounding_mm=4.0
        )
    with pytest.raises(BadValue):
        rounded_prism("clockwise", Placement(), ((0.0, 0.0), (0.0, 30.0), (40.0, 0.0)), 50.0, 2.0)
    with pytest.raises(BadValue):
        rounded_prism("too round", Placement(), ((0.0, 0.0), (40.0, 0.0), (0.0, 30.0)), 50.0, 11.0)
