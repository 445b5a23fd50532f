from datetime import UTC, datetime
from pathlib import Path

import pytest

from floorpan.errors import NotSaved, ProjectProblem, UnitNeeded, UnreadableScan
from floorpan.progress import Step, finish
from floorpan.project import folder as folders
from floorpan.project.durable import write_whole
from floorpan.project.folder import open_project
from floorpan.project.starting import start_project
from floorpan.project.store import ProjectStore

NOON = datetime(2026, 5, 4, tzinfo=UTC)
# A floor of 1.2 m by 0.8 m, written in mm.
FLOOR = b"v 0 0 0\nv 1200 0 0\nv 1200 800 30\nv 0 800 0\nf 1 2 3\nf 1 3 4\n"


@pytest.fixture
def scan(tmp_path: Path) -> Path:
    path = tmp_path / "Boden links.obj"
    path.write_bytes(FLOOR)
    return path


def test_a_project_starts_with_its_scan(scan: Path, tmp_path: Path) -> None:
    steps: list[Step] = []
    project = finish(start_project(tmp_path / "Mein Auto.floorpan", scan, "mm", now=NOON), steps.append)
    assert open_project(tmp_path / "Mein Auto.floorpan") == project
    assert project.layout.title == "Mein Auto"
    (reference,) = project.layout.scans
    assert (reference.id, reference.name, reference.unit) == ("scan-1", "Boden links", "mm")
    assert (reference.original_name, reference.suffix) == ("Boden links.obj", ".obj")
    assert len(ProjectStore(project)[reference.sha256].mesh.faces) == 2
    assert [step.done for step in steps] == sorted(step.done for step in steps)


def test_without_a_unit_it_proposes_one_and_makes_nothing(scan: Path, tmp_path: Path) -> None:
    with pytest.raises(UnitNeeded) as caught:
        finish(start_project(tmp_path / "car", scan, None, now=NOON))
    assert caught.value.facts["proposed"] == "mm"
    assert "Boden links.obj" in caught.value.what
    assert not (tmp_path / "car").exists()


def test_a_file_that_is_no_scan_makes_nothing(tmp_path: Path) -> None:
    letter = tmp_path / "letter.ply"
    letter.write_bytes(b"Dear neighbour")
    for source in (letter, tmp_path / "nothing.ply"):
        with pytest.raises(UnreadableScan):
            finish(start_project(tmp_path / "car", source, "mm", now=NOON))
    assert not (tmp_path / "car").exists()


def test_a_folder_that_holds_something_is_left_alone(scan: Path, tmp_path: Path) -> None:
    with pytest.raises(ProjectProblem, match="not empty"):
        finish(start_project(tmp_path, scan, "mm", now=NOON))
    assert [path.name for path in tmp_path.iterdir()] == [scan.name]


@pytest.mark.parametrize("was_there", [True, False])
def test_one_that_fails_half_way_leaves_nothing(
    was_there: bool, scan: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = tmp_path / "car"
    if was_there:
        place.mkdir()
    calls = []

    def full_the_second_time(path: Path, data: bytes) -> None:
        calls.append(path)
        if len(calls) > 1:
            raise NotSaved("not-saved", "The disk is full.", "Free some room.")
        write_whole(path, data)

    monkeypatch.setattr(folders, "write_whole", full_the_second_time)
    with pytest.raises(NotSaved):
        finish(start_project(place, scan, "mm", now=NOON))
    assert len(calls) == 2
    assert place.exists() == was_there
    assert not was_there or list(place.iterdir()) == []


def test_one_that_is_stopped_leaves_nothing(scan: Path, tmp_path: Path) -> None:
    work = start_project(tmp_path / "car", scan, "mm", now=NOON)
    for step in work:
        if step.doing.startswith("copying"):
            break
    assert (tmp_path / "car").exists()
    work.close()
    assert not (tmp_path / "car").exists()


@pytest.mark.parametrize("name", ["\udcff\x07.floorpan", "x" * 200])
def test_a_title_is_made_of_any_folder_name(name: str, scan: Path, tmp_path: Path) -> None:
    try:
        (tmp_path / name).mkdir()
    except (OSError, UnicodeError):
        pytest.skip("this system takes no such folder name")
    project = finish(start_project(tmp_path / name, scan, "mm", now=NOON))
    assert 1 <= len(project.layout.title) <= 120
    assert open_project(tmp_path / name).layout == project.layout
