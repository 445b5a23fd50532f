"""What a wheel passes by, and where the Tab key goes."""

from itertools import pairwise

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, press_row
from floorpan import edits
from floorpan.layout import STEPS, Box
from floorpan_app.cards.driver_card import DriverCard
from floorpan_app.cards.floor_card import FloorCard
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.desk import Desk


def turn_wheel(widget: QWidget) -> QWheelEvent:
    at = QPointF(widget.rect().center())
    event = QWheelEvent(
        at,
        widget.mapToGlobal(at),
        QPoint(0, 0),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(widget, event)
    return event


def test_a_turned_wheel_changes_no_choice(desk: Desk, show: Show) -> None:
    card = show("driver")
    assert isinstance(card, DriverCard)
    for combo in card.findChildren(QuietCombo):
        before = combo.key()
        turn_wheel(combo)
        assert combo.key() == before
    assert desk.layout is LAYOUT


def test_only_a_choice_of_a_hand_is_told(qtbot: QtBot) -> None:
    combo = QuietCombo((("a", "one"), ("b", "two")), "Which")
    qtbot.addWidget(combo)
    told: list[str] = []
    combo.picked.connect(told.append)
    combo.show_key("b")
    combo.offer((("b", "two"), ("c", "three")))
    assert (combo.key(), told) == ("b", []), "what is shown stays where it is still offered"
    combo.offer((("c", "three"),))
    assert (combo.key(), told) == ("c", [])
    combo.show_key("unheard of")
    assert (combo.key(), told) == ("c", [])


def tab_stops(card: QWidget) -> list[QWidget]:
    """Where the Tab key goes from the card on, as far as it is in sight."""
    stops, one = [], card.nextInFocusChain()
    while one is not card and one is not None:
        stopped = one.focusPolicy() & Qt.FocusPolicy.TabFocus and not one.focusProxy()
        if stopped and one.isVisible() and card.isAncestorOf(one):
            stops.append(one)
        one = one.nextInFocusChain()
    return stops


@pytest.mark.parametrize("step", STEPS)
def test_tab_goes_down_the_card(show: Show, step: str) -> None:
    card = show(step)
    # Tall enough that the foot stands below everything, as it does on the way of the Tab key.
    card.resize(344, 2600)
    QApplication.processEvents()
    places = [stop.mapTo(card, stop.rect().topLeft()).y() for stop in tab_stops(card)]
    assert places
    # Pieces of one row may stand a little higher or lower than one another.
    assert all(after > before - 12 for before, after in pairwise(places))


def test_tab_goes_down_the_card_after_more_came_into_it(desk: Desk, show: Show) -> None:
    box = Box(least_mm=(-300.0, -200.0, -10.0), greatest_mm=(300.0, 200.0, 150.0))
    card = show("floor", edits.add_area(LAYOUT, "scan-1", "dash", box))
    assert isinstance(card, FloorCard)
    press_row(card.rows, desk.layout.scans[0].areas[0].id)
    stops = tab_stops(card)
    edits_ = [field.line_edit() for field in card.box.faces.values()]
    first = stops.index(edits_[0])
    assert stops[first : first + 6] == edits_
    assert stops.index(card.forget) == first + 6
