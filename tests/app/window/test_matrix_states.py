"""A cell opens the car in exactly its state, by mouse and by keys; the matrix holds to a state that is asked for."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot

from app.widgets.menu_hand import press_line
from app.window.conftest import Case
from app.window.plain_parts import PlainFilling
from floorpan.checks import Finding
from floorpan.items.states import is_leg, state_of
from floorpan.report.only_with import holding
from floorpan.report.sentences import sentence
from floorpan_app import messages
from floorpan_app.standing import standing
from floorpan_app.window.benchtop import Benchtop
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.shown import matrix_of
from floorpan_app.window.works import Works

LEFT, KEY = Qt.MouseButton.LeftButton, Qt.Key


@pytest.fixture
def page(window: MainWindow, judged: Works) -> Benchtop:
    window.actions_.action("drawer").trigger()
    assert judged.page is not None
    return judged.page


def found(works: Works, id: str) -> Finding:
    return next(one for one in works.session.judging.findings if one.id == id)


def shows(works: Works, page: Benchtop, finding: Finding) -> bool:
    """Whether every axis of the finding is shown at its stop, a way at its far end, and the view turned there."""
    desk, filling = works.session.desk, page._parts.filling
    assert isinstance(filling, PlainFilling)
    shown = dict(standing(desk.layout, desk.state))
    at = {axis: stop.rpartition("-")[2] if is_leg(stop) else stop for axis, stop in finding.state}
    return (
        desk.finding == finding.id and at.items() <= shown.items() and filling.turned_to[-1].id == finding.id
    )


def cells(page: Benchtop) -> Iterator[tuple[str, str]]:
    """Every cell that applies and that a shown column speaks for, row after row."""
    model = page.drawer.matrix.view().model()
    for row, told in enumerate(page.drawer.matrix.table().rows):
        for column in range(1, model.columnCount()):
            column_id = model.column_id(row, column)  # type: ignore[attr-defined]
            if column_id:
                yield told.id, column_id


def test_a_click_on_any_cell_shows_its_state_exactly(judged: Works, page: Benchtop) -> None:
    matrix = page.drawer.matrix
    pressed = 0
    for row, column in tuple(cells(page)):
        matrix.set_chosen(row, column)
        matrix.view().clearSelection()
        QTest.mouseClick(matrix.view().viewport(), LEFT, pos=matrix.cell_centre(row, column))
        finding = found(judged, page.drawer._behind[row, column])
        axis, _, stop = column.partition("=")
        assert (axis, stop) in finding.state
        assert shows(judged, page, finding), (row, column, judged.session.desk.state)
        pressed += 1
    assert pressed > 40
    assert len({axis for axis, _ in judged.session.desk.state}) >= 3


def test_arrows_move_and_enter_opens(qtbot: QtBot, window: MainWindow, judged: Works, page: Benchtop) -> None:
    matrix, view = page.drawer.matrix, page.drawer.matrix.view()
    first = next(cells(page))
    matrix.set_chosen(*first)
    view.setFocus()
    qtbot.waitUntil(view.hasFocus)
    opened = []
    for key in (KEY.Key_Right, KEY.Key_Right, KEY.Key_Down, KEY.Key_Left, KEY.Key_Down):
        before = judged.session.desk.finding
        QTest.keyClick(view, key)
        assert judged.session.desk.finding == before, "an arrow opens nothing"
        QTest.keyClick(view, KEY.Key_Return)
        assert shows(judged, page, found(judged, judged.session.desk.finding))
        opened.append(matrix.chosen())
    assert len(set(opened)) >= 4


def test_a_cell_is_told_in_one_sentence(case: Case) -> None:
    table, behind = matrix_of(case.findings, case.layout, "mm", None)
    for place, cell in table.cells.items():
        assert cell.tell is not None
        assert cell.tell().startswith(sentence(behind[place], case.layout, "mm"))


def hold(qtbot: QtBot, page: Benchtop, axis: str, stop: str) -> None:
    """Choose a stop in the menu with the mouse."""
    held = page.drawer.matrix.only_with
    QTest.mouseClick(held.button, LEFT)
    qtbot.waitUntil(held.menu.isVisible)
    line = next(one for one in held.menu.actions() if one.text().startswith(f"{axis}:"))
    press_line(qtbot, held.menu, line)
    lower = line.menu()
    assert isinstance(lower, QMenu)
    press_line(qtbot, lower, next(one for one in lower.actions() if one.text() == stop))
    qtbot.waitUntil(held.menu.isHidden)


def test_the_matrix_holds_to_what_is_asked_for_and_the_list_of_check_with_it(
    qtbot: QtBot, judged: Works, page: Benchtop
) -> None:
    desk, findings = judged.session.desk, judged.session.judging.findings
    hold(qtbot, page, "Gear", "in reverse")
    hold(qtbot, page, "Belts", "belts tight")
    only = state_of({"shifter-1.gear": "R", "driver-1.belts": "tight"})
    assert desk.only_with == only
    assert page.drawer.matrix.only_with.held() == ("in reverse", "belts tight")
    held = {one.id for one in holding(findings, only)}
    assert set(page.drawer._behind.values()) <= held
    assert held < {one.id for one in findings}
    gears = {c.id for group in page.drawer.matrix.table().groups for c in group.columns if "gear=" in c.id}
    assert "shifter-1.gear=R" in gears
    assert "shifter-1.gear=1" not in gears
    assert desk.listed(findings) == findings, "outside Check the list is whole"
    desk.go_to("check")
    assert {one.id for one in desk.listed(findings)} == held
    assert {row.id for row in page.column.ledger.rows()} <= held


def test_pairs_that_were_not_judged_so_are_counted(qtbot: QtBot, judged: Works, page: Benchtop) -> None:
    hold(qtbot, page, "Seat notch", "full forward")
    note = page.drawer.matrix.only_with.note.text()
    missing = int(note.split()[0])
    assert note == messages.NOT_JUDGED.format(n=missing)
    table, _ = matrix_of(judged.session.judging.findings, judged.session.desk.layout, "mm", None)
    assert len(page.drawer.matrix.table().rows) == len(table.rows) - missing


def test_another_project_starts_with_nothing_held(qtbot: QtBot, judged: Works, page: Benchtop) -> None:
    hold(qtbot, page, "Gear", "in reverse")
    judged.session.desk.start_over("scan", {})
    assert judged.session.desk.only_with == ()
    assert page.drawer.matrix.only_with.held() == ()
