"""The tape sheet from the Papers menu: before there is a project, and of the one on the bench."""

from pathlib import Path

import pypdf
import pytest
from PySide6.QtWidgets import QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from floorpan_app import messages
from floorpan_app.window.asking import Dialogs
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.works import Works


def written(qtbot: QtBot, answers: Answers, target: Path) -> str:
    """The text of the sheet, once its folder was offered."""
    qtbot.waitUntil(lambda: bool(answers.questions()), timeout=60_000)
    assert answers.questions()[0].what == messages.TAPE_SHEET_WRITTEN.format(path=target)
    first, second = pypdf.PdfReader(target).pages
    return first.extract_text() + second.extract_text()


def test_it_is_written_before_there_is_a_project(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, tmp_path: Path
) -> None:
    target = tmp_path / "tape.pdf"
    answers.then("tape_sheet", (target, "A4"))
    answers.then("choose", "show")
    window.actions_.action("tape sheet").trigger()
    text = written(qtbot, answers, target)
    assert "Shoulder to grip" in text
    assert "Foot breadth" in text
    assert answers.asked[0] == ("tape_sheet", (works.keeping.home() / "tape-sheet.pdf", "A4"))
    assert answers.asked[-1] == ("show_folder", tmp_path)


def test_of_a_project_it_carries_its_name_and_its_unit(
    qtbot: QtBot, window: MainWindow, opened: Works, answers: Answers, project: Path, tmp_path: Path
) -> None:
    opened.use_system("in")
    target = tmp_path / "tape.pdf"
    answers.then("tape_sheet", (target, "letter"))
    answers.then("choose", "")
    window.actions_.action("tape sheet").trigger()
    text = written(qtbot, answers, target)
    assert "Small" in text
    assert "lengths in inches" in text
    assert answers.asked[0] == ("tape_sheet", (project.parent / "small-tape-sheet.pdf", "letter"))


def test_it_is_refused_as_anything_but_pdf(
    window: MainWindow, opened: Works, answers: Answers, tmp_path: Path
) -> None:
    answers.then("tape_sheet", (tmp_path / "tape.html", "A4"))
    answers.then("choose", "")
    window.actions_.action("tape sheet").trigger()
    assert "A tape sheet cannot be written as" in answers.questions()[0].what
    assert not (tmp_path / "tape.html").exists()


def test_it_stands_beside_the_checklist_in_the_menu(window: MainWindow, works: Works) -> None:
    assert window.actions_.action("tape sheet").text() == "Write the tape sheet\u2026"
    assert window.actions_.action("tape sheet").isEnabled()


def test_the_dialog_gives_the_file_and_the_paper(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    monkeypatch.setattr(
        QFileDialog, "getSaveFileName", lambda *_: ("/a/tape", messages.TAPE_SHEET_PAPERS["letter"])
    )
    assert Dialogs(parent).tape_sheet(Path("/a/tape-sheet.pdf"), "A4") == (Path("/a/tape.pdf"), "letter")
