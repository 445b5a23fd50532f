"""What a mesh tells of itself, against the plain way to work it out."""

import numpy as np
import pytest

from floorpan.geometry.mesh import Mesh


@pytest.mark.parametrize("count", [1, 127, 128, 129, 1000])
def test_bounds_are_the_least_and_greatest_of_each_column(count: int) -> None:
    points = np.random.default_rng(count).normal(size=(count, 3)) * [1.0, 10.0, 100.0]
    found = Mesh(points, np.zeros((0, 3), dtype=np.int32)).bounds
    assert found.tolist() == [[min(column) for column in points.T], [max(column) for column in points.T]]


def test_a_mesh_of_nothing_has_bounds_of_zero() -> None:
    assert Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32)).bounds.tolist() == [[0.0] * 3] * 2


def test_kept_faces_and_others_behind_them_name_only_the_points_they_use() -> None:
    points = np.arange(15.0).reshape(5, 3)
    mesh = Mesh(points, np.array([[0, 1, 2], [1, 2, 3], [4, 3, 2]], dtype=np.int32))
    more = np.array([[100.0, 0, 0], [200.0, 0, 0]])
    part = mesh.kept_with(np.array([False, False, True]), more, np.array([[3, 6, 2]]))
    assert part.points.tolist() == [*points[[2, 3, 4]].tolist(), more[1].tolist()]
    assert part.faces.tolist() == [[2, 1, 0], [1, 3, 0]]
    assert mesh.kept(np.array([True, False, False])).points.tolist() == points[:3].tolist()


@pytest.mark.parametrize("turn", [0, 1, 2])
def test_the_longest_side_is_found_wherever_it_stands(turn: int) -> None:
    points = np.array([[0.0, 0, 0], [3.0, 4.0, 0], [1.0, 1.0, 1.0], [0.5, 0, 0]])
    faces = np.array([[0, 2, 3], np.roll([0, 1, 2], turn)], dtype=np.int32)
    assert Mesh(points, faces).longest_side == pytest.approx(5.0)
    assert Mesh(points, faces[:1]).longest_side == pytest.approx(np.sqrt(3.0))
