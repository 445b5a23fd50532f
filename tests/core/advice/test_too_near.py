"""Stretches in which a convex gap is too small, against closed forms; and what is left of a stretch."""

import math

import pytest

from floorpan.advice.too_near import left_of, too_near


def ball_beside(off_mm: float, radius_mm: float) -> object:
    """The gap of a point that moves along a line to a ball beside it, with its slope."""

    def gap(t: float) -> tuple[float, float]:
        away = math.hypot(t, off_mm)
        return away - radius_mm, t / away if away else 0.0

    return gap


@pytest.mark.parametrize("wanted", [0.0, 7.0])
@pytest.mark.parametrize("off", [0.0, 20.0, 49.999])
def test_a_ball_beside_a_line(off: float, wanted: float) -> None:
    """Pythagoras: too near as long as t is less than sqrt((radius + wanted)^2 - off^2)."""
    half = math.sqrt((50.0 + wanted) ** 2 - off**2)
    found = too_near(ball_beside(off, 50.0), wanted, -200.0, 300.0)  # type: ignore[arg-type]
    assert found == pytest.approx((-half, half), abs=1e-4)


def test_what_never_comes_near_is_nowhere_too_near() -> None:
    assert too_near(ball_beside(50.1, 50.0), 0.0, -200.0, 300.0) is None  # type: ignore[arg-type]
    assert too_near(ball_beside(0.0, 50.0), 0.0, 60.0, 300.0) is None  # type: ignore[arg-type]


def test_a_stretch_that_begins_or_ends_too_near() -> None:
    ball = ball_beside(0.0, 50.0)
    assert too_near(ball, 0.0, -10.0, 300.0) == pytest.approx((-10.0, 50.0), abs=1e-4)  # type: ignore[arg-type]
    assert too_near(ball, 0.0, -300.0, 10.0) == pytest.approx((-50.0, 10.0), abs=1e-4)  # type: ignore[arg-type]
    assert too_near(ball, 0.0, -10.0, 10.0) == (-10.0, 10.0)  # type: ignore[arg-type]


def test_what_is_left_of_a_stretch() -> None:
    assert left_of((0.0, 10.0), ()) == ((0.0, 10.0),)
    assert left_of((0.0, 10.0), ((8.0, 12.0), (3.0, 4.0))) == ((0.0, 3.0), (4.0, 8.0))
    assert left_of((0.0, 10.0), ((-5.0, 3.0), (2.0, 4.0))) == ((4.0, 10.0),)
    assert left_of((0.0, 10.0), ((-5.0, 6.0), (6.0, 40.0))) == ()
