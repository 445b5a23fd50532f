"""Signed distances of points against two other libraries' closest points and signs."""

import os
import subprocess
import sys
from pathlib import Path

import igl
import numpy as np
import pytest
import trimesh

from floorpan.geometry import tiles as module
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.surface import Surface
from floorpan.geometry.weld import weld
from floorpan.progress import finish
from floorpan.scan.read import read_scan
from made_up_sheets import sheet, tunnel_floor


@pytest.fixture(params=["cups/food_can.obj", "scans_mesh/foot_reference.stl"])
def closed(request: pytest.FixtureRequest, shared_data: Path) -> Mesh:
    return weld(finish(read_scan(shared_data / request.param)).mesh).mesh


def test_closed_scans(closed: Mesh) -> None:
    """libigl's signed distance by pseudonormals; near the surface its winding number is the third way."""
    random = np.random.default_rng(1)
    low, high = closed.bounds
    points = random.uniform(low - 0.2 * (high - low), high + 0.2 * (high - low), (3000, 3))
    found = Surface(closed, tile_triangles=900).signed(points)
    faces = closed.faces.astype(np.int64)
    theirs, _, _, _ = igl.signed_distance(
        points, closed.points, faces, sign_type=igl.SIGNED_DISTANCE_TYPE_PSEUDONORMAL
    )
    size = float((high - low).max())
    assert np.abs(found.distance_mm - theirs).max() < 1e-9 * size
    winding = igl.fast_winding_number(closed.points, faces, points)
    # A scanned foot is not quite free of folds.
    assert np.mean((found.distance_mm < 0) == (winding > 0.5)) > 0.999
    assert np.linalg.norm(found.nearest - points, axis=1) == pytest.approx(
        np.abs(found.distance_mm), abs=1e-9 * size
    )


def test_open_floor_against_plain_arithmetic() -> None:
    """trimesh's closest point on one triangle after another, every triangle for every point."""
    mesh = tunnel_floor(25.0, noise=1.0)
    points = np.random.default_rng(4).uniform([-300, -250, -150], [300, 250, 250], (60, 3))
    found = Surface(mesh, tile_triangles=100).signed(points)
    triangles = mesh.points[mesh.faces]
    for point, distance, nearest in zip(points, found.distance_mm, found.nearest, strict=True):
        close = trimesh.triangles.closest_point(triangles, np.tile(point, (len(triangles), 1)))
        away = np.linalg.norm(close - point, axis=1)
        assert abs(distance) == pytest.approx(away.min(), abs=1e-9)
        assert nearest == pytest.approx(close[away.argmin()], abs=1e-6)


def test_sides_of_a_sheet() -> None:
    surface = Surface(sheet())
    found = surface.signed(np.array([[0, 0, 5.0], [0, 0, -5.0], [103, 0, 4.0], [103, 0, -4.0], [0, 0, 0.0]]))
    assert found.distance_mm == pytest.approx([5.0, -5.0, 5.0, 5.0, 0.0])
    assert found.at_rim.tolist() == [False, False, True, True, False]


def test_more_points_than_are_asked_at_once() -> None:
    """Thousands of points in no order: each keeps its own row."""
    points = np.random.default_rng(6).uniform([-90, -90, -50], [90, 90, 50], (9000, 3))
    found = Surface(sheet(), tile_triangles=200).signed(points)
    assert found.distance_mm == pytest.approx(points[:, 2])
    assert found.nearest[:, :2] == pytest.approx(points[:, :2])


def test_nothing_is_said_on_standard_error_when_the_program_ends() -> None:
    """The library behind the points complains of every tree that is still there at the very end."""
    script = (
        "import numpy as np\n"
        "from floorpan.geometry.mesh import Mesh\n"
        "from floorpan.geometry.surface import Surface\n"
        "kept = Surface(Mesh(np.eye(3), np.array([[0, 1, 2]], dtype=np.int32)))\n"
        "print(kept.signed(np.ones((1, 3))).distance_mm[0])\n"
    )
    core = Path(module.__file__).parents[2]
    ended = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        check=True,
        env=os.environ | {"PYTHONPATH": str(core)},
    )
    assert float(ended.stdout) == pytest.approx(2 / 3**0.5)
    assert ended.stderr == ""
