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
