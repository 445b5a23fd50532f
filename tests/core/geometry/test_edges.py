"""Edges, loops and islands against two general mesh libraries and against counts known beforehand."""

from pathlib import Path

import igl
import numpy as np
import pytest
import trimesh

from floorpan.geometry.edges import boundary_loops, edges, islands
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.weld import weld
from floorpan.progress import finish
from floorpan.scan.read import read_scan
from made_up_sheets import cube, joined, sheet, without

REAL = [
    "scans_mesh/sfm_owl.ply",
    "scans_mesh/sfm_seaVase.ply",
    "scans_mesh/wavy_mesh_with_hole.ply",
    "scans_depthcam/depthcam_stacked_boxes.ply",
    "bad_meshes/moebius.obj",
    "bad_meshes/cube_bad.stl",
    "bad_meshes/fan3.obj",
    "bad_meshes/non_manifold_wrap.obj",
]


@pytest.fixture(params=REAL)
def real(request: pytest.FixtureRequest, shared_data: Path) -> Mesh:
    return weld(finish(read_scan(shared_data / request.param)).mesh).mesh


def test_a_cube_has_18_edges_and_none_open() -> None:
    """Euler: V - E + F = 2 with 8 points and 12 triangles."""
    found = edges(cube())
    assert len(found.pairs) == 18
    assert (found.uses == 2).all()
    assert len(found.open_pairs) == 0
    assert found.non_manifold == found.flipped == 0
    assert boundary_loops(cube()) == ()


def test_open_and_many_faced_edges_agree_with_a_mesh_library(real: Mesh) -> None:
    """trimesh counts how often each sorted edge comes."""
    theirs = trimesh.Trimesh(real.points, real.faces, process=False)
    _, uses = np.unique(theirs.edges_sorted, axis=0, return_counts=True)
    found = edges(real)
    assert len(found.pairs) == len(uses)
    assert len(found.open_pairs) == int((uses == 1).sum())
    assert found.non_manifold == int((uses > 2).sum())


def test_every_open_edge_is_in_one_loop(real: Mesh) -> None:
    found = edges(real)
    walked = [
        tuple(sorted(pair))
        for loop in boundary_loops(real)
        for pair in zip(loop, np.roll(loop, -1), strict=True)
    ]
    assert len(walked) == len(set(walked))
    opened = {tuple(sorted(pair)) for pair in found.open_pairs.tolist()}
    if found.non_manifold == 0:
        assert set(walked) == opened
    else:
        # Where three faces meet, a loop may be joined straight, and a lone edge is no loop.
        at = set(found.pairs[found.uses > 2].ravel().tolist())
        assert all(set(pair) & at for pair in opened - set(walked))
        assert len(opened - set(walked)) <= found.non_manifold


@pytest.mark.parametrize(
    "name", ["scans_mesh/wavy_mesh_with_hole.ply", "scans_depthcam/depthcam_two_round_objects.ply"]
)
def test_loops_agree_with_another_library(shared_data: Path, name: str) -> None:
    """libigl's boundary loops, as sets of points, on scans whose loops do not touch."""
    mesh = weld(finish(read_scan(shared_data / name)).mesh).mesh
    theirs = {frozenset(loop) for loop in igl.boundary_loop_all(mesh.faces.astype(np.int64))}
    mine = {frozenset(loop.tolist()) for loop in boundary_loops(mesh)}
    touching = sum(len(loop) for loop in theirs) != len(set().union(*theirs))
    assert touching or mine == theirs
    assert set().union(*mine) == set().union(*theirs)


def test_loops_run_with_the_faces_on_their_left() -> None:
    """Seen from above, the rim of a sheet facing up runs counter-clockwise and a hole clockwise."""
    mesh = without(sheet(100.0, 100.0, 10.0), (-20, -20), (20, 20))
    rim, hole = boundary_loops(mesh)

    def area(loop: np.ndarray) -> float:
        x, y = mesh.points[loop, 0], mesh.points[loop, 1]
        return float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum() / 2)

    assert area(rim) == pytest.approx(10_000.0)
    assert area(hole) == pytest.approx(-1_600.0)


def test_holes_that_touch_in_a_point_come_apart() -> None:
    """Two square holes corner to corner are two loops of 8 points that share one."""
    whole = without(without(sheet(100.0, 100.0, 10.0), (-20, -20), (0, 0)), (0, 0), (20, 20))
    rim, one, two = boundary_loops(whole)
    assert len(rim) == 40
    assert len(one) == len(two) == 8
    assert len(set(one.tolist()) & set(two.tolist())) == 1
    for loop in (rim, one, two):
        assert len(set(loop.tolist())) == len(loop)


def test_a_hole_that_touches_the_rim_comes_apart_from_it() -> None:
    whole = without(sheet(100.0, 100.0, 10.0), (-50, -50), (-40, -40))
    whole = without(whole, (-40, -40), (-20, -20))
    loops = boundary_loops(whole)
    assert sorted(len(loop) for loop in loops) == [8, 40]


def test_an_inside_out_patch_does_not_break_a_loop() -> None:
    mesh = sheet(40.0, 40.0, 10.0)
    faces = mesh.faces.copy()
    faces[:3] = faces[:3, ::-1]
    turned = Mesh(mesh.points, faces)
    assert [len(loop) for loop in boundary_loops(turned)] == [16]
    assert edges(turned).flipped == 3


def test_faces_that_name_a_point_twice_have_no_edges() -> None:
    mesh = sheet(20.0, 20.0, 10.0)
    more = Mesh(mesh.points, np.vstack([mesh.faces, [[0, 0, 1], [4, 4, 4]]]).astype(np.int32))
    assert (edges(more).pairs == edges(mesh).pairs).all()
    assert (edges(more).uses == edges(mesh).uses).all()


def test_islands_agree_with_another_library(real: Mesh) -> None:
    """libigl labels points joined by edges; ours labels faces, largest island first."""
    theirs = igl.vertex_components(real.faces.astype(np.int64))[real.faces[:, 0]]
    mine = islands(real)
    pairs = set(zip(theirs.tolist(), mine.tolist(), strict=True))
    assert len(pairs) == len(set(theirs.tolist())) == mine.max() + 1
    assert (np.diff(np.bincount(mine)) <= 0).all()


def test_three_sheets_are_three_islands_by_size() -> None:
    mesh = joined(
        sheet(10, 10, 10, low=(0, 0)), sheet(30, 30, 10, low=(50, 0)), sheet(20, 20, 10, low=(0, 50))
    )
    assert np.bincount(islands(mesh)).tolist() == [18, 8, 2]
    assert islands(mesh)[0] == 2


def test_nothing_has_no_edges_and_no_islands() -> None:
    nothing = Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32))
    assert len(edges(nothing).pairs) == 0
    assert boundary_loops(nothing) == ()
    assert len(islands(nothing)) == 0


@pytest.mark.parametrize("seed", range(8))
def test_islands_of_any_faces_agree_with_a_flood(seed: int) -> None:
    """Points numbered at random, faces that name a point twice, loose points: flooded one by one as the second way."""
    random = np.random.default_rng(seed)
    count = int(random.integers(5, 90))
    faces = random.integers(0, count, (int(random.integers(1, 60)), 3)).astype(np.int32)
    label = list(range(count))
    for _ in range(count):
        for face in faces.tolist():
            least = min(label[point] for point in face)
            label = [least if one in {label[point] for point in face} else one for one in label]
    whose = [label[face[0]] for face in faces.tolist()]
    by_size = sorted(set(whose), key=lambda one: (-whose.count(one), one))
    assert islands(Mesh(np.zeros((count, 3)), faces)).tolist() == [by_size.index(one) for one in whose]
