"""Segments that stand for a body's skin: counted on a box, and how deep a ball dips, by hand and by a library."""

import math

import fcl
import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st

from floorpan.driver.obstacles import segments_apart
from floorpan.frames import Pose
from floorpan.geometry.solids import Hull, Solid, ball, box, capsule
from floorpan.geometry.wires import wires

SPACING = 25.0
PLACES = st.tuples(*[st.floats(-150.0, 150.0)] * 3)


def to_wires(points: np.ndarray, found: tuple[np.ndarray, np.ndarray, np.ndarray]) -> np.ndarray:
    """Distances of points to the rounded segments."""
    starts, ends, radii = found
    apart = segments_apart(points[:, None], points[:, None], starts[None], ends[None]) - radii
    return np.asarray(apart.min(axis=1))


def test_a_small_box_is_its_edges_and_the_diagonals_of_its_faces() -> None:
    starts, ends, radii = wires((Solid(box(np.zeros(3), np.array([10.0, 10.0, 10.0]))),), SPACING)
    lengths = np.linalg.norm(ends - starts, axis=1)
    assert len(lengths) == 12 + 6
    assert sorted(np.round(lengths, 6)) == [10.0] * 12 + [round(10.0 * math.sqrt(2.0), 6)] * 6
    assert not radii.any()


def test_balls_and_rods_are_themselves() -> None:
    starts, ends, radii = wires((Solid(ball(np.array([1.0, 2.0, 3.0]), 7.0)),), SPACING)
    np.testing.assert_allclose([starts[0], ends[0]], [[1.0, 2.0, 3.0]] * 2)
    assert radii.tolist() == [7.0]
    rod = capsule(np.zeros(3), np.array([0.0, 0.0, 300.0]), 20.0)
    starts, ends, radii = wires((Solid(rod),), SPACING)
    long = np.linalg.norm(ends - starts, axis=1) > 0.0
    assert np.linalg.norm(ends[long] - starts[long], axis=1).tolist() == [300.0]
    assert set(radii) == {20.0}


def test_nothing_has_no_wires() -> None:
    assert [part.shape for part in wires((), SPACING)] == [(0, 3), (0, 3), (0,)]


@given(st.floats(30.0, 80.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_ball_on_a_face_dips_no_deeper_than_is_told(radius: float, along: float, across: float) -> None:
    """By hand: over a face of a box a ball of radius r rests on two lines, its middle r - dip over the face."""
    found = wires((Solid(box(np.zeros(3), np.array([400.0, 200.0, 100.0]))),), SPACING)
    deepest = radius - math.sqrt(radius**2 - SPACING**2 / 4)
    over = np.linspace(0.0, radius + 1.0, 400)
    middles = np.column_stack([np.full(400, 400.0 * along), np.full(400, 200.0 * across), 100.0 + over])
    keeps_off = to_wires(middles, found) >= radius
    lowest = float(over[keeps_off][0])
    assert radius - lowest <= deepest + 1e-9
    assert keeps_off[-1]


@pytest.mark.parametrize("round_mm", [0.0, 20.0])
def test_wires_against_a_collision_library(round_mm: float) -> None:
    """Reference: distances of the Flexible Collision Library to hulls of random points, turned."""
    draw = np.random.default_rng(11)
    for _ in range(6):
        hull = Hull(draw.uniform(-120.0, 120.0, (12, 3)), round_mm)
        solid = Solid(hull, Pose.turned((1.0, 2.0, 3.0), float(draw.uniform(-180.0, 180.0))))
        skin = hull_of(trimesh.convex.convex_hull(solid.points()))
        outside = draw.uniform(-300.0, 300.0, (200, 3))
        true = np.array(
            [
                fcl.distance(skin, point_at(one), fcl.DistanceRequest(), fcl.DistanceResult())
                for one in outside
            ]
        )
        outside, true = outside[true > round_mm + 1.0], true[true > round_mm + 1.0]
        told = to_wires(outside, wires((solid,), SPACING)) + round_mm
        assert (told >= true - 0.01).all(), "wires lie in the skin"
        # A point of the skin is half a spacing from a wire at most; square to that is the way out.
        assert (told <= np.hypot(true, SPACING / 2) + 0.01).all()


def hull_of(skin: trimesh.Trimesh) -> fcl.CollisionObject:
    shape = fcl.BVHModel()
    shape.beginModel(len(skin.vertices), len(skin.faces))
    shape.addSubModel(skin.vertices, skin.faces)
    shape.endModel()
    return fcl.CollisionObject(shape)


def point_at(at: np.ndarray) -> fcl.CollisionObject:
    """A speck: the triangle of three points a thousandth apart."""
    speck = trimesh.Trimesh(at + 1e-3 * np.eye(3), [[0, 1, 2]], process=False)
    return hull_of(speck)


@given(PLACES)
def test_no_point_of_a_face_is_farther_than_half_a_spacing(corner: tuple[float, float, float]) -> None:
    hull = Hull(np.array([[0.0, 0.0, 0.0], [200.0, 0.0, 0.0], [0.0, 90.0, 0.0], corner]))
    solid = Solid(hull)
    weights = np.random.default_rng(3).dirichlet(np.ones(3), 60)
    points = np.concatenate([weights @ hull.skin().points[face] for face in hull.skin().faces])
    assert to_wires(points, wires((solid,), SPACING)).max() <= SPACING / 2 + 1e-5
