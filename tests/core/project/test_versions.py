import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from floorpan.errors import BadValue, NotSaved, ProjectDamaged, ProjectProblem
from floorpan.layout import Layout
from floorpan.project.folder import Project, create, open_project
from floorpan.project.versions import VERSIONS, open_version, save_version, versions

NOON = datetime(2026, 5, 4, 12, 0, tzinfo=UTC)


@pytest.fixture
def project(tmp_path: Path) -> Project:
    return create(tmp_path / "car.floorpan", "Console", now=NOON)


def test_a_layout_is_kept_under_its_name_and_comes_back(project: Project) -> None:
    layout = Layout(title="Console", carpet_mm=8.0)
    kept = save_version(project, layout, "  Höher,  Variante 2/3 ", now=NOON)
    assert (kept.name, kept.path.name) == ("Höher, Variante 2/3", "hoher-variante-2-3.json")
    assert versions(project) == (kept,)
    assert open_version(project, kept.path) == layout
    assert open_project(project.folder).layout == project.layout


def test_versions_come_oldest_first_and_damaged_ones_last(project: Project) -> None:
    later = save_version(project, project.layout, "a later", now=NOON + timedelta(hours=1))
    first = save_version(project, project.layout, "z first", now=NOON)
    (project.folder / VERSIONS / "broken.json").write_bytes(b"{")
    listed = versions(project)
    assert [one.name for one in listed] == ["z first", "a later", "broken"]
    assert listed[:2] == (first, later)
    assert "versions/broken.json cannot be read" in listed[2].fault
    with pytest.raises(ProjectDamaged):
        open_version(project, listed[2].path)


def test_a_name_is_kept_once_unless_told_otherwise(project: Project) -> None:
    save_version(project, project.layout, "Version A", now=NOON)
    for name in ("Version A", "version a", "VERSION/A"):
        with pytest.raises(BadValue, match="kept already"):
            save_version(project, Layout(), name, now=NOON)
    kept = save_version(project, Layout(title="Other"), "Version A", now=NOON, replace=True)
    assert open_version(project, kept.path) == Layout(title="Other")


@pytest.mark.parametrize("name", ["", "   ", "x" * 121, "a\u0000b", "a\u202eb"])
def test_a_version_has_a_name(name: str, project: Project) -> None:
    with pytest.raises(BadValue, match="characters"):
        save_version(project, project.layout, name, now=NOON)
    assert versions(project) == ()


@pytest.mark.parametrize("name", ["../project", "con", "...", "/etc/passwd", "床"])
def test_every_name_stays_in_its_folder(name: str, project: Project) -> None:
    kept = save_version(project, project.layout, name, now=NOON)
    assert kept.path.resolve().parent == (project.folder / VERSIONS).resolve()
    assert versions(project) == (kept,)


def test_a_version_that_is_not_there_is_told(project: Project) -> None:
    for path in (Path("nothing.json"), Path("../project.json"), Path("/etc/passwd")):
        with pytest.raises(ProjectProblem, match="There is no version"):
            open_version(project, path)


def test_looking_only_keeps_no_version(project: Project) -> None:
    with pytest.raises(NotSaved, match="look only"):
        save_version(open_project(project.folder, read_only=True), Layout(), "A", now=NOON)


@pytest.mark.skipif(sys.platform == "win32", reason="links of a POSIX system")
def test_a_folder_of_versions_that_leads_out_is_not_written(project: Project, tmp_path: Path) -> None:
    (tmp_path / "outside").mkdir()
    (project.folder / VERSIONS).symlink_to(tmp_path / "outside")
    with pytest.raises(NotSaved, match="link"):
        save_version(project, project.layout, "A", now=NOON)
    assert list((tmp_path / "outside").iterdir()) == []
