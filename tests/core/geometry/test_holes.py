"""Holes and rims: sizes in closed form, and scans whose holes were counted by others."""

from pathlib import Path

import numpy as np
import pytest

from floorpan.geometry.edges import edges
from floorpan.geometry.holes import longest_span, unseen_patches
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.normals import face_areas, face_normals
from floorpan.geometry.polygons import cut_faces, cut_polygon, newell
from floorpan.geometry.surface import Surface
from floorpan.geometry.weld import weld
from floorpan.progress import finish
from floorpan.scan.read import read_scan
from made_up_sheets import bent, cube, globe, joined, sheet, without


def test_two_holes_and_a_rim() -> None:
    """Windows of 40 x 40 and 20 x 10 in a sheet of 200 x 100."""
    mesh = without(without(sheet(200, 100, 10.0), (-60, -20), (-20, 20)), (30, 0), (50, 10))
    unseen = unseen_patches(mesh)
    assert [hole.area_mm2 for hole in unseen.holes] == pytest.approx([1600.0, 200.0])
    assert [hole.longest_mm for hole in unseen.holes] == pytest.approx([np.hypot(40, 40), np.hypot(20, 10)])
    assert all(hole.clean and hole.bow_mm < 1e-9 for hole in unseen.holes)
    assert np.bincount(unseen.patch_of_face, face_areas(unseen.patches)) == pytest.approx([1600.0, 200.0])
    assert np.linalg.norm(unseen.rims[:, 1] - unseen.rims[:, 0], axis=1).sum() == pytest.approx(600.0)
    assert len(unseen.rim_loops) == 1


def test_patches_close_the_sheet_and_face_as_it_does() -> None:
    mesh = without(sheet(100, 100, 10.0), (-20, -30), (20, 20))
    patch = unseen_patches(mesh).patches
    assert face_normals(patch) == pytest.approx(np.tile([0.0, 0, 1], (len(patch.faces), 1)))
    closed = weld(joined(mesh, patch)).mesh
    found = edges(closed)
    assert len(found.open_pairs) == 40
    assert found.flipped == 0
    assert face_areas(closed).sum() == pytest.approx(10_000.0)


def test_a_concave_hole_is_filled_inside_only() -> None:
    """An L of 60 x 60 without 40 x 40."""
    mesh = without(without(sheet(200, 200, 10.0), (0, 0), (60, 20)), (0, 0), (20, 60))
    unseen = unseen_patches(mesh)
    assert unseen.holes[0].area_mm2 == pytest.approx(2000.0)
    assert face_areas(unseen.patches).sum() == pytest.approx(2000.0)


def test_a_hole_in_a_bent_sheet_bows() -> None:
    mesh = without(bent(sheet(200, 200, 5.0), lambda x, y: x * x / 200.0), (-50, -50), (50, 50))
    hole = unseen_patches(mesh).holes[0]
    assert 5.0 < hole.bow_mm < 12.5
    assert hole.area_mm2 >= 10_000.0


def test_every_island_has_a_rim() -> None:
    unseen = unseen_patches(joined(sheet(200, 200), sheet(20, 20, low=(300, 0))))
    assert len(unseen.rim_loops) == 2
    assert unseen.holes == ()
    assert len(unseen.patches.faces) == 0


def test_a_closed_mesh_has_neither() -> None:
    unseen = unseen_patches(globe())
    assert unseen.holes == ()
    assert unseen.rims.shape == (0, 2, 3)


def test_a_cube_without_one_side() -> None:
    """The one loop is the outer rim: an open box is an open sheet."""
    box = cube(2.0)
    open_box = box.kept(face_normals(box)[:, 2] < 0.9)
    unseen = unseen_patches(open_box)
    assert unseen.holes == ()
    assert len(unseen.rims) == 4


def test_a_crack_without_width_is_no_hole() -> None:
    """A point on an edge that the neighbour does not have: a triangle of no area is missing there."""
    points = np.array([[0.0, 0, 0], [10, 0, 0], [10, 10, 0], [0, 10, 0], [-10, 5, 0], [20, 5, 0], [10, 5, 0]])
    faces = np.array([[0, 1, 6], [0, 6, 3], [6, 2, 3], [1, 5, 2], [0, 3, 4]], dtype=np.int32)
    mesh = joined(Mesh(points, faces))
    assert all(hole.area_mm2 > 0.0 for hole in unseen_patches(mesh).holes)
    assert len(unseen_patches(mesh).holes) == 0


@pytest.mark.parametrize(
    ("name", "open_edges", "islands"),
    [
        ("scans_mesh/sfm_owl.ply", 482, None),
        ("scans_mesh/wavy_mesh_with_hole.ply", 167, 1),
        ("scans_depthcam/depthcam_three_cylinders.ply", 2079, 3),
        ("scans_depthcam/depthcam_two_round_objects.ply", 1820, 1),
    ],
)
def test_real_scans(shared_data: Path, name: str, open_edges: int, islands: int | None) -> None:
    """Open edges and islands as the data's own notes count them; each is in a rim or round a hole."""
    mesh = weld(finish(read_scan(shared_data / name)).mesh).mesh
    unseen = unseen_patches(mesh)
    assert len(edges(mesh).open_pairs) == open_edges
    around = len(unseen.rims) + sum(len(hole.loop) for hole in unseen.holes)
    assert around >= open_edges * 0.97
    if islands is not None:
        assert len(unseen.rim_loops) == islands


def test_the_gap_to_a_patch_is_a_gap_to_a_flat_plate() -> None:
    mesh = without(sheet(100, 100, 10.0), (-20, -20), (20, 20))
    patches = Surface(unseen_patches(mesh).patches, floor=False)
    assert patches.signed(np.array([[3.0, 4.0, 17.0]])).distance_mm == pytest.approx([17.0])


def test_longest_span_of_a_long_loop() -> None:
    angle = np.linspace(0, 2 * np.pi, 7001)[:-1]
    assert longest_span(
        np.column_stack([50 * np.cos(angle), 50 * np.sin(angle), 0 * angle])
    ) == pytest.approx(100, abs=0.01)


class TestPolygons:
    def test_a_star(self) -> None:
        """Area of a star of ten corners, radii 10 and 4: 5 x 10 x 4 x sin 36 degrees."""
        angle = np.arange(10) * np.pi / 5
        radius = np.where(np.arange(10) % 2, 4.0, 10.0)
        star = np.column_stack([radius * np.cos(angle), radius * np.sin(angle), 0.3 * radius * np.cos(angle)])
        cut, clean = cut_polygon(star)
        flat = star.copy()
        flat[:, 2] = 0.0
        assert clean
        assert len(cut) == 8
        assert face_areas(Mesh(flat, cut)).sum() == pytest.approx(200 * np.sin(np.pi / 5))
        assert (face_normals(Mesh(star, cut)) @ newell(star) > 0).all()

    def test_a_loop_that_crosses_itself_is_told(self) -> None:
        bow_tie = np.array([[0.0, 0, 0], [10, 10, 0], [10, 0, 0], [0, 14, 0], [-3, 5, 0]])
        assert not cut_polygon(bow_tie)[1]

    def test_a_bent_loop_keeps_what_stands_on_edge(self) -> None:
        """A square with a flap on its far side that is seen on edge: every side of the loop bounds one triangle."""
        bent = np.array([[-1.0, 0, 1], [1, 0, 1], [1, 0, -1], [-1, 0, -1], [0, 1, -1]])
        for turn in range(5):
            loop = np.roll(bent, turn, axis=0)
            cut, clean = cut_polygon(loop)
            sides = np.sort(np.vstack([cut[:, [0, 1]], cut[:, [1, 2]], cut[:, [2, 0]]]), axis=1)
            each, times = np.unique(sides, axis=0, return_counts=True)
            rim = {tuple(sorted((k, (k + 1) % 5))) for k in range(5)}
            assert clean
            assert len(cut) == 3
            assert {(int(a), int(b)) for (a, b), n in zip(each, times, strict=True) if n == 1} == rim

    def test_corners_along_a_side_add_nothing(self) -> None:
        corners = np.array([[0.0, 0, 0], [1, 0, 0], [1, 1, 0], [1, 2, 0], [1, 1, 0], [0, 1, 0]])
        cut, _ = cut_polygon(corners)
        assert len(cut) == 2

    def test_a_concave_quad_is_cut_inside(self) -> None:
        points = np.array([[0.0, 0, 0], [10, 0, 0], [3, 3, 0], [0, 10, 0]])
        for turn in range(4):
            faces, _ = cut_faces(points, np.roll(np.arange(4), turn), np.array([4]))
            mesh = Mesh(points, faces.astype(np.int32))
            assert face_areas(mesh).sum() == pytest.approx(30.0)
            assert (face_normals(mesh)[:, 2] > 0).all()

    def test_faces_keep_their_order(self) -> None:
        points = np.random.default_rng(0).normal(size=(12, 3))
        corners = np.array([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11])
        faces, owner = cut_faces(points, corners, np.array([5, 3, 4]))
        assert owner.tolist() == [0] * sum(owner == 0) + [1] + [2, 2]
        assert faces[owner == 1].tolist() == [[5, 6, 7]]
