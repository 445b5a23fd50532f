"""The dialogs themselves: named answers, Escape, plain text."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from floorpan.errors import BadValue
from floorpan_app.window.asking import Dialogs, fault_told
from floorpan_app.window.question import Answer, LineDialog, Question, QuestionDialog, ReadDialog

QUESTION = Question(
    title="Tin coupé",
    what="<b>Tin</b> coupé was changed.",
    remedy="Save it?",
    answers=(Answer(id="save", text="Save"), Answer(id="leave", text="Leave the changes")),
)


@pytest.fixture
def parent(qtbot: QtBot) -> QWidget:
    parent = QWidget()
    qtbot.addWidget(parent)
    return parent


def test_a_question_names_its_answers_and_the_first_is_for_enter(qtbot: QtBot) -> None:
    dialog = QuestionDialog(QUESTION)
    qtbot.addWidget(dialog)
    texts = [button.text() for button in dialog.findChildren(QPushButton)]
    assert sorted(texts) == ["Cancel", "Leave the changes", "Save"]
    assert dialog.buttons["save"].isDefault()
    assert all(label.textFormat() == Qt.TextFormat.PlainText for label in dialog.findChildren(QLabel))
    with qtbot.waitExposed(dialog):
        dialog.show()
    QTest.keyClick(dialog, Qt.Key.Key_Return)
    assert dialog.answer == "save"


def test_escape_answers_nothing(qtbot: QtBot) -> None:
    dialog = QuestionDialog(QUESTION)
    qtbot.addWidget(dialog)
    dialog.show()
    QTest.keyClick(dialog, Qt.Key.Key_Escape)
    assert dialog.answer == ""
    assert not dialog.isVisible()


def test_a_line_needs_a_word(qtbot: QtBot) -> None:
    dialog = LineDialog("Save a version", "Name of the version")
    qtbot.addWidget(dialog)
    assert not dialog.take.isEnabled()
    dialog.field.setText("A")
    assert dialog.take.isEnabled()


def press(text: str) -> None:
    """Press a button of the dialog that stands, as soon as it does."""

    def now() -> None:
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, QDialog)
        [button] = [button for button in dialog.findChildren(QPushButton) if button.text() == text]
        button.click()

    QTimer.singleShot(50, now)


def test_the_real_dialogs_answer(parent: QWidget) -> None:
    dialogs = Dialogs(parent)
    press("Leave the changes")
    assert dialogs.choose(QUESTION) == "leave"
    press("Cancel")
    assert dialogs.choose(QUESTION) == ""
    press("Go on")
    assert dialogs.line("Save a version", "Name", "B") == "B"
    press("Cancel")
    assert dialogs.line("Save a version", "Name", "B") == ""
    press("Close")
    dialogs.read("About", ("floorpan", "A sentence."))


def test_a_refusal_is_a_question_that_can_only_be_closed() -> None:
    told = fault_told(BadValue("x", "That is no length.", "Type 89 mm."))
    assert (told.what, told.remedy, told.answers) == ("That is no length.", "Type 89 mm.", ())
    assert told.leave == "Close"


@pytest.mark.parametrize(
    ("name", "kind", "path"),
    [
        ("", "", None),
        ("a/fit.pdf", "Report to print (*.pdf)", Path("a/fit.pdf")),
        ("a/fit", "Table (*.csv)", Path("a/fit.csv")),
        ("a/fit v1.2", "Report to print (*.pdf)", Path("a/fit v1.2")),
    ],
)
def test_a_paper_without_an_ending_gets_that_of_its_kind(
    parent: QWidget, monkeypatch: pytest.MonkeyPatch, name: str, kind: str, path: Path | None
) -> None:
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (name, kind))
    assert Dialogs(parent).paper(Path("x")) == path


def test_file_dialogs_begin_where_they_are_told(parent: QWidget, monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[str] = []

    def opened(_parent: QWidget, _title: str, start: str, *_: str) -> tuple[str, str]:
        begun.append(start)
        return "scan.ply", ""

    monkeypatch.setattr(QFileDialog, "getOpenFileName", opened)
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: "")
    assert Dialogs(parent).scan_file(Path("here")) == Path("scan.ply")
    assert begun == ["here"]
    assert Dialogs(parent).project(Path("here")) is None


def test_something_to_read_can_be_marked_and_copied(qtbot: QtBot) -> None:
    dialog = ReadDialog("About", ("floorpan", "One.", "Two."))
    qtbot.addWidget(dialog)
    marked = Qt.TextInteractionFlag.TextSelectableByMouse
    assert all(label.textInteractionFlags() & marked for label in dialog.findChildren(QLabel))
    assert dialog.accessibleName() == "floorpan One. Two."
