"""The fit report from the window: never from stale findings, with pictures where they can be drawn."""

import json
from pathlib import Path

import pypdf
import pytest
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from core.report import made_up
from floorpan import edits
from floorpan.derive import Bench
from floorpan.items.states import State
from floorpan.layout import Layout
from floorpan.report.pictures import VIEWS
from floorpan_app import messages
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.papers import Papers
from floorpan_app.window.works import Works


class Pictures:
    """Draws nothing much, and remembers what it was asked for."""

    def __init__(self, *, can: bool = True) -> None:
        self.can = can
        self.views: list[str] = []
        self.states: list[State] = []

    def available(self) -> bool:
        return self.can

    def make(self, layout: Layout, bench: Bench, state: State) -> "Pictures":
        self.states.append(state)
        return self

    def picture(self, view: str, width: int, height: int) -> bytes:
        self.views.append(view)
        # A paper holds the same picture once only.
        return made_up.png(width=8 + len(self.views), height=8)

    def close(self) -> None:
        """Nothing is held."""


def written(qtbot: QtBot, target: Path) -> None:
    qtbot.waitUntil(target.exists, timeout=60_000)


@pytest.mark.parametrize("suffix", ["json", "csv", "html", "pdf"])
def test_a_report_is_written_and_its_folder_offered(
    qtbot: QtBot, window: MainWindow, judged: Works, answers: Answers, tmp_path: Path, suffix: str
) -> None:
    target = tmp_path / f"fit.{suffix}"
    answers.then("paper", target)
    answers.then("choose", "show")
    window.actions_.action("report").trigger()
    written(qtbot, target)
    qtbot.waitUntil(lambda: bool(answers.questions()), timeout=10_000)
    assert str(target) in answers.questions()[0].what
    assert answers.asked[-1] == ("show_folder", tmp_path)
    assert target.stat().st_size > 100


def test_the_dialog_begins_beside_the_project(
    window: MainWindow, judged: Works, answers: Answers, project: Path
) -> None:
    answers.then("paper", None)
    window.actions_.action("report").trigger()
    assert answers.asked == [("paper", project.parent / "small-fit-report.pdf")]


def test_a_report_waits_until_nothing_is_stale(
    qtbot: QtBot, window: MainWindow, judged: Works, answers: Answers, tmp_path: Path
) -> None:
    target = tmp_path / "fit.json"
    answers.then("paper", target)
    answers.then("choose", "")
    moved = judged.session.desk.change("move", lambda layout: edits.shift(layout, "console-1", (30, 0, 0)))
    assert moved
    assert not judged.session.judging.fresh
    window.actions_.action("report").trigger()
    assert window.status.hint() == messages.PAPER_WAITS
    assert judged.papers().is_waiting()
    written(qtbot, target)
    told = json.loads(target.read_text("utf-8"))
    fresh = {finding.id: finding.value for finding in judged.session.judging.findings}
    assert {one["id"]: one["value"] for one in told["findings"]} == pytest.approx(fresh)
    qtbot.waitUntil(lambda: bool(answers.questions()), timeout=10_000)


def test_a_report_that_waits_for_work_that_was_stopped_is_given_up(
    window: MainWindow, judged: Works, answers: Answers, tmp_path: Path
) -> None:
    answers.then("paper", tmp_path / "fit.json")
    answers.then("choose", "")
    judged.session.judging.again()
    window.actions_.action("report").trigger()
    assert judged.papers().is_waiting()
    judged.session.stopped.emit()
    assert answers.questions()[0].what == messages.PAPER_NO_FINDINGS[0]
    assert not judged.papers().is_waiting()
    assert not (tmp_path / "fit.json").exists()


def test_writing_can_be_stopped(
    qtbot: QtBot, window: MainWindow, judged: Works, answers: Answers, tmp_path: Path
) -> None:
    answers.then("paper", tmp_path / "fit.pdf")
    window.actions_.action("report").trigger()
    window.status.stop()
    qtbot.waitUntil(lambda: window.status.hint() == messages.PAPER_STOPPED, timeout=10_000)
    assert not (tmp_path / "fit.pdf").exists()


def test_another_ending_is_refused(
    window: MainWindow, judged: Works, answers: Answers, tmp_path: Path
) -> None:
    answers.then("paper", tmp_path / "fit.docx")
    answers.then("choose", "")
    window.actions_.action("report").trigger()
    assert ".docx" in answers.questions()[0].what
    assert not judged.papers().is_waiting()


def test_a_report_that_cannot_be_written_is_told(
    qtbot: QtBot, window: MainWindow, judged: Works, answers: Answers, tmp_path: Path
) -> None:
    answers.then("paper", tmp_path / f"{'fit' * 100}.csv")
    answers.then("choose", "")
    window.actions_.action("report").trigger()
    qtbot.waitUntil(lambda: bool(answers.questions()), timeout=60_000)
    assert answers.questions()[0].what.startswith("The report was not written")


def test_a_report_on_the_project_itself_or_nowhere_is_refused_at_once(
    window: MainWindow, judged: Works, answers: Answers, project: Path, tmp_path: Path
) -> None:
    kept = (project / "project.json").read_bytes()
    for target in (project / "project.json", tmp_path / "no such folder" / "fit.csv"):
        answers.then("paper", target)
        answers.then("choose", "")
        window.actions_.action("report").trigger()
        assert not judged.papers().is_waiting()
    assert "part of the project itself" in answers.questions()[0].what
    assert "no folder" in answers.questions()[1].what
    assert (project / "project.json").read_bytes() == kept


def test_pictures_show_the_car_as_it_stands(
    qtbot: QtBot, window: MainWindow, judged: Works, answers: Answers, tmp_path: Path
) -> None:
    pictures, target = Pictures(), tmp_path / "fit.pdf"
    papers = Papers(judged.session, judged.running, pictures, today=lambda: "2026-05-04")
    judged.session.desk.show_stops({"shifter-1.gear": "R"})
    answers.then("paper", target)
    answers.then("choose", "")
    papers.write()
    written(qtbot, target)
    assert pictures.views == list(VIEWS)
    assert dict(pictures.states[0])["shifter-1.gear"] == "R"
    assert sum(len(page.images) for page in pypdf.PdfReader(target).pages) == len(VIEWS)
    assert "2026" in pypdf.PdfReader(target).pages[0].extract_text()
    qtbot.waitUntil(lambda: bool(answers.questions()), timeout=10_000)


@pytest.mark.parametrize(("suffix", "can"), [("pdf", False), ("csv", True)])
def test_no_pictures_are_drawn_where_they_cannot_be_or_are_of_no_use(
    qtbot: QtBot, judged: Works, answers: Answers, tmp_path: Path, suffix: str, can: bool
) -> None:
    pictures, target = Pictures(can=can), tmp_path / f"fit.{suffix}"
    answers.then("paper", target)
    answers.then("choose", "")
    Papers(judged.session, judged.running, pictures).write()
    written(qtbot, target)
    assert pictures.views == []
    qtbot.waitUntil(lambda: bool(answers.questions()), timeout=10_000)
