"""The gap engine against all pairs of triangles, a bulk closest-point library, and closed forms.

Agreement to 1e-6 mm or 1e-9 of the distance. Bodies are what placed things are made of, and hulls of a few random
points, which come near a rough floor by their edges as often as by their corners.
"""

import itertools
import math
from collections.abc import Iterator
from pathlib import Path

import igl
import numpy as np
import pytest

from core.geometry.brute_force import Reference, pair_distances
from core.geometry.rough_floor import rough_floor
from floorpan.frames import Pose
from floorpan.geometry.approach import GapMemory
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.solids import Body, Hull, Solid, ball, box, capsule, frustum
from floorpan.geometry.surface import Surface
from floorpan.progress import finish
from floorpan.scan.prepare import prepare
from floorpan.scan.read import read_scan
from made_up_distances import convex_distance
from made_up_sheets import body, grid_faces, sheet, without

WITHIN_MM, SHARE = 1e-6, 1e-9


def shapes(seed: int = 0) -> dict[str, Body]:
    random = np.random.default_rng(seed)
    crystals = {
        f"crystal {k}": body(Hull(random.normal(size=(9, 3)) * [60.0, 40.0, 25.0], 2.0 * (k % 2)))
        for k in range(4)
    }
    return {
        "lever": body(capsule([0, 0, 0], [0, 0, 250], 7.0), ball([0, 0, 250], 22.0)),
        "cup": body(frustum(0.0, 110.0, 28.0, 41.0)),
        "console": body(
            *(box([60.0 * k, y, 0], [60.0 * k + 55, y + 90, 40], 3.0) for k in range(3) for y in (-190, 100))
        ),
        "plate": body(Hull(np.array([[-60.0, -40, 0], [60, -40, 0], [60, 40, 0], [-60, 40, 0]]))),
        "needle": body(Hull(np.array([[-80.0, 0, 0], [80.0, 0, 0]]))),
        **crystals,
    }


def placed(held: Body, pose: Pose) -> Body:
    return tuple(Solid(solid.hull, pose.after(solid.pose)) for solid in held)


def any_turn(random: np.random.Generator) -> Pose:
    axis = random.normal(size=3)
    return Pose.turned((float(axis[0]), float(axis[1]), float(axis[2])), float(random.uniform(0, 180)))


def poses(held: Body, mesh: Mesh, tree: igl.AABB, random: np.random.Generator) -> Iterator[Body]:
    """The body anywhere over a surface that faces up, from sunk in by a little to 150 mm away."""
    low, high = mesh.points.min(axis=0), mesh.points.max(axis=0)
    while True:
        turned = placed(held, any_turn(random))
        share = random.uniform(0.1, 0.9, 2)
        over = low[:2] + share * (high - low)[:2]
        points = placed_points(turned, np.array([*over, high[2] + 400.0]))
        drop = float(np.sqrt(tree.squared_distance(mesh.points, mesh.faces, points)[0].min()))
        # Down by its distance at the most, so that it is apart still, or sunk in by a little.
        down = (
            drop - max(s.hull.radius_mm for s in turned) - random.choice([-3.0, 0.3, 2.0, 8.0, 30.0, 150.0])
        )
        yield placed(turned, Pose(shift_mm=(float(over[0]), float(over[1]), float(high[2] + 400.0 - down))))


def tree_of(mesh: Mesh) -> igl.AABB:
    tree = igl.AABB()
    tree.init(mesh.points, mesh.faces.astype(np.int64))
    return tree


def slowly(held: Body, reference: Reference) -> float:
    """The least gap over all pairs of triangles, radii taken off."""
    skins = ((solid, solid.hull.skin()) for solid in held)
    return min(
        reference.distance(solid.pose.apply(skin.points)[skin.faces]) - solid.hull.radius_mm
        for solid, skin in skins
    )


def holds(mesh: Mesh, each: int, seed: int) -> int:
    """Engine against brute force, `each` poses a shape; how many were apart."""
    surface, reference, tree = Surface(mesh), Reference(mesh.points, mesh.faces), tree_of(mesh)
    random, apart = np.random.default_rng(seed), 0
    for name, held in shapes(seed).items():
        memory = GapMemory()
        for stood in itertools.islice(poses(held, mesh, tree, random), each):
            near = surface.gap(stood, memory=memory)
            slow = slowly(stood, reference)
            if near.distance_mm < 0.0:
                # A depth: the skins cross, or all of it lies under, its deepest point deeper than its nearest.
                assert slow <= -near.distance_mm + WITHIN_MM, name
                continue
            apart += 1
            assert near.distance_mm == pytest.approx(slow, abs=WITHIN_MM, rel=SHARE), name
            ends = np.subtract(near.on_body, near.on_surface)
            assert np.linalg.norm(ends) == pytest.approx(near.distance_mm, abs=WITHIN_MM)
    del tree
    return apart


def test_over_all_pairs_of_triangles_of_a_rough_floor() -> None:
    assert holds(rough_floor(60_000), each=4, seed=1) >= 25


@pytest.mark.long
def test_over_all_pairs_of_triangles_of_a_million() -> None:
    mesh = rough_floor(1_000_000)
    assert len(mesh.faces) > 990_000
    assert holds(mesh, each=30, seed=2) >= 200


@pytest.mark.parametrize(
    "name", ["open_heightfield_surface.stl", "boot_metres.obj", "wavy_mesh_with_hole.ply"]
)
def test_over_all_pairs_of_triangles_of_real_scans(name: str, shared_data: Path) -> None:
    """Scans from the shared data folder, brought to half a metre across and turned to face up."""
    mesh = finish(prepare(finish(read_scan(shared_data / "scans_mesh" / name)), "mm")).mesh
    corners = mesh.points[mesh.faces]
    areas = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    # Of a closed scan as much faces down as up.
    down = areas[:, 2].sum() < -0.2 * np.linalg.norm(areas, axis=1).sum()
    faces = np.ascontiguousarray(mesh.faces[:, ::-1]) if down else mesh.faces
    size = float(np.ptp(mesh.points, axis=0).max())
    assert holds(Mesh(mesh.points * (500.0 / size), faces), each=2, seed=3) >= 12


def bounded(mesh: Mesh, each: int, seed: int) -> int:
    """A bulk closest-point library (libigl) from points of the body's skin: never nearer than the engine says."""
    surface, tree = Surface(mesh), tree_of(mesh)
    random, asked = np.random.default_rng(seed), 0
    faces = mesh.faces.astype(np.int64)
    for name, held in shapes(seed).items():
        memory = GapMemory()
        for stood in itertools.islice(poses(held, mesh, tree, random), each):
            told = surface.gap(stood, memory=memory).distance_mm
            for solid in stood:
                squared = tree.squared_distance(mesh.points, faces, solid.points())[0]
                bound = float(np.sqrt(squared.min())) - solid.hull.radius_mm
                assert told <= bound + max(WITHIN_MM, SHARE * abs(bound)), name
            asked += 1
    del tree
    return asked


def test_a_closest_point_library_never_finds_nearer() -> None:
    assert bounded(rough_floor(60_000), each=30, seed=4) == 270


@pytest.mark.long
def test_a_closest_point_library_never_finds_nearer_at_a_million() -> None:
    assert bounded(rough_floor(1_000_000), each=223, seed=5) >= 2000


class TestBruteForceItself:
    """What the engine is held to is held to closed forms and to a third way."""

    def test_pairs_by_hand(self) -> None:
        flat = np.array([[0.0, 0, 0], [10, 0, 0], [0, 10, 0]])
        for other, expected in (
            ([[2.0, 2, 5], [3, 2, 9], [2, 3, 9]], 5.0),  # corner over the inside
            ([[-3.0, 5, 4], [-3, 5, 9], [-9, 5, 9]], 5.0),  # corner off an edge: 3 aside, 4 up
            ([[5.0, -9, 4], [5, 9, 4], [5, 0, 30]], 4.0),  # edge over the inside and an edge
            ([[2.0, 2, -5], [2, 2, 5], [3, 3, 5]], 0.0),  # goes through
            ([[13.0, -4, 0], [13, -4, 0], [13, -4, 0]], 5.0),  # a point: 3 along, 4 aside
        ):
            two = np.array([other])
            assert pair_distances(flat[None], two)[0] == pytest.approx(expected, abs=1e-12)
            assert pair_distances(two, flat[None])[0] == pytest.approx(expected, abs=1e-12)

    def test_pairs_by_least_squares(self) -> None:
        random = np.random.default_rng(8)
        one, two = random.normal(size=(2, 60, 3, 3)) * 10.0
        two += random.normal(size=(60, 1, 3)) * 20.0
        told = pair_distances(one, two)
        for a, b, distance in zip(one, two, told, strict=True):
            assert distance == pytest.approx(convex_distance(a, b), abs=1e-4)


class TestClosedForms:
    @pytest.mark.parametrize("off", [0.0, 2.0, 7.5])
    def test_a_cylinder_in_a_cylinder(self, off: float) -> None:
        """A vessel of 60 across in a well of 80 with as many sides: flat to flat, the well's apothem less the rest."""
        sides = 48
        inner = 40.0 * math.cos(math.pi / sides)
        # Off towards the middle of a side.
        way = np.array([math.cos(math.pi / sides), math.sin(math.pi / sides), 0.0]) * off
        vessel = placed(body(frustum(-30.0, 30.0, 30.0, 30.0, sides)), shifted(way))
        near = Surface(well(40.0, sides)).gap(vessel)
        assert near.distance_mm == pytest.approx(inner - 30.0 - off, abs=1e-9)
        assert near.distance_mm == pytest.approx(
            10.0 - off, abs=40.0 * (1 - math.cos(math.pi / sides)) + 1e-9
        )

    @pytest.mark.parametrize("off", [0.0, 5.0, 9.0])
    def test_a_rod_in_a_cylinder(self, off: float) -> None:
        sides = 360
        way = np.array([math.cos(math.pi / sides), math.sin(math.pi / sides), 0.0]) * off
        rod = placed(body(capsule([0, 0, -20], [0, 0, 20], 30.0)), shifted(way))
        near = Surface(well(40.0, sides)).gap(rod)
        assert near.distance_mm == pytest.approx(40.0 * math.cos(math.pi / sides) - 30.0 - off, abs=1e-9)

    def test_an_edge_over_a_ridge(self) -> None:
        """A needle over a roof's ridge: two lines askew, |between . u x v| / |u x v|."""
        roof = sheet(400.0, 400.0, 200.0)
        ridge = Surface(Mesh(roof.points - [[0, 0, 1]] * np.abs(roof.points[:, 1:2]), roof.faces))
        random = np.random.default_rng(6)
        u = np.array([1.0, 0.0, 0.0])
        for _ in range(40):
            middle = np.array([*random.uniform(-40, 40, 1), 0.0, random.uniform(5, 60)])
            v = np.array([random.uniform(-1, 1), random.choice([-1.0, 1.0]), random.uniform(-0.5, 0.5)])
            needle = Hull(np.array([middle - 50 * v, middle + 50 * v]), 3.0)
            across = np.cross(u, v)
            expected = abs(middle @ across) / np.linalg.norm(across) - 3.0
            assert ridge.gap(body(needle)).distance_mm == pytest.approx(expected, abs=1e-9)

    def test_two_boxes_edge_to_edge(self) -> None:
        """Cubes of 20 that stand on an edge each, edges square to one another: the middles less both half diagonals."""
        one = Solid(box([-10, -10, -10], [10, 10, 10]), Pose.turned((1, 0, 0), 45.0))
        turned = Pose(shift_mm=(3.0, -2.0, 50.0)).after(Pose.turned((0, 1, 0), 45.0))
        two = Solid(box([-10, -10, -10], [10, 10, 10]), turned)
        assert body_gap((one,), (two,)).distance_mm == pytest.approx(50.0 - 2 * 10 * math.sqrt(2), abs=1e-9)


class TestTrapsOfTheDistanceLibrary:
    def test_triangles_without_area_change_nothing(self) -> None:
        floor = rough_floor(4_000)
        random = np.random.default_rng(7)
        edge = floor.faces[random.integers(0, len(floor.faces), 300)]
        with_flat = Mesh(floor.points, np.vstack([floor.faces, edge[:, [0, 1, 1]], edge[:, [2, 2, 2]]]))
        one, two = Surface(floor), Surface(with_flat)
        for held in shapes().values():
            stood = placed(held, Pose(shift_mm=(700.0, 30.0, 320.0)).after(any_turn(random)))
            assert two.gap(stood).distance_mm == pytest.approx(one.gap(stood).distance_mm, abs=1e-9)

    def test_both_points_stand_in_car_axes_each_on_its_own(self) -> None:
        """The library orders its points as it is asked, and hands back those of the posed part in the world."""
        floor = rough_floor(20_000)
        surface, random = Surface(floor), np.random.default_rng(9)
        for held in shapes().values():
            stood = placed(held, Pose(shift_mm=(900.0, -50.0, 400.0)).after(any_turn(random)))
            near = surface.gap(stood)
            corners = floor.points[floor.faces[near.face]][None]
            at = np.repeat(np.array([[near.on_surface]]), 3, axis=1)
            assert pair_distances(at, corners)[0] < 1e-9
            solid = stood[near.solid_index]
            skin = solid.hull.skin()
            own = Reference(solid.pose.apply(skin.points), skin.faces)
            away = own.distance(np.repeat(np.array([[near.on_body]]), 3, axis=1))
            assert away == pytest.approx(solid.hull.radius_mm, abs=1e-6)

    def test_under_a_scan_with_a_hole_beside_it_is_no_room(self) -> None:
        """Wholly under the open sheet a plain distance is 60: it is 80 deep. Beside it, at the rim, it is in front."""
        floor = Surface(without(sheet(600, 600, 10.0), (150, -100), (290, 100)))
        deep = body(box([-20, -20, -80], [20, 20, -60]))
        assert floor.gap(deep).distance_mm == pytest.approx(-80.0)
        assert floor.gap(placed(deep, shifted(np.array([-400.0, 0, 0])))).at_rim


def placed_points(held: Body, at: np.ndarray) -> np.ndarray:
    return np.vstack([solid.points() for solid in held]) + at


def shifted(way: np.ndarray) -> Pose:
    return Pose(shift_mm=(float(way[0]), float(way[1]), float(way[2])))


def well(radius: float, sides: int) -> Mesh:
    """The wall of a well of 100 deep about Z, its corners on the circle, facing inward."""
    around = 2 * np.pi * np.arange(sides + 1) / sides
    ring = np.column_stack([np.cos(around), np.sin(around)]) * radius
    points = np.vstack([np.column_stack([ring, np.full(sides + 1, z)]) for z in (-50.0, 50.0)])
    faces = grid_faces(2, sides + 1)
    corner = points[faces[0]]
    inward = np.cross(corner[1] - corner[0], corner[2] - corner[0]) @ corner[0] < 0.0
    return Mesh(points, faces if inward else np.ascontiguousarray(faces[:, ::-1]))
