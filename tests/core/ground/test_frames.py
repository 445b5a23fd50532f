"""Poses: closed forms, and the published rigid motion of check value 9.01 (Arun 1987; Horn 1987)."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.errors import BadValue
from floorpan.frames import Pose


def test_turn_about_z_then_shift() -> None:
    pose = Pose(shift_mm=(10.0, -20.0, 5.0)).after(Pose.turned((0, 0, 1), 30.0))
    points = np.array([[0, 0, 0], [100, 0, 0], [0, 50, 0], [0, 0, 25]], dtype=float)
    expected = [[10, -20, 5], [96.60254, 30, 5], [-15, 23.30127, 5], [10, -20, 30]]
    np.testing.assert_allclose(pose.apply(points), expected, atol=1e-5)


@given(
    st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda v: np.linalg.norm(v) > 0.1),
    st.floats(-180, 180),
    st.tuples(*[st.floats(-2000, 2000)] * 3),
)
def test_inverse_undoes(
    axis: tuple[float, float, float], angle: float, at: tuple[float, float, float]
) -> None:
    pose = Pose.turned(axis, angle, at)
    points = np.array([[1.0, 2.0, 3.0], [-400.0, 5.0, 900.0]])
    np.testing.assert_allclose(pose.inverse().apply(pose.apply(points)), points, atol=1e-7)
    np.testing.assert_allclose(pose.apply(np.array(at)), at, atol=1e-7)
    assert np.linalg.det(pose.matrix()[:3, :3]) == pytest.approx(1.0)


@pytest.mark.parametrize(
    "bad", [np.diag([1.0, -1.0, 1.0]), np.diag([2.0, 1.0, 1.0]), np.full((3, 3), np.nan)]
)
def test_a_mirrored_skewed_or_empty_frame_is_refused(bad: np.ndarray) -> None:
    matrix = np.eye(4)
    matrix[:3, :3] = bad
    with pytest.raises(BadValue):
        Pose.from_matrix(matrix)


def test_forward_left_up_axes_turn_into_ours() -> None:
    """ISO 8855 (forward, left, up) to rear, right, up is diag(-1, -1, 1): check value 1.03."""
    pose = Pose.from_matrix(np.diag([-1.0, -1.0, 1.0, 1.0]))
    np.testing.assert_allclose(pose.apply(np.array([1.0, 2.0, 3.0])), [-1, -2, 3])
