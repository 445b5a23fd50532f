"""The least over a motion: closed forms, and dense sampling as the second way."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.geometry.motion import least_over_motion


def test_a_ball_swung_past_a_wall() -> None:
    """Centre on an arc of radius 300 through 30 degrees, wall 320 from the pivot: least gap 320 - 300 - 15 = 5."""
    arc = math.radians(30)

    def gap(share: float) -> float:
        return 320.0 - 300.0 * math.cos(arc * (share - 0.37)) - 15.0

    found = least_over_motion(gap, 300.0 * arc, within_mm=0.01)
    assert found.gap_mm == pytest.approx(5.0, abs=0.01)
    assert found.gap_mm - found.step_mm <= 5.0 <= found.gap_mm
    assert found.share == pytest.approx(0.37, abs=0.01)


@given(st.lists(st.floats(-20, 20), min_size=2, max_size=9), st.floats(0.5, 3.0))
def test_bound_holds_against_dense_sampling(heights: list[float], slack: float) -> None:
    at = np.linspace(0, 1, len(heights))
    steepest = max(abs(b - a) for a, b in itertools.pairwise(heights)) * (len(heights) - 1)
    found = least_over_motion(
        lambda s: float(np.interp(s, at, heights)), steepest * (1 + slack) + 1e-6, within_mm=0.1, most=4000
    )
    dense = min(heights)
    assert found.gap_mm >= dense - 1e-9
    assert found.gap_mm - found.step_mm <= dense + 1e-9
    assert found.step_mm <= 0.1 + 1e-9


def test_nothing_moves() -> None:
    found = least_over_motion(lambda share: 4.0, 0.0)
    assert (found.gap_mm, found.step_mm, found.looked) == (4.0, 0.0, 2)
