"""A surface from points: on the shape, as large as the shape, open where nothing was seen, and never beyond."""

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from scipy.spatial import cKDTree

from floorpan.errors import BadValue, NoSurface
from floorpan.geometry.edges import boundary_loops, edges, islands
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.normals import face_areas, face_normals
from floorpan.geometry.weld import weld
from floorpan.progress import Step, finish
from floorpan.scan.read import read_scan
from floorpan.scan.surfacing import Surfaced, Surfacing, surface_from_points

SPACING = 2.0


def shaken_grid(wide: float, long: float, seed: int = 0, share: float = 0.25) -> Floats:
    """Places (N, 2) two apart, each shaken by a share of that: no two alike, none far from its place."""
    u, v = np.meshgrid(np.arange(0.0, wide + 1e-9, SPACING), np.arange(0.0, long + 1e-9, SPACING))
    at = np.column_stack([u.ravel(), v.ravel()])
    shaken = at + np.random.default_rng(seed).uniform(-share, share, at.shape) * SPACING
    return np.random.default_rng(seed + 1).permutation(shaken)


def plane() -> Floats:
    at = shaken_grid(200.0, 160.0)
    return np.column_stack([at, np.zeros(len(at))])


def on_cylinder() -> Floats:
    """Half round: a tunnel of radius 60, 200 long."""
    at = shaken_grid(60.0 * math.pi, 200.0)
    turn = at[:, 0] / 60.0
    return np.column_stack([60.0 * np.cos(turn), at[:, 1], 60.0 * np.sin(turn)])


def on_step() -> Floats:
    """Two levels of 80 and a riser of 40 between."""
    along, across = shaken_grid(200.0, 150.0).T
    x = np.where(along < 80.0, along, np.where(along < 120.0, 80.0, along - 40.0))
    return np.column_stack([x, across, np.clip(along - 80.0, 0.0, 40.0)])


def on_cap() -> Floats:
    """The part of a sphere of 100 about the origin above z = 60: points of even density along a spiral."""
    count = round(2 * math.pi * 100.0 * 40.0 / SPACING**2)
    z = 100.0 - 40.0 * (np.arange(count) + 0.5) / count
    turn = np.arange(count) * math.pi * (3.0 - math.sqrt(5.0))
    ring = np.sqrt(100.0**2 - z * z)
    return np.column_stack([ring * np.cos(turn), ring * np.sin(turn), z])


SHAPES: dict[str, tuple[Callable[[], Floats], float]] = {
    "plane": (plane, 200.0 * 160.0),
    "cylinder": (on_cylinder, 60.0 * math.pi * 200.0),
    "step": (on_step, 200.0 * 150.0),
    "cap": (on_cap, 2 * math.pi * 100.0 * 40.0),
}


def sound(found: Surfaced, points: Floats) -> None:
    """What holds for every surface from points."""
    mesh = found.mesh
    assert np.array_equal(mesh.points, points[found.given])
    assert (np.diff(found.given) > 0).all()
    assert edges(mesh).non_manifold == 0
    assert len(found.given) + sum(found.left_out.values()) == len(points)


@pytest.mark.parametrize("name", list(SHAPES))
@pytest.mark.parametrize("noise", [0.0, 0.15])
def test_shapes_of_known_area(name: str, noise: float) -> None:
    """Closed form: area, one sheet, one rim, facing up, every point used."""
    made, area = SHAPES[name]
    points = made() + np.random.default_rng(4).normal(0.0, 1.0, (len(made()), 3)) * noise
    found = finish(surface_from_points(points))
    sound(found, points)
    mesh = found.mesh
    assert not found.left_out
    assert len(boundary_loops(mesh)) == 1
    assert edges(mesh).flipped == 0
    assert int(islands(mesh).max()) == 0
    # Half a cell is missing along the rim, noise adds to the area of rough triangles.
    assert float(face_areas(mesh).sum()) == pytest.approx(area, rel=0.02 + noise / 2.0)
    assert found.spacing_mm == pytest.approx(SPACING, rel=0.15)
    if not noise:
        assert (face_normals(mesh) @ [0.0, 0.0, 1.0] > -0.05).all()


def test_the_open_rim_is_the_true_rim() -> None:
    mesh = finish(surface_from_points(plane())).mesh
    rim = mesh.points[np.unique(edges(mesh).open_pairs)]
    inward = np.minimum(np.minimum(rim[:, 0], 200.0 - rim[:, 0]), np.minimum(rim[:, 1], 160.0 - rim[:, 1]))
    assert inward.max() < 1.5 * SPACING


@pytest.mark.parametrize(("across", "loops"), [(4.5, 1), (9.5, 2)])
def test_a_wide_hole_stays_open_and_a_narrow_one_closes(across: float, loops: int) -> None:
    points = plane()
    points = points[np.linalg.norm(points[:, :2] - [100.0, 80.0], axis=1) > across / 2.0]
    found = finish(surface_from_points(points))
    sound(found, points)
    assert found.widest_gap_mm == pytest.approx(4.0 * SPACING, rel=0.15)
    assert len(boundary_loops(found.mesh)) == loops
    wider = finish(surface_from_points(points, Surfacing(widest_gap=6.0)))
    assert len(boundary_loops(wider.mesh)) == 1


def test_a_slot_between_two_sheets_stays_open() -> None:
    points = plane()
    points = points[np.abs(points[:, 0] - 100.0) > 4.6]
    found = finish(surface_from_points(points))
    assert int(islands(found.mesh).max()) == 1
    assert int(islands(finish(surface_from_points(points, Surfacing(widest_gap=6.0))).mesh).max()) == 0


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_no_place_far_from_all_points_is_ever_covered(seed: int) -> None:
    """Points by pure chance over a bent sheet with a hole, ragged rims and strays.

    A place in a triangle is never farther from its nearest corner than half the circle round it.
    """
    random = np.random.default_rng(seed)
    points = random.uniform(0.0, 200.0, (8000, 3))
    points[:, 2] = 20.0 * np.sin(points[:, 0] / 30.0) + random.normal(0.0, 0.3, len(points))
    points = points[np.linalg.norm(points[:, :2] - [60.0, 90.0], axis=1) > 25.0]
    points[:40, 2] += random.uniform(5.0, 60.0, 40)
    found = finish(surface_from_points(points))
    sound(found, points)
    tree = cKDTree(points)
    eighth = np.asarray(tree.query(points, k=9)[0])[:, 8] * math.sqrt(math.pi / 8.0)
    spacing = np.median(eighth[np.asarray(tree.query(points, k=9)[1])[:, 1:]], axis=1)[found.given]
    corner = found.mesh.points[found.mesh.faces]
    share = random.dirichlet([1.0, 1.0, 1.0], len(corner))
    places = np.einsum("ij,ijk->ik", share, corner)
    away = np.asarray(tree.query(places)[0])
    assert (away <= 2.0 * spacing[found.mesh.faces].min(axis=1) * (1.0 + 1e-9)).all()
    flat = places[:, :2] - [60.0, 90.0]
    assert np.linalg.norm(flat, axis=1).min() > 25.0 - found.widest_gap_mm


def test_two_sheets_do_not_grow_together() -> None:
    below = plane()
    points = np.vstack(
        [below, np.column_stack([shaken_grid(200.0, 160.0, seed=7), np.full(len(below), 8.0)])]
    )
    found = finish(surface_from_points(points))
    sound(found, points)
    level = found.mesh.points[found.mesh.faces][:, :, 2]
    assert (level == level[:, :1]).all()
    assert not found.left_out
    assert float(face_areas(found.mesh).sum()) == pytest.approx(2 * 200.0 * 160.0, rel=0.02)


def test_an_even_grid_gives_every_cell_two_triangles() -> None:
    x, y = np.meshgrid(np.arange(40) * 3.0, np.arange(30) * 3.0)
    points = np.column_stack([x.ravel(), y.ravel(), np.full(x.size, 5.0)])
    mesh = finish(surface_from_points(points)).mesh
    assert float(face_areas(mesh).sum()) == pytest.approx(39 * 29 * 9.0)
    assert len(mesh.faces) == 2 * 39 * 29


def test_facing_by_where_the_scanner_stood() -> None:
    seen = finish(surface_from_points(plane(), Surfacing(seen_from_mm=(100.0, 80.0, -500.0)))).mesh
    assert (face_normals(seen)[:, 2] < 0.0).all()
    up = finish(surface_from_points(plane(), up=(0.0, 0.0, -1.0))).mesh
    assert (face_normals(up)[:, 2] < 0.0).all()


def test_what_is_left_out_is_counted() -> None:
    points = np.vstack(
        [plane(), plane()[:100], [[np.nan, 0.0, 0.0], [0.0, np.inf, 0.0], [500.0, 500.0, 500.0]]]
    )
    found = finish(surface_from_points(points))
    assert found.left_out == {
        "not a number": 2,
        "there twice": 100,
        "in no triangle that its neighbours agree on": 1,
    }


@pytest.mark.parametrize(
    "points",
    [
        np.zeros((0, 3)),
        np.zeros((50, 3)),
        np.eye(3),
        np.column_stack([np.arange(60.0), np.zeros(60), np.zeros(60)]),
        np.full((9, 3), np.nan),
    ],
    ids=["none", "one place", "three", "a line", "no numbers"],
)
def test_points_without_a_surface(points: Floats) -> None:
    with pytest.raises(NoSurface):
        finish(surface_from_points(points))


def test_the_same_each_time_and_told_step_by_step() -> None:
    steps: list[Step] = []
    first = finish(surface_from_points(on_step()), steps.append).mesh
    assert np.array_equal(first.faces, finish(surface_from_points(on_step())).mesh.faces)
    done = [step.done for step in steps]
    assert done == sorted(done)
    assert done[-1] == 1.0


def test_what_cannot_be() -> None:
    with pytest.raises(BadValue):
        Surfacing(widest_gap=1.0)


def lidar_points(path: Path) -> Floats:
    """The points of a PLY without faces [m], turned into mm; its header says where they stand."""
    text, _, body = path.read_bytes().partition(b"end_header\n")
    words = text.split()
    assert words[words.index(b"format") + 1] == b"binary_little_endian"
    count = int(words[words.index(b"vertex") + 1])
    return np.frombuffer(body, dtype="<f4", count=3 * count).reshape(-1, 3).astype(np.float64) * 1000.0


def test_parked_cars_seen_by_a_lidar(shared_data: Path) -> None:
    """Open gaps stay open: shadows behind the cars, between the lines of the scanner far out."""
    points = lidar_points(shared_data / "scans_points" / "lidar_parked_cars.ply")
    assert len(points) == 10031
    found = finish(surface_from_points(points))
    sound(found, points)
    mesh = found.mesh
    assert len(mesh.faces) > len(points)
    assert int(islands(mesh).max()) > 10
    assert len(edges(mesh).open_pairs) > 1000
    # The cars' ground lies under 6.2 by 6.7 m; a floor laid over all of it would hide the shadows.
    seen = np.abs(face_normals(mesh)[:, 2]) * face_areas(mesh)
    assert float(seen.sum()) < 6219.0 * 6680.0


@pytest.mark.parametrize(
    "name",
    ["depthcam_three_cylinders.ply", "depthcam_boxes_and_cylinders.ply", "depthcam_two_round_objects.ply"],
)
def test_a_depth_camera_scene_against_its_own_triangles(shared_data: Path, name: str) -> None:
    """The scene's points alone, against the triangles that the camera's own grid gives them.

    Both diagonals of a cell of the grid are as good; so two sides of three and half of the third are expected alike.
    """
    own = weld(finish(read_scan(shared_data / "scans_depthcam" / name)).mesh).mesh
    own = own.kept(np.ones(len(own.faces), dtype=bool))
    found = finish(surface_from_points(own.points))
    sound(found, own.points)
    theirs, ours = edges(own), edges(found.mesh)
    alike = pairs_of(theirs.pairs) & pairs_of(np.sort(found.given[ours.pairs], axis=1))
    assert len(alike) > 0.79 * len(theirs.pairs)
    assert float(face_areas(found.mesh).sum()) == pytest.approx(float(face_areas(own).sum()), rel=0.01)
    assert len(found.given) > 0.999 * len(own.points)
    assert off_mm(own, found.mesh) < 5.0


def test_a_closed_thing_comes_out_facing_one_way(shared_data: Path) -> None:
    """Points of a foot, far apart beside its thickness: sheets that cannot agree are parted, never left at odds."""
    own = weld(finish(read_scan(shared_data / "scans_mesh" / "foot_reference.stl")).mesh).mesh
    found = finish(surface_from_points(own.points))
    sound(found, own.points)
    assert edges(found.mesh).flipped == 0
    assert float(face_areas(found.mesh).sum()) == pytest.approx(float(face_areas(own).sum()), rel=0.06)


def pairs_of(pairs: object) -> set[tuple[int, int]]:
    return {(one, two) for one, two in np.asarray(pairs).tolist()}


def off_mm(own: Mesh, ours: Mesh) -> float:
    """99 % of our triangles' middles lie no farther from the own triangles' middles."""
    middles = [mesh.points[mesh.faces].mean(axis=1) for mesh in (own, ours)]
    return float(np.percentile(np.asarray(cKDTree(middles[0]).query(middles[1])[0]), 99))
