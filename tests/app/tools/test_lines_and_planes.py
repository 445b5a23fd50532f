"""Nearest points of lines and crossings of planes, against closed forms and a second solution."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from floorpan_app.tools.lines_and_planes import crossing, nearest_along

number = st.floats(-1000.0, 1000.0, allow_subnormal=False)
point = st.tuples(number, number, number)
angle = st.floats(-3.1, 3.1)


def unit(heading: float, rise: float) -> np.ndarray:
    return np.array(
        [np.cos(rise / 2.1) * np.cos(heading), np.cos(rise / 2.1) * np.sin(heading), np.sin(rise / 2.1)]
    )


def test_two_lines_at_right_angles() -> None:
    # The x axis, and a line along y that passes over x = 40 at height 7: by inspection.
    assert nearest_along((0, 0, 0), (1, 0, 0), (40, -100, 7), (0, 1, 0)) == pytest.approx(40.0)


def test_parallel_lines_have_no_nearest_point() -> None:
    assert nearest_along((0, 0, 0), (0, 0, 1), (5, 5, 0), (0, 0, 1)) is None


def test_a_line_behind_the_eye_is_not_met() -> None:
    assert nearest_along((0, 0, 0), (1, 0, 0), (0, 10, 5), (0, 1, 0)) is None


@given(a=point, u=st.tuples(angle, angle), b=point, v=st.tuples(angle, angle))
def test_the_common_perpendicular_is_square_to_both_lines(
    a: tuple[float, float, float],
    u: tuple[float, float],
    b: tuple[float, float, float],
    v: tuple[float, float],
) -> None:
    axis, ray = unit(*u), unit(*v)
    assume(np.linalg.norm(np.cross(axis, ray)) > 0.05)
    along = nearest_along(a, axis, b, ray)
    # The same by least squares: the two parameters for which the points come nearest.
    both = np.linalg.lstsq(np.column_stack([axis, -ray]), np.subtract(b, a), rcond=None)[0]
    if both[1] < -1e-6:
        assert along is None
    elif both[1] > 1e-6:
        assert along == pytest.approx(both[0], abs=1e-6)
        between = (np.asarray(b) + both[1] * ray) - (np.asarray(a) + along * axis)
        assert abs(between @ axis) < 1e-6
        assert abs(between @ ray) < 1e-6


def test_a_ray_meets_a_level_plane() -> None:
    # From 300 up, falling 1 in 1: 300 ahead, by similar triangles.
    met = crossing((0, 0, 0), (0, 0, 1), (10, 20, 300), (np.sqrt(0.5), 0, -np.sqrt(0.5)))
    assert met == pytest.approx([310.0, 20.0, 0.0])


def test_a_ray_along_a_plane_or_away_from_it_does_not_meet_it() -> None:
    assert crossing((0, 0, 0), (0, 0, 1), (0, 0, 5), (1, 0, 0)) is None
    assert crossing((0, 0, 0), (0, 0, 1), (0, 0, 5), (0, 0, 1)) is None


@given(at=point, n=st.tuples(angle, angle), b=point, v=st.tuples(angle, angle))
def test_where_a_ray_crosses_lies_on_both(
    at: tuple[float, float, float],
    n: tuple[float, float],
    b: tuple[float, float, float],
    v: tuple[float, float],
) -> None:
    normal, ray = unit(*n), unit(*v)
    assume(abs(normal @ ray) > 0.05)
    met = crossing(at, normal, b, ray)
    if met is None:
        assert ((np.asarray(at) - b) @ normal) / (normal @ ray) < 0.0
        return
    assert abs((met - at) @ normal) < 1e-6
    assert np.linalg.norm(np.cross(met - b, ray)) < 1e-6
