import struct
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from floorpan.errors import ProjectDamaged, UnreadableScan
from floorpan.progress import Step, finish
from floorpan.project.folder import Project, create, import_scan, open_project, save
from floorpan.project.imports import Import, path_of
from floorpan.project.store import ProjectStore

NOON = datetime(2026, 5, 4, tzinfo=UTC)
CORNERS = [(0.0, 0.0, 0.0), (900.0, 0.0, 0.0), (900.0, 600.0, 0.0), (0.0, 600.0, 40.0)]


def ply(corners: list[tuple[float, float, float]]) -> bytes:
    """Two triangles over four corners, in the binary form that scanners write."""
    head = (
        "ply\nformat binary_little_endian 1.0\nelement vertex 4\nproperty float x\nproperty float y\n"
        "property float z\nelement face 2\nproperty list uchar int vertex_indices\nend_header\n"
    )
    points = b"".join(struct.pack("<3f", *corner) for corner in corners)
    return head.encode() + points + struct.pack("<B3i", 3, 0, 1, 2) + struct.pack("<B3i", 3, 0, 2, 3)


@pytest.fixture
def project(tmp_path: Path) -> Project:
    project = create(tmp_path / "car", "Console", now=NOON)
    for number, lift in enumerate((0.0, 10.0)):
        source = tmp_path / f"scan {number}.ply"
        source.write_bytes(ply([(x, y, z + lift) for x, y, z in CORNERS]))
        project, _ = finish(import_scan(project, source))
    save(project, project.layout, now=NOON)
    return open_project(project.folder)


def first(project: Project) -> Import:
    return project.imports[0]


def test_every_scan_is_in_it_and_read_as_it_was_written(project: Project) -> None:
    store = ProjectStore(project)
    assert set(store) == {one.sha256 for one in project.imports}
    assert len(store) == 2
    np.testing.assert_array_equal(store[first(project).sha256].mesh.points, CORNERS)


def test_a_scan_is_read_once(project: Project) -> None:
    store = ProjectStore(project)
    sha256 = first(project).sha256
    scan = store[sha256]
    path_of(project.folder, first(project)).unlink()
    assert store[sha256] is scan
    assert sha256 in store


def test_looking_whether_a_scan_is_there_reads_nothing(project: Project) -> None:
    path_of(project.folder, first(project)).write_bytes(b"no scan at all")
    assert first(project).sha256 in ProjectStore(project)
    assert len(list(ProjectStore(project))) == 2


def test_reading_tells_how_far_it_has_come(project: Project) -> None:
    steps: list[Step] = []
    finish(ProjectStore(project).load(first(project).sha256), steps.append)
    assert steps
    assert [step.done for step in steps] == sorted(step.done for step in steps)
    assert steps[-1].done == 1.0


def test_a_scan_that_is_missing_is_not_in_it_until_it_is_found(project: Project, tmp_path: Path) -> None:
    path_of(project.folder, first(project)).unlink()
    opened = open_project(project.folder)
    store = ProjectStore(opened)
    sha256 = first(project).sha256
    assert (sha256 in store, len(store), store.get(sha256)) == (False, 1, None)
    with pytest.raises(KeyError):
        store[sha256]
    found, _ = finish(import_scan(opened, tmp_path / "scan 0.ply"))
    store.follow(found)
    np.testing.assert_array_equal(store[sha256].mesh.points, CORNERS)


def test_a_scan_that_changes_behind_its_back_is_not_believed(project: Project) -> None:
    store = ProjectStore(project)
    path_of(project.folder, first(project)).write_bytes(ply([(2 * x, y, z) for x, y, z in CORNERS]))
    with pytest.raises(ProjectDamaged, match=r"scan 0\.ply has changed"):
        store[first(project).sha256]


def test_a_file_that_is_no_scan_is_told(project: Project, tmp_path: Path) -> None:
    source = tmp_path / "letter.ply"
    source.write_bytes(b"Dear neighbour")
    with_letter, one = finish(import_scan(project, source))
    with pytest.raises(UnreadableScan):
        ProjectStore(with_letter)[one.sha256]
