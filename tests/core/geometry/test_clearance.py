"""Gaps between bodies: closed forms for balls, rods and boxes, a slow second way for the rest."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull, QhullError

from floorpan.frames import STILL, Pose
from floorpan.geometry.clearance import body_gap, least_way_out, solid_gap
from floorpan.geometry.near import Near
from floorpan.geometry.solids import Hull, Solid, ball, box, capsule, frustum
from made_up_distances import convex_distance
from made_up_sheets import body


def gap(one: Hull, other: Hull) -> Near:
    near = body_gap(body(one), body(other))
    back = body_gap(body(other), body(one))
    assert back.distance_mm == pytest.approx(near.distance_mm, abs=1e-9)
    way = np.subtract(near.on_body, near.on_surface)
    assert way @ np.asarray(near.away) == pytest.approx(near.distance_mm, abs=1e-7)
    assert np.linalg.norm(near.away) == pytest.approx(1.0)
    return near


@pytest.mark.parametrize("apart", [100.0, 35.0, 34.0, 10.0, 0.001])
def test_two_balls(apart: float) -> None:
    near = gap(ball([0, 0, 0], 20.0), ball([apart * 0.6, 0, apart * 0.8], 15.0))
    assert near.distance_mm == pytest.approx(apart - 35.0, abs=1e-9)
    assert np.linalg.norm(near.on_body) == pytest.approx(20.0)


def test_two_balls_in_one_place_part_along_any_way() -> None:
    assert gap(ball([3, 4, 5], 20.0), ball([3, 4, 5], 15.0)).distance_mm == pytest.approx(-35.0)


@pytest.mark.parametrize(
    ("other", "expected"),
    [
        (([-50, 0, 30], [50, 0, 30]), 18.0),  # parallel, over one another
        (([0, -50, 30], [0, 50, 30]), 18.0),  # square to it
        (([80, 0, 40], [80, 90, 40]), 38.0),  # end against middle, 30 along and 40 up
        (([80, 40, 0], [160, 40, 0]), 38.0),  # end against end
        (([60, 0, 0], [90, 0, 0]), -2.0),  # in line, 10 between the ends
    ],
)
def test_rods_along_x(other: tuple[list[float], list[float]], expected: float) -> None:
    """Segments from -50 to 50 along x, radii 5 and 7: distance of the segments less 12."""
    near = gap(capsule([-50, 0, 0], [50, 0, 0], 5.0), capsule(*other, 7.0))  # type: ignore[arg-type]
    assert near.distance_mm == pytest.approx(expected, abs=1e-9)


def test_rods_that_cross_part_square_to_both() -> None:
    near = gap(capsule([-50, 0, 0], [50, 0, 0], 5.0), capsule([0, -50, 0], [0, 50, 0], 7.0))
    assert near.distance_mm == pytest.approx(-12.0)
    assert np.abs(near.away) == pytest.approx([0, 0, 1])
    assert near.on_body[:2] == pytest.approx((0.0, 0.0), abs=1e-9)


def test_rods_in_one_line_that_overlap() -> None:
    """They part sideways by the sum of the radii, which is less than pulling them apart lengthwise."""
    near = gap(capsule([-50, 0, 0], [50, 0, 0], 5.0), capsule([-20, 0, 0], [90, 0, 0], 7.0))
    assert near.distance_mm == pytest.approx(-12.0)
    assert near.away[0] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("shift", "expected"),
    [
        ((40, 3, 2), 20.0),  # face to face
        ((40, 50, 2), math.hypot(20, 30)),  # edge to edge
        ((40, 50, 80), math.sqrt(20**2 + 30**2 + 60**2)),  # corner to corner
        ((15, 3, 2), -5.0),  # sunk face into face
        ((15, 12, 2), -5.0),  # the least of 5 and 8
        ((15, 12, 17), -3.0),
    ],
)
@pytest.mark.parametrize("radius", [0.0, 3.0])
def test_two_boxes_of_20(shift: tuple[float, float, float], expected: float, radius: float) -> None:
    """Cubes of side 20; with round edges the outside of their faces stays, that of edges and corners draws in."""
    one = box([-10, -10, -10], [10, 10, 10], radius)
    low, high = np.array(shift) - 10.0, np.array(shift) + 10.0
    near = gap(one, box(low, high, radius))
    core = np.maximum(np.abs(shift) - 2 * (10 - radius), 0.0)
    rounded = float(np.linalg.norm(core)) - 2 * radius
    assert near.distance_mm == pytest.approx(rounded if core.any() else expected, abs=1e-9)


def test_a_small_box_wholly_inside_a_large_one() -> None:
    """Skins 20 apart and nothing crossing; out by the nearest side: 20 to it, and 10 more to bring the far side out."""
    near = gap(box([-5, -5, 25], [5, 5, 35]), box([-60, -60, -60], [60, 60, 60]))
    assert near.distance_mm == pytest.approx(-35.0)
    assert np.allclose(near.away, [0, 0, 1])


@pytest.mark.parametrize(("height", "expected"), [(30.0, 15.0), (13.0, -2.0), (9.0, -6.0), (-4.0, -19.0)])
def test_a_rod_over_a_box_edge(height: float, expected: float) -> None:
    """A rod of radius 5 along y over a box 20 wide and 20 high: off its top face."""
    near = gap(capsule([0, -50, height], [0, 50, height], 5.0), box([-10, -30, -10], [10, 30, 10]))
    if height < 0.0:
        # From inside the shortest way out is a side 10 away, or the bottom 6 away.
        expected = -(min(10.0, 10.0 + height) + 5.0)
    assert near.distance_mm == pytest.approx(expected)


def test_a_rod_past_a_box_edge() -> None:
    """Square distance from the edge at (10, 10): 30 along and 40 up is 50, less the radius."""
    near = gap(capsule([40, -50, 50], [40, 50, 50], 5.0), box([-10, -30, -10], [10, 30, 10]))
    assert near.distance_mm == pytest.approx(45.0)
    assert near.on_surface[0] == pytest.approx(10.0)
    assert near.on_surface[2] == pytest.approx(10.0)


def test_a_flat_plate_through_a_box() -> None:
    plate = Hull(np.array([[-50.0, -50, 2], [50, -50, 2], [50, 50, 2], [-50, 50, 2]]))
    assert gap(plate, box([-10, -10, -10], [10, 10, 10])).distance_mm == pytest.approx(-8.0)


SHAPES = (
    ball([0, 0, 0], 12.0),
    capsule([0, 0, -30], [0, 0, 30], 6.0),
    box([-20, -14, -9], [20, 14, 9], 2.0),
    frustum(-20.0, 20.0, 9.0, 16.0, sides=10),
    Hull(np.array([[-20.0, -10, 0], [20, -10, 0], [0, 25, 0]]), 1.0),
)
places = st.tuples(*[st.floats(-70, 70)] * 3)
turns = st.tuples(*[st.floats(-1, 1)] * 3, st.floats(0, 180))


def posed(hull: Hull, place: tuple[float, ...], turn: tuple[float, ...]) -> Solid:
    axis = turn[:3] if np.linalg.norm(turn[:3]) > 0.1 else (0.0, 0.0, 1.0)
    return Solid(hull, Pose(shift_mm=place).after(Pose.turned(axis, turn[3])))  # type: ignore[arg-type]


@settings(max_examples=60)
@given(st.sampled_from(SHAPES), st.sampled_from(SHAPES), places, turns, turns)
def test_any_two_solids(
    one: Hull, other: Hull, place: tuple[float, ...], turn: tuple[float, ...], too: tuple[float, ...]
) -> None:
    """Apart: non-negative least squares agree. Crossing: moved by the depth along `away` they just touch, by less
    they still cross, and no other way out is shorter."""
    first, second = posed(one, place, turn), posed(other, (0.0, 0.0, 0.0), too)
    near = solid_gap(first, second)
    radii = one.radius_mm + other.radius_mm
    slow = convex_distance(first.points(), second.points())
    if slow > 1e-3:
        assert near.distance_mm == pytest.approx(slow - radii, abs=2e-4)
        return
    assert near.distance_mm <= -radii + 1e-3
    depth = -near.distance_mm

    def after(way: np.ndarray, length: float) -> float:
        step = Pose(shift_mm=tuple(float(v) for v in way * length))  # type: ignore[arg-type]
        return solid_gap(Solid(one, step.after(first.pose)), second).distance_mm

    away = np.asarray(near.away)
    assert after(away, depth) == pytest.approx(0.0, abs=1e-5)
    for way in np.random.default_rng(0).normal(size=(8, 3)):
        assert after(way / np.linalg.norm(way), 0.98 * depth - 1e-4) < 0.0 or depth < 1e-3


def test_the_nearest_pair_of_solids_is_named() -> None:
    one = body(ball([0, 0, 0], 5.0), ball([100, 0, 0], 5.0))
    other = body(ball([50, 60, 0], 5.0), ball([100, 30, 0], 5.0), ball([0, -90, 0], 5.0))
    near = body_gap(one, other)
    assert (near.solid_index, near.other_index) == (1, 1)
    assert near.distance_mm == pytest.approx(20.0)


def test_of_pairs_that_cross_the_deepest_counts() -> None:
    one = body(box([0, 0, 0], [10, 10, 10]), box([10, 0, 0], [20, 10, 10]))
    other = body(box([-5, 0, 9], [5, 10, 30]), box([12, 2, 4], [18, 8, 30]))
    near = body_gap(one, other)
    assert near.distance_mm == pytest.approx(-6.0)
    assert (near.solid_index, near.other_index) == (1, 1)


def test_bodies_that_share_a_hull() -> None:
    hull = box([-10, -10, -10], [10, 10, 10])
    near = body_gap((Solid(hull),), (Solid(hull, Pose(shift_mm=(50.0, 0.0, 0.0))),))
    assert near.distance_mm == pytest.approx(30.0)


def test_nothing_to_measure() -> None:
    assert not body_gap((), body(ball([0, 0, 0], 5.0))).found


def test_round_solids_of_many_corners_cross_without_a_matrix_over_all_differences() -> None:
    """Closed form: two drums of 64 sides, axes 30 apart: their difference is one of 40, its sides half a turn off.

    16384 differences: a square matrix over them would take 2 GB.
    """
    turns = np.linspace(0.0, 2.0 * math.pi, 64, endpoint=False)
    ring = np.stack([20.0 * np.cos(turns), 20.0 * np.sin(turns), np.zeros(64)], axis=1)
    drum = np.concatenate([ring, np.add(ring, (0.0, 0.0, 300.0))])
    near = gap(Hull(drum), Hull(np.add(drum, (30.0, 0.0, 10.0))))
    assert near.distance_mm == pytest.approx(-(40.0 - 30.0) * math.cos(math.pi / 64), abs=1e-6)


HULLS = (
    frustum(0.0, 120.0, 30.0, 33.0),
    frustum(-20.0, 60.0, 40.0, 40.0, sides=24),
    box([-30.0, -20.0, -10.0], [30.0, 20.0, 10.0]),
    capsule([0.0, 0.0, -50.0], [0.0, 0.0, 50.0], 8.0),
    Hull(np.random.default_rng(5).normal(0.0, 25.0, (30, 3))),
    ball([0.0, 0.0, 0.0], 3.0),
    Hull(np.array([[0.0, 0.0, 0.0], [40.0, 0.0, 0.0], [0.0, 50.0, 0.0], [40.0, 50.0, 0.0]])),
)


def test_the_least_way_out_is_that_of_the_hull_of_all_differences() -> None:
    """The general library's hull of every difference of two corners: the origin's distance to its nearest facet."""
    random = np.random.default_rng(1)
    parted = 0
    for one, other in itertools.product(HULLS, HULLS):
        pair = [
            Solid(hull, Pose.turned(tuple(random.normal(size=3)), random.uniform(0.0, 360.0)).after(STILL))
            for hull in (one, other)
        ]
        pair[1] = Solid(other, Pose(shift_mm=tuple(random.normal(0.0, 30.0, 3))).after(pair[1].pose))
        way, depth = least_way_out(*pair)
        between = (pair[0].points()[:, None] - pair[1].points()[None]).reshape(-1, 3)
        try:
            expected = max(-float(ConvexHull(between).equations[:, 3].max()), 0.0)
        except QhullError:
            expected = 0.0
        assert depth == pytest.approx(expected, abs=1e-9)
        low, high = (pair[0].points() @ way).min(), (pair[1].points() @ way).max()
        assert low + depth >= high - 1e-9
        parted += depth > 0.0
    assert parted > 10
