"""The drawer: the state matrix, which opens the car in the very state of a cell."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from app.window.conftest import Case
from app.window.plain_parts import PlainFilling
from floorpan.report.tally_words import WORST_FIRST
from floorpan.units import System
from floorpan_app import messages
from floorpan_app.theme.fonts import BODY, text_font
from floorpan_app.widgets.lettering import BOLDER, text_width
from floorpan_app.widgets.matrix import TITLE
from floorpan_app.window.benchtop import Benchtop
from floorpan_app.window.drawer import BOTH
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.shown import ledger_of, matrix_of
from floorpan_app.window.works import Works


@pytest.fixture
def page(window: MainWindow, judged: Works) -> Benchtop:
    """The bench with its drawer open."""
    window.actions_.action("drawer").trigger()
    assert judged.page is not None
    return judged.page


def cell_of_gear(page: Benchtop, stop: str) -> tuple[str, str]:
    return next(
        place for place, _ in page.drawer.matrix.table().cells.items() if place[1].endswith(f"gear={stop}")
    )


def test_a_key_opens_the_drawer_and_puts_it_away(window: MainWindow, judged: Works) -> None:
    page = judged.page
    assert page is not None
    assert page.drawer.isHidden()
    QTest.keyClick(page.view.picture, Qt.Key.Key_F8)
    assert page.drawer.isVisible()
    assert window.status.hint() == messages.CELL_HINT
    QTest.mouseClick(page.drawer.away, Qt.MouseButton.LeftButton)
    assert page.drawer.isHidden()


def test_a_click_on_a_cell_puts_the_car_into_its_state_and_turns_the_view(
    judged: Works, page: Benchtop
) -> None:
    row, column = cell_of_gear(page, "R")
    matrix = page.drawer.matrix
    QTest.mouseClick(matrix.view().viewport(), Qt.MouseButton.LeftButton, pos=matrix.cell_centre(row, column))
    desk = judged.session.desk
    shown = dict(desk.state)
    assert next(stop for axis, stop in shown.items() if axis.endswith(".gear")) == "R"
    found = next(finding for finding in judged.session.judging.findings if finding.id == desk.finding)
    assert dict(found.state).items() <= shown.items()
    filling = page._parts.filling
    assert isinstance(filling, PlainFilling)
    assert filling.turned_to[-1].id == desk.finding
    assert matrix.chosen() == (row, column)


def test_choosing_a_finding_elsewhere_marks_its_cell(judged: Works, page: Benchtop) -> None:
    row, column = cell_of_gear(page, "2")
    id = page.drawer._behind[row, column]
    judged.session.desk.choose_finding(id)
    assert page.drawer._behind[page.drawer.matrix.chosen()] == id


def test_as_the_car_stands_now_follows_the_state(qtbot: QtBot, judged: Works, page: Benchtop) -> None:
    desk, judging = judged.session.desk, judged.session.judging
    page.drawer.matrix.nowChosen.emit(True)
    assert page.drawer.is_now()
    desk.show_stops({"seat-1.notch": "1", "driver-1.belts": "loose"})
    qtbot.wait(200)
    axes = dict(desk.state)
    for finding_id in page.drawer._behind.values():
        found = next(finding for finding in judging.findings if finding.id == finding_id)
        # One axis is the column's own; every other stands as the car stands.
        assert sum(axes.get(axis, stop) != stop for axis, stop in found.state) <= 1


def test_every_shown_column_has_room_for_its_numbers(
    qtbot: QtBot, window: MainWindow, page: Benchtop
) -> None:
    matrix = page.drawer.matrix
    model, bold = matrix.view().model(), text_font(BODY, BOLDER)
    shape_and_margins = 4 + 12 + 2 + 5
    for width in (1366, 1920):
        window.resize(width, 1080)
        qtbot.wait(30)
        for column in range(1, model.columnCount()):
            for row in range(model.rowCount()):
                value = model.index(row, column).data() or ""
                needed = text_width(value, bold) + shape_and_margins if value else 0
                assert matrix.view().columnWidth(column) >= needed, (row, column, value)


@pytest.mark.parametrize("system", ["mm", "in"])
def test_a_cell_says_the_number_of_its_ledger_row(case: Case, system: System) -> None:
    table, behind = matrix_of(case.findings, case.layout, system, None)
    rows, _ = ledger_of(case.findings, case.layout, system, "everything")
    by_id = {row.id: row.value for row in rows}
    assert len(table.cells) > 20
    for place, cell in table.cells.items():
        assert cell.value == by_id[behind[place].id]
        if behind[place].is_gap and cell.verdict in ("clear", "close", "short"):
            assert cell.tell is not None
            assert f"{cell.value} {system}" in cell.tell()


def test_what_worst_first_means_is_told_over_matrix_and_ledger(page: Benchtop) -> None:
    over_matrix = {label.text() for label in page.drawer.matrix.findChildren(QLabel) if told_of(label)}
    assert TITLE in over_matrix
    assert any(told_of(child) for child in page.column.ledger.findChildren(QWidget))


def told_of(widget: QWidget) -> bool:
    return widget.toolTip() == WORST_FIRST


def test_what_happens_on_the_way_stands_behind_the_stops(case: Case) -> None:
    table, _ = matrix_of(case.findings, case.layout, "mm", None)
    ways = [{"-" in column.id.partition("=")[2] for column in group.columns} for group in table.groups]
    assert ways == [{False}] * (len(ways) - 1) + [{True}]
    assert table.groups[-1].word == messages.ON_THE_WAY
    told = {column.id for group in table.groups for column in group.columns}
    assert {column for _, column in table.cells} <= told


def test_the_station_note_stands_beside_the_matrix_where_there_is_room(
    qtbot: QtBot, window: MainWindow, page: Benchtop
) -> None:
    drawer = page.drawer
    assert drawer.width() < BOTH
    assert (drawer.station.isVisible(), drawer.matrix.isVisible()) == (False, True)
    window.actions_.action("drawer side").trigger()
    assert (drawer.station.isVisible(), drawer.matrix.isVisible()) == (True, False)
    window.actions_.action("drawer side").trigger()
    window.resize(1920, 1080)
    qtbot.waitUntil(lambda: drawer.width() >= BOTH)
    assert (drawer.station.isVisible(), drawer.matrix.isVisible()) == (True, True)
    assert messages.STATION_LATER in drawer.station.accessibleName()


def test_without_findings_the_drawer_says_so(window: MainWindow, opened: Works) -> None:
    opened.session.judging.use({})
    window.actions_.action("drawer").trigger()
    assert opened.page is not None
    drawer = opened.page.drawer
    assert drawer._empty.isVisible()
    assert drawer._empty.text() == messages.NO_STATES
    assert drawer.away.isVisible()
