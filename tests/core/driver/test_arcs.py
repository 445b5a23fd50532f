"""Arcs of a turn where something is allowed: ends in closed form, each inside its arc."""

import itertools

import numpy as np
import pytest

from floorpan.driver.swivel import allowed_arcs


def test_arcs_of_any_room_are_found() -> None:
    """cos(3 t) is not negative on three arcs of 60 degrees; one goes on past 180."""
    assert allowed_arcs(lambda t: np.cos(np.radians(3 * t))) == tuple(
        pytest.approx(arc, abs=2e-5) for arc in ((-150.0, -90.0), (-30.0, 30.0), (90.0, 150.0))
    )
    [arc] = allowed_arcs(lambda t: np.cos(np.radians(t - 170.0)) - 0.5)
    assert arc == pytest.approx((110.0, 230.0), abs=2e-5)
    [arc] = allowed_arcs(lambda t: -np.cos(np.radians(t)))
    assert arc == pytest.approx((90.0, 270.0), abs=2e-5)
    assert allowed_arcs(lambda t: np.full(len(t), -1.0)) == ()


def test_every_end_of_an_arc_lies_inside_it() -> None:
    edges = np.random.default_rng(3).uniform(-180.0, 180.0, (50, 2))
    for middle, half in itertools.product(edges[:, 0], (3.0, 47.0)):

        def room(t: np.ndarray, middle: float = middle, half: float = half) -> np.ndarray:
            return half - np.abs((t - middle + 180.0) % 360.0 - 180.0)

        [(start, end)] = allowed_arcs(room)
        assert (room(np.array([start, end])) >= -1e-8).all()
        assert end - start == pytest.approx(2 * half, abs=2e-5)
