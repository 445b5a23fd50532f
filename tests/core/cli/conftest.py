"""A small project on disk for the commands to work on."""

import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.project.folder import create, import_scan, save
from floorpan.scan.writers import write_ply

NOON = datetime(2026, 5, 4, 12, 0, tzinfo=UTC)


@pytest.fixture(scope="session")
def kept_project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One of everything on a level floor of 1.4 m square."""
    folder = tmp_path_factory.mktemp("cli")
    mesh = level_floor()
    source = folder / "Boden eben.ply"
    write_ply(mesh, source)
    project = create(folder / "Klein & fein.floorpan", "Small", now=NOON)
    project, one = finish(import_scan(project, source))
    layout = small_layout(raw_scan(mesh))
    layout = edits.change_scan(layout, "scan-1", sha256=one.sha256, original_name=one.original_name)
    save(project, layout, now=NOON)
    return project.folder


@pytest.fixture
def project(kept_project: Path, tmp_path: Path) -> Path:
    """A copy of it that a test may harm."""
    return Path(shutil.copytree(kept_project, tmp_path / kept_project.name))


@pytest.fixture
def empty_project(tmp_path: Path) -> Path:
    """A project in which nothing stands yet."""
    return save(create(tmp_path / "leer", "Empty", now=NOON), Layout(title="Empty"), now=NOON).folder


@pytest.fixture
def floor_file(tmp_path: Path) -> Path:
    """A scan of a level floor, 1.4 m square, in mm, as a file that carries no unit."""
    path = tmp_path / "пол и дыра.ply"
    write_ply(level_floor(), path)
    return path
