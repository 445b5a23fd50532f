"""A coarse copy strays no farther than the cubes it is made of, and is as small as was asked for, about."""

import numpy as np

from floorpan.geometry.clustered import clustered
from floorpan.geometry.deviation import deviation
from floorpan.geometry.mesh import Mesh
from made_up_sheets import sheet, tunnel_floor


def test_a_small_mesh_comes_back_as_it_is() -> None:
    mesh = sheet(100.0, 100.0, 10.0)
    assert clustered(mesh, 1000) is mesh


def test_it_is_about_as_small_as_asked_and_keeps_the_shape() -> None:
    mesh = tunnel_floor(step=2.0)
    coarse = clustered(mesh, 10_000)
    assert 2_000 < len(coarse.faces) < 15_000
    # No point moves farther than a cube's diagonal; the cubes are as wide as the count makes them.
    cube = np.sqrt(2.0 * 550.0 * 420.0 / 10_000.0) * 1.2
    assert deviation(mesh, coarse).worst_mm < np.sqrt(3.0) * cube
    normals = np.cross(
        *(coarse.points[coarse.faces[:, k]] - coarse.points[coarse.faces[:, 0]] for k in (1, 2))
    )
    assert (normals[:, 2] >= -1e-9).mean() > 0.999, "it faces as the mesh does"


def test_faces_of_no_area_are_no_matter() -> None:
    flat = Mesh(np.zeros((30, 3)), np.arange(30).reshape(10, 3))
    assert clustered(flat, 5) is flat
