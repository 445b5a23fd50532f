import json
import os
import shutil
import sys
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from floorpan.errors import ProjectDamaged, ProjectNewer, ProjectProblem
from floorpan.layout import Layout, ScanRef
from floorpan.progress import finish
from floorpan.project.folder import (
    BACKUP,
    DAMAGED,
    PROJECT,
    Project,
    create,
    import_scan,
    open_project,
    opening,
    save,
)
from floorpan.project.imports import IMPORTS, Import, path_of
from made_up_layouts import layouts

NOON = datetime(2026, 5, 4, 12, 0, tzinfo=UTC)


@pytest.fixture
def project(tmp_path: Path) -> Project:
    return create(tmp_path / "car.floorpan", "Tunnel console", now=NOON)


def with_scan(project: Project, tmp_path: Path, data: bytes = b"ply\n") -> tuple[Project, Import]:
    source = tmp_path / "Boden Scan.ply"
    source.write_bytes(data)
    project, one = finish(import_scan(project, source))
    scan = ScanRef(
        id="scan-1",
        name="Floor",
        sha256=one.sha256,
        suffix=one.suffix,
        original_name=one.original_name,
        unit="mm",
    )
    layout = Layout(title="Tunnel console", scans=(scan,), last_number=(("scan", 1),))
    return save(project, layout, now=NOON), one


def read_json(path: Path) -> Any:
    return json.loads(path.read_text(encoding="utf-8"))


def test_a_new_project_opens_by_its_folder_and_by_its_file(project: Project) -> None:
    assert open_project(project.folder) == project
    assert open_project(project.folder / PROJECT) == project
    assert project.layout == Layout(title="Tunnel console")
    assert project.saved == NOON
    assert [path.name for path in project.folder.iterdir()] == [PROJECT]


def test_the_file_says_what_it_is_in_a_stable_order(project: Project) -> None:
    written = read_json(project.folder / PROJECT)
    assert list(written) == ["format", "floorpan", "saved", "layout", "imports"]
    assert (written["format"], written["saved"]) == (1, "2026-05-04T12:00:00.000+00:00")
    before = (project.folder / PROJECT).read_bytes()
    save(open_project(project.folder), project.layout, now=NOON)
    assert (project.folder / PROJECT).read_bytes() == before


def test_a_time_with_an_offset_is_the_same_time(project: Project) -> None:
    east = NOON.astimezone(timezone(timedelta(hours=9)))
    assert save(project, project.layout, now=east).saved == NOON
    assert open_project(project.folder).saved == NOON


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(layout=layouts())
def test_save_then_open_is_the_same_layout(layout: Layout, project: Project) -> None:
    saved = save(project, layout, now=NOON)
    assert open_project(project.folder).layout == layout == saved.layout


def test_the_save_before_is_kept(project: Project) -> None:
    first = (project.folder / PROJECT).read_bytes()
    save(project, Layout(title="Second"), now=NOON)
    assert (project.folder / BACKUP).read_bytes() == first
    opened = open_project(project.folder, from_backup=True)
    assert (opened.layout, opened.notes[0].what) == (project.layout, "This is the save before the last.")
    assert open_project(project.folder / BACKUP) == opened


def test_a_damaged_save_never_becomes_the_backup(project: Project) -> None:
    save(project, Layout(title="Second"), now=NOON)
    good = (project.folder / BACKUP).read_bytes()
    (project.folder / PROJECT).write_bytes(b'{"format": 1, "layout": {"title": "Sec')
    with pytest.raises(ProjectDamaged, match=r"project\.json\.bak"):
        open_project(project.folder)
    opened = open_project(project.folder, from_backup=True)
    save(opened, opened.layout, now=NOON)
    assert (project.folder / BACKUP).read_bytes() == good
    assert (project.folder / DAMAGED).read_bytes() == b'{"format": 1, "layout": {"title": "Sec'
    assert open_project(project.folder).layout == Layout(title="Tunnel console")


def test_a_missing_save_points_to_the_one_before(project: Project) -> None:
    save(project, project.layout, now=NOON)
    (project.folder / PROJECT).unlink()
    with pytest.raises(ProjectDamaged, match=r"Open project\.json\.bak"):
        open_project(project.folder)


def test_a_newer_project_is_neither_opened_nor_written_over(project: Project) -> None:
    newer = read_json(project.folder / PROJECT) | {"format": 99}
    text = json.dumps(newer).encode()
    (project.folder / PROJECT).write_bytes(text)
    with pytest.raises(ProjectNewer, match="newer floorpan"):
        open_project(project.folder)
    with pytest.raises(ProjectNewer):
        save(project, project.layout, now=NOON)
    assert (project.folder / PROJECT).read_bytes() == text


def test_keys_of_another_hand_survive_a_save(project: Project) -> None:
    written = read_json(project.folder / PROJECT)
    written["colour"] = {"of": "the car"}
    written["layout"]["mood"] = [1, None]
    (project.folder / PROJECT).write_text(json.dumps(written), encoding="utf-8")
    opened = open_project(project.folder)
    save(opened, Layout(title="Other"), now=NOON)
    again = read_json(project.folder / PROJECT)
    assert (again["colour"], again["layout"]["mood"], again["layout"]["title"]) == (
        {"of": "the car"},
        [1, None],
        "Other",
    )


# --- scans ------------------------------------------------------------------------------------------------------


def test_a_scan_is_in_the_table_with_where_it_came_from(project: Project, tmp_path: Path) -> None:
    saved, one = with_scan(project, tmp_path)
    table = read_json(saved.folder / PROJECT)["imports"]
    assert table == {one.sha256: {"original_name": "Boden Scan.ply", "suffix": ".ply", "size_bytes": 4}}
    opened = open_project(saved.folder)
    assert (opened.imports, opened.missing, opened.notes) == ((one,), frozenset(), ())
    assert path_of(opened.folder, one).read_bytes() == b"ply\n"


def test_the_same_scan_is_listed_once_even_under_another_ending(project: Project, tmp_path: Path) -> None:
    saved, one = with_scan(project, tmp_path)
    other = tmp_path / "copy.stl"
    other.write_bytes(b"ply\n")
    again, same = finish(import_scan(saved, other))
    assert (again.imports, same) == ((one,), one)
    assert [path.name for path in (saved.folder / IMPORTS).iterdir()] == [one.file_name]


@pytest.mark.parametrize("harm", ["missing", "changed", "longer", "folder gone"])
def test_a_scan_that_is_not_as_it_was_opens_with_a_note(harm: str, project: Project, tmp_path: Path) -> None:
    saved, one = with_scan(project, tmp_path)
    path = path_of(saved.folder, one)
    if harm == "missing":
        path.unlink()
    elif harm == "folder gone":
        shutil.rmtree(path.parent)
    else:
        path.write_bytes(b"plx\n" if harm == "changed" else b"ply\n\n")
    opened = open_project(saved.folder)
    assert opened.layout == saved.layout
    assert (opened.missing, opened.usable()) == (frozenset({one.sha256}), ())
    (note,) = opened.notes
    assert ("Boden Scan.ply" in note.what, note.sha256) == (True, one.sha256)
    mended, _ = finish(import_scan(opened, tmp_path / "Boden Scan.ply"))
    assert (mended.missing, mended.notes, mended.imports) == (frozenset(), (), (one,))
    assert open_project(saved.folder).notes == ()


def test_a_scan_that_no_table_lists_is_missing(project: Project) -> None:
    scan = ScanRef(id="scan-1", name="x", sha256="0" * 64, suffix=".ply", original_name="lost.ply", unit="mm")
    save(project, Layout(scans=(scan,)), now=NOON)
    opened = open_project(project.folder)
    assert "lost.ply was never copied" in opened.notes[0].what
    assert opened.missing == {"0" * 64}


def test_opening_tells_how_far_it_has_come(project: Project, tmp_path: Path) -> None:
    with_scan(project, tmp_path, bytes(3_000_000))
    steps: list[float] = []
    finish(opening(project.folder), lambda step: steps.append(step.done))
    assert len(steps) >= 3
    assert steps == sorted(steps)
    assert steps[-1] == 1.0


@pytest.mark.parametrize(
    ("sha256", "entry", "word"),
    [
        ("../../../etc/passwd", {"original_name": "a", "suffix": ".ply", "size_bytes": 1}, "64 hex digits"),
        ("a" * 64, {"original_name": "a", "suffix": "/../../x", "size_bytes": 1}, "file ending"),
        ("a" * 64, {"original_name": "a", "suffix": ".ply"}, "size_bytes is missing"),
        ("a" * 64, {"original_name": "a", "suffix": ".ply", "size_bytes": -1}, "Size"),
        ("a" * 64, [], "a group of named values"),
    ],
)
def test_a_table_that_leads_elsewhere_is_refused(
    sha256: str, entry: Any, word: str, project: Project
) -> None:
    written = read_json(project.folder / PROJECT) | {"imports": {sha256: entry}}
    (project.folder / PROJECT).write_text(json.dumps(written), encoding="utf-8")
    with pytest.raises(ProjectDamaged, match=word) as caught:
        open_project(project.folder)
    assert "imports" in caught.value.what


# --- what cannot be opened ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        b"",
        b"\x00" * 1000,
        os.urandom(1000),
        b"\x89PNG\r\n",
        b"[]",
        b"null",
        b'"text"',
        b"{}",
        b'{"format": 1}',
        b'{"format": 1, "saved": "2026-05-04", "layout": []}',
        b'{"format": 1, "saved": "yesterday", "layout": {}}',
        b'{"format": 1, "saved": 5, "layout": {}}',
        b'{"format": 1, "saved": "2026-05-04", "layout": {}, "imports": []}',
        b'{"format": 1, "layout": ' + b"[" * 100_000,
        b'{"format": ' + b"9" * 10_000 + b"}",
        b'{"format": 1, "saved": "2026-05-04", "layout": {"carpet_mm": 1e999}}',
        b'{"format": 1, "saved": "2026-05-04", "layout": {"carpet_mm": ' + b"9" * 299 + b"}}",
        b'{"format": 1, "saved": "2026-05-04", "layout": {"title": "a\\u0000b"}}',
    ],
)
def test_a_file_that_is_no_layout_is_refused_and_left_alone(text: bytes, project: Project) -> None:
    (project.folder / PROJECT).write_bytes(text)
    with pytest.raises(ProjectDamaged) as caught:
        open_project(project.folder)
    assert caught.value.what.startswith("project.json")
    assert caught.value.remedy
    assert (project.folder / PROJECT).read_bytes() == text


def test_what_is_no_project_is_said_to_be_none(tmp_path: Path) -> None:
    (tmp_path / "file.txt").write_text("hello")
    (tmp_path / "empty").mkdir()
    for place in ("file.txt", "empty", "nothing", "empty/project.json", "x" * 5000, "file.txt/project.json"):
        with pytest.raises(ProjectProblem) as caught:
            open_project(tmp_path / place)
        assert (caught.value.code, bool(caught.value.remedy)) == ("no-project", True)


def test_a_folder_in_place_of_the_file_is_refused(project: Project) -> None:
    (project.folder / PROJECT).unlink()
    (project.folder / PROJECT).mkdir()
    with pytest.raises(ProjectProblem):
        open_project(project.folder)


@pytest.mark.skipif(sys.platform == "win32", reason="links of a POSIX system")
def test_a_project_file_that_is_a_link_is_refused(project: Project, tmp_path: Path) -> None:
    (project.folder / PROJECT).rename(tmp_path / "elsewhere.json")
    (project.folder / PROJECT).symlink_to(tmp_path / "elsewhere.json")
    with pytest.raises(ProjectDamaged, match="link"):
        open_project(project.folder)
