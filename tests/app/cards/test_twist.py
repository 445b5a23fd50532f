"""Twist and racking on the scan's card: an edge is said to have lain true, and a pair of them is told."""

import math
from collections.abc import Callable

import pytest
from pytestqt.qtbot import QtBot

from app.cards.hands import LAYOUT, press, press_row
from floorpan import edits
from floorpan.layout import Layout
from floorpan_app.cards import scan_words
from floorpan_app.cards.card import Card
from floorpan_app.cards.scan_card import ScanCard
from floorpan_app.desk import Desk

Show = Callable[..., Card]


def picked(rear_x: float = 900.0, lift_mm: float = 4.0) -> Layout:
    """Two edges across the car; the rear one is seen higher on the right."""
    layout = LAYOUT
    for x, lift in ((0.0, 0.0), (rear_x, lift_mm)):
        places = ((x, -400.0, 0.0), (x, 0.0, lift / 2.0), (x, 400.0, lift))
        layout = edits.add_edge(layout, "scan-1", places)
    return layout


def titles(card: ScanCard) -> list[str]:
    return [row.title for row in card.trust.rows.rows()]


def level(card: ScanCard, id: str) -> None:
    press_row(card.trust.rows, id)
    press(card.trust.levelled)
    press_row(card.trust.rows, id)


def test_two_edges_that_lay_true_tell_the_twist(show: Show, desk: Desk, qtbot: QtBot) -> None:
    card = show("scan", picked())
    assert isinstance(card, ScanCard)
    assert titles(card) == ["Straight edge 1", "Straight edge 2"]
    assert not card.trust.levelled.isVisible()
    level(card, "edge-1")
    assert [edge.levelled for edge in desk.layout.scans[0].edges] == [True, False]
    assert desk.document.undo_words() == scan_words.LEVELLED_ENTRY
    assert card.trust.lone() == (
        "Twist takes a second edge that lay true with it: about parallel, and 300 mm or more away."
    )
    level(card, "edge-2")
    assert card.trust.lone() == ""
    row = card.trust.rows.rows()[-1]
    assert (row.title, row.second) == ("Twist", "Straight edge 1 and Straight edge 2, 900 mm apart")
    assert (row.tail, row.value, row.trust, row.mark) == ("over 800 mm", "4", "\u00b1 2", "short")
    # Even over 4 mm: twice 4 / sqrt 3 is 4.6.
    assert f"twist {2 * 4 / math.sqrt(3):.1f} (the worst pair of levels)" in card.trust.told()
    card.trust.carry.click()
    assert "twist: the worst pair of levels" in desk.layout.scans[0].good_to_note


def test_the_tick_says_what_holds_and_is_taken_back(show: Show, desk: Desk) -> None:
    card = show("scan", picked())
    assert isinstance(card, ScanCard)
    press_row(card.trust.rows, "edge-1")
    press(card.trust.levelled)
    assert card.trust.levelled.isChecked()
    desk.document.undo()
    assert not card.trust.levelled.isChecked()
    press(card.trust.levelled)
    press(card.trust.levelled)
    assert not desk.layout.scans[0].edges[0].levelled


def test_edges_too_near_together_make_no_twist(show: Show, desk: Desk) -> None:
    card = show("scan", picked(rear_x=200.0))
    assert isinstance(card, ScanCard)
    level(card, "edge-1")
    level(card, "edge-2")
    assert "Twist" not in titles(card)
    assert "300 mm" in card.trust.lone()


@pytest.mark.parametrize("off", [0.0, 6.0])
def test_two_diagonals_tell_racking(show: Show, desk: Desk, off: float) -> None:
    layout = LAYOUT
    for seen, side in ((1000.0 + off, 0.6), (1000.0, -0.6)):
        x, y = 0.4 * seen, side * seen / 2.0
        layout = edits.add_length(layout, "scan-1", ((-x, -y, 0.0), (x, y, 0.0)), 1000.0)
    card = show("scan", layout)
    assert isinstance(card, ScanCard)
    row = card.trust.rows.rows()[-1]
    assert (row.title, row.second) == ("Racking", "Length 1 and Length 2, as diagonals")
    assert (row.value, row.mark) == (f"+{off:g}", "short" if off else "clear")
    # There is nothing to change about it: pressing the row chooses nothing.
    press_row(card.trust.rows, row.id)
    assert card.trust.rows.chosen() == ""
    assert not card.trust.forget.isVisible()
