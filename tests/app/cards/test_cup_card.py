"""Cup: the well, the vessel in hand, its outline and its weight."""

import pytest

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, choose, escape, press, press_row, settle, told_beside
from floorpan import edits
from floorpan.items import CupHolder, Vessel
from floorpan.items import vessel_of as library_vessel
from floorpan_app.cards import words
from floorpan_app.cards.cup_card import CupCard
from floorpan_app.desk import Desk


@pytest.fixture
def card(show: Show) -> CupCard:
    card = show("cup")
    assert isinstance(card, CupCard)
    return card


def vessel_of(desk: Desk) -> Vessel:
    [vessel] = desk.layout.of(Vessel)
    return vessel


def test_a_vessel_pressed_is_in_hand_and_pressed_again_put_away(desk: Desk, card: CupCard) -> None:
    id = vessel_of(desk).id
    press_row(card.rows, id)
    assert desk.selection == id
    assert card.vessel.isVisible()
    press_row(card.rows, id)
    assert desk.selection == ""
    assert not card.vessel.isVisible()


def test_a_weight_in_grams_is_no_weight_in_kilograms(desk: Desk, card: CupCard) -> None:
    press_row(card.rows, vessel_of(desk).id)
    field = card.vessel.form.form.fields["full_kg"]
    settle(field, "390 g")
    assert vessel_of(desk).full_kg == pytest.approx(0.39)
    settle(field, "0,5")
    assert vessel_of(desk).full_kg == 0.5
    before = desk.layout
    settle(field, "7")
    assert desk.layout is before
    assert told_beside(card.vessel.form.form) == ["Weight, full: 0 to 6\u2009kg."]
    escape(field)
    assert field.line_edit().text() == "0.5\u2009kg"


def test_the_outline_is_typed_across_and_kept_by_half(desk: Desk, card: CupCard) -> None:
    """Half the width across is the radius."""
    press_row(card.rows, vessel_of(desk).id)
    assert not card.vessel.table.isVisible(), "folded away until somebody asks for it"
    press(card.vessel.fold)
    before = vessel_of(desk).profile
    settle(card.vessel.table.cells[0]["across_mm"], "2 in")
    assert vessel_of(desk).profile[0] == pytest.approx((before[0][0], 25.4))
    assert vessel_of(desk).profile[1:] == before[1:]
    desk.document.undo()
    assert desk.layout == LAYOUT
    press(card.vessel.add_height)
    assert len(vessel_of(desk).profile) == len(before) + 1
    desk.document.undo()
    assert desk.layout == LAYOUT


def test_a_refused_outline_changes_nothing_and_is_told(desk: Desk, card: CupCard) -> None:
    press_row(card.rows, vessel_of(desk).id)
    press(card.vessel.fold)
    second = card.vessel.table.cells[1]["height_mm"]
    shown = second.line_edit().text()
    settle(second, "900")
    assert desk.layout is LAYOUT
    assert len(told_beside(card.vessel.table)) == 1
    escape(second)
    assert second.line_edit().text() == shown
    assert told_beside(card.vessel.table) == []


def test_the_well_is_typed_and_a_refusal_is_told(desk: Desk, card: CupCard) -> None:
    """25.4 mm to the inch."""
    field = card.well.form.form.fields["depth_mm"]
    settle(field, "3 in")
    [holder] = desk.layout.of(CupHolder)
    assert holder.depth_mm == pytest.approx(76.2)
    desk.document.undo()
    assert desk.layout == LAYOUT
    settle(field, "deep")
    assert desk.layout == LAYOUT
    assert told_beside(card.well.form) == [field.fault()] != [""]


def test_a_vessel_leaves_its_well_and_stands_free(desk: Desk, card: CupCard) -> None:
    press_row(card.rows, vessel_of(desk).id)
    assert not card.vessel.form.place.isVisible(), "it goes where the well goes"
    choose(card.vessel.form.form.fields["stands_in"], "")
    assert vessel_of(desk).stands_in == ""
    assert card.vessel.form.place.isVisible()
    assert card.rows.rows()[0].second == words.STANDS_FREE
    desk.document.undo()
    assert desk.layout == LAYOUT


def test_a_vessel_taken_out_is_no_longer_in_hand(desk: Desk, card: CupCard) -> None:
    press_row(card.rows, vessel_of(desk).id)
    press(card.vessel.form.out)
    assert desk.layout.of(Vessel) == ()
    assert desk.selection == ""
    desk.document.undo()
    assert desk.layout == LAYOUT


def test_a_vessel_that_is_not_drawn_because_another_is_in_its_well_is_told(desk: Desk, card: CupCard) -> None:
    assert not card.shared.isVisible()
    bottle = library_vessel("bottle-500", "new", stands_in="cup-holder-1")
    desk.change("stand a bottle there", lambda layout: edits.add(layout, bottle)[0])
    can, tall = desk.layout.of(Vessel)
    assert card.shared.isVisible()
    assert card.shared.text().startswith(f"{tall.name} and {can.name} share a well: {tall.name} is drawn, ")
    press_row(card.rows, can.id)
    assert not card.shared.isVisible(), "the other is shown taken out"
    assert card.well.drawn() is not None
