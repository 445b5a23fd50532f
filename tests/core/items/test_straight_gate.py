"""An automatic's straight gate, and reverse that goes further than a gear."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.errors import BadValue
from floorpan.items import KnobPoint, Shifter, gate_table, lever_readout
from floorpan.items.lever import straight_slots
from floorpan.items.shifter import KIND
from floorpan.items.shifter_gate import lever_states, lever_way
from floorpan.report.cautions import in_usual_order

AUTOMATIC = Shifter(id="shifter-1", gate="straight", places="P R N D 2 1", detent_deg=6.0, lean_deg=8.0)


def test_places_lie_in_one_plane_a_detent_apart_from_the_front() -> None:
    """x = L sin(lean + 6 n) from the pivot, n counted from neutral; y stays."""
    for place in gate_table(AUTOMATIC):
        n = "PRND21".index(place.gear) - 2
        fore = math.radians(8.0 + 6.0 * n)
        expected = [240.0 * math.sin(fore), 0.0, 45.0 + 240.0 * math.cos(fore)]
        np.testing.assert_allclose(place.knob_mm, expected, atol=1e-9)
        assert (place.plane, place.detent) == (0, n)
    assert lever_readout(AUTOMATIC).throw_mm == pytest.approx(240.0 * math.sin(math.radians(6.0)))
    assert lever_readout(AUTOMATIC).cross_mm == 0.0


def test_it_rests_in_neutral_and_every_leg_goes_on_from_the_place_before() -> None:
    [axis] = KIND.axes(AUTOMATIC)
    assert axis.rest == "N"
    assert set(axis.stops) == set("PRND21")
    assert set(axis.legs) == {("N", "R"), ("R", "P"), ("N", "D"), ("D", "2"), ("2", "1")}
    # On its way from neutral to park the lever goes by reverse, not back through neutral.
    halfway = lever_way(AUTOMATIC, "N", "P").at(0.5)
    assert halfway.fore_deg == pytest.approx(lever_states(AUTOMATIC)["R"].fore_deg)


def test_typed_knobs_win_in_a_straight_gate_too() -> None:
    knob = KnobPoint(gear="D", x_mm=60.0, y_mm=3.0, z_mm=270.0)
    typed = Shifter(id="s-1", gate="straight", knobs=(knob,))
    assert {place.gear: place.knob_mm for place in gate_table(typed)}["D"] == pytest.approx(
        (60.0, 3.0, 270.0)
    )


@pytest.mark.parametrize("places", ["P R D", "N", "", "P R N N", "P R N Q"])
def test_places_that_are_no_gate_are_refused(places: str) -> None:
    with pytest.raises(BadValue):
        Shifter(id="s-1", places=places)


@given(st.permutations("PRND21"))
def test_slots_keep_the_order_they_are_typed_in(places: list[str]) -> None:
    slots = straight_slots(", ".join(places).lower())
    assert slots[0].gear == "N"
    assert [slot.gear for slot in sorted(slots, key=lambda slot: slot.detent)] == list(places)


@pytest.mark.parametrize(
    ("places", "usual"),
    [
        ("P R N D", True), ("P R N D 2 1", True), ("1 2 D N R P", True), ("R N D", True), ("N D", True),
        ("P N D", True), ("R P N D", False), ("P D N R", False), ("P R D N", False), ("N R D", False),
        ("P R N D L", True), ("D P N R", False),
    ],
)  # fmt: skip
def test_the_order_of_49_cfr_571_102(places: str, usual: bool) -> None:
    """49 CFR 571.102: neutral between forward and reverse; park, if there is one, at the end next to reverse."""
    assert in_usual_order(places) is usual


def test_reverse_goes_further_by_its_extra_and_no_other_gear() -> None:
    plain, further = (Shifter(id="s-1", reverse_extra_deg=deg) for deg in (0.0, 5.0))
    for gear, state in lever_states(further).items():
        by = state.fore_deg - lever_states(plain)[gear].fore_deg
        assert by == pytest.approx(5.0 if gear == "R" else 0.0)
    front = Shifter(id="s-1", reverse="front left", reverse_extra_deg=5.0)
    assert lever_states(front)["R"].fore_deg == pytest.approx(8.0 - 12.0 - 5.0)
