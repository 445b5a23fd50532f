"""Where a project can be made, and what keeps it from being saved."""

import dataclasses
import errno
import os
import shutil
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from floorpan.errors import BadValue, NotSaved, ProjectProblem
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.project import durable
from floorpan.project.folder import AUTOSAVE, PROJECT, Project, create, import_scan, open_project, save

NOON = datetime(2026, 5, 4, 12, 0, tzinfo=UTC)


@pytest.fixture
def project(tmp_path: Path) -> Project:
    return create(tmp_path / "car.floorpan", "Tunnel console", now=NOON)


@pytest.mark.parametrize(
    "name",
    ["Mein Auto 2", "автомобиль.floorpan", "床.floorpan", 'a\'b "c" $d;e', "-rf", " lead", "n\u00e4he"],
)
def test_a_folder_may_have_any_name(name: str, tmp_path: Path) -> None:
    project = create(tmp_path / "deep er" / name, "x", now=NOON)
    assert open_project(tmp_path / "deep er" / name) == project


def test_a_long_way_down_is_a_folder_too(tmp_path: Path) -> None:
    place = tmp_path
    while len(str(place)) < 1500:
        place = place / ("d" * 200)
    project = create(place, "x", now=NOON)
    assert open_project(place) == project


def test_an_empty_folder_becomes_the_project(tmp_path: Path) -> None:
    assert create(tmp_path, "x", now=NOON).folder == tmp_path


def test_nothing_is_made_where_something_stands(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    with pytest.raises(ProjectProblem, match="not empty"):
        create(tmp_path, "x", now=NOON)
    with pytest.raises(ProjectProblem, match="is a file"):
        create(tmp_path / "notes.txt", "x", now=NOON)
    assert [path.name for path in tmp_path.iterdir()] == ["notes.txt"]


def test_a_name_that_no_system_takes_is_told(tmp_path: Path) -> None:
    with pytest.raises(NotSaved):
        create(tmp_path / ("x" * 300), "x", now=NOON)
    (tmp_path / "file").write_text("")
    with pytest.raises(NotSaved):
        create(tmp_path / "file" / "car", "x", now=NOON)


def test_a_title_that_does_not_fit_makes_no_folder(tmp_path: Path) -> None:
    with pytest.raises(BadValue):
        create(tmp_path / "car", "x" * 121, now=NOON)
    assert not (tmp_path / "car").exists()


def test_a_disk_that_is_full_leaves_the_last_save_and_no_new_folder(
    project: Project, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = {path.name: path.read_bytes() for path in project.folder.iterdir()}

    def full(file: int, data: bytes) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(durable, "write_all", full)
    with pytest.raises(NotSaved, match="disk is full"):
        save(project, Layout(title="Second"), now=NOON)
    assert {path.name: path.read_bytes() for path in project.folder.iterdir()} == before
    with pytest.raises(NotSaved):
        create(tmp_path / "other", "x", now=NOON)
    assert not (tmp_path / "other").exists()


def test_a_folder_that_is_gone_is_told(project: Project) -> None:
    shutil.rmtree(project.folder)
    with pytest.raises(NotSaved):
        save(project, project.layout, now=NOON)


def test_what_was_opened_to_look_only_is_never_written(project: Project, tmp_path: Path) -> None:
    looking = open_project(project.folder, read_only=True)
    source = tmp_path / "a.ply"
    source.write_bytes(b"ply\n")
    with pytest.raises(NotSaved, match="look only"):
        save(looking, looking.layout, now=NOON)
    with pytest.raises(NotSaved, match="look only"):
        finish(import_scan(looking, source))
    assert [path.name for path in project.folder.iterdir()] == [PROJECT]


def test_half_a_character_is_told_before_anything_is_written(project: Project) -> None:
    before = (project.folder / PROJECT).read_bytes()
    with pytest.raises(NotSaved, match="half a character"):
        save(project, Layout(title="\ud800"), now=NOON)
    assert (project.folder / PROJECT).read_bytes() == before


def test_a_save_takes_the_autosave_away(project: Project) -> None:
    (project.folder / AUTOSAVE).write_bytes(b"old")
    save(project, project.layout, now=NOON)
    assert not (project.folder / AUTOSAVE).exists()


def test_without_a_time_the_clock_is_read(project: Project) -> None:
    saved = save(project, project.layout)
    assert abs(datetime.now(UTC) - saved.saved) < timedelta(minutes=5)


def test_the_very_same_project_is_equal_and_another_is_not(project: Project) -> None:
    assert dataclasses.replace(project, layout=Layout()) != project


@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() != 0, reason="needs to become somebody else")
def test_a_folder_that_takes_no_files_opens_and_is_not_saved(project: Project) -> None:
    """The system's own refusal: as somebody who may read the folder and not write it."""
    for folder in (project.folder, *project.folder.parents):
        if not os.stat(folder).st_mode & 0o005:
            folder.chmod(0o755)
    os.seteuid(65534)
    try:
        opened = open_project(project.folder)
        with pytest.raises(NotSaved, match="takes no files"):
            save(opened, opened.layout, now=NOON)
        with pytest.raises(NotSaved, match="takes no files"):
            create(project.folder / "inside" / "car", "x", now=NOON)
    finally:
        os.seteuid(0)
