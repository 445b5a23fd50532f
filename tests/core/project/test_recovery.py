from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from floorpan.errors import NotSaved, ProjectDamaged
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.project.durable import temporary_beside
from floorpan.project.folder import AUTOSAVE, PROJECT, Project, create, import_scan, open_project, save
from floorpan.project.imports import IMPORTS
from floorpan.project.recovery import autosave, clean_close, newer_autosave

NOON = datetime(2026, 5, 4, 12, 0, tzinfo=UTC)
LATER = NOON + timedelta(minutes=7)


@pytest.fixture
def project(tmp_path: Path) -> Project:
    return create(tmp_path / "car.floorpan", "Console", now=NOON)


def test_work_that_was_never_saved_is_found_again(project: Project) -> None:
    autosave(project, Layout(title="Console", carpet_mm=9.0), now=LATER)
    found = newer_autosave(open_project(project.folder))
    assert found is not None
    assert (found.layout, found.saved) == (Layout(title="Console", carpet_mm=9.0), LATER)
    assert open_project(project.folder).layout == project.layout


def test_the_same_work_or_older_work_is_no_find(project: Project) -> None:
    assert newer_autosave(project) is None
    autosave(project, project.layout, now=LATER)
    assert newer_autosave(project) is None
    autosave(project, Layout(title="Other"), now=NOON - timedelta(seconds=1))
    assert newer_autosave(project) is None


def test_a_save_and_a_clean_close_leave_no_autosave(project: Project) -> None:
    autosave(project, Layout(title="Other"), now=LATER)
    saved = save(project, Layout(title="Other"), now=LATER)
    assert newer_autosave(saved) is None
    autosave(saved, Layout(title="Third"), now=LATER + timedelta(minutes=1))
    clean_close(saved)
    assert not (project.folder / AUTOSAVE).exists()


def test_a_scan_that_was_imported_and_not_saved_is_found_too(project: Project, tmp_path: Path) -> None:
    source = tmp_path / "a.ply"
    source.write_bytes(b"ply\n")
    imported, one = finish(import_scan(project, source))
    autosave(imported, Layout(title="With scan"), now=LATER)
    opened = open_project(project.folder)
    assert opened.imports == ()
    found = newer_autosave(opened)
    assert found is not None
    assert (found.project.imports, found.project.missing) == ((one,), frozenset())
    save(found.project, found.layout, now=LATER)
    assert open_project(project.folder).imports == (one,)


def test_an_autosave_that_cannot_be_read_is_told(project: Project) -> None:
    (project.folder / AUTOSAVE).write_bytes(b"\x00\x01")
    with pytest.raises(ProjectDamaged, match=r"autosave\.json"):
        newer_autosave(project)


def test_a_clean_close_sweeps_what_was_cut_short(project: Project, tmp_path: Path) -> None:
    source = tmp_path / "a.ply"
    source.write_bytes(b"ply\n")
    imported, one = finish(import_scan(project, source))
    for folder in (project.folder, project.folder / IMPORTS):
        temporary_beside(folder / "x").write_bytes(b"half")
    clean_close(imported)
    left = {path.relative_to(project.folder).as_posix() for path in project.folder.rglob("*")}
    assert left == {PROJECT, IMPORTS, f"{IMPORTS}/{one.file_name}"}


def test_looking_only_neither_autosaves_nor_sweeps(project: Project) -> None:
    looking = open_project(project.folder, read_only=True)
    with pytest.raises(NotSaved, match="look only"):
        autosave(looking, Layout(), now=LATER)
    autosave(project, Layout(title="Theirs"), now=LATER)
    clean_close(looking)
    assert (project.folder / AUTOSAVE).exists()
