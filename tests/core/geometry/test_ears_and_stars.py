"""Triangles by agreement against a planar Delaunay triangulation, and openings closed ear by ear."""

import numpy as np
import pytest
from scipy.spatial import Delaunay

from floorpan.geometry.ears import circle_width, closed
from floorpan.geometry.edges import boundary_loops, edges, islands
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.normals import face_areas, face_normals
from floorpan.geometry.slits import parted_at_slits
from floorpan.geometry.stars import agreed_triangles, around, sheet_normals
from floorpan.progress import finish
from made_up_sheets import cube, globe, sheet, tunnel_floor, without


def up(mesh: Mesh) -> np.ndarray:
    return np.tile([0.0, 0.0, 1.0], (len(mesh.points), 1))


def test_stars_agree_with_a_planar_triangulation() -> None:
    """Qhull's Delaunay triangles of chance points in a plane; those whose circle is narrow must all be there."""
    random = np.random.default_rng(2)
    flat = random.uniform(0.0, 100.0, (4000, 2))
    points = np.column_stack([flat, np.zeros(len(flat))])
    found = finish(around(points, 4.0))
    widest = 4.0 * found.spacing_mm
    ours = finish(agreed_triangles(points, finish(sheet_normals(points, found)), found, widest))
    theirs = Delaunay(flat).simplices
    narrow = circle_width(points, theirs) <= 0.6 * widest[theirs].min(axis=1)
    wanted = set(map(tuple, np.sort(theirs[narrow], axis=1).tolist()))
    got = set(map(tuple, ours.tolist()))
    # Points are shaken a little before they are joined, which settles a few near ties the other way.
    assert len(wanted - got) < 0.05 * len(wanted)
    assert len(got - set(map(tuple, np.sort(theirs, axis=1).tolist()))) < 0.05 * len(got)


@pytest.mark.parametrize("noise", [0.0, 0.6])
def test_what_all_agree_on_is_a_sheet(noise: float) -> None:
    mesh = tunnel_floor(4.0, noise=noise)
    found = finish(around(mesh.points, 4.0))
    normals = finish(sheet_normals(mesh.points, found))
    assert np.linalg.norm(normals, axis=1) == pytest.approx(1.0)
    faces = finish(agreed_triangles(mesh.points, normals, found, 4.0 * found.spacing_mm))
    made = edges(Mesh(mesh.points, faces))
    assert made.non_manifold == 0
    assert len(faces) > 0.9 * len(mesh.faces)


def test_normals_of_a_globe_are_its_radii() -> None:
    points = globe(50.0, turns=64).points
    normals = finish(sheet_normals(points, finish(around(points, 4.0))))
    assert np.abs(np.einsum("ij,ij->i", normals, points / 50.0)).min() > 0.99


def test_circle_width() -> None:
    """Circumscribed circle of a right triangle: its longest side; of three in a row: none."""
    points = np.array([[0.0, 0, 0], [3, 0, 0], [0, 4, 0], [6, 0, 0]])
    assert circle_width(points, np.array([[0, 1, 2], [0, 1, 3]], dtype=np.int32)).tolist() == [5.0, np.inf]


@pytest.mark.parametrize(("across", "still_open"), [(12.0, 1), (36.0, 2)])
def test_an_opening_is_closed_where_circles_stay_narrow(across: float, still_open: int) -> None:
    """A square opening of known size in a level sheet: closed, the area is that of the whole sheet."""
    floor = without(sheet(100, 100, 4.0), (-across / 2, -across / 2), (across / 2, across / 2))
    assert len(boundary_loops(floor)) == 2
    made, slits = finish(closed(floor, up(floor), np.full(len(floor.points), 20.0)))
    assert len(boundary_loops(made)) == still_open
    assert not len(slits)
    assert edges(made).non_manifold == edges(made).flipped == 0
    assert (face_normals(made)[:, 2] > 0.999).all()
    if still_open == 1:
        assert float(face_areas(made).sum()) == pytest.approx(100.0**2)


def test_a_closed_body_and_an_open_rim_stay_as_they_are() -> None:
    for mesh, normals in (
        (cube(10.0), cube(10.0).points / 10.0),
        (sheet(50, 50, 5.0), up(sheet(50, 50, 5.0))),
    ):
        made, _ = finish(closed(mesh, normals, np.full(len(mesh.points), 100.0)))
        assert np.array_equal(made.faces, mesh.faces)


def test_an_opening_with_a_point_of_its_own_loop_inside_is_closed_around_it() -> None:
    """A star-shaped opening whose corners would cover each other, were they taken without looking."""
    turn = np.linspace(0.0, 2 * np.pi, 13)[:-1]
    inner = np.where(np.arange(12) % 2, 10.0, 4.0)
    ring = np.column_stack([inner * np.cos(turn), inner * np.sin(turn), np.zeros(12)])
    outer = np.column_stack([20.0 * np.cos(turn), 20.0 * np.sin(turn), np.zeros(12)])
    k = np.arange(12)
    after = (k + 1) % 12
    faces = np.vstack([np.column_stack([k, k + 12, after]), np.column_stack([after, k + 12, after + 12])])
    mesh = Mesh(np.vstack([ring, outer]), faces.astype(np.int32))
    mesh = Mesh(mesh.points, np.where(face_normals(mesh)[:, 2:] > 0, mesh.faces, mesh.faces[:, ::-1]))
    made, _ = finish(closed(mesh, up(mesh), np.full(24, 60.0)))
    assert len(boundary_loops(made)) == 1
    # Closed form: a regular twelve-cornered plate.
    assert float(face_areas(made).sum()) == pytest.approx(12 * 0.5 * 20.0**2 * np.sin(np.pi / 6))
    assert (face_normals(made)[:, 2] > 0.999).all()


def test_a_slit_parts_the_face_beside_it() -> None:
    """The middle of the longest side of a face hangs at other faces only: the face is parted there."""
    points = np.array([[0.0, 0, 0], [10, 0, 0], [5, 8, 0], [5, 0.0, 0], [5, -8, 0]])
    faces = np.array([[0, 1, 2], [0, 4, 3], [3, 4, 1]], dtype=np.int32)
    slit = next(loop for loop in boundary_loops(Mesh(points, faces)) if len(loop) == 3)[::-1]
    made = parted_at_slits(Mesh(points, faces), slit[None], np.full(5, 30.0))
    assert len(boundary_loops(made)) == 1
    assert sorted(map(sorted, made.faces.tolist())) == [[0, 2, 3], [0, 3, 4], [1, 2, 3], [1, 3, 4]]
    assert (face_normals(made)[:, 2] > 0.0).all()
    assert int(islands(made).max()) == 0
    # Where no sound face comes of it, a face of the rim goes.
    dropped = parted_at_slits(Mesh(points, faces), slit[None], np.full(5, 1.0))
    assert sorted(map(sorted, dropped.faces.tolist())) == [[0, 3, 4], [1, 3, 4]]
