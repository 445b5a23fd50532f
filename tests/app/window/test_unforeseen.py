"""What nobody foresaw: save first, then one dialog with a report that can be copied."""

import json
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from floorpan.errors import NotSaved
from floorpan.project.folder import AUTOSAVE
from floorpan_app import messages
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.unforeseen import Unforeseen, UnforeseenDialog
from floorpan_app.window.works import Works


class Told:
    """Stands in the place of the dialog."""

    def __init__(self, *, close: bool = False) -> None:
        self.close = close
        self.shown: list[tuple[str, str]] = []
        self.left = 0

    def ask(self, saved: str, report: str) -> bool:
        self.shown.append((saved, report))
        return self.close

    def leave(self) -> None:
        self.left += 1


def break_it(hook: Unforeseen) -> None:
    try:
        raise ZeroDivisionError("a wheel came off")
    except ZeroDivisionError as fault:
        hook(type(fault), fault, fault.__traceback__)


@pytest.mark.parametrize(
    ("open_project", "saved"), [(True, messages.UNFORESEEN_SAVED), (False, messages.UNFORESEEN_NOTHING)]
)
def test_it_saves_first_and_shows_where_it_broke(
    open_project: bool, saved: str, capsys: pytest.CaptureFixture[str]
) -> None:
    told = Told()
    break_it(Unforeseen(lambda: open_project, told.ask, told.leave))
    [(shown, report)] = told.shown
    assert shown == saved
    assert "a wheel came off" in report
    assert "break_it" in report
    assert f"Python {sys.version_info.major}.{sys.version_info.minor}" in report
    assert told.left == 0
    assert "a wheel came off" in capsys.readouterr().err


def test_a_save_that_fails_is_told_in_the_same_dialog() -> None:
    def full() -> bool:
        raise NotSaved("full", "The disk is full.", "Free some room.")

    def broken() -> bool:
        raise RuntimeError("broken too")

    for keep, why in ((full, "The disk is full."), (broken, "RuntimeError.")):
        told = Told()
        break_it(Unforeseen(keep, told.ask, told.leave))
        assert why in told.shown[0][0]


def test_one_can_close_and_one_dialog_is_enough() -> None:
    told = Told(close=True)

    def ask(saved: str, report: str) -> bool:
        # Something else breaks while the dialog stands.
        break_it(hook)
        return told.ask(saved, report)

    hook = Unforeseen(lambda: True, ask, told.leave)
    break_it(hook)
    assert (len(told.shown), told.left) == (1, 1)


def test_a_key_in_the_terminal_closes_without_a_word() -> None:
    told = Told()
    Unforeseen(lambda: True, told.ask, told.leave)(KeyboardInterrupt, KeyboardInterrupt(), None)
    assert (told.shown, told.left) == ([], 1)


def test_the_dialog_copies_its_report(qtbot: QtBot) -> None:
    dialog = UnforeseenDialog("Saved.", "the report")
    qtbot.addWidget(dialog)
    QTest.mouseClick(dialog.copy, Qt.MouseButton.LeftButton)
    assert QGuiApplication.clipboard().text() == "the report"
    assert not dialog.closes
    QTest.mouseClick(dialog.close_program, Qt.MouseButton.LeftButton)
    assert dialog.closes


def test_the_window_keeps_the_work_of_an_open_project(
    window: MainWindow, opened: Works, project: Path, rename: Callable[[Works, str], None]
) -> None:
    rename(opened, "Not lost")
    told = Told()
    hook = Unforeseen(window._keep, told.ask, told.leave)
    break_it(hook)
    kept = json.loads((project / AUTOSAVE).read_text("utf-8"))
    assert kept["layout"]["title"] == "Not lost"
    assert told.shown[0][0] == messages.UNFORESEEN_SAVED


def test_work_that_breaks_in_the_lane_comes_to_the_same_dialog(
    qtbot: QtBot, window: MainWindow, opened: Works, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = Told()
    monkeypatch.setattr(window.unforeseen, "_ask", told.ask)

    def broken() -> object:
        raise ZeroDivisionError("in the lane")
        yield

    opened.running.run("Something", broken, lambda _: None)  # type: ignore[arg-type]
    qtbot.waitUntil(lambda: bool(told.shown), timeout=5000)
    assert "in the lane" in told.shown[0][1]


def test_leaving_at_once_keeps_the_autosave(
    window: MainWindow,
    opened: Works,
    project: Path,
    rename: Callable[[Works, str], None],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    codes: list[int] = []
    # The toolkit's own would end every event loop of the tests to come.
    monkeypatch.setattr("floorpan_app.window.main_window.QApplication.exit", codes.append)
    rename(opened, "Not lost")
    opened.session.projects.autosave_now()
    window._leave_at_once()
    assert (project / AUTOSAVE).exists()
    assert window.works is None
    assert codes == [1]
