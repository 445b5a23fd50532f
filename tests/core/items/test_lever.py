"""The gate's pattern, the lever's angles against a rotation library, and the way through the gate."""

import itertools
import math
from typing import get_args

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from floorpan.items.lever import (
    GateSlot,
    LeverState,
    Reverse,
    Way,
    gate_slots,
    mixed,
    state_towards,
    turned_by_deg,
)

ANGLES = st.floats(-60.0, 60.0)
STATES = st.builds(
    LeverState,
    fore_deg=ANGLES,
    side_deg=st.floats(-30.0, 30.0),
    length_mm=st.floats(150.0, 400.0),
    lift_mm=st.floats(0.0, 25.0),
)


def places(gears: int, reverse: Reverse) -> dict[str, tuple[int, str]]:
    return {slot.gear: (slot.plane, slot.row) for slot in gate_slots(gears, reverse)}


def test_five_gears_with_reverse_at_the_rear_right() -> None:
    """The usual five-gear pattern: reverse behind fifth, in its plane. Common practice, no source."""
    assert places(5, "rear right") == {
        "N": (0, "middle"),
        "1": (-1, "front"),
        "2": (-1, "rear"),
        "3": (0, "front"),
        "4": (0, "rear"),
        "5": (1, "front"),
        "R": (1, "rear"),
    }


@pytest.mark.parametrize(
    ("gears", "reverse", "place"),
    [
        (3, "rear right", (0, "rear")),
        (4, "rear right", (1, "rear")),
        (6, "rear right", (2, "rear")),
        (5, "front right", (2, "front")),
        (6, "front left", (-2, "front")),
        (4, "rear left", (-2, "rear")),
    ],
)
def test_reverse_takes_a_free_place_or_a_plane_of_its_own(
    gears: int, reverse: Reverse, place: tuple[int, str]
) -> None:
    assert places(gears, reverse)["R"] == place


@pytest.mark.parametrize("gears", [3, 4, 5, 6])
@pytest.mark.parametrize("reverse", get_args(Reverse))
def test_no_two_gears_share_a_place(gears: int, reverse: Reverse) -> None:
    slots = gate_slots(gears, reverse)
    assert isinstance(slots[0], GateSlot)
    assert slots[0].gear == "N"
    assert len({(slot.plane, slot.row) for slot in slots}) == len(slots) == gears + 2


@given(STATES)
def test_the_stick_is_tilted_sideways_first_and_swung_second(state: LeverState) -> None:
    """Second way: fixed axes, about X by -side, then about Y by fore (scipy's rotations)."""
    turn = Rotation.from_euler("xy", [-state.side_deg, state.fore_deg], degrees=True)
    np.testing.assert_allclose(state.turn().matrix()[:3, :3], turn.as_matrix(), atol=1e-12)
    np.testing.assert_allclose(state.stick(), turn.apply([0.0, 0.0, 1.0]), atol=1e-12)


@given(STATES)
def test_a_knob_gives_back_the_angles_that_put_it_there(state: LeverState) -> None:
    found = state_towards(state.length_mm * state.stick(), state.lift_mm)
    assert found.fore_deg == pytest.approx(state.fore_deg, abs=1e-7)
    assert found.side_deg == pytest.approx(state.side_deg, abs=1e-7)
    assert found.length_mm == pytest.approx(state.length_mm)


def test_a_knob_on_the_pivot_is_an_upright_lever_of_no_length() -> None:
    found = state_towards(np.zeros(3), 0.0)
    assert (found.fore_deg, found.side_deg, found.length_mm) == (0.0, 0.0, 0.0)


def upright(fore: float, side: float, lift: float = 0.0) -> LeverState:
    return LeverState(fore_deg=fore, side_deg=side, length_mm=240.0, lift_mm=lift)


def test_the_way_from_first_to_fourth_goes_through_neutral_and_across() -> None:
    neutral, first, fourth = upright(8, 0), upright(-4, -6.5), upright(20, 0)
    way = Way.between(first, fourth, neutral)
    assert way.waypoints == (first, upright(8, -6.5), neutral, fourth)
    # Each piece turns about one axis only, so its arc is the lever times the angle.
    spans = [240.0 * math.radians(angle) for angle in (12.0, 6.5, 12.0)]
    assert way.spans_mm() == pytest.approx(spans)
    assert way.motion_mm() == pytest.approx(sum(spans))


def test_a_gear_in_the_plane_of_neutral_has_one_straight_piece() -> None:
    way = Way.between(upright(8, 0), upright(-4, 0), upright(8, 0))
    assert len(way.pieces()) == 1
    assert way.at(0.5) == upright(2, 0)


def test_a_way_to_where_one_is_has_no_length() -> None:
    way = Way.between(upright(8, 0), upright(8, 0), upright(8, 0))
    assert way.motion_mm() == 0.0
    assert way.at(0.3) == upright(8, 0)


@given(STATES, STATES, STATES, st.floats(0, 1), st.floats(0, 1))
def test_no_point_of_the_lever_outruns_the_bound(
    a: LeverState, b: LeverState, neutral: LeverState, s: float, t: float
) -> None:
    way = Way.between(a, b, neutral)
    one, other = way.at(s), way.at(t)
    knob = np.linalg.norm(one.length_mm * one.stick() - other.length_mm * other.stick())
    assert knob <= way.motion_mm() * abs(s - t) + 1e-9
    hands = [(state.length_mm + state.lift_mm) * state.stick() for state in (one, other)]
    assert np.linalg.norm(hands[0] - hands[1]) <= way.motion_mm(lifted=True) * abs(s - t) + 1e-9


@given(STATES, STATES, STATES)
def test_a_way_is_whole_and_runs_from_end_to_end(a: LeverState, b: LeverState, neutral: LeverState) -> None:
    way = Way.between(a, b, neutral)
    assert way.waypoints[-1] == b
    for share, state in ((0.0, a), (1.0, b)):
        assert turned_by_deg(way.at(share), state) < 1e-9
        assert way.at(share).length_mm == pytest.approx(state.length_mm)
    for (_, end), (start, _) in itertools.pairwise(way.pieces()):
        assert end == start


def test_halfway_is_half_of_everything() -> None:
    half = mixed(upright(0, 0, 0), upright(10, -6, 20), 0.5)
    assert half == upright(5, -3, 10)
