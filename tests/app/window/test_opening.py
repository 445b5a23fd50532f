"""Opening, saving and leaving projects from the window, whatever state they are in."""

import json
import shutil
import socket
from collections.abc import Callable
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from app.window.plain_parts import PlainPicture
from floorpan.project.folder import AUTOSAVE, BACKUP, PROJECT
from floorpan.project.lock import LOCK, Holder, lock
from floorpan_app import messages
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.works import Works

Rename = Callable[[Works, str], None]


def title_on_disk(folder: Path, name: str = PROJECT) -> str:
    return str(json.loads((folder / name).read_text("utf-8"))["layout"]["title"])


def asked_for(qtbot: QtBot, answers: Answers, count: int = 1) -> None:
    qtbot.waitUntil(lambda: len(answers.questions()) >= count, timeout=10_000)


def held_elsewhere(folder: Path, host: str, process: int = 4242) -> None:
    holder = {"host": host, "process": process, "began": "long ago"}
    (folder / LOCK).write_text(json.dumps(holder), "utf-8")


def test_an_opened_project_is_on_the_bench(window: MainWindow, opened: Works, project: Path) -> None:
    assert window.windowTitle() == "Small[*] – floorpan"
    assert window.saved.text().startswith("Saved ")
    page = opened.page
    assert page is not None
    assert page.isVisible()
    assert [step.word for step in page.strip.steps()][:3] == ["Scan", "Axes", "Floor"]
    assert [one.folder for one in window.settings.recent()] == [project]


def test_opening_goes_by_the_dialog_too(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, project: Path
) -> None:
    answers.then("project", project)
    window.actions_.action("open").trigger()
    qtbot.waitUntil(works.has_project, timeout=10_000)


def test_a_project_on_the_bench_is_not_opened_twice(window: MainWindow, opened: Works, project: Path) -> None:
    for path in (project, project / PROJECT):
        opened.flow.open(path)
        assert window.status.hint() == "Small is on the bench already."


def test_save_by_its_action(window: MainWindow, opened: Works, project: Path, rename: Rename) -> None:
    rename(opened, "Tin coupé")
    assert window.isWindowModified()
    assert window.saved.text().startswith("Not saved since ")
    window.actions_.action("save").trigger()
    assert title_on_disk(project) == "Tin coupé"
    assert not window.isWindowModified()
    assert window.saved.text().startswith("Saved ")


def test_a_save_that_fails_is_told_and_nothing_is_lost(
    window: MainWindow,
    opened: Works,
    answers: Answers,
    project: Path,
    rename: Rename,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rename(opened, "Too much")
    monkeypatch.setattr("floorpan.project.durable.os.write", disk_full)
    answers.then("choose", "")
    assert not opened.keeping.save()
    [question] = answers.questions()
    assert question.what.startswith("The disk is full")
    assert "untouched" in question.what
    assert title_on_disk(project) == "Small"
    assert opened.session.projects.is_unsaved()


def disk_full(*_: object) -> int:
    raise OSError(28, "No space left on device")


def test_a_live_lock_offers_to_look_only(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, project: Path, rename: Rename
) -> None:
    held_elsewhere(project, "another-computer")
    answers.then("choose", "look")
    window.open(project)
    qtbot.waitUntil(works.has_project, timeout=10_000)
    [question] = answers.questions()
    assert "another-computer" in question.what
    assert [one.id for one in question.answers] == ["look"]
    assert window.windowTitle() == "Small, to look only – floorpan"
    assert window.saved.text() == messages.LOOKING_ONLY
    rename(works, "Tried")
    assert not window.isWindowModified()
    assert not window.actions_.action("save").isEnabled()
    assert not window.actions_.action("version").isEnabled()


def test_a_lock_held_here_is_respected(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, project: Path
) -> None:
    with lock(project):
        answers.then("choose", "")
        window.open(project)
        asked_for(qtbot, answers)
    assert not works.has_project()


def test_a_stale_lock_can_be_taken_over(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, project: Path
) -> None:
    held_elsewhere(project, socket.gethostname(), process=2**22 + 7)
    answers.then("choose", "take")
    window.open(project)
    qtbot.waitUntil(works.has_project, timeout=10_000)
    [question] = answers.questions()
    assert [one.text for one in question.answers] == [messages.TAKE_OVER, messages.LOOK_ONLY]
    assert json.loads((project / LOCK).read_text())["process"] == Holder.here().process


def test_a_damaged_project_offers_the_save_before(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, project: Path
) -> None:
    shutil.copyfile(project / PROJECT, project / BACKUP)
    (project / PROJECT).write_text('{"format": 1', "utf-8")
    answers.then("choose", "backup")
    window.open(project)
    qtbot.waitUntil(works.has_project, timeout=10_000)
    assert works.session.projects.is_unsaved()
    assert "save before the last" in window.status.hint()


def test_a_damaged_project_without_a_save_before_shows_its_folder(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, project: Path
) -> None:
    (project / PROJECT).write_text("[]", "utf-8")
    (project / BACKUP).unlink()
    answers.then("choose", "show")
    window.open(project)
    qtbot.waitUntil(lambda: ("show_folder", project) in answers.asked, timeout=10_000)
    assert [one.id for one in answers.questions()[0].answers] == ["show"]
    assert not (project / LOCK).exists()


def test_a_newer_project_is_left_alone(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, project: Path
) -> None:
    told = json.loads((project / PROJECT).read_text("utf-8"))
    (project / PROJECT).write_text(json.dumps(told | {"format": 99}), "utf-8")
    answers.then("choose", "")
    window.open(project)
    asked_for(qtbot, answers)
    assert "newer floorpan" in answers.questions()[0].what
    assert not works.has_project()


def test_what_is_no_project_is_told(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, tmp_path: Path
) -> None:
    answers.then("choose", "")
    window.open(tmp_path / "nothing")
    asked_for(qtbot, answers)
    [question] = answers.questions()
    assert (question.answers, question.leave) == ((), messages.CLOSE)


def test_a_missing_scan_is_found_again(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, project: Path, tmp_path: Path
) -> None:
    [kept] = (project / "imports").iterdir()
    moved = Path(shutil.move(kept, tmp_path / "found.ply"))
    other = tmp_path / "other.ply"
    other.write_bytes(moved.read_bytes() + b"\n")
    answers.then("choose", "find")
    answers.then("scan_file", other)
    answers.then("choose", "")
    answers.then("choose", "find")
    answers.then("scan_file", moved)
    window.open(project)
    qtbot.waitUntil(lambda: kept.exists(), timeout=10_000)
    qtbot.waitUntil(
        lambda: works.session.projects.project is not None and not works.session.projects.project.missing,
        timeout=10_000,
    )
    missing, wrong, again = answers.questions()
    assert missing.what.startswith("The scan file floor.ply is missing")
    assert wrong.what == "other.ply is not the scan that was read."
    assert again.what == missing.what
    # The other file was not copied in.
    assert [path.name for path in (project / "imports").iterdir()] == [kept.name]
    qtbot.waitUntil(lambda: works.session.judging.fresh, timeout=60_000)
    assert any(finding.verdict != "unseen" for finding in works.session.judging.findings)


def test_one_can_go_on_without_a_scan(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, project: Path
) -> None:
    shutil.rmtree(project / "imports")
    answers.then("choose", "")
    window.open(project)
    asked_for(qtbot, answers)
    assert works.has_project()
    assert answers.questions()[0].leave == messages.GO_ON_WITHOUT


@pytest.mark.parametrize(("answer", "title"), [("use", "Left"), ("", "Small")])
def test_work_left_by_a_power_cut_is_offered(
    qtbot: QtBot,
    window: MainWindow,
    works: Works,
    answers: Answers,
    project: Path,
    answer: str,
    title: str,
) -> None:
    told = json.loads((project / PROJECT).read_text("utf-8"))
    told["layout"]["title"] = "Left"
    told["saved"] = "2026-05-04T14:07:00+00:00"
    (project / AUTOSAVE).write_text(json.dumps(told), "utf-8")
    answers.then("choose", answer)
    window.open(project)
    qtbot.waitUntil(works.has_project, timeout=10_000)
    assert works.session.document.layout.title == title
    assert works.session.projects.is_unsaved() is (answer == "use")
    assert answers.questions()[0].leave == messages.KEEP_SAVE


def test_a_damaged_autosave_is_told_and_the_save_is_opened(
    qtbot: QtBot, window: MainWindow, works: Works, answers: Answers, project: Path
) -> None:
    (project / AUTOSAVE).write_text("{", "utf-8")
    answers.then("choose", "")
    window.open(project)
    qtbot.waitUntil(works.has_project, timeout=10_000)
    assert answers.questions()[0].remedy == messages.LEFT_OVER_DAMAGED


# --- leaving --------------------------------------------------------------------------------------------------------


def test_closing_a_saved_project_asks_nothing(window: MainWindow, opened: Works, answers: Answers) -> None:
    assert window.close()
    assert answers.asked == []


def test_closing_with_changes_can_be_taken_back(
    window: MainWindow, opened: Works, answers: Answers, project: Path, rename: Rename
) -> None:
    rename(opened, "Changed")
    answers.then("choose", "")
    assert not window.close()
    assert window.isVisible()
    assert opened.session.document.layout.title == "Changed"
    assert (project / LOCK).exists()


def test_closing_with_changes_can_save_them(
    window: MainWindow, opened: Works, answers: Answers, project: Path, rename: Rename
) -> None:
    rename(opened, "Changed")
    answers.then("choose", "save")
    assert window.close()
    assert title_on_disk(project) == "Changed"
    assert not (project / LOCK).exists()
    assert not (project / AUTOSAVE).exists()


def test_closing_with_changes_can_leave_them(
    window: MainWindow, opened: Works, answers: Answers, project: Path, rename: Rename
) -> None:
    rename(opened, "Changed")
    opened.session.projects.autosave_now()
    answers.then("choose", "leave")
    assert window.close()
    assert title_on_disk(project) == "Small"
    assert not (project / AUTOSAVE).exists()


def test_opening_another_asks_about_changes_once(
    qtbot: QtBot, window: MainWindow, opened: Works, answers: Answers, project: Path, rename: Rename
) -> None:
    other = Path(shutil.copytree(project, project.with_name("other.floorpan"), ignore=lambda *_: [LOCK]))
    rename(opened, "Changed")
    answers.then("choose", "leave")
    window.open(other)
    qtbot.waitUntil(
        lambda: (
            opened.session.projects.project is not None and opened.session.projects.project.folder == other
        ),
        timeout=10_000,
    )
    assert len(answers.questions()) == 1
    assert not (project / LOCK).exists()
    assert not opened.session.projects.is_unsaved()


def test_closing_keeps_how_the_car_was_looked_at(
    qtbot: QtBot, window: MainWindow, opened: Works, project: Path
) -> None:
    page = opened.page
    assert page is not None
    picture = page._parts.picture
    assert isinstance(picture, PlainPicture)
    picture.word = "above"
    opened.session.desk.go_to("cup")
    opened.session.desk.show_stops({"shifter-1.gear": "R"})
    opened.flow.close_project()
    window.open(project)
    qtbot.waitUntil(opened.has_project, timeout=10_000)
    assert opened.session.desk.step == "cup"
    assert dict(opened.session.desk.state) == {"shifter-1.gear": "R"}
    assert picture.looked[-1] == {"seen_from": "above"}


def test_a_view_written_by_hand_does_no_harm(
    qtbot: QtBot, window: MainWindow, works: Works, project: Path
) -> None:
    (project / "view.json").write_text('{"step": "sleep", "state": [1], "picture": 7}', "utf-8")
    window.open(project)
    qtbot.waitUntil(works.has_project, timeout=10_000)
    assert works.session.desk.step == "scan"


# --- copies and versions --------------------------------------------------------------------------------------------


def test_a_copy_is_written_and_opened(
    qtbot: QtBot, window: MainWindow, opened: Works, answers: Answers, tmp_path: Path
) -> None:
    answers.then("line", "Second car")
    answers.then("folder", tmp_path)
    answers.then("choose", "open")
    window.actions_.action("copy").trigger()
    qtbot.waitUntil(lambda: opened.session.document.layout.title == "Second car", timeout=10_000)
    held = opened.session.projects.project
    assert held is not None
    assert held.folder == tmp_path / "second-car.floorpan"


def test_a_version_of_a_name_that_is_taken_can_replace_it(
    window: MainWindow, opened: Works, answers: Answers, rename: Rename
) -> None:
    opened.session.projects.save_version("A")
    rename(opened, "Later")
    answers.then("line", "A")
    answers.then("choose", "over")
    window.actions_.action("version").trigger()
    [kept] = opened.session.projects.versions()
    assert opened.session.projects.version(kept).title == "Later"
    assert window.status.hint() == "Version A is kept."


def test_a_version_of_a_name_that_is_taken_can_get_another(
    window: MainWindow, opened: Works, answers: Answers
) -> None:
    opened.session.projects.save_version("A")
    answers.then("line", "A")
    answers.then("choose", "name")
    answers.then("line", "B")
    window.actions_.action("version").trigger()
    assert [one.name for one in opened.session.projects.versions()] == ["A", "B"]


def test_one_goes_back_to_a_version_and_forth(
    window: MainWindow, opened: Works, answers: Answers, rename: Rename
) -> None:
    opened.session.projects.save_version("A")
    rename(opened, "Later")
    answers.then("choose", "a.json")
    window.actions_.action("version back").trigger()
    assert opened.session.document.layout.title == "Small"
    assert window.actions_.action("undo").text() == "Undo: go back to version A"
    window.actions_.action("undo").trigger()
    assert opened.session.document.layout.title == "Later"


def test_without_versions_it_says_so(window: MainWindow, opened: Works, answers: Answers) -> None:
    answers.then("choose", "")
    window.actions_.action("version back").trigger()
    assert answers.questions()[0].what == messages.NO_VERSIONS[0]


def test_where_it_is_kept(window: MainWindow, opened: Works, answers: Answers, project: Path) -> None:
    answers.then("choose", "show")
    window.actions_.action("where").trigger()
    assert answers.questions()[0].remedy == str(project)
    assert answers.asked[-1] == ("show_folder", project)
