"""Rows of measures: the console's stations, typed cell by cell."""

import pytest
from PySide6.QtWidgets import QToolButton

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, escape, press, settle, told_beside, write
from floorpan.console import Envelope, Station
from floorpan_app.cards.console_card import ConsoleCard
from floorpan_app.cards.measure_table import MeasureTable
from floorpan_app.desk import Desk


@pytest.fixture
def card(show: Show) -> ConsoleCard:
    card = show("console")
    assert isinstance(card, ConsoleCard)
    return card


@pytest.fixture
def table(card: ConsoleCard) -> MeasureTable:
    return card.table


def stations(desk: Desk) -> tuple[Station, ...]:
    [console] = desk.layout.of(Envelope)
    return console.stations


def outs(table: MeasureTable) -> list[QToolButton]:
    return [button for button in table.findChildren(QToolButton) if button.isVisible()]


def shown(table: MeasureTable) -> list[list[str]]:
    rows = [[field.line_edit().text() for field in cells.values()] for cells in table.cells]
    return rows[: len(outs(table))]


def test_a_cell_is_typed_and_undone(desk: Desk, table: MeasureTable) -> None:
    assert shown(table) == [["0", "160", "90", "0"], ["300", "180", "110", "0"]]
    settle(table.cells[1]["width_mm"], "190,5")
    assert stations(desk)[1].width_mm == 190.5
    assert stations(desk)[0] == LAYOUT.consoles[0].stations[0]
    desk.document.undo()
    assert desk.layout == LAYOUT
    assert table.cells[1]["width_mm"].line_edit().text() == "180"


def test_inches_are_taken_and_shown(desk: Desk, table: MeasureTable) -> None:
    """25.4 mm to the inch."""
    settle(table.cells[0]["height_mm"], "4 in")
    assert stations(desk)[0].height_mm == pytest.approx(101.6)
    desk.use_system("in")
    assert table.cells[0]["height_mm"].line_edit().text() == "4"
    settle(table.cells[0]["height_mm"], "5")
    assert stations(desk)[0].height_mm == pytest.approx(127.0)
    settle(table.cells[0]["side_lean_deg"], "10")
    assert stations(desk)[0].side_lean_deg == 10.0, "an angle has no inches"


@pytest.mark.parametrize(
    ("row", "name", "typed", "says"),
    [
        (0, "width_mm", "5", "Width at the foot: 10 to 1"),
        (0, "width_mm", "wide", "is not a length"),
        (0, "side_lean_deg", "45", "the sides meet below the top"),
        (1, "x_mm", "0", "Stations run rearward"),
    ],
    ids=["out of range", "no length", "sides cross", "order"],
)
def test_a_refused_cell_changes_nothing_and_is_told(
    desk: Desk, table: MeasureTable, row: int, name: str, typed: str, says: str
) -> None:
    field = table.cells[row][name]
    before = field.line_edit().text()
    settle(field, typed)
    assert desk.layout is LAYOUT
    assert field.line_edit().text() == typed, "what was typed stays, to be put right"
    [told] = told_beside(table)
    assert says in told
    escape(field)
    assert field.line_edit().text() == before
    assert told_beside(table) == []


def test_escape_brings_the_old_text_back(desk: Desk, table: MeasureTable) -> None:
    write(table.cells[0]["x_mm"], "-50")
    escape(table.cells[0]["x_mm"])
    assert shown(table)[0][0] == "0"
    assert desk.layout is LAYOUT


def test_a_wrong_cell_stays_told_while_another_is_put_right(desk: Desk, table: MeasureTable) -> None:
    wrong, other = table.cells[0]["width_mm"], table.cells[1]["height_mm"]
    settle(wrong, "wide")
    settle(other, "high")
    escape(other)
    assert told_beside(table) == [wrong.fault()] != [""]
    settle(other, "120")
    assert stations(desk)[1].height_mm == 120.0
    assert wrong.line_edit().text() == "wide"
    assert told_beside(table) == [wrong.fault()] != [""]


def test_a_row_more_and_a_row_less(desk: Desk, card: ConsoleCard, table: MeasureTable) -> None:
    assert not any(button.isEnabled() for button in outs(table)), "a console has two stations at least"
    press(card.one_more)
    assert shown(table) == [
        ["0", "160", "90", "0"],
        ["300", "180", "110", "0"],
        ["400", "180", "110", "0"],
    ]
    assert outs(table)[0].accessibleName() == "Take station 0 out"
    press(outs(table)[0])
    assert [station.x_mm for station in stations(desk)] == [300.0, 400.0]
    assert shown(table) == [["300", "180", "110", "0"], ["400", "180", "110", "0"]]
    desk.document.undo()
    desk.document.undo()
    assert desk.layout == LAYOUT
    assert len(shown(table)) == 2


def test_what_was_typed_into_a_row_does_not_pass_to_the_next(
    desk: Desk, card: ConsoleCard, table: MeasureTable
) -> None:
    press(card.one_more)
    settle(table.cells[1]["width_mm"], "wide")
    press(outs(table)[1])
    assert [station.x_mm for station in stations(desk)] == [0.0, 400.0]
    assert shown(table)[1] == ["400", "180", "110", "0"]
    assert told_beside(table) == []


def test_fields_are_named_for_those_who_hear_them(table: MeasureTable) -> None:
    assert table.cells[1]["height_mm"].line_edit().accessibleName() == "height, station 300"
    assert "5 to 900 mm" in table.cells[1]["height_mm"].toolTip()
