"""Gaps to a surface: closed forms, a slow second way, and the traps of open sheets."""

import itertools
import math

import numpy as np
import pytest

from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.near import Near
from floorpan.geometry.solids import Body, Hull, Solid, ball, box, capsule, frustum
from floorpan.geometry.surface import Surface
from made_up_distances import hull_to_mesh
from made_up_sheets import bent, body, cube, joined, sheet, tunnel_floor, without


def at(solids: Body, x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Body:
    move = Pose(shift_mm=(x, y, z))
    return tuple(Solid(solid.hull, move.after(solid.pose)) for solid in solids)


def check_points(near: Near) -> None:
    """The two points are as far apart as the gap says, and `away` points from the surface to the body outside."""
    way = np.subtract(near.on_body, near.on_surface)
    assert np.linalg.norm(way) == pytest.approx(abs(near.distance_mm), abs=1e-9)
    assert way @ np.asarray(near.away) == pytest.approx(near.distance_mm, abs=1e-9)
    assert np.linalg.norm(near.away) == pytest.approx(1.0)


FLAT = Surface(sheet())


@pytest.mark.parametrize("height", [100.0, 30.0, 22.0, 21.9, 5.0, 0.0, -7.0, -60.0])
def test_a_ball_over_and_under_a_sheet(height: float) -> None:
    """Height less radius, on both sides: the centre alone tells where a ball is."""
    near = FLAT.gap(at(body(ball(np.zeros(3), 22.0)), 3.2, -8.1, height))
    assert near.distance_mm == pytest.approx(height - 22.0, abs=1e-12)
    assert np.allclose(near.on_surface, [3.2, -8.1, 0.0])
    assert np.allclose(near.on_body, [3.2, -8.1, height - 22.0])
    check_points(near)


@pytest.mark.parametrize("height", [40.0, 6.0, 2.0, -3.0, -40.0, -90.0])
@pytest.mark.parametrize("radius", [0.0, 4.0])
def test_a_box_sunk_step_by_step(height: float, radius: float) -> None:
    """A level box of 30 x 20 x 50, underside at `height`: the gap is the height, the depth as far as it goes down."""
    near = FLAT.gap(body(box([-15, -10, height], [15, 10, height + 50], radius)))
    assert near.distance_mm == pytest.approx(height, abs=1e-9)
    check_points(near)


@pytest.mark.parametrize(("tilt", "low"), [(0.0, 12.0), (30.0, 12.0), (63.0, -20.0), (90.0, 3.0)])
def test_a_tilted_capsule(tilt: float, low: float) -> None:
    """The lower end's centre stands at `low`, whatever the tilt."""
    turn = Pose.turned((0, 1, 0), 90.0 - tilt)
    rod = (Solid(capsule([0, 0, 0], [0, 0, 80], 6.0), turn),)
    near = FLAT.gap(at(rod, 0, 0, low))
    assert near.distance_mm == pytest.approx(low - 6.0, abs=1e-9)
    check_points(near)


def test_a_frustum_stands_on_its_facets() -> None:
    near = FLAT.gap(at(body(frustum(0.0, 110.0, 28.0, 41.0)), z=4.5))
    assert near.distance_mm == pytest.approx(4.5, abs=1e-12)


def random_pose(random: np.random.Generator, low: float, high: float) -> Pose:
    axis = random.normal(size=3)
    place = random.uniform([-120, -90, low], [120, 90, high])
    return Pose(shift_mm=tuple(place)).after(Pose.turned(tuple(axis), random.uniform(0, 180)))  # type: ignore[arg-type]


SHAPES = {
    "point": Hull(np.zeros((1, 3))),
    "rod": capsule([0, 0, -30], [0, 0, 30], 5.0),
    "box": box([-20, -12, -9], [20, 12, 9]),
    "rounded box": box([-20, -12, -9], [20, 12, 9], 4.0),
    "plate": Hull(np.array([[-20.0, -10, 0], [20, -10, 0], [20, 10, 0], [-20, 10, 0]])),
    "cone": frustum(-20, 20, 8, 15, sides=12),
}


@pytest.mark.parametrize("shape", SHAPES)
def test_gaps_agree_with_a_slow_second_way(shape: str) -> None:
    """One triangle after another by non-negative least squares, on a coarse bent floor."""
    mesh = tunnel_floor(step=50.0)
    surface = Surface(mesh, tile_triangles=20)
    random = np.random.default_rng(len(shape))
    for _ in range(6):
        solid = Solid(SHAPES[shape], random_pose(random, 140.0, 200.0))
        near = surface.gap((solid,))
        slow = hull_to_mesh(solid.points(), mesh) - solid.hull.radius_mm
        assert near.distance_mm == pytest.approx(slow, abs=1e-4)
        check_points(near)
        corner = mesh.points[mesh.faces[near.face]]
        assert np.linalg.norm(np.cross(corner[1] - corner[0], corner[2] - corner[0])) > 0


def test_tiles_change_nothing() -> None:
    mesh = tunnel_floor(step=10.0, noise=0.4)
    whole, tiled = Surface(mesh, tile_triangles=10**6), Surface(mesh, tile_triangles=150)
    assert len(whole.tiles) == 1
    assert len(tiled.tiles) > 20
    assert np.array_equal(
        np.sort(np.concatenate([tile.faces for tile in tiled.tiles])), np.arange(len(mesh.faces))
    )
    random = np.random.default_rng(5)
    for shape in SHAPES.values():
        for _ in range(5):
            solid = Solid(shape, random_pose(random, 60.0, 200.0))
            one, other = whole.gap((solid,)), tiled.gap((solid,))
            assert one.distance_mm == pytest.approx(other.distance_mm, abs=1e-9)


class TestOpenSheets:
    """Where a plain distance tells nothing, or the wrong thing."""

    def test_a_part_wholly_under_the_floor_is_deep_in_it(self) -> None:
        """It crosses nothing: a plain distance is 30 and looks like room. The deepest corner is 80 down."""
        near = FLAT.gap(body(box([-20, -20, -80], [20, 20, -30])))
        assert near.distance_mm == pytest.approx(-80.0)
        check_points(near)

    def test_a_console_sunk_through_a_tunnel(self) -> None:
        floor = Surface(tunnel_floor())
        console = (
            Solid(box([-60, -120, 0], [60, -80, 150])),
            Solid(box([-60, 80, 0], [60, 120, 150])),
            Solid(box([-60, -120, 100], [60, 120, 150])),
        )
        depths = [floor.gap(at(console, z=z)).distance_mm for z in (40.0, -30.0, -80.0, -170.0, -300.0)]
        assert depths[0] > 0.0
        assert all(later < earlier - 30.0 for earlier, later in itertools.pairwise(depths))
        # Underside at -300: its corners are 300 below the floor, a little less square to the tunnel's flank.
        assert depths[-1] == pytest.approx(-300.0, abs=10.0)

    def test_crossing_gives_a_depth_and_no_zero(self) -> None:
        near = FLAT.gap(body(box([-20, -20, -13], [20, 20, 60])))
        assert near.distance_mm == pytest.approx(-13.0)
        assert near.on_body[2] == pytest.approx(-13.0)
        assert near.on_surface[2] == pytest.approx(0.0)
        assert np.allclose(near.away, [0, 0, 1])

    def test_a_stud_that_pokes_into_a_box(self) -> None:
        """A stud 9 high under a box 4 up: all corners of the box are in front, the stud's top is 5 inside."""

        def height(x: np.ndarray, y: np.ndarray) -> np.ndarray:
            return np.where((np.abs(x) < 4) & (np.abs(y) < 4), 9.0, 0.0)

        near = Surface(bent(sheet(120, 120, 2.0), height)).gap(body(box([-40, -40, 4], [40, 40, 60])))
        assert near.distance_mm == pytest.approx(-5.0)
        assert near.on_surface[2] == pytest.approx(9.0)
        assert near.on_body[2] == pytest.approx(4.0)
        check_points(near)

    def test_a_flake_held_whole_inside_a_solid(self) -> None:
        """Nothing crosses, and the skin is 15 from the flake: yet it is 15 inside."""
        flake = Mesh(np.array([[0.0, 0, 55], [3, 0, 55], [0, 3, 55]]), np.array([[0, 1, 2]], dtype=np.int32))
        near = Surface(joined(sheet(), flake)).gap(body(box([-40, -40, 40], [40, 40, 120])))
        assert near.distance_mm == pytest.approx(-15.0)

    def test_touching_is_not_clear(self) -> None:
        assert FLAT.gap(body(box([-20, -20, 0], [20, 20, 50]))).distance_mm == pytest.approx(0.0, abs=1e-9)
        assert FLAT.gap(body(box([-20, -20, 0], [20, 20, 50], 5.0))).distance_mm == pytest.approx(
            0.0, abs=1e-9
        )

    def test_beside_the_sheet_is_in_front_and_at_its_rim(self) -> None:
        for z in (20.0, 0.5, -0.5, -20.0):
            near = FLAT.gap(at(body(ball(np.zeros(3), 5.0)), 130.0, 0.0, z))
            assert near.distance_mm == pytest.approx(math.hypot(30.0, z) - 5.0)
            assert near.at_rim
            check_points(near)

    def test_under_a_sheet_whose_rim_bends_down(self) -> None:
        """The nearest point is the rim, yet the floor lies overhead: in the metal, unless this is no floor."""
        hood = bent(sheet(200, 200, 5.0), lambda x, y: -60.0 * np.maximum(np.hypot(x, y) / 100 - 0.3, 0) ** 2)
        deep = body(ball(np.array([40.0, 40, -190]), 5.0))
        assert Surface(hood).gap(deep).distance_mm < -100.0
        assert Surface(hood, floor=False).gap(deep).distance_mm > 100.0

    def test_a_hand_under_the_dash_is_over_the_floor(self) -> None:
        """Overhead is the back of a dash skin, but the front of the floor is below: there is room."""
        dash = sheet(200, 60, 5.0)
        dash = Mesh(dash.points + np.array([0.0, 0.0, 220.0]), dash.faces)
        cabin = Surface(joined(sheet(400, 400, 10.0), dash))
        near = cabin.gap(body(capsule([-20, 45, 60], [20, 45, 60], 10.0)))
        assert near.distance_mm == pytest.approx(50.0)

    def test_under_a_hole_nothing_is_known_and_the_rim_is_nearest(self) -> None:
        floor = Surface(without(sheet(400, 400, 10.0), (-100, -100), (100, 100)))
        near = floor.gap(body(ball(np.array([0.0, 0, -20]), 5.0)))
        assert near.at_rim
        assert near.distance_mm == pytest.approx(math.hypot(100.0, 20.0) - 5.0)

    def test_a_scan_turned_inside_out_turns_the_sign(self) -> None:
        floor = sheet()
        turned = Mesh(floor.points, np.ascontiguousarray(floor.faces[:, ::-1]))
        assert Surface(turned).gap(body(ball(np.array([0.0, 0, 30]), 5.0))).distance_mm == pytest.approx(
            -35.0
        )

    def test_points_on_the_surface_are_always_filled_in(self) -> None:
        """The distance library hands back memory nobody wrote unless it is asked for points."""
        for z in (50.0, 0.0, -10.0, -90.0):
            near = FLAT.gap(body(box([-20, -20, z], [20, 20, z + 40])))
            assert np.isfinite(near.on_body + near.on_surface + near.away).all()
            assert abs(near.on_surface[2]) < 1e-9


def test_inside_a_closed_solid() -> None:
    """A point 3 inside a cube's side."""
    near = Surface(cube(40.0)).gap(body(Hull(np.array([[17.0, 1.0, 2.0]]))))
    assert near.distance_mm == pytest.approx(-3.0)


def test_farther_than_the_limit_is_not_found() -> None:
    high = body(ball(np.array([0.0, 0, 100]), 5.0))
    assert not FLAT.gap(high, limit_mm=94.9).found
    assert FLAT.gap(high, limit_mm=95.1).distance_mm == pytest.approx(95.0)
    deep = body(ball(np.array([0.0, 0, -100]), 5.0))
    assert FLAT.gap(deep, limit_mm=10.0).distance_mm == pytest.approx(-105.0)


def test_nothing_to_measure() -> None:
    nothing = Surface(Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32)))
    assert not nothing.gap(body(ball(np.zeros(3), 5.0))).found
    assert nothing.built == 1.0
    assert not nothing.build_next()
    assert not FLAT.gap(()).found


def test_the_nearest_solid_is_named() -> None:
    three = at(body(ball(np.zeros(3), 5.0)), 0, 0, 60) + at(body(ball(np.zeros(3), 5.0)), 40, 0, 20)
    near = FLAT.gap((*three, *at(body(ball(np.zeros(3), 25.0)), 40, 40, 42)))
    assert near.solid_index == 1
    assert near.distance_mm == pytest.approx(15.0)


class TestTilesBuiltOneByOne:
    def test_nearest_first_until_all_are_there(self) -> None:
        surface = Surface(tunnel_floor(10.0), tile_triangles=200)
        assert surface.built == 0.0
        assert surface.build_next((240.0, 190.0, 0.0))
        first = next(tile for tile in surface.tiles if tile.built)
        assert (first.bounds[1][:2] > [200, 150]).all()
        count = 1
        while surface.build_next():
            count += 1
        assert count == len(surface.tiles)
        assert surface.built == 1.0

    def test_an_answer_tells_whether_a_tile_that_is_not_there_could_be_nearer(self) -> None:
        surface = Surface(sheet(400, 400, 10.0), tile_triangles=200)
        low = body(ball(np.array([150.0, 150, 40]), 5.0))
        waiting = surface.gap(low, build=False)
        assert not waiting.found
        assert not waiting.settled
        assert waiting.floor_mm <= 35.0
        surface.build_next((-190.0, -190.0, 0.0))
        far = surface.gap(low, build=False)
        assert far.found
        assert not far.settled
        surface.build_next((150.0, 150.0, 0.0))
        near = surface.gap(low, build=False)
        assert near.settled
        assert near.distance_mm == pytest.approx(35.0)
        assert surface.built < 0.5


class TestSegments:
    """Edges of the unseen come as triangles without area: nothing is in front of or behind a line."""

    LINE = Surface(
        Mesh(
            np.array([[-50.0, 0, 0], [50, 0, 0], [60, 0, 0]]),
            np.array([[0, 1, 1], [1, 2, 2]], dtype=np.int32),
        ),
        floor=False,
    )

    @pytest.mark.parametrize(
        "place", [(0, 0, 20), (0, 20, 0), (0, 0, -20), (50, 0, -20), (30, -12, 16), (80, 0, 0)]
    )
    def test_a_ball_beside_a_line(self, place: tuple[float, float, float]) -> None:
        near = self.LINE.gap(body(ball(np.array(place, dtype=float), 5.0)))
        assert near.distance_mm == pytest.approx(15.0)
        assert near.at_rim
        check_points(near)

    def test_a_box_that_a_line_runs_through(self) -> None:
        near = self.LINE.gap(body(box([-10, -8, -6], [10, 9, 30])))
        assert near.distance_mm <= 0.0

    def test_a_box_around_the_end_of_a_line(self) -> None:
        near = self.LINE.gap(body(box([-60, -8, -6], [-20, 9, 30])))
        assert near.distance_mm == pytest.approx(-6.0)


@pytest.mark.parametrize("height", [60.0, 30.0, 5.0, -5.0, -60.0])
def test_the_distance_to_a_sheet_knows_no_side(height: float) -> None:
    """A box 20 high about its middle: height less 10 on either side, nothing where the sheet runs through it."""
    solids = at(body(box([-15.0, -15.0, -10.0], [15.0, 15.0, 10.0])), 3.2, -8.1, height)
    near = FLAT.distance(solids)
    assert near.distance_mm == pytest.approx(max(abs(height) - 10.0, 0.0), abs=1e-9)
    assert near.on_surface[2] == pytest.approx(0.0, abs=1e-9)
    assert np.abs(near.on_body).max() < 100.0
    assert np.linalg.norm(near.away) == pytest.approx(1.0)
