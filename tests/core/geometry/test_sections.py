"""Plane sections: closed forms and another library's sections."""

from pathlib import Path

import numpy as np
import pytest
import trimesh

from floorpan.geometry.sections import chains, section
from floorpan.geometry.weld import weld
from floorpan.progress import finish
from floorpan.scan.read import read_scan
from made_up_sheets import bent, cube, globe, joined, sheet, tunnel_floor, without


def test_a_cube_gives_a_square() -> None:
    (square,) = section(cube(20.0), np.array([0.0, 0, 3]), np.array([0.0, 0, 1]))
    assert square.closed
    assert square.length_mm == pytest.approx(80.0)
    assert np.abs(square.points).max(axis=0) == pytest.approx([10, 10, 3])


def test_an_open_sheet_gives_an_open_line() -> None:
    mesh = bent(sheet(100, 60, 5.0), lambda x, y: 0.75 * x)
    (line,) = section(mesh, np.array([0.0, 1.0, 0.0]), np.array([0.0, 1.0, 0.0]))
    assert not line.closed
    assert line.length_mm == pytest.approx(125.0)
    assert (np.diff(line.points[:, 0]) > 0).all() or (np.diff(line.points[:, 0]) < 0).all()


def test_through_grid_points() -> None:
    """The plane runs through a row of points and along edges: one line all the same, no repeated places."""
    (line,) = section(sheet(100, 60, 5.0), np.zeros(3), np.array([0.0, 1.0, 0.0]))
    assert line.length_mm == pytest.approx(100.0)
    assert (np.linalg.norm(np.diff(line.points, axis=0), axis=1) > 0).all()


def test_a_hole_parts_the_line() -> None:
    lines = section(
        without(sheet(100, 60, 5.0), (-10, -10), (20, 10)), np.array([0.0, 1.0, 0]), np.array([0.0, 1, 0])
    )
    assert [line.length_mm for line in lines] == pytest.approx([40.0, 30.0])


def test_a_plane_that_misses() -> None:
    assert section(globe(), np.array([0.0, 0, 60]), np.array([0.0, 0, 1])) == ()


@pytest.mark.parametrize(
    "name", ["cups/food_can.obj", "scans_mesh/foot_reference.stl", "scans_mesh/sfm_owl.ply"]
)
def test_scans_agree_with_another_library(shared_data: Path, name: str) -> None:
    mesh = weld(finish(read_scan(shared_data / name)).mesh).mesh
    theirs = trimesh.Trimesh(mesh.points, mesh.faces, process=False)
    low, high = mesh.bounds
    for share in (0.31, 0.52, 0.77):
        at, normal = low + share * (high - low), np.array([0.2, 0.3, 0.9])
        lines = section(mesh, at, normal)
        segments = trimesh.intersections.mesh_plane(theirs, normal, at)
        length = np.linalg.norm(segments[:, 1] - segments[:, 0], axis=1).sum()
        assert sum(line.length_mm for line in lines) == pytest.approx(length, rel=1e-9)


def test_closed_solids_give_closed_lines(shared_data: Path) -> None:
    mesh = weld(finish(read_scan(shared_data / "cups/food_can.obj")).mesh).mesh
    lines = section(mesh, mesh.bounds.mean(axis=0), np.array([0.0, 1.0, 0.0]))
    assert lines
    assert all(line.closed for line in lines)


def test_two_islands_in_one_section() -> None:
    both = joined(tunnel_floor(10.0), globe(20.0))
    lines = section(both, np.array([3.0, 0, 0]), np.array([1.0, 0, 0]))
    assert len(lines) == 2
    assert {line.closed for line in lines} == {True, False}


def test_where_three_segments_meet_chains_part() -> None:
    found = chains(np.array([[0, 1], [1, 2], [1, 3], [3, 4]]))
    assert sorted(sorted(chain) for chain, _ in found) == [[0, 1], [1, 2], [1, 3, 4]]
