"""The table of actions: every one does something, no two keys meet, and the sheet of keys is printed from it."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from app.window.plain_parts import PlainCard
from floorpan import edits
from floorpan.layout import STEPS
from floorpan_app import messages
from floorpan_app.actions import ACTS, MENUS, key_sheet
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.window.deeds import late_deeds, late_whens
from floorpan_app.window.key_sheet import KeySheet, sheet_rows
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.works import Works

Rename = Callable[[Works, str], None]


def test_ids_are_unique_and_menus_are_known() -> None:
    ids = [act.id for act in ACTS]
    assert len(set(ids)) == len(ids)
    assert {act.menu for act in ACTS} == set(MENUS)


def test_no_two_actions_answer_to_one_key() -> None:
    keys = [
        found.toString()
        for act in ACTS
        for found in {QKeySequence(keys).toString(): QKeySequence(keys) for keys in act.keys}.values()
    ]
    assert sorted(keys) == sorted(set(keys))


def test_every_deed_belongs_to_an_action_and_every_condition_is_known() -> None:
    ids = {act.id for act in ACTS}
    assert set(late_deeds()) <= ids
    assert {act.when for act in ACTS if act.when} == set(late_whens())


def test_every_step_has_its_number() -> None:
    of_steps = [act for act in ACTS if act.id.startswith("step ")]
    assert [act.id for act in of_steps] == [f"step {step}" for step in STEPS]
    assert [act.keys for act in of_steps] == [(f"Ctrl+{number % 10}",) for number in range(1, 11)]


def test_the_sheet_of_keys_names_every_key(qtbot: QtBot) -> None:
    told = {text for _, rows in key_sheet() for _, text in rows}
    assert told == {act.text for act in ACTS if act.keys}
    sheet = KeySheet()
    qtbot.addWidget(sheet)
    shown = {label.text() for label in sheet.findChildren(QLabel)}
    assert {text for _, rows in sheet_rows() for row in rows for text in row} <= shown


def test_nothing_of_a_project_can_be_done_without_one(window: MainWindow) -> None:
    able = {act.id for act in ACTS if window.actions_.action(act.id).isEnabled()}
    assert able == {act.id for act in ACTS if not act.when}


def test_what_can_be_done_follows_the_project(window: MainWindow, opened: Works, rename: Rename) -> None:
    def able(id: str) -> bool:
        return window.actions_.action(id).isEnabled()

    assert able("copy")
    assert able("place shifter")
    assert not able("save")
    assert not able("undo")
    assert not able("remove")
    rename(opened, "Another")
    opened.session.desk.select("shifter-1")
    assert able("save")
    assert able("undo")
    assert able("remove")


def test_a_first_drag_can_be_put_back_by_undo_while_it_goes_on(window: MainWindow, opened: Works) -> None:
    document, undo = opened.session.document, window.actions_.action("undo")
    assert not undo.isEnabled()
    document.preview(edits.shift(document.layout, "shifter-1", (5.0, 0.0, 0.0)))
    assert undo.isEnabled()
    undo.trigger()
    assert not document.previewing
    assert document.layout is document.adopted
    assert not undo.isEnabled(), "nothing was done before"


def test_undo_and_do_again_say_what(window: MainWindow, opened: Works, rename: Rename) -> None:
    rename(opened, "Another")
    assert window.actions_.action("undo").text() == "Undo: call it Another"
    window.actions_.action("undo").trigger()
    assert opened.session.document.layout.title == "Small"
    assert window.actions_.action("redo").text() == "Do again: call it Another"
    assert window.actions_.action("undo").text() == "Undo"
    window.actions_.action("redo").trigger()
    assert opened.session.document.layout.title == "Another"


def test_keys_take_a_step_in_hand(window: MainWindow, opened: Works) -> None:
    assert opened.page is not None
    opened.page.view.picture.setFocus()
    QTest.keyClick(opened.page.view.picture, Qt.Key.Key_5, Qt.KeyboardModifier.ControlModifier)
    assert opened.session.desk.step == "controls"
    QTest.keyClick(opened.page.view.picture, Qt.Key.Key_0, Qt.KeyboardModifier.ControlModifier)
    assert opened.session.desk.step == "report"


def test_a_key_accepts_the_step_in_hand(window: MainWindow, opened: Works) -> None:
    assert opened.page is not None
    card = opened.page.column.card()
    assert isinstance(card, PlainCard)
    QTest.keyClick(opened.page.view.picture, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert card.accepted == 1
    window.actions_.refresh()
    assert not window.actions_.action("accept").isEnabled()


def test_a_step_without_a_card_says_so_and_cannot_be_accepted(window: MainWindow, opened: Works) -> None:
    opened.session.desk.go_to("pieces")
    assert opened.page is not None
    words = [label.text() for label in opened.page.column.card().findChildren(QLabel)]
    assert words == [messages.NO_CARD]
    assert not window.actions_.action("accept").isEnabled()


def test_areas_follow_each_other_and_back(window: MainWindow, opened: Works) -> None:
    page = opened.page
    assert page is not None
    # On the scan and axes steps the list is folded to its count: there is nothing in it to stop at.
    opened.session.desk.go_to("controls")
    window.activateWindow()
    seen = [page.walk(1) for _ in range(5)]
    assert sorted(seen) == sorted(["strip", "view", "spot", "card", "ledger"])
    assert page.walk(1) == seen[0]
    assert page.walk(-1) == seen[4]
    page.toggle_drawer()
    assert "drawer" in [page.walk(1) for _ in range(6)]


def test_the_area_keys_work_from_anywhere(qtbot: QtBot, window: MainWindow, opened: Works) -> None:
    page = opened.page
    assert page is not None
    page.view.picture.setFocus()
    QTest.keyClick(page.view.picture, Qt.Key.Key_F6)
    assert page.column.spot.hasFocus()
    QTest.keyClick(page.column.spot, Qt.Key.Key_F6, Qt.KeyboardModifier.ShiftModifier)
    assert page.view.picture.hasFocus()


def test_findings_that_are_not_clear_follow_each_other(window: MainWindow, judged: Works) -> None:
    desk = judged.session.desk
    not_clear = {finding.id for finding in judged.session.judging.findings if finding.verdict != "clear"}
    assert not_clear
    window.actions_.action("next finding").trigger()
    first = desk.finding
    assert first in not_clear
    window.actions_.action("next finding").trigger()
    window.actions_.action("finding before").trigger()
    assert desk.finding == first


def test_escape_goes_back_step_by_step(window: MainWindow, opened: Works) -> None:
    desk, document = opened.session.desk, opened.session.document
    desk.select("shifter-1")
    desk.use_tool("drag")
    desk.preview(lambda layout: layout.__class__(title="tried"))
    assert document.previewing
    for expected in ((False, "drag", "shifter-1"), (False, "", "shifter-1"), (False, "", "")):
        QTest.keyClick(window, Qt.Key.Key_Escape)
        assert (document.previewing, desk.tool, desk.selection) == expected
    assert not opened.escape()


def test_the_thing_in_hand_is_taken_out_and_comes_back(window: MainWindow, opened: Works) -> None:
    desk = opened.session.desk
    desk.select("console-1")
    window.actions_.action("remove").trigger()
    assert desk.layout.consoles == ()
    assert desk.selection == ""
    assert window.actions_.action("undo").text().startswith("Undo: take out ")
    window.actions_.action("undo").trigger()
    assert len(desk.layout.consoles) == 1


def test_placing_takes_the_tool_in_hand_in_its_step(window: MainWindow, opened: Works) -> None:
    desk = opened.session.desk
    for kind, step in (("cup holder", "cup"), ("switch", "controls")):
        window.actions_.action(f"place {kind}").trigger()
        assert (desk.step, desk.tool) == (step, f"place {kind}")


@pytest.mark.parametrize("choice", ["dark", "contrast", "light"])
def test_a_theme_is_chosen_kept_and_handed_on(
    window: MainWindow, opened: Works, app: QApplication, choice: str
) -> None:
    window.actions_.action(f"theme {choice}").trigger()
    assert window.settings.theme() == choice
    assert theme_in_use().name == choice
    assert window.actions_.action(f"theme {choice}").isChecked()
