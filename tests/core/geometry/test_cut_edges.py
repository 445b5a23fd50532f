"""Cutting long edges: the same surface, closed where it was, short edges left alone."""

import numpy as np
import pytest
import trimesh

from floorpan.geometry.cut_edges import cut_edges, cut_where_coarse, is_coarse
from floorpan.geometry.mesh import Mesh


def edges_mm(mesh: Mesh) -> np.ndarray:  # type: ignore[type-arg]
    corners = mesh.points[mesh.faces]
    return np.asarray(np.linalg.norm(corners - np.roll(corners, -1, axis=1), axis=2))


@pytest.mark.parametrize("extents", [(60.0, 60.0, 60.0), (200.0, 3.0, 40.0)])
@pytest.mark.parametrize("longest", [50.0, 7.0])
def test_the_surface_stays_the_same(extents: tuple[float, float, float], longest: float) -> None:
    """Closed forms of a box, and trimesh on whether it is closed and turned one way."""
    box = trimesh.creation.box(extents)
    cut = cut_edges(Mesh(np.asarray(box.vertices), np.asarray(box.faces)), longest, 100_000)
    assert edges_mm(cut).max() <= longest
    read = trimesh.Trimesh(cut.points, cut.faces, process=False)
    a, b, c = extents
    assert read.is_watertight
    assert read.is_winding_consistent
    assert read.volume == pytest.approx(a * b * c)
    assert read.area == pytest.approx(2.0 * (a * b + b * c + c * a))
    assert np.array_equal(cut.points[:8], box.vertices)


def test_a_short_edge_is_left_as_it_is() -> None:
    """A triangle 96 long and 2 wide: the 5 halvings of its sides, by fewer pieces than four for each."""
    thin = Mesh(np.array([[0.0, 0.0, 0.0], [2.0, 0.0, 0.0], [1.0, 96.0, 0.0]]), np.array([[0, 1, 2]]))
    cut = cut_edges(thin, 3.1, 100_000)
    assert len(cut.faces) < 4**5
    assert edges_mm(cut).max() <= 3.1
    assert (cut.points[:, 1] == 0.0).sum() == 2


def test_it_stops_where_it_would_be_too_many_and_leaves_what_is_fine() -> None:
    box = trimesh.creation.box((60.0, 60.0, 60.0))
    mesh = Mesh(np.asarray(box.vertices), np.asarray(box.faces))
    assert len(cut_edges(mesh, 0.01, 500).faces) <= 500
    assert cut_edges(mesh, 100.0, 500).faces.tolist() == mesh.faces.tolist()
    ball = trimesh.creation.icosphere(subdivisions=5, radius=30.0)
    fine = Mesh(np.asarray(ball.vertices), np.asarray(ball.faces))
    assert is_coarse(mesh, 1 / 16)
    assert not is_coarse(fine, 1 / 16)
    assert cut_where_coarse(fine, 1 / 16, 1000) is fine
    assert not is_coarse(Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32)), 1 / 16)
