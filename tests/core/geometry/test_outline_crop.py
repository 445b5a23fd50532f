"""Cropping by a drawn outline: areas by closed form and by a geometry library, and no cracks."""

import math

import numpy as np
import pytest
from shapely.geometry import Polygon

from core.small_case import level_floor
from floorpan.frames import Pose
from floorpan.geometry.edges import edges
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.outline_crop import crop_outline
from floorpan.geometry.weld import weld

DOWN = Pose.turned((1.0, 0.0, 0.0), 180.0)


def area(mesh: Mesh) -> float:
    corner = mesh.points[mesh.faces]
    across = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    return float(np.linalg.norm(across, axis=1).sum()) / 2.0


def star(points: int, outer: float, inner: float, turn: float = 0.1) -> Floats:
    angle = np.linspace(0.0, 2 * math.pi, 2 * points, endpoint=False) + turn
    radius = np.where(np.arange(2 * points) % 2, inner, outer)
    return np.column_stack([radius * np.cos(angle), radius * np.sin(angle)])


def wavy(cells: int = 60) -> Mesh:
    """A sheet that is a height field: its shadow along z is the square."""
    flat = level_floor(half_mm=300.0, cells=cells)
    z = 20.0 * np.sin(flat.points[:, 0] / 40.0) * np.cos(flat.points[:, 1] / 55.0)
    return Mesh(np.column_stack([flat.points[:, :2], z]), flat.faces)


def shadow(mesh: Mesh) -> float:
    p, q, r = (mesh.points[mesh.faces[:, k], :2] for k in range(3))
    left = (q[:, 0] - p[:, 0]) * (r[:, 1] - p[:, 1]) - (q[:, 1] - p[:, 1]) * (r[:, 0] - p[:, 0])
    assert (left > 0.0).all(), "every face still faces up"
    return float(left.sum()) / 2.0


def crossing_random(random: np.random.Generator, corners: int) -> Floats:
    angle = np.sort(random.uniform(0.0, 2 * math.pi, corners))
    radius = random.uniform(60.0, 280.0, corners)
    return np.column_stack([radius * np.cos(angle), radius * np.sin(angle)])


@pytest.mark.parametrize("seed", range(12))
def test_the_shadow_of_what_is_kept_is_the_outline(seed: int) -> None:
    """Areas against a general-purpose geometry library; kept and dropped make the whole."""
    random = np.random.default_rng(seed)
    ring = crossing_random(random, int(random.integers(3, 65)))
    if not Polygon(ring).is_valid:
        pytest.skip("this draw crosses itself")
    mesh = wavy()
    told = Polygon(ring).intersection(Polygon([(-300, -300), (300, -300), (300, 300), (-300, 300)])).area
    inside, outside = crop_outline(mesh, Pose(), ring), crop_outline(mesh, Pose(), ring, keep=False)
    assert shadow(inside) == pytest.approx(told, rel=1e-9)
    assert shadow(inside) + shadow(outside) == pytest.approx(600.0**2, rel=1e-12)
    assert area(inside) + area(outside) == pytest.approx(area(mesh), rel=1e-9)


@pytest.mark.parametrize("keep", [True, False])
@pytest.mark.parametrize("ring", [star(7, 210.0, 70.0), star(32, 250.0, 180.0), star(4, 12.0, 5.0)])
def test_nothing_comes_apart(ring: Floats, keep: bool) -> None:
    """Open edges of what is left lie on the outline or on the sheet's own border: a crack would be open too."""
    mesh = wavy()
    left = weld(crop_outline(mesh, Pose(), ring, keep=keep)).mesh
    found = edges(left)
    assert found.non_manifold == 0
    middle = left.points[found.open_pairs].mean(axis=1)[:, :2]
    line = np.vstack([ring, ring[:1]])
    start, way = line[:-1], np.diff(line, axis=0)
    share = np.clip(((middle[:, None] - start) * way).sum(axis=2) / (way**2).sum(axis=1), 0.0, 1.0)
    off = np.linalg.norm(middle[:, None] - (start + share[..., None] * way), axis=2).min(axis=1)
    on_border = np.abs(np.abs(middle).max(axis=1) - 300.0) < 1e-9
    assert (on_border | (off < 1e-7)).all()


def test_a_small_outline_inside_one_triangle_and_one_round_everything() -> None:
    mesh = Mesh(
        np.array([[-100.0, -100.0, 0.0], [100.0, -100.0, 0.0], [0.0, 100.0, 50.0]]),
        np.array([[0, 1, 2]], dtype=np.int32),
    )
    ring = np.array([[-5.0, -5.0], [5.0, -5.0], [5.0, 5.0], [-5.0, 5.0]])
    assert shadow(crop_outline(mesh, Pose(), ring)) == pytest.approx(100.0)
    assert shadow(crop_outline(mesh, Pose(), ring, keep=False)) == pytest.approx(20_000.0 - 100.0)
    round_it = 40.0 * ring
    assert crop_outline(mesh, Pose(), round_it).faces.tolist() == [[0, 1, 2]]
    assert len(crop_outline(mesh, Pose(), round_it, keep=False).faces) == 0


def test_a_closed_box_is_cut_along_any_sight() -> None:
    """A cube of 200 mm seen along a diagonal of its base: closed forms of the kept skin's area."""
    half = 100.0
    corner = np.array([[x, y, z] for x in (-half, half) for y in (-half, half) for z in (-half, half)])
    quads = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
    faces = np.array([t for a, b, c, d in quads for t in ((a, b, c), (a, c, d))], dtype=np.int32)
    cube = Mesh(corner, faces)
    # Along x: the outline is a square of 100 mm in y and z: both faces across x keep 100 x 100 each.
    along_x = Pose.from_matrix(np.array([[0.0, 0.0, 1.0, 0.0], [1.0, 0.0, 0.0, 0.0], [0.0, 1.0, 0.0, 0.0]]))
    square = np.array([[-50.0, -50.0], [50.0, -50.0], [50.0, 50.0], [-50.0, 50.0]])
    assert area(crop_outline(cube, along_x, square)) == pytest.approx(2 * 100.0**2)
    assert area(crop_outline(cube, along_x, square, keep=False)) == pytest.approx(6 * 200.0**2 - 2 * 100.0**2)


def test_seen_from_below_the_outline_is_the_same_prism() -> None:
    mesh, ring = wavy(), star(5, 200.0, 90.0)
    below = crop_outline(mesh, DOWN, ring * [1.0, -1.0])
    assert shadow(below) == pytest.approx(Polygon(ring).area, rel=1e-9)


def test_whole_faces_are_chosen_where_nothing_is_to_be_cut() -> None:
    mesh, ring = wavy(), star(5, 200.0, 90.0)
    whole = crop_outline(mesh, Pose(), ring, cut=False)
    cut = crop_outline(mesh, Pose(), ring)
    assert shadow(whole) > shadow(cut)
    rows = {tuple(map(tuple, tri)) for tri in mesh.points[mesh.faces].tolist()}
    assert {tuple(map(tuple, tri)) for tri in whole.points[whole.faces].tolist()} <= rows


def test_sides_along_edges_and_corners_on_points_of_the_mesh() -> None:
    """The outline runs exactly along the grid: nothing may be lost or doubled."""
    mesh = level_floor(half_mm=100.0, cells=10)
    ring = np.array([[-60.0, -40.0], [40.0, -40.0], [40.0, 60.0], [-60.0, 60.0]])
    inside = crop_outline(mesh, Pose(), ring)
    outside = crop_outline(mesh, Pose(), ring, keep=False)
    assert shadow(inside) == pytest.approx(100.0 * 100.0)
    assert shadow(outside) == pytest.approx(200.0**2 - 100.0**2)


def test_outlines_one_after_another() -> None:
    mesh = wavy()
    first = crop_outline(mesh, Pose(), star(6, 250.0, 200.0))
    both = crop_outline(first, Pose(), star(3, 60.0, 30.0, turn=0.7), keep=False)
    told = Polygon(star(6, 250.0, 200.0)).area - Polygon(star(3, 60.0, 30.0, turn=0.7)).area
    assert shadow(both) == pytest.approx(told, rel=1e-9)
