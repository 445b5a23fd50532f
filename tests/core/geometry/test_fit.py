"""Planes and rigid moves: numbers worked out by hand or by two independent codes (check values 9.01 to 9.07)."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from floorpan.frames import Pose
from floorpan.geometry.fit import fit_plane, fit_rigid

FOUR = np.array([[0.0, 0, 0], [100, 0, 0], [0, 50, 0], [0, 0, 25]])


def test_plane_through_five_points() -> None:
    """Check value 9.07: z = -0.001 y + 1.09, rms 0.091652."""
    points = np.array([[0, 0, 1.0], [100, 0, 1.2], [100, 100, 0.9], [0, 100, 1.1], [50, 50, 1.0]])
    plane = fit_plane(points)
    normal = plane.normal * np.sign(plane.normal[2])
    assert normal == pytest.approx([0.0, 0.001, 0.9999995], abs=1e-6)
    assert plane.rms_mm == pytest.approx(0.0916515, abs=1e-6)
    signs = plane.residual_mm * np.sign(plane.normal[2])
    assert signs == pytest.approx([-0.09, 0.11, -0.09, 0.11, -0.04], abs=1e-6)
    assert plane.centre @ normal == pytest.approx(1.09, abs=1e-5)


def test_points_on_a_line_are_told() -> None:
    assert fit_plane(np.array([[0.0, 0, 0], [1, 2, 3], [2, 4, 6.0]])).on_a_line
    assert not fit_plane(np.array([[0.0, 0, 0], [1, 2, 3], [2, 4, 6.1]])).on_a_line


def test_rigid_move_exactly() -> None:
    """Check value 9.01: 30 degrees about Z and a shift of (10, -20, 5)."""
    end = np.array([[10, -20, 5], [96.6025403784, 30, 5], [-15, 23.3012701892, 5], [10, -20, 30]])
    fit = fit_rigid(FOUR, end)
    assert fit.rms_mm < 1e-9
    assert fit.pose.shift_mm == pytest.approx((10, -20, 5), abs=1e-6)
    assert fit.pose.matrix()[:3, :3] == pytest.approx(Pose.turned((0, 0, 1), 30).matrix()[:3, :3], abs=1e-9)


def test_rigid_move_with_picks_that_are_off() -> None:
    """Check value 9.02, from a singular value and a quaternion code that agree to 1e-13."""
    end = np.array(
        [
            [10.3, -20.0, 5.0],
            [96.30254037844387, 30.2, 5.0],
            [-15.0, 23.10127018922193, 5.1],
            [10.0, -20.0, 29.9],
        ]
    )
    fit = fit_rigid(FOUR, end)
    turn = [
        [0.86406012, -0.50338851, 0.00033798],
        [0.5033885, 0.86405924, -0.0012841],
        [0.00035436, 0.00127968, 0.99999912],
    ]
    assert fit.pose.matrix()[:3, :3] == pytest.approx(np.array(turn), abs=1e-8)
    assert fit.pose.shift_mm == pytest.approx((10.089376, -20.052110, 4.975150), abs=1e-6)
    assert fit.residual_mm == pytest.approx([0.218393, 0.211722, 0.112120, 0.149351], abs=1e-6)
    assert fit.rms_mm == pytest.approx(0.1784645332587894, abs=1e-9)
    assert not fit.mirrored


@given(st.integers(0, 10_000), st.integers(3, 12))
def test_rigid_moves_agree_with_another_library(seed: int, count: int) -> None:
    """scipy's align_vectors turns centred points; it reports the root of the sum of squares (check value 9.03)."""
    random = np.random.default_rng(seed)
    start = random.normal(size=(count, 3)) * 100
    end = Rotation.random(rng=seed).apply(start) + random.normal(size=3) * 50 + random.normal(size=(count, 3))
    fit = fit_rigid(start, end)
    theirs, rssd = Rotation.align_vectors(end - end.mean(axis=0), start - start.mean(axis=0))
    assert fit.pose.matrix()[:3, :3] == pytest.approx(theirs.as_matrix(), abs=1e-6)
    assert fit.rms_mm * np.sqrt(count) == pytest.approx(rssd, abs=1e-6)


def test_a_flat_set_of_marks_cannot_tell_a_mirrored_scan() -> None:
    """Check value 9.04: four marks in a plane, mirrored in X, fit without remainder."""
    flat = np.array([[0.0, 0, 0], [100, 0, 0], [0, 50, 0], [80, 40, 0]])
    fit = fit_rigid(flat, flat * [-1, 1, 1])
    assert fit.rms_mm < 1e-9
    assert not fit.can_tell_mirror
    assert not fit.mirrored


def test_marks_at_different_heights_can() -> None:
    """Check value 9.05: with a fifth mark at (50, 30, 20) the best rigid move leaves 16.0."""
    marks = np.vstack([[[0.0, 0, 0], [100, 0, 0], [0, 50, 0], [100, 50, 0]], [[50, 30, 20]]])
    fit = fit_rigid(marks, marks * [-1, 1, 1])
    assert fit.can_tell_mirror
    assert fit.mirrored
    assert fit.rms_mm > 1.0
    assert fit.mirrored_rms_mm < 1e-9
    assert np.linalg.det(fit.pose.matrix()[:3, :3]) == pytest.approx(1.0)
