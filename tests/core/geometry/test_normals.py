"""Pseudonormals: closed forms on a cube, and the sign they give against solids known inside and out."""

import math

import igl
import numpy as np
import pytest

from floorpan.geometry import normals
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.normals import Facing, face_areas, face_normals, shares
from floorpan.geometry.surface import Surface
from made_up_sheets import cube, globe, sheet


def test_faces_of_a_cube() -> None:
    mesh = cube(2.0)
    normal = face_normals(mesh)
    middle = mesh.points[mesh.faces].mean(axis=1)
    assert np.allclose(np.abs(normal).max(axis=1), 1.0)
    assert (np.einsum("ij,ij->i", normal, middle) > 0.9).all()
    assert face_areas(mesh).sum() == pytest.approx(24.0)


def test_corner_normals_do_not_hang_on_the_triangles() -> None:
    """At a cube's corner the three sides count by their angle, 90 degrees each, however they are cut."""
    mesh = cube(2.0)
    face = np.array([np.flatnonzero((mesh.faces == k).any(axis=1))[0] for k in range(8)])
    landing = Facing(mesh).landing(face, mesh.points.copy())
    assert np.allclose(landing.normal, mesh.points / math.sqrt(3))
    assert not landing.open_rim.any()


def test_edge_normals_halve_the_angle() -> None:
    mesh = cube(2.0)
    at = np.array([[1.0, 1.0, 0.3]])
    face = np.array([k for k, c in enumerate(mesh.points[mesh.faces]) if on_triangle(c, at[0])][:1])
    assert np.allclose(Facing(mesh).landing(face, at).normal, [[math.sqrt(0.5), math.sqrt(0.5), 0.0]])


def on_triangle(corner: np.ndarray, at: np.ndarray) -> bool:
    share = shares(corner[None], at[None])[0]
    return bool((share >= -1e-12).all() and np.allclose(share @ corner, at))


def test_the_rim_of_a_sheet_is_told() -> None:
    mesh = sheet(20.0, 20.0, 10.0)
    places = np.array([[2.0, 3.0, 0.0], [10.0, 3.0, 0.0], [10.0, 10.0, 0.0], [0.0, 0.0, 0.0]])
    face = np.array(
        [next(k for k, c in enumerate(mesh.points[mesh.faces]) if on_triangle(c, at)) for at in places]
    )
    landing = Facing(mesh).landing(face, places)
    assert landing.open_rim.tolist() == [False, True, True, False]
    assert np.allclose(landing.normal, [0, 0, 1])


@pytest.mark.parametrize("mesh", [cube(40.0), globe(30.0)], ids=["cube", "globe"])
def test_signs_around_closed_solids(mesh: Mesh) -> None:
    """libigl's winding number, which needs no normals at all, tells inside from outside."""
    points = np.random.default_rng(2).uniform(-45, 45, (4000, 3))
    inside = igl.fast_winding_number(mesh.points, mesh.faces.astype(np.int64), points) > 0.5
    assert ((Surface(mesh).signed(points).distance_mm < 0) == inside).all()


def test_a_sharp_wedge_where_face_normals_alone_fail() -> None:
    """Baerentzen and Aanaes 2005, figure 1: beyond a sharp point some faces turn their backs to an outside point."""
    points = np.array([[0.0, 0, 0], [100, 4, 4], [100, -4, 4], [100, -4, -4], [100, 4, -4]])
    faces = np.array([[0, 2, 1], [0, 3, 2], [0, 4, 3], [0, 1, 4], [1, 2, 3], [1, 3, 4]], dtype=np.int32)
    mesh = Mesh(points, faces)
    assert np.einsum("ij,ij->", face_normals(mesh), points[faces].mean(axis=1) - points.mean(axis=0)) > 0
    turned = np.random.default_rng(3).normal(size=(500, 3))
    ahead = turned[turned[:, 0] < -0.3 * np.linalg.norm(turned[:, 1:], axis=1)]
    assert (Surface(mesh).signed(ahead).distance_mm > 0).all()
    backs = (ahead[:, None, :] * face_normals(mesh)[:4]).sum(axis=2) < 0
    assert backs.any()


def test_shares_of_a_triangle_without_area() -> None:
    flat = np.array([[[0.0, 0, 0], [10, 0, 0], [4, 0, 0]], [[1.0, 1, 1]] * 3])
    found = shares(flat, np.array([[2.5, 0.0, 0.0], [1.0, 1.0, 1.0]]))
    assert np.allclose(found[0], [0.75, 0.25, 0.0])
    assert np.allclose(found.sum(axis=1), 1.0)


def test_faces_around_points_are_the_same_looked_for_or_listed(monkeypatch: pytest.MonkeyPatch) -> None:
    """A face that names a point twice, and a point that none names, among them."""
    mesh = Mesh(
        np.random.default_rng(2).normal(size=(7, 3)),
        np.array([[0, 1, 2], [2, 1, 3], [4, 4, 1], [5, 0, 2]], dtype=np.int32),
    )
    asked = np.array([1, 4, 6, 2, 1])
    looked_for = Facing(mesh).around(asked)
    # Told which faces are near, in any order and with others among them.
    near = Facing(mesh, lambda place: np.array([3, 0, 2, 1])).around(asked)
    monkeypatch.setattr(normals, "_LOOKED_THROUGH", 0)
    listed = Facing(mesh).around(asked)
    ready = Facing(mesh, lambda place: np.zeros(0, dtype=np.int64))
    ready.make_ready()
    for one in (near, listed, ready.around(asked)):
        assert [part.tolist() for part in looked_for] == [part.tolist() for part in one]
    assert looked_for[1].tolist() == [0, 1, 2, 2, 2, 0, 1, 3, 0, 1, 2]
    assert all(len(part) == 0 for part in Facing(mesh).around(np.zeros(0, dtype=np.int64)))
