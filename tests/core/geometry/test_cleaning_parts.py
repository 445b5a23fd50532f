"""Spikes, double walls, facing, surplus and useless faces: what was put in comes out, and nothing else."""

import math
from pathlib import Path

import igl
import numpy as np
import pytest

from floorpan.geometry.double_walls import double_walls
from floorpan.geometry.edges import edges, islands
from floorpan.geometry.islands_kept import islands_at, measured_islands
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.normals import face_normals
from floorpan.geometry.one_facing import one_facing
from floorpan.geometry.one_sheet import lesser_sheet
from floorpan.geometry.spikes import spikes
from floorpan.geometry.two_a_side import surplus_faces
from floorpan.geometry.useless_faces import duplicate_faces, flat_faces
from floorpan.geometry.weld import weld
from floorpan.progress import finish
from floorpan.scan.read import read_scan
from made_up_sheets import bent, cube, globe, joined, sheet, tunnel_floor


def rough(mesh: Mesh, sigma: float, seed: int = 0) -> Mesh:
    points = mesh.points.copy()
    points[:, 2] += np.random.default_rng(seed).normal(0.0, sigma, len(points))
    return Mesh(points, mesh.faces)


def lifted(mesh: Mesh, points: object, height: object) -> Mesh:
    moved = mesh.points.copy()
    moved[points, 2] += height
    return Mesh(moved, mesh.faces)


def with_faces(mesh: Mesh, faces: object) -> Mesh:
    return Mesh(mesh.points, np.asarray(faces, dtype=np.int32))


def real(path: Path) -> Mesh:
    return weld(finish(read_scan(path)).mesh).mesh


@pytest.mark.parametrize("sigma", [0.0, 0.1, 0.4])
def test_planted_spikes_are_found_and_nothing_else(sigma: float) -> None:
    """Closed form: spikes of known height up and down out of a rough plane."""
    floor = rough(sheet(300, 300, 3.0), sigma)
    random = np.random.default_rng(5)
    grid = np.arange(len(floor.points)).reshape(101, 101)
    planted = np.sort(grid[5:-5:8, 5:-5:8].ravel())
    height = random.uniform(4.0 + 8.0 * sigma, 40.0, len(planted)) * random.choice([-1.0, 1.0], len(planted))
    found = finish(spikes(lifted(floor, planted, height), sigmas=6.0, height_mm=2.0))
    assert found.points.tolist() == planted.tolist()
    assert found.height_mm == pytest.approx(np.abs(height), abs=4.0 * sigma + 1e-9)
    assert found.groups_kept == 0


def test_spikes_at_rim_and_side_by_side() -> None:
    floor = rough(sheet(200, 200, 4.0), 0.2)
    grid = np.arange(len(floor.points)).reshape(51, 51)
    planted = [grid[0, 20], grid[20, 0], grid[50, 50], grid[30, 30], grid[30, 31], grid[31, 31]]
    found = finish(spikes(lifted(floor, planted, 15.0), sigmas=6.0, height_mm=2.0))
    assert found.points.tolist() == sorted(planted)


def test_a_stud_is_no_spike() -> None:
    """Seven points side by side stand 12 high: a stud of 8 across, to be kept and counted."""
    floor = rough(sheet(200, 200, 4.0), 0.2)
    grid = np.arange(len(floor.points)).reshape(51, 51)
    stud = [grid[20 + a, 20 + b] for a, b in ((0, 0), (1, 0), (0, 1), (1, 1), (-1, 0), (0, -1), (-1, -1))]
    found = finish(spikes(lifted(floor, stud, 12.0), sigmas=6.0, height_mm=2.0))
    assert not len(found.points)
    assert found.groups_kept == 1


def test_ribs_steps_and_box_corners_are_no_spikes() -> None:
    sharp = bent(sheet(300, 300, 3.0), lambda x, y: np.where(x > 1.0, 25.0, 0.0) + 20.0 * (np.abs(y) < 30.0))
    for mesh in (rough(sharp, 0.2), tunnel_floor(3.0, noise=0.3), cube(40.0)):
        assert not len(finish(spikes(mesh, sigmas=6.0, height_mm=2.0)).points)


@pytest.mark.parametrize("name", ["depthcam_three_cylinders.ply", "depthcam_stacked_boxes.ply"])
def test_few_points_of_a_real_scene_are_spikes(shared_data: Path, name: str) -> None:
    """A scene seen by a depth camera has few; most of it must stay."""
    mesh = real(shared_data / "scans_depthcam" / name)
    found = finish(spikes(mesh, sigmas=6.0, height_mm=5.0))
    assert len(found.points) < 0.005 * len(mesh.points)
    planted = lifted(mesh, middle_points(mesh), 60.0)
    again = finish(spikes(planted, sigmas=6.0, height_mm=5.0))
    assert len(set(middle_points(mesh)) - set(again.points.tolist())) == 0


def middle_points(mesh: Mesh) -> list[int]:
    """Points of the largest island, away from rims and bends, far from each other."""
    of_face = islands(mesh)
    normals = face_normals(mesh)
    calm = np.ones(len(mesh.points), dtype=bool)
    calm[np.unique(edges(mesh).open_pairs)] = False
    calm[np.unique(mesh.faces[of_face != 0])] = False
    level = np.abs(normals @ np.median(normals[of_face == 0], axis=0)) > 0.9
    calm[np.unique(mesh.faces[~level])] = False
    return np.flatnonzero(calm)[::1500].tolist()


@pytest.mark.parametrize(("apart", "sigma"), [(1.5, 0.0), (1.5, 0.1), (2.4, 0.25)])
def test_two_sheets_apart(apart: float, sigma: float) -> None:
    """Closed form: a second pass over the middle, 100 by 100 of 200 by 200, its points between the first one's."""
    first = rough(sheet(200, 200, 2.0), sigma, seed=1)
    second = rough(sheet(100, 100, 2.07), sigma, seed=2)
    both = joined(first, lifted(second, slice(None), apart))
    found = finish(double_walls(both, within_mm=4.0))
    assert found.median_mm == pytest.approx(apart, abs=0.2 * sigma + 1e-9)
    # The middle of the first, and all of the second.
    assert found.share == pytest.approx(2 * 100**2 / (200**2 + 100**2), rel=0.03)
    assert apart - 1e-9 <= found.worst_mm <= apart + 9.0 * sigma + 1e-9
    assert max(map(abs, found.worst_at_mm[:2])) <= 52.0
    assert len(found.points) == len(both.points)


def test_a_single_sheet_is_not_double() -> None:
    for mesh in (rough(sheet(200, 200, 2.0), 0.4), tunnel_floor(3.0, noise=0.3), globe(20.0)):
        assert finish(double_walls(mesh, within_mm=5.0)).share <= 0.001


def test_the_two_faces_of_a_panel_are_no_double_wall() -> None:
    below = sheet(100, 100, 2.0)
    panel = joined(lifted(below, slice(None), 1.5), with_faces(below, below.faces[:, ::-1]))
    assert finish(double_walls(panel, within_mm=4.0)).share == 0.0


def test_few_wide_faces_beside_many_small_ones() -> None:
    both = joined(sheet(400, 400, 400.0), lifted(sheet(100, 100, 2.0), slice(None), 1.25))
    found = finish(double_walls(both, within_mm=3.0))
    assert found.median_mm == pytest.approx(1.25)
    assert finish(double_walls(both, within_mm=1.0)).share == 0.0


def test_a_sample_tells_the_same() -> None:
    both = joined(sheet(200, 200, 2.0), lifted(sheet(100, 100, 2.07), slice(None), 1.5))
    few = finish(double_walls(both, within_mm=4.0, most_points=2000))
    assert len(few.points) == 2000
    assert few.share == pytest.approx(finish(double_walls(both, within_mm=4.0)).share, abs=0.04)


@pytest.mark.parametrize("by_noise", [False, True])
def test_the_lesser_sheet_goes_where_there_are_two(by_noise: bool) -> None:
    large = rough(sheet(200, 200, 2.0), 0.3, seed=1)
    small = lifted(rough(sheet(100, 400, 2.0), 0.05, seed=2), slice(None), 1.5)
    both = joined(large, small)
    gone = finish(lesser_sheet(both, within_mm=4.0, by_noise=by_noise))
    of_large = np.arange(len(both.faces)) < len(large.faces)
    assert len(large.faces) == len(small.faces)
    right = of_large if by_noise else ~of_large
    # 100 by 200 of either lie over one another.
    assert not gone[~right].any()
    middle = both.points[both.faces].mean(axis=1)
    inside = (np.abs(middle[:, 0]) < 49.0) & (np.abs(middle[:, 1]) < 99.0)
    assert gone[right & inside].all()
    assert not gone[(np.abs(middle[:, 0]) > 51.0) | (np.abs(middle[:, 1]) > 101.0)].any()


def test_a_flipped_patch_is_turned_back() -> None:
    floor = tunnel_floor(6.0)
    faces = floor.faces.copy()
    patch = np.random.default_rng(3).random(len(faces)) < 0.3
    faces[patch] = faces[patch][:, ::-1]
    found = one_facing(with_faces(floor, faces))
    assert np.array_equal(found.turned, patch)
    assert edges(found.mesh).flipped == 0
    assert (found.sheets, found.one_sided, found.seam_edges) == (1, 0, 0)
    # The same face with its points in the same turn.
    assert face_normals(found.mesh) == pytest.approx(face_normals(floor))


def test_facing_by_up_and_by_a_place() -> None:
    floor = sheet(100, 100, 10.0)
    down = with_faces(floor, floor.faces[:, ::-1])
    roof = with_faces(lifted(floor, slice(None), 50.0), floor.faces)
    cabin = joined(down, roof)
    assert one_facing(cabin).mesh is cabin
    up = one_facing(cabin, up=np.array([0.0, 0.0, 2.0]))
    assert up.turned.tolist() == [True] * len(floor.faces) + [False] * len(floor.faces)
    seen = one_facing(cabin, seen_from_mm=np.array([0.0, 0.0, 25.0]))
    assert seen.turned.all()
    assert seen.sheets == 2


def test_a_closed_body_keeps_what_most_of_it_says() -> None:
    body = globe(30.0)
    faces = body.faces.copy()
    faces[:40] = faces[:40, ::-1]
    found = one_facing(with_faces(body, faces), up=np.array([0.0, 0.0, 1.0]))
    assert np.flatnonzero(found.turned).tolist() == list(range(40))


def test_turned_as_a_reference_library_turns() -> None:
    """libigl's bfs_orient on one connected sheet: the same faces up to turning the lot."""
    floor = tunnel_floor(12.0)
    faces = floor.faces.copy()
    patch = np.random.default_rng(9).random(len(faces)) < 0.5
    faces[patch] = faces[patch][:, ::-1]
    ours = one_facing(with_faces(floor, faces)).mesh
    theirs = igl.bfs_orient(faces.astype(np.int64))[0]
    same = [
        (np.roll(t, -int(np.argmin(t))) == np.roll(o, -int(np.argmin(o)))).all()
        for t, o in zip(theirs, ours.faces, strict=True)
    ]
    assert all(same) or not any(same)


def test_a_moebius_strip_keeps_a_seam(shared_data: Path) -> None:
    strip = real(shared_data / "bad_meshes" / "moebius.obj")
    found = one_facing(strip, up=np.array([0.0, 0.0, 1.0]))
    assert found.one_sided == 1
    assert found.seam_edges == edges(found.mesh).flipped > 0


def test_an_edge_of_three_loses_the_fin() -> None:
    floor = sheet(100, 100, 10.0)
    fin = np.array([[60, 61, len(floor.points)], [61, 62, len(floor.points)]], dtype=np.int32)
    mesh = Mesh(
        np.vstack([floor.points, [[0.0, 0.0, 30.0]]]), np.vstack([floor.faces[:50], fin, floor.faces[50:]])
    )
    gone = surplus_faces(mesh)
    assert np.flatnonzero(gone).tolist() == [50, 51]
    assert edges(mesh.kept(~gone)).non_manifold == 0


def test_a_fan_of_many_keeps_two() -> None:
    """n faces about one edge, the two widest stay."""
    turn = np.linspace(0.0, math.tau, 8)[:-1]
    size = np.array([5.0, 9.0, 3.0, 2.0, 8.0, 1.0, 4.0])
    tips = np.column_stack([size * np.cos(turn), size * np.sin(turn), np.full(7, 5.0)])
    mesh = Mesh(
        np.vstack([[[0, 0, 0], [0, 0, 10]], tips]),
        np.array([[0, 1, k + 2] for k in range(7)], dtype=np.int32),
    )
    assert np.flatnonzero(~surplus_faces(mesh)).tolist() == [1, 4]


@pytest.mark.parametrize("name", ["sfm_seaVase.ply", "sfm_birdBath.ply", "sfm_owl.ply"])
def test_real_scans_end_with_two_a_side(shared_data: Path, name: str) -> None:
    mesh = real(shared_data / "scans_mesh" / name)
    before = edges(mesh).non_manifold
    gone = surplus_faces(mesh)
    assert before > 0
    assert 0 < np.count_nonzero(gone) <= 4 * before
    assert edges(mesh.kept(~gone)).non_manifold == 0
    turned = one_facing(mesh.kept(~gone))
    assert edges(turned.mesh).flipped == turned.seam_edges


def test_useless_faces() -> None:
    points = np.array([[0, 0, 0], [10, 0, 0], [0, 10, 0], [5, 0, 0], [5, 1e-12, 0.0], [5, 1e-3, 0.0]])
    faces = [[0, 1, 2], [0, 3, 1], [0, 1, 1], [2, 1, 0], [1, 2, 0], [0, 1, 4], [0, 1, 5]]
    mesh = Mesh(points, np.array(faces, dtype=np.int32))
    assert flat_faces(mesh).tolist() == [False, True, True, False, False, True, False]
    assert duplicate_faces(mesh).tolist() == [False, False, False, True, True, False, False]


def test_islands_by_size_and_place() -> None:
    low = lifted(sheet(20, 10, 2.0, low=(300.0, 0.0)), slice(None), 7.0)
    mesh = joined(low, sheet(100, 200, 10.0), sheet(4, 4, 2.0, low=(-300.0, 0.0)))
    found = measured_islands(mesh)
    assert found.faces.tolist() == [400, 100, 8]
    assert found.size_mm == pytest.approx([200.0, 20.0, 4.0])
    # In the middle of a wide face, beside an island, on the small one.
    places = np.array([[1.0, 2.0, 0.2], [-310.0, 2.0, 0.0], [303.3, 4.4, 7.0]])
    assert islands_at(mesh, found.of_face, places).tolist() == [0, -1, 1]
