"""A pose along a way: what stands on Z points from start to end, whichever way that is."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from floorpan.frames import Pose, Vector, vector_of

PLACE = st.tuples(*[st.floats(-500.0, 500.0)] * 3)


@given(PLACE, PLACE)
def test_the_top_of_a_stick_of_that_length_lies_at_the_end(start: Vector, end: Vector) -> None:
    length = float(np.linalg.norm(np.subtract(end, start)))
    stood = Pose.along(start, end).apply(np.array([[0.0, 0.0, 0.0], [0.0, 0.0, length]]))
    np.testing.assert_allclose(stood, [start, end], atol=1e-5)


def test_straight_up_down_and_nowhere() -> None:
    for end in ((0.0, 0.0, 7.0), (0.0, 0.0, -7.0), (0.0, 0.0, 0.0)):
        pose = Pose.along((0.0, 0.0, 0.0), end)
        np.testing.assert_allclose(pose.apply(np.array([0.0, 0.0, abs(end[2])])), end, atol=1e-12)


def test_three_plain_floats() -> None:
    found = vector_of(np.array([1, 2, 3], dtype=np.float32))
    assert found == (1.0, 2.0, 3.0)
    assert all(type(value) is float for value in found)
