"""Probe points, against closed forms of balls over a disc and of a circle cut out of a square hole."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.errors import BadValue
from floorpan.frames import Pose, Vector
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.normals import face_areas
from floorpan.geometry.solids import Body, Solid, ball
from floorpan.scan.probes import (
    REACH_MM,
    Probe,
    gap_to_probes,
    overridden,
    standing,
    still_unseen,
)

HOLE = Mesh(
    np.array([[-50.0, -50.0, 0.0], [50.0, -50.0, 0.0], [50.0, 50.0, 0.0], [-50.0, 50.0, 0.0]]),
    np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32),
)


def ball_at(x: float, y: float, z: float, radius_mm: float = 10.0) -> Body:
    return (Solid(ball(np.zeros(3), radius_mm), Pose(shift_mm=(x, y, z))),)


@given(x=st.floats(-80.0, 80.0), y=st.floats(-80.0, 80.0), z=st.floats(15.0, 90.0))
def test_the_gap_to_a_probe_is_that_to_its_disc(x: float, y: float, z: float) -> None:
    # Closed form of a point over a disc; the plug is drawn around the true circle, 0.13 mm outside it at most.
    probe = standing(Probe(id="probe-1", at_mm=(0.0, 0.0, 2.0)), Pose())
    found = gap_to_probes(ball_at(x, y, z), [probe])
    true = math.hypot(max(math.hypot(x, y) - 15.0, 0.0), z - 2.0) - 10.0
    outside = 15.0 * (1.0 / math.cos(math.pi / 24) - 1.0)
    assert true - outside - 1e-6 <= found.near.distance_mm <= true + 1e-6
    assert found.probe == "probe-1"
    assert found.u_mm == 1.0
    assert found.rise_mm == pytest.approx(1.5)


@given(x=st.floats(-80.0, 80.0), z=st.floats(-80.0, 80.0))
def test_a_probe_on_an_edge_is_a_point_from_all_sides(x: float, z: float) -> None:
    probe = standing(Probe(id="probe-1", at_mm=(0.0, 0.0, 0.0), kind="edge", u_mm=2.0), Pose())
    found = gap_to_probes(ball_at(x, 0.0, z), [probe])
    assert found.near.distance_mm == pytest.approx(math.hypot(x, z) - 10.0, abs=1e-6)
    assert found.rise_mm == 0.0


def test_what_is_behind_a_probe_is_in_the_metal() -> None:
    probe = standing(Probe(id="probe-1", at_mm=(0.0, 0.0, 0.0)), Pose())
    assert gap_to_probes(ball_at(0.0, 0.0, 9.0), [probe]).near.distance_mm == pytest.approx(-1.0, abs=1e-6)
    assert gap_to_probes(ball_at(0.0, 0.0, -30.0), [probe]).near.distance_mm < -10.0
    down = standing(Probe(id="probe-1", at_mm=(0.0, 0.0, 0.0), facing=(0.0, 0.0, -3.0)), Pose())
    assert gap_to_probes(ball_at(0.0, 0.0, -30.0), [down]).near.distance_mm == pytest.approx(20.0, abs=1e-6)


def test_the_probe_that_leaves_least_after_its_own_doubt_speaks() -> None:
    sure = standing(Probe(id="sure", at_mm=(0.0, 0.0, 0.0), kind="edge", u_mm=0.5), Pose())
    rough = standing(Probe(id="rough", at_mm=(0.0, 0.0, -2.0), kind="edge", u_mm=5.0), Pose())
    body = ball_at(0.0, 0.0, 40.0)
    assert gap_to_probes(body, [sure, rough]).probe == "rough"
    assert gap_to_probes(body, [sure]).near.distance_mm == pytest.approx(30.0)
    assert gap_to_probes(body, [sure], limit_mm=29.0).probe == ""
    assert not gap_to_probes(body, []).near.found


def test_a_probe_moves_with_its_scan_and_its_offset_with_it() -> None:
    pose = Pose.turned((0.0, 0.0, 1.0), 90.0, (10.0, 0.0, 0.0))
    probe = standing(
        Probe(id="a", at_mm=(30.0, 0.0, 5.0), offset_mm=(0.0, 20.0, 1.0), facing=(2.0, 0.0, 0.0)), pose
    )
    assert probe.at_mm == pytest.approx([-10.0, 20.0, 6.0])
    assert probe.facing == pytest.approx([0.0, 1.0, 0.0])
    tilted = Pose.turned((1.0, 0.0, 0.0), 30.0)
    assert standing(Probe(id="a", at_mm=(0.0, 0.0, 0.0)), tilted).facing == pytest.approx([0.0, 0.0, 1.0])


@pytest.mark.parametrize("radius_mm", [10.0, 15.0, 40.0])
def test_a_hole_stays_unseen_beyond_what_the_probe_vouches_for(radius_mm: float) -> None:
    probe = standing(Probe(id="a", at_mm=(3.0, -2.0, 8.0), overrides_radius_mm=radius_mm), Pose())
    left = still_unseen(HOLE, [probe])
    gone = 100.0 * 100.0 - float(face_areas(left).sum())
    # No more than the circle is gone, and most of it.
    assert 0.75 * math.pi * radius_mm**2 < gone <= math.pi * radius_mm**2
    middle = left.points[left.faces].mean(axis=1)
    away = np.hypot(middle[:, 0] - 3.0, middle[:, 1] + 2.0)
    assert away.min() > radius_mm - radius_mm / 6.0 - 1e-9
    # Every point outside the circle is still covered.
    random = np.random.default_rng(1)
    places = random.uniform(-50.0, 50.0, (300, 2))
    outside = np.hypot(places[:, 0] - 3.0, places[:, 1] + 2.0) > radius_mm
    assert (_covered(left, places) | ~outside).all()


def test_a_probe_far_over_a_hole_says_nothing_of_it() -> None:
    probe = standing(Probe(id="a", at_mm=(0.0, 0.0, REACH_MM + 30.0)), Pose())
    assert float(face_areas(still_unseen(HOLE, [probe])).sum()) == pytest.approx(10_000.0)
    edge = standing(Probe(id="a", at_mm=(0.0, 0.0, 0.0), kind="edge"), Pose())
    assert still_unseen(HOLE, [edge]) is HOLE


def test_a_rim_is_seen_as_far_as_the_probe_reaches() -> None:
    rim = Mesh(np.array([[-50.0, 0.0, 0.0], [50.0, 0.0, 0.0]]), np.array([[0, 1, 1]], dtype=np.int32))
    probe = standing(Probe(id="a", at_mm=(0.0, 0.0, 0.0)), Pose())
    left = still_unseen(rim, [probe])
    corner = left.points[left.faces]
    length = np.linalg.norm(corner - np.roll(corner, -1, axis=1), axis=2).max(axis=1)
    assert 100.0 - 30.0 <= length.sum() < 100.0 - 30.0 + 2 * 15.0 / 6.0
    assert (np.abs(left.points[:, 1:]) == 0.0).all()
    inner = np.abs(corner[:, :, 0]).max(axis=1)
    assert inner.min() > 15.0


def test_a_probe_stands_in_for_the_faces_within_its_radius_only() -> None:
    side = np.arange(-30.0, 31.0, 5.0)
    x, y = np.meshgrid(side, side, indexing="ij")
    n = np.arange(x.size).reshape(x.shape)
    faces = np.stack([n[:-1, :-1], n[1:, :-1], n[1:, 1:]], -1).reshape(-1, 3).astype(np.int32)
    mesh = Mesh(np.column_stack([x.ravel(), y.ravel(), np.zeros(x.size)]), faces)
    probe = standing(Probe(id="a", at_mm=(0.0, 0.0, 4.0)), Pose())
    over = overridden(mesh, [probe])
    far = np.linalg.norm(mesh.points[mesh.faces] - [0.0, 0.0, 4.0], axis=2).max(axis=1)
    assert (over == (far <= 15.0)).all()
    assert over.any()


@pytest.mark.parametrize(
    ("at", "facing", "code"),
    [((math.nan, 0.0, 0.0), None, "not-finite"), ((0.0, 0.0, 0.0), (0.0, 0.0, 0.0), "no-facing")],
)
def test_a_probe_that_is_none_is_refused(at: Vector, facing: Vector | None, code: str) -> None:
    with pytest.raises(BadValue) as refused:
        Probe(id="a", at_mm=at, facing=facing)
    assert refused.value.code == code


def _covered(mesh: Mesh, places: np.ndarray) -> np.ndarray:
    a, b, c = (mesh.points[mesh.faces[:, k], :2] for k in range(3))
    held = np.zeros(len(places), dtype=bool)
    for number, place in enumerate(places):
        parts = [
            (q[:, 0] - p[:, 0]) * (place[1] - p[:, 1]) - (q[:, 1] - p[:, 1]) * (place[0] - p[:, 0])
            for p, q in ((a, b), (b, c), (c, a))
        ]
        held[number] = bool((np.min(parts, axis=0) >= -1e-9).any())
    return held
