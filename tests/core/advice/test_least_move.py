"""The shortest move under straight limits: answers by hand, and a grid of every whole millimetre as the second way."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.advice.least_move import WORTH, Limits, least_move, length_mm, preferred_move, whole_move


def limits(*rows: tuple[float, float, float, float]) -> Limits:
    held = np.array(rows, dtype=float).reshape(-1, 4)
    return Limits(held[:, :3], held[:, 3])


HALF = math.sqrt(0.5)


def test_nothing_asked_is_no_move() -> None:
    assert preferred_move(limits()) == (0.0, 0.0, 0.0)
    assert preferred_move(limits((1.0, 0.0, 0.0, -3.0))) == (0.0, 0.0, 0.0)


def test_one_limit_is_met_straight_on() -> None:
    """A plane 30 away along (0.6, 0, 0.8): the foot on it, (18, 0, 24)."""
    assert least_move(limits((0.6, 0.0, 0.8, 30.0))) == pytest.approx([18.0, 0.0, 24.0])
    assert least_move(limits((0.6, 0.0, 0.8, 30.0)), (0,)) == pytest.approx([50.0, 0.0, 0.0])
    assert least_move(limits((0.6, 0.0, 0.8, 30.0)), (1,)) is None


def test_a_corner_of_two_limits() -> None:
    """20 rearward wanted, and as much up as rearward: (20, 0, 20)."""
    both = limits((1.0, 0.0, 0.0, 20.0), (-HALF, 0.0, HALF, 0.0))
    assert least_move(both) == pytest.approx([20.0, 0.0, 20.0])
    assert preferred_move(both) == (20.0, 0.0, 20.0)


def test_limits_that_contradict_one_another_have_no_move() -> None:
    held = limits((1.0, 0.0, 0.0, 5.0), (-1.0, 0.0, 0.0, -4.0))
    assert least_move(held) is None
    assert preferred_move(held) is None


def test_farther_than_a_cure_goes() -> None:
    assert preferred_move(limits((1.0, 0.0, 0.0, 150.0))) == (150.0, 0.0, 0.0)
    assert preferred_move(limits((1.0, 0.0, 0.0, 150.5))) is None


@pytest.mark.parametrize(
    ("angle", "along"),
    [(30.0, 1), (33.0, 1), (34.0, 2), (45.0, 2)],  # 1 / cos(33 deg) = 1.192, 1 / cos(34 deg) = 1.206
)
def test_one_axis_is_worth_a_fifth_more(angle: float, along: int) -> None:
    turn = math.radians(angle)
    move = preferred_move(limits((math.cos(turn), 0.0, math.sin(turn), 100.0)))
    assert move is not None
    assert np.count_nonzero(move) == along


def test_barred_axes_are_left_alone() -> None:
    held = limits((1.0, 0.0, 0.5, 10.0))
    assert preferred_move(held) == (10.0, 0.0, 0.0)
    move = preferred_move(held, frozenset({(0,)}))
    assert move is not None
    assert move[2] != 0.0


def test_a_slit_narrower_than_a_millimetre_is_met_to_a_tenth() -> None:
    held = limits((1.0, 0.0, 0.0, 10.2), (-1.0, 0.0, 0.0, -10.4))
    assert whole_move(held, (0,)) == pytest.approx((10.2, 0.0, 0.0))


rows = st.lists(
    st.tuples(*[st.floats(-1, 1)] * 3, st.floats(-15, 8)).filter(lambda row: math.hypot(*row[:3]) > 0.2),
    min_size=1,
    max_size=6,
)
GRID = np.array(list(itertools.product(range(-12, 13), repeat=3)), dtype=float)


@given(rows)
def test_against_every_whole_move_on_a_grid(held: list[tuple[float, float, float, float]]) -> None:
    """No move of the grid that keeps the limits is shorter than what is called shortest; what is told keeps them."""
    asked = limits(*held)
    kept = GRID[(asked.needs <= GRID @ asked.slopes.T).all(axis=1)]
    exact = least_move(asked)
    if exact is None:
        assert not len(kept)
        return
    assert (asked.slopes @ exact >= asked.needs - 1e-6).all()
    if len(kept):
        assert np.linalg.norm(kept, axis=1).min() >= np.linalg.norm(exact) - 1e-6
    told = preferred_move(asked)
    assert told is not None
    if all(float(one).is_integer() for one in told):
        assert asked.kept(np.array([told]))[0]
    # At most a fifth longer than the shortest, and a step to the next whole millimetre on every axis.
    assert length_mm(told) <= WORTH * (float(np.linalg.norm(exact)) + math.sqrt(12.0)) + 1e-9
