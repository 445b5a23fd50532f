"""Heights over a grid and first hits of rays: closed forms, each other, and a third party's rays."""

import igl
import numpy as np
import pytest

from floorpan.geometry.columns import Columns
from floorpan.geometry.heights import HeightGrid, height_at
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.rays import RayCaster, pick
from floorpan.geometry.vertical import crossings
from made_up_sheets import bent, globe, joined, sheet, tunnel_floor, without


def test_a_slanted_plane_is_exact() -> None:
    mesh = bent(sheet(100, 80, 7.0), lambda x, y: 0.3 * x - 0.2 * y + 5.0)
    grid = HeightGrid.over(mesh, [-50, -40], [50, 40], 4.0)
    x, y = grid.centres()
    assert grid.z.shape == (25, 20)
    assert grid.z == pytest.approx(0.3 * x - 0.2 * y + 5.0, abs=1e-12)
    assert grid.at(np.array([[1.0, 1.0], [60.0, 0.0]])) == pytest.approx(
        [0.3 * 0 - 0.2 * 2 + 5.0, np.nan], nan_ok=True
    )


def test_what_reaches_over_the_grid_counts_though_no_corner_lies_over_it() -> None:
    """Closed form: a plane of two large triangles, beside small ones that lie off each side of the grid."""
    plane = Mesh(
        np.array([[-900, -900, -90], [900, -900, 90], [900, 900, 90], [-900, 900, -90]], dtype=float),
        np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32),
    )
    aside = [
        Mesh(np.array([[x, y, 500.0], [x + 9, y, 500.0], [x, y + 9, 500.0]]), plane.faces[:1])
        for x, y in ((-40.0, 10.0), (40.0, 10.0), (10.0, -40.0), (10.0, 40.0), (31.0, 31.0))
    ]
    grid = HeightGrid.over(joined(plane, *aside), np.zeros(2), np.array([30.0, 30.0]), 5.0)
    x, _ = grid.centres()
    assert np.allclose(grid.z, x / 10.0, atol=1e-12)


def test_columns_tell_every_height_at_a_place() -> None:
    """Against a look at every face: places between, on and beside the strips that columns are kept in."""
    mesh = joined(tunnel_floor(9.0, noise=0.4), sheet(120, 90, 7.0, low=(-33.3, -41.7)))
    columns = Columns(mesh)
    low, high = mesh.bounds
    random = np.random.default_rng(4).uniform(low[:2] - 5.0, high[:2] + 5.0, size=(300, 2))
    met = 0
    places = np.array([*random.tolist(), *mesh.points[::40, :2].tolist()])
    at_once = columns.heights_at_each(places)
    for (x, y), among in zip(places.tolist(), at_once, strict=True):
        crossed = crossings(mesh.points[mesh.faces], np.array([[x, y]]))
        told = tuple(sorted(float(z) for z in crossed.z[crossed.up]))
        assert columns.heights_at(x, y) == told
        assert among == told
        met += len(told)
    assert met > 300


def test_nothing_is_not_a_number() -> None:
    mesh = without(sheet(100, 100, 10.0), (-20, -20), (20, 20))
    grid = HeightGrid.over(mesh, [-60, -50], [50, 50], 10.0)
    x, y = grid.centres()
    seen = (np.abs(x) < 50) & ((np.abs(x) > 20) | (np.abs(y) > 20))
    assert np.array_equal(np.isfinite(grid.z), seen)


def test_lines_through_points_and_edges_slip_through_nowhere() -> None:
    """Cell middles on grid points of the sheet itself."""
    mesh = sheet(100, 100, 5.0)
    grid = HeightGrid.over(mesh, [-47.5, -47.5], [47.5, 47.5], 5.0)
    assert np.isfinite(grid.z).all()


def test_top_and_underside_of_a_globe() -> None:
    mesh = globe(50.0, turns=64)
    top = HeightGrid.over(mesh, [-30, -30], [30, 30], 3.0)
    under = HeightGrid.over(mesh, [-30, -30], [30, 30], 3.0, underside=True)
    x, y = top.centres()
    true = np.sqrt(2500.0 - x**2 - y**2)
    assert np.abs(top.z - true).max() < 50.0 * (1 - np.cos(np.pi / 64)) * 4
    assert under.z == pytest.approx(-top.z, abs=0.3)


def test_large_triangles_are_taken_in_parts(monkeypatch: pytest.MonkeyPatch) -> None:
    mesh = tunnel_floor(30.0)
    whole = HeightGrid.over(mesh, [-200, -150], [200, 150], 5.0)
    monkeypatch.setattr("floorpan.geometry.heights._PAIRS_AT_ONCE", 500)
    assert np.array_equal(HeightGrid.over(mesh, [-200, -150], [200, 150], 5.0).z, whole.z, equal_nan=True)


def test_grid_and_rays_agree() -> None:
    """Two routes with nothing in common: cells filled by triangles, and rays through a tree of boxes."""
    mesh = joined(tunnel_floor(9.0, noise=0.4), globe(30.0, 16))
    grid = HeightGrid.over(mesh, [-260, -210], [260, 210], 11.0)
    x, y = grid.centres()
    origin = np.column_stack([x.ravel(), y.ravel(), np.full(x.size, 500.0)])
    hits = RayCaster(mesh).first(origin, np.array([0.0, 0.0, -1.0]))
    assert np.array_equal(hits.face >= 0, np.isfinite(grid.z.ravel()))
    assert hits.at_mm[:, 2] == pytest.approx(grid.z.ravel(), abs=1e-9, nan_ok=True)


def test_rays_agree_with_another_library() -> None:
    """libigl's first hit; its distance is single precision."""
    mesh = tunnel_floor(10.0, noise=0.5)
    random = np.random.default_rng(3)
    origin = random.uniform([-200, -150, 150], [200, 150, 300], (400, 3))
    way = random.normal(size=(400, 3)) + np.array([0, 0, -1.5])
    hits = RayCaster(mesh).first(origin, way)
    tree = igl.AABB()
    faces = mesh.faces.astype(np.int64)
    tree.init(mesh.points, faces)
    theirs, along, _ = tree.intersect_ray_first(mesh.points, faces, origin, way)
    assert np.array_equal(hits.face >= 0, theirs >= 0)
    met = theirs >= 0
    assert met.sum() > 200
    assert hits.along[met] == pytest.approx(along[met], rel=1e-4)
    plane = np.einsum(
        "ij,ij->i",
        hits.at_mm[met] - mesh.points[mesh.faces[hits.face[met], 0]],
        normals(mesh)[hits.face[met]],
    )
    assert np.abs(plane).max() < 1e-9


def normals(mesh: Mesh) -> np.ndarray:
    corner = mesh.points[mesh.faces]
    normal = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    return normal / np.linalg.norm(normal, axis=1, keepdims=True)


@pytest.mark.parametrize("way", [(0, 0, -1), (0.3, -0.1, -2.0), (1.0, 0.2, -0.1), (1, 0, 0)])
def test_one_pick_is_one_ray(way: tuple[float, float, float]) -> None:
    mesh = joined(tunnel_floor(12.0), globe(30.0, 16))
    caster = RayCaster(mesh)
    for origin in ((-200.0, 10.0, 60.0), (0.0, 0.0, 300.0), (-90.0, -100.0, 10.0)):
        hit, row = pick(mesh, origin, way), caster.first(np.array([origin]), np.array([way]))
        assert (hit is None) == (row.face[0] < 0)
        if hit is not None:
            assert hit.face == row.face[0]
            assert hit.at_mm == pytest.approx(row.at_mm[0])
            assert hit.distance_mm == pytest.approx(np.linalg.norm(np.subtract(hit.at_mm, origin)))


def test_behind_the_origin_nothing_is_met() -> None:
    mesh = sheet()
    assert pick(mesh, (0, 0, -5), (0, 0, -1)) is None
    assert pick(mesh, (3.0, 4.0, -5), (0, 0, 1)) is not None
    assert RayCaster(mesh).first(np.array([[0.0, 0, -5]]), np.array([0.0, 0, -1])).face.tolist() == [-1]


def test_a_ray_along_a_grid_line_meets_the_sheet() -> None:
    """Straight through points and along edges of the grid, where boxes have no thickness to spare."""
    hits = RayCaster(sheet(100, 100, 10.0)).first(
        np.array([[0.0, 0, 50], [10.0, 5, 50], [-50.0, -50, 9]]), np.array([0.0, 0, -1])
    )
    assert (hits.face >= 0).all()
    assert hits.at_mm[:, 2] == pytest.approx([0, 0, 0])


def test_nothing_is_met_in_nothing() -> None:
    nothing = Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32))
    assert RayCaster(nothing).first(np.zeros((2, 3)), np.array([0.0, 0, 1])).face.tolist() == [-1, -1]
    assert pick(nothing, (0, 0, 0), (0, 0, 1)) is None


def test_height_over_a_place() -> None:
    mesh = joined(sheet(), Mesh(sheet(40, 40).points + np.array([0.0, 0, 25]), sheet(40, 40).faces))
    assert height_at(mesh, 3.0, 4.0) == pytest.approx(25.0)
    assert height_at(mesh, 60.0, 4.0) == pytest.approx(0.0)
    assert height_at(mesh, 600.0, 4.0) is None
