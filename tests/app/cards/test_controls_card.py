"""Controls: the shifter's measures, and knob places taped in the car."""

import numpy as np
import pytest

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, escape, press, settle, told_beside
from floorpan.items import Shifter
from floorpan.items.shifter_gate import gate_table
from floorpan_app.cards.controls_card import ControlsCard
from floorpan_app.desk import Desk


@pytest.fixture
def card(show: Show) -> ControlsCard:
    card = show("controls")
    assert isinstance(card, ControlsCard)
    return card


def shifter_of(desk: Desk) -> Shifter:
    [shifter] = desk.layout.of(Shifter)
    return shifter


def test_a_gear_is_taped_where_the_lever_puts_it_and_then_typed(desk: Desk, card: ControlsCard) -> None:
    card.gate.gearChosen.emit("3")
    assert card.tape.text() == "Tape gear 3"
    press(card.fold)
    press(card.tape)
    [knob] = shifter_of(desk).knobs
    [place] = [one for one in gate_table(shifter_of(desk)) if one.gear == "3"]
    # The shifter's foot stands at the origin, so that the knob lies where it is taped from.
    assert shifter_of(desk).place.pose().shift_mm == (0.0, 0.0, 0.0)
    assert (knob.x_mm, knob.y_mm, knob.z_mm) == pytest.approx(place.knob_mm, abs=0.05)
    assert not card.tape.isEnabled(), "this gear is taped"
    settle(card.table.cells[0]["z_mm"], "10 in")
    assert shifter_of(desk).knobs[0].z_mm == pytest.approx(254.0)
    [taped] = [one for one in gate_table(shifter_of(desk)) if one.gear == "3"]
    assert np.asarray(taped.knob_mm)[2] == pytest.approx(254.0), "what is taped wins"
    desk.document.undo()
    desk.document.undo()
    assert desk.layout == LAYOUT
    assert card.tape.isEnabled()


def test_a_refused_knob_place_changes_nothing_and_is_told(desk: Desk, card: ControlsCard) -> None:
    card.gate.gearChosen.emit("R")
    press(card.fold)
    press(card.tape)
    before = desk.layout
    field = card.table.cells[0]["x_mm"]
    shown = field.line_edit().text()
    settle(field, "near")
    assert desk.layout is before
    assert told_beside(card.table) == [field.fault()] != [""]
    escape(field)
    assert field.line_edit().text() == shown
    assert told_beside(card.table) == []


def test_a_shifter_is_moved_turned_and_locked_by_its_card(desk: Desk, card: ControlsCard) -> None:
    """25.4 mm to the inch."""
    place = card.shifter.place.fields
    settle(place["x_mm"], "-2 in")
    settle(place["turn_deg"], "15 deg")
    assert shifter_of(desk).place.x_mm == pytest.approx(-50.8)
    assert shifter_of(desk).place.turn_deg == 15.0
    press(card.shifter.lock)
    assert shifter_of(desk).locked
    assert not place["x_mm"].isEnabled()
    for _ in range(3):
        desk.document.undo()
    assert desk.layout == LAYOUT
