"""Parts from mesh files in a project: kept as scans are, saved and there again, refused without a trace."""

import json
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from core.geometry.test_mesh_solids import box_mesh
from floorpan import edits
from floorpan.errors import BadValue, FloorpanError, NoSurface, ScanProblem, UnitNeeded, UnreadableScan
from floorpan.geometry.mesh import Mesh
from floorpan.items import MeshPart
from floorpan.progress import finish
from floorpan.project.folder import PROJECT, Project, create, open_project, save
from floorpan.project.imports import path_of
from floorpan.project.part_import import importing_part, looked_at
from floorpan.project.store import ProjectStore
from floorpan.scan import part_mesh as meshes
from floorpan.scan.part_mesh import part_mesh
from floorpan.scan.read import read_scan
from floorpan.scan.writers import write_ply

NOON = datetime(2026, 5, 4, tzinfo=UTC)
ACCEPTED = {
    "cube_bad.stl",
    "unit_cube.STL",
    "moebius.obj",
    "multibody.stl",
    "soup.stl",
    "single_triangle_no_normal.stl",
}
REFUSED = {"empty.stl", "inf_nan.obj", "points_emptyface.ply", "malformed.obj"}


@pytest.fixture
def project(tmp_path: Path) -> Project:
    return create(tmp_path / "car", "Console", now=NOON)


@pytest.fixture
def lid(tmp_path: Path) -> Path:
    """A lid of 300 by 160 by 20, far from its file's origin."""
    path = tmp_path / "Deckel links.PLY"
    write_ply(box_mesh((1000.0, -80.0, 700.0), (1300.0, 80.0, 720.0)), path)
    return path


def kept(project: Project) -> list[str]:
    folder = project.folder / "imports"
    return sorted(path.name for path in folder.iterdir()) if folder.exists() else []


def test_a_part_is_kept_saved_and_there_again(project: Project, lid: Path) -> None:
    project, part = finish(importing_part(project, lid, "mm", "console shell"))
    layout, id = edits.add(project.layout, part)
    layout = edits.change(layout, id, motion="swings", lean_deg=4.0, axis_x_mm=150.0)
    save(project, layout, now=NOON)
    again = open_project(project.folder)
    assert again.layout == layout
    assert not again.missing
    assert not again.notes
    (thing,) = again.layout.of(MeshPart)
    assert (thing.id, thing.name, thing.counts_as) == ("mesh-part-1", "Deckel links", "console shell")
    assert (thing.suffix, thing.original_name) == (".ply", "Deckel links.PLY")
    assert thing.sides_mm() == pytest.approx((300.0, 160.0, 20.0))
    mesh = finish(part_mesh(ProjectStore(again)[thing.sha256], thing.unit))
    assert mesh.closed
    # The middle of its underside is its origin.
    assert mesh.mesh.bounds.tolist() == [[-150.0, -80.0, 0.0], [150.0, 80.0, 20.0]]
    assert path_of(again.folder, again.imports[0]).read_bytes() == lid.read_bytes()


def test_without_a_unit_it_is_asked_for_and_nothing_is_scaled_silently(project: Project, lid: Path) -> None:
    with pytest.raises(UnitNeeded) as asked:
        finish(importing_part(project, lid, None))
    assert asked.value.facts["proposed"] == "mm"
    assert kept(project) == []
    _, part = finish(importing_part(project, lid, "cm"))
    assert part.sides_mm() == pytest.approx((3000.0, 1600.0, 200.0))


def test_a_unit_that_makes_it_longer_than_a_car_is_refused_and_nothing_kept(
    project: Project, lid: Path
) -> None:
    with pytest.raises(BadValue) as refused:
        finish(importing_part(project, lid, "m"))
    assert refused.value.code == "part-too-long"
    assert "300 m" in refused.value.what
    assert kept(project) == []


def test_a_file_that_is_gone_is_told_when_the_project_opens(project: Project, lid: Path) -> None:
    project, part = finish(importing_part(project, lid, "mm"))
    layout, _ = edits.add(project.layout, part)
    save(project, layout, now=NOON)
    path_of(project.folder, project.imports[0]).unlink()
    again = open_project(project.folder)
    assert again.missing == {part.sha256}
    assert "The mesh file Deckel links.PLY is missing" in again.notes[0].what
    assert part.sha256 not in ProjectStore(again)
    # A layout that names a file nobody ever copied in is told of as well.
    text = json.loads((project.folder / PROJECT).read_text())
    text["imports"] = {}
    (project.folder / PROJECT).write_text(json.dumps(text))
    assert "was never copied" in open_project(project.folder).notes[0].what


def test_points_and_a_mesh_too_fine_are_no_part(
    project: Project, tmp_path: Path, lid: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    points = tmp_path / "cloud.xyz"
    np.savetxt(points, np.random.default_rng(0).uniform(0.0, 500.0, (300, 3)))
    with pytest.raises(NoSurface) as refused:
        finish(importing_part(project, points, "mm"))
    assert refused.value.code == "part-points-only"
    monkeypatch.setattr(meshes, "MOST_TRIANGLES", 11)
    with pytest.raises(UnreadableScan) as fine:
        finish(importing_part(project, lid, "mm"))
    assert fine.value.code == "part-too-fine"
    assert kept(project) == []


def test_an_open_mesh_is_told_to_be_open(tmp_path: Path, lid: Path) -> None:
    assert finish(looked_at(finish(read_scan(lid)), "mm")) == ()
    box = box_mesh((0.0, 0.0, 0.0), (300.0, 200.0, 100.0))
    path = tmp_path / "open.ply"
    write_ply(Mesh(box.points, box.faces[2:]), path)
    [told] = finish(looked_at(finish(read_scan(path)), "mm"))
    assert told.startswith("The mesh is not closed (4 open edges)")


def test_damaged_meshes_are_taken_or_refused_with_one_message(
    project: Project, shared_data: Path, tmp_path: Path
) -> None:
    """Every file of the open set of damaged meshes: none breaks off, and what is refused leaves nothing behind."""
    taken: set[str] = set()
    refused: dict[str, FloorpanError] = {}
    for path in sorted((shared_data / "bad_meshes").iterdir()):
        before = kept(project)
        try:
            raw = finish(read_scan(path))
            told = finish(looked_at(raw, "mm"))
            after, part = finish(importing_part(project, path, "mm"))
        except FloorpanError as fault:
            refused[path.name] = fault
        if path.name in refused:
            assert kept(project) == before
            continue
        taken.add(path.name)
        project = after
        assert raw.dropped == {} or any(line.startswith("Left out: ") for line in told)
        layout, _ = edits.add(project.layout, part)
        assert layout.of(MeshPart)
    assert taken >= ACCEPTED
    assert set(refused) >= REFUSED
    for fault in refused.values():
        assert fault.what
        assert fault.remedy
        assert isinstance(fault, ScanProblem | BadValue)
