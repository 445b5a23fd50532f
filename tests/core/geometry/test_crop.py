"""Cropping: areas in closed form, another library's slices as the second way."""

from pathlib import Path

import numpy as np
import pytest
import trimesh

from floorpan.frames import Pose
from floorpan.geometry.crop import crop_box
from floorpan.geometry.edges import boundary_loops
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.normals import face_areas
from floorpan.geometry.weld import weld
from floorpan.progress import finish
from floorpan.scan.read import read_scan
from made_up_sheets import sheet, tunnel_floor

STILL = Pose()


def sliced(mesh: Mesh, frame: Pose, low: Floats, high: Floats) -> float:
    """Area left by six slices of trimesh."""
    theirs = trimesh.Trimesh(mesh.points, mesh.faces, process=False)
    turn = np.reshape(frame.rotation, (3, 3))
    for axis in range(3):
        for corner, sign in ((low, 1.0), (high, -1.0)):
            if len(theirs.faces):
                at = frame.apply(np.asarray(corner, dtype=float))
                theirs = trimesh.intersections.slice_mesh_plane(theirs, sign * turn[:, axis], at)
    return float(theirs.area)


@pytest.mark.parametrize("step", [10.0, 7.0])
def test_a_window_in_a_sheet(step: float) -> None:
    """A window of 62 by 34, and the same turned by 30 degrees."""
    for frame in (STILL, Pose.turned((0, 0, 1), 30.0)):
        part = crop_box(sheet(210, 210, step), frame, [-31, -17, -5], [31, 17, 5])
        assert face_areas(part).sum() == pytest.approx(62 * 34)
        assert np.abs(frame.inverse().apply(part.points)).max(axis=0) == pytest.approx([31, 17, 0], abs=1e-9)


def test_a_cut_leaves_one_clean_rim() -> None:
    """Both faces at a cut edge share its new point: no cracks."""
    part = crop_box(
        tunnel_floor(8.0, noise=0.4), Pose.turned((0, 0, 1), 20.0), [-90, -70, -50], [90, 70, 300]
    )
    assert len(boundary_loops(part)) == 1
    assert not (face_areas(part) == 0.0).any()


def test_sides_through_grid_points_make_no_slivers() -> None:
    part = crop_box(sheet(100, 100, 10.0), STILL, [-20, -20, -5], [20, 20, 5])
    assert len(part.faces) == 32
    assert face_areas(part).min() == pytest.approx(50.0)


@pytest.mark.parametrize("name", ["scans_mesh/sfm_owl.ply", "scans_mesh/foot_reference.stl"])
def test_scans_agree_with_six_slices(shared_data: Path, name: str) -> None:
    mesh = weld(finish(read_scan(shared_data / name)).mesh).mesh
    middle, half = mesh.bounds.mean(axis=0), np.ptp(mesh.bounds, axis=0) / 4.0
    frame = Pose(shift_mm=tuple(middle)).after(Pose.turned((1, 2, 3), 40.0))
    part = crop_box(mesh, frame, -half, half)
    assert face_areas(part).sum() == pytest.approx(sliced(mesh, frame, -half, half), rel=1e-9)


def test_whole_faces_reach_over_the_sides() -> None:
    mesh = sheet(100, 100, 10.0)
    part = crop_box(mesh, STILL, [-15, -15, -5], [15, 15, 5], cut=False)
    assert part.bounds.tolist() == [[-20, -20, 0], [20, 20, 0]]
    assert set(map(tuple, part.points)) <= set(map(tuple, mesh.points))
    assert face_areas(part).sum() >= 900.0


def test_a_large_face_that_spans_the_box_is_kept() -> None:
    """None of its corners is inside."""
    large = Mesh(
        np.array([[-100.0, -100, 0], [100, -100, 0], [0, 200, 0]]), np.array([[0, 1, 2]], dtype=np.int32)
    )
    assert len(crop_box(large, STILL, [-5, -5, -5], [5, 5, 5], cut=False).faces) == 1
    assert face_areas(crop_box(large, STILL, [-5, -5, -5], [5, 5, 5])).sum() == pytest.approx(100.0)
    assert len(crop_box(large, STILL, [60, 60, -5], [70, 70, 5], cut=False).faces) == 0


def test_a_box_that_misses_leaves_nothing() -> None:
    for cut in (True, False):
        part = crop_box(sheet(), STILL, [0, 0, 10], [50, 50, 20], cut=cut)
        assert len(part.faces) == len(part.points) == 0


def test_a_box_around_everything_changes_nothing() -> None:
    mesh = tunnel_floor(20.0)
    part = crop_box(mesh, STILL, [-999] * 3, [999] * 3)
    assert np.array_equal(part.faces, mesh.faces)
    assert np.array_equal(part.points, mesh.points)
