"""The project behind the document: saved, kept, autosaved, given back."""

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from floorpan import edits
from floorpan.errors import BadValue, NotSaved, ProjectDamaged, ProjectLocked, ProjectProblem
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.project.folder import AUTOSAVE, BACKUP, PROJECT, open_project
from floorpan.project.lock import LOCK
from floorpan_app.document import Document
from floorpan_app.judging import Judging
from floorpan_app.project_copy import copying
from floorpan_app.projects import AUTOSAVE_MS, Projects, opening_locked


class Clock:
    """A clock that a test moves."""

    def __init__(self) -> None:
        self.now = datetime(2026, 5, 4, 14, 2, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def projects(qtbot: QtBot, clock: Clock) -> Iterator[Projects]:
    document = Document(Layout())
    judging = Judging(document, {})
    projects = Projects(document, judging, clock=clock)
    yield projects
    projects.let_go()
    judging.close()
    for thing in (projects, judging, document):
        thing.deleteLater()


def change(projects: Projects, title: str) -> None:
    projects.document.change("rename", edits.rename_project(projects.document.adopted, title))


def on_disk(folder: Path, name: str = PROJECT) -> str:
    return str(json.loads((folder / name).read_text("utf-8"))["layout"]["title"])


def local(time: datetime) -> str:
    return f"{time.astimezone():%H:%M}"


def test_an_opened_project_is_locked_until_it_is_let_go(projects: Projects, project: Path) -> None:
    projects.take(finish(opening_locked(project)))
    assert (project / LOCK).exists()
    with pytest.raises(ProjectLocked):
        finish(opening_locked(project))
    projects.let_go()
    assert not (project / LOCK).exists()


def test_opening_that_fails_or_is_stopped_leaves_no_lock(project: Path) -> None:
    whole = (project / PROJECT).read_text("utf-8")
    (project / PROJECT).write_text("{", "utf-8")
    with pytest.raises(ProjectDamaged):
        finish(opening_locked(project))
    assert not (project / LOCK).exists()
    (project / PROJECT).write_text(whole, "utf-8")
    work = opening_locked(project)
    next(work)
    assert (project / LOCK).exists()
    work.close()
    assert not (project / LOCK).exists()


def test_a_folder_that_is_no_project_gets_no_lock(tmp_path: Path) -> None:
    with pytest.raises(ProjectProblem):
        finish(opening_locked(tmp_path))
    assert list(tmp_path.iterdir()) == []


def test_a_project_is_opened_by_its_folder_and_by_its_file(projects: Projects, project: Path) -> None:
    for path in (project, project / PROJECT):
        projects.take(finish(opening_locked(path)))
        assert projects.project is not None
        assert projects.project.folder == project
        assert projects.document.saved
        projects.let_go()


def test_save_writes_what_is_adopted_and_says_when(projects: Projects, project: Path, clock: Clock) -> None:
    projects.take(finish(opening_locked(project)))
    clock.now += timedelta(minutes=3)
    change(projects, "Tin coupé")
    assert projects.is_unsaved()
    assert projects.saved_words() == f"Not saved since {local(clock.now)}"
    clock.now += timedelta(minutes=4)
    change(projects, "Tin coupé 2")
    assert projects.saved_words() == f"Not saved since {local(clock.now - timedelta(minutes=4))}"
    projects.save()
    assert projects.saved_words() == f"Saved {local(clock.now)}"
    assert on_disk(project) == "Tin coupé 2"
    assert on_disk(project, BACKUP) == "Small"


def test_undo_to_the_save_is_saved_again(projects: Projects, project: Path) -> None:
    projects.take(finish(opening_locked(project)))
    change(projects, "Another")
    projects.document.undo()
    assert not projects.is_unsaved()
    projects.document.redo()
    assert projects.is_unsaved()


def test_a_save_of_another_day_carries_its_date(projects: Projects, project: Path, clock: Clock) -> None:
    projects.take(finish(opening_locked(project)))
    projects.save()
    clock.now += timedelta(days=3)
    assert projects.saved_words().startswith("Saved 2026-05-04 ")


def test_a_change_is_autosaved_once_and_a_save_takes_the_autosave_away(
    qtbot: QtBot, projects: Projects, project: Path
) -> None:
    assert AUTOSAVE_MS == 20_000
    projects._timer.setInterval(30)
    projects.take(finish(opening_locked(project)))
    change(projects, "First")
    # A second change does not put the autosave off.
    qtbot.wait(15)
    change(projects, "Second")
    qtbot.waitUntil((project / AUTOSAVE).exists, timeout=2000)
    assert on_disk(project, AUTOSAVE) == "Second"
    assert on_disk(project) == "Small"
    projects.save()
    assert not (project / AUTOSAVE).exists()


def test_work_that_was_left_is_offered_and_taken_up(projects: Projects, project: Path) -> None:
    projects.take(finish(opening_locked(project)))
    change(projects, "Left by a power cut")
    projects.autosave_now()
    projects.let_go(keep_autosave=True)
    opened = finish(opening_locked(project))
    assert opened.left is not None
    projects.take(opened, use_left=True)
    assert projects.document.adopted.title == "Left by a power cut"
    assert projects.is_unsaved()
    projects.document.undo()
    assert projects.document.adopted.title == "Small"


def test_a_damaged_autosave_is_told_and_harms_nothing(projects: Projects, project: Path) -> None:
    (project / AUTOSAVE).write_text("{", "utf-8")
    opened = finish(opening_locked(project))
    assert opened.left is None
    assert isinstance(opened.left_fault, ProjectDamaged)
    projects.take(opened)
    assert projects.document.adopted.title == "Small"


def test_leaving_clears_the_autosave_away(projects: Projects, project: Path) -> None:
    projects.take(finish(opening_locked(project)))
    change(projects, "Given up")
    projects.autosave_now()
    projects.clear()
    assert not (project / AUTOSAVE).exists()
    assert projects.document.adopted == Layout()
    assert projects.project is None


def test_the_save_before_the_last_is_not_saved_until_it_is(projects: Projects, project: Path) -> None:
    projects.take(finish(opening_locked(project)))
    change(projects, "Last")
    projects.save()
    projects.let_go()
    projects.take(finish(opening_locked(project, from_backup=True)))
    assert projects.document.adopted.title == "Small"
    assert projects.is_unsaved()
    projects.save()
    assert on_disk(project) == "Small"


def test_a_project_that_is_only_looked_at_is_never_written(projects: Projects, project: Path) -> None:
    before = {path.name: path.read_bytes() for path in project.iterdir() if path.is_file()}
    projects.take(finish(opening_locked(project, read_only=True)))
    change(projects, "Tried out")
    assert not projects.is_unsaved()
    projects.autosave_now()
    projects.keep_view({"step": "cup"})
    with pytest.raises(NotSaved):
        projects.save()
    projects.let_go()
    assert {path.name: path.read_bytes() for path in project.iterdir() if path.is_file()} == before


def test_versions_are_kept_and_taken_up(projects: Projects, project: Path) -> None:
    projects.take(finish(opening_locked(project)))
    projects.save_version("A")
    change(projects, "After A")
    with pytest.raises(BadValue):
        projects.save_version("A")
    projects.save_version("B")
    kept = projects.versions()
    assert [one.name for one in kept] == ["A", "B"]
    assert projects.version(kept[0]).title == "Small"
    projects.save_version("A", over=True)
    assert projects.version(projects.versions()[0]).title == "After A" or projects.versions()[-1].name == "A"


def test_the_view_comes_back_and_may_be_lost(projects: Projects, project: Path) -> None:
    projects.take(finish(opening_locked(project)))
    projects.keep_view({"step": "cup", "state": {"shifter-1.gear": "R"}})
    assert projects.view()["step"] == "cup"
    (project / "view.json").write_text("{", "utf-8")
    assert projects.view() == {}


def test_a_failing_autosave_is_told(qtbot: QtBot, projects: Projects, project: Path) -> None:
    projects._timer.setInterval(10)
    projects.take(finish(opening_locked(project)))
    # A folder in its place cannot be replaced by a file.
    (project / AUTOSAVE).mkdir()
    (project / AUTOSAVE / "x").write_text("x")
    with qtbot.waitSignal(projects.faulted, timeout=3000) as told:
        change(projects, "Another")
    assert isinstance(told.args[0], NotSaved)
    (project / AUTOSAVE / "x").unlink()
    (project / AUTOSAVE).rmdir()


# --- a copy ---------------------------------------------------------------------------------------------------------


def test_a_copy_holds_the_same_layout_scans_and_versions(
    projects: Projects, project: Path, tmp_path: Path
) -> None:
    projects.take(finish(opening_locked(project)))
    projects.save_version("A")
    change(projects, "Changed")
    held = projects.project
    assert held is not None
    folder = finish(copying(held, projects.document.adopted, tmp_path / "copy.floorpan", "The copy"))
    copy = open_project(folder)
    assert replace(copy.layout, title="Changed") == projects.document.adopted
    assert copy.layout.title == "The copy"
    assert copy.imports == held.imports
    assert copy.missing == frozenset()
    for one in (project / "imports").iterdir():
        assert (folder / "imports" / one.name).read_bytes() == one.read_bytes()
    assert [path.name for path in (folder / "versions").iterdir()] == ["a.json"]
    assert on_disk(project) == "Small"


def test_a_copy_that_is_stopped_leaves_nothing(project: Path, tmp_path: Path) -> None:
    held = open_project(project)
    work = copying(held, held.layout, tmp_path / "copy.floorpan", "Copy")
    next(work)
    work.close()
    assert not (tmp_path / "copy.floorpan").exists()


def test_a_copy_goes_nowhere_where_something_stands(project: Path, tmp_path: Path) -> None:
    held = open_project(project)
    (tmp_path / "taken").mkdir()
    (tmp_path / "taken" / "mine.txt").write_text("mine")
    with pytest.raises(ProjectProblem):
        finish(copying(held, held.layout, tmp_path / "taken", "Copy"))
    assert [path.name for path in (tmp_path / "taken").iterdir()] == ["mine.txt"]


def test_a_version_that_is_a_link_is_not_copied(
    project: Path, tmp_path: Path, make_link: Callable[[Path, Path], None]
) -> None:
    (project / "versions").mkdir()
    (tmp_path / "secret.json").write_text("{}")
    make_link(project / "versions" / "s.json", tmp_path / "secret.json")
    held = open_project(project)
    folder = finish(copying(held, held.layout, tmp_path / "copy.floorpan", "Copy"))
    assert not (folder / "versions" / "s.json").exists()


@pytest.fixture
def make_link() -> Callable[[Path, Path], None]:
    def link(place: Path, target: Path) -> None:
        try:
            place.symlink_to(target)
        except OSError as fault:
            pytest.skip(f"no links can be made here ({fault.strerror})")

    return link
