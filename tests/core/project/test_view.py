from datetime import UTC, datetime
from pathlib import Path

import pytest

from floorpan.project.folder import Project, create, open_project
from floorpan.project.view import VIEW, read_view, write_view


@pytest.fixture
def project(tmp_path: Path) -> Project:
    return create(tmp_path / "car", "Console", now=datetime(2026, 5, 4, tzinfo=UTC))


def test_how_it_was_looked_at_comes_back(project: Project) -> None:
    view = {"camera": [1.0, -2.5], "hidden": ["scan-1"], "state": {"shifter-1.gear": "R"}}
    assert read_view(project) == {}
    write_view(project, view)
    assert read_view(project) == view


@pytest.mark.parametrize("text", [b"", b"[1]", b"\xff", b"{" * 1000, b" " * (2 << 20)])
def test_a_view_that_is_lost_does_no_harm(text: bytes, project: Project) -> None:
    (project.folder / VIEW).write_bytes(text)
    assert read_view(project) == {}


def test_looking_only_keeps_no_view(project: Project) -> None:
    write_view(open_project(project.folder, read_only=True), {"hidden": []})
    assert not (project.folder / VIEW).exists()
