"""The scan checklist from the window: before there is a project, and of the one on the bench."""

from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from floorpan_app import messages
from floorpan_app.window.asking import Dialogs
from floorpan_app.window.checklist_paper import CHECKLIST
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.paper_to_fill import PaperToFill
from floorpan_app.window.works import Works

LETTER_PT = (612.0, 792.0)


def asked_and_written(qtbot: QtBot, answers: Answers, target: Path) -> str:
    """The text of the page, once its folder was offered."""
    qtbot.waitUntil(lambda: bool(answers.questions()), timeout=60_000)
    assert answers.questions()[0].what == messages.CHECKLIST_WRITTEN.format(path=target)
    (page,) = pypdf.PdfReader(target).pages
    return page.extract_text()


def test_it_is_printed_from_the_start_screen_before_there_is_a_project(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, tmp_path: Path
) -> None:
    target = tmp_path / "list.pdf"
    answers.then("checklist", (target, "A4"))
    answers.then("choose", "show")
    link = window.start.checklist
    assert link.text() == "Print the scan checklist"
    QTest.mouseClick(link, Qt.MouseButton.LeftButton)
    text = asked_and_written(qtbot, answers, target)
    assert "before the first scan" in text
    assert "wheel rim" in text
    assert answers.asked[0] == ("checklist", (works.keeping.home() / "scan-checklist.pdf", "A4"))
    assert answers.asked[-1] == ("show_folder", tmp_path)
    assert not works.has_project()


def test_it_is_asked_for_before_the_bench_is_ready(
    qtbot: QtBot, window: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    answers.then("checklist", None)
    window.start.checklist.setFocus()
    QTest.keyClick(window.start.checklist, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: bool(answers.asked), timeout=60_000)
    assert answers.asked[0][0] == "checklist"


def test_of_a_project_it_says_how_each_area_stands(
    qtbot: QtBot, window: MainWindow, opened: Works, answers: Answers, project: Path, tmp_path: Path
) -> None:
    target = tmp_path / "list.pdf"
    answers.then("checklist", (target, "letter"))
    answers.then("choose", "")
    window.actions_.action("checklist").trigger()
    text = asked_and_written(qtbot, answers, target)
    for part in ("Small", "not in this car", "in the project", "not named yet"):
        assert part in text
    box = pypdf.PdfReader(target).pages[0].mediabox
    assert (box.width, box.height) == pytest.approx(LETTER_PT)
    assert answers.asked[0] == ("checklist", (project.parent / "small-scan-checklist.pdf", "A4"))


def test_inches_begin_on_letter(window: MainWindow, opened: Works, answers: Answers, project: Path) -> None:
    opened.use_system("in")
    answers.then("checklist", None)
    window.actions_.action("checklist").trigger()
    assert answers.asked[0][1][1] == "letter"


def test_it_carries_the_day(qtbot: QtBot, opened: Works, answers: Answers, tmp_path: Path) -> None:
    target = tmp_path / "list.pdf"
    answers.then("checklist", (target, "A4"))
    answers.then("choose", "")
    ask, home = opened.running.asking.checklist, opened.keeping.home
    PaperToFill(CHECKLIST, opened.session, opened.running, ask, home, today=lambda: "2026-05-04").write()
    assert "2026-05-04" in asked_and_written(qtbot, answers, target)


def test_it_is_refused_on_the_project_itself_and_as_anything_but_pdf(
    window: MainWindow, opened: Works, answers: Answers, project: Path, tmp_path: Path
) -> None:
    kept = {path: path.read_bytes() for path in project.rglob("*") if path.is_file()}
    inside = next(path.parent for path in kept if path.suffix == ".ply") / "list.pdf"
    nowhere = tmp_path / "no such folder" / "list.pdf"
    for target in (project / "project.json", inside, nowhere):
        answers.then("checklist", (target, "A4"))
        answers.then("choose", "")
        window.actions_.action("checklist").trigger()
    told = [question.what for question in answers.questions()]
    assert "cannot be written as" in told[0]
    assert "part of the project itself" in told[1]
    assert "no folder" in told[2]
    assert {path: path.read_bytes() for path in project.rglob("*") if path.is_file()} == kept


def test_what_cannot_be_written_is_told(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, tmp_path: Path
) -> None:
    answers.then("checklist", (tmp_path / "no such folder" / "list.pdf", "A4"))
    answers.then("choose", "")
    window.start.checklist.click()
    qtbot.waitUntil(lambda: bool(answers.questions()), timeout=60_000)
    assert "was not written" in answers.questions()[0].what


@pytest.mark.parametrize(
    ("name", "kind", "expected"),
    [
        ("/a/list", messages.CHECKLIST_PAPERS["letter"], (Path("/a/list.pdf"), "letter")),
        ("/a/list.pdf", messages.CHECKLIST_PAPERS["A4"], (Path("/a/list.pdf"), "A4")),
        ("/a/list.pdf", "", (Path("/a/list.pdf"), "letter")),
        ("", "", None),
    ],
)
def test_the_dialog_gives_the_file_and_the_paper(
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
    name: str,
    kind: str,
    expected: tuple[Path, str] | None,
) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    seen: list[object] = []

    def asked(*told: object) -> tuple[str, str]:
        seen.extend(told)
        return name, kind

    monkeypatch.setattr(QFileDialog, "getSaveFileName", asked)
    assert Dialogs(parent).checklist(Path("/a/scan-checklist.pdf"), "letter") == expected
    assert seen[-1] == messages.CHECKLIST_PAPERS["letter"]
