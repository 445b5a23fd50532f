"""A placed mesh in tiles says what one tree over all its triangles says; all triangles against all are the judge."""

import threading
from collections.abc import Iterator

import igl
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from core.geometry.brute_force import Reference
from floorpan.frames import Pose
from floorpan.geometry.approach import GapMemory
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.mesh_solids import MeshHull, is_closed
from floorpan.geometry.near import Near
from floorpan.geometry.skin_tree import Skin
from floorpan.geometry.skins import posed
from floorpan.geometry.solids import Body, Solid, box, capsule
from floorpan.geometry.surface import Surface
from floorpan.geometry.tiled_skin import TiledSkin, apart, crosses
from made_up_sheets import tunnel_floor

Floats = NDArray[np.float64]
_WHOLE = 10**9


def dented_ball(rows: int = 14, size_mm: float = 70.0) -> Mesh:
    """A closed ball with lobes and one deep dent, faces outward."""
    columns = 2 * rows
    down, around = np.meshgrid(
        np.linspace(0.0, np.pi, rows + 1)[1:-1],
        np.linspace(0.0, 2 * np.pi, columns, endpoint=False),
        indexing="ij",
    )
    off = 0.25 * np.sin(3 * down) * np.cos(4 * around)
    off -= 0.5 * np.exp(-((down - 1.3) ** 2 + (around - 2.0) ** 2) / 0.2)
    far = size_mm * (1.0 + off)
    x, y = far * np.sin(down) * np.cos(around), far * np.sin(down) * np.sin(around)
    points = np.stack([x, y, far * np.cos(down)], axis=-1).reshape(-1, 3)
    poles = np.array([[0.0, 0.0, size_mm], [0.0, 0.0, -size_mm]])
    here = np.arange((rows - 2) * columns)
    beside = here // columns * columns + (here + 1) % columns
    first, last = np.arange(columns), np.arange(columns) + (rows - 2) * columns
    faces = [
        np.column_stack([here, here + columns, beside]),
        np.column_stack([beside, here + columns, beside + columns]),
        np.column_stack([np.full(columns, len(points)), first, np.roll(first, -1)]),
        np.column_stack([np.full(columns, len(points) + 1), np.roll(last, -1), last]),
    ]
    return Mesh(np.vstack([points, poles]), np.vstack(faces).astype(np.int32))


def lower_half(mesh: Mesh) -> Mesh:
    """The faces that lie below the middle."""
    return mesh.kept(mesh.points[mesh.faces].mean(axis=1)[:, 2] < 0.0)


BALL = dented_ball()
TILED, WHOLE = MeshHull(BALL, tile_triangles=40), MeshHull(BALL, tile_triangles=_WHOLE)
SMALL = MeshHull(dented_ball(9, 40.0), tile_triangles=50)
FLOOR = Surface(tunnel_floor(8.0), tile_triangles=900)
OTHERS: tuple[Body, ...] = (
    (Solid(box((-40, -30, -10), (40, 30, 10))),),
    (Solid(capsule([-60, 0, 0], [60, 10, 0], 9.0)),),
    (Solid(SMALL, Pose.turned((1.0, 2.0, 0.5), 40.0)),),
)

angle = st.floats(-180.0, 180.0)
place = st.tuples(angle, angle, *[st.floats(-120.0, 120.0)] * 3)


def pose_of(drawn: tuple[float, ...]) -> Pose:
    turn, lean, x, y, z = drawn
    return Pose(shift_mm=(x, y, z)).after(Pose.turned((0, 0, 1), turn)).after(Pose.turned((1, 0, 0), lean))


def alike(one: Near, two: Near) -> None:
    assert one.distance_mm == pytest.approx(two.distance_mm, abs=1e-9)
    assert one.solid_index == two.solid_index


def spans(near: Near) -> None:
    """Its two points are as far apart as it says."""
    way = np.subtract(near.on_body, near.on_surface)
    assert np.linalg.norm(way) == pytest.approx(near.distance_mm, abs=1e-9)


def on_skin(hull: MeshHull, pose: Pose, point: tuple[float, float, float]) -> None:
    off = hull.depths(pose.inverse().apply(np.array([point])))[0][0]
    assert abs(off) < 1e-6


def test_the_ball_is_dented_closed_and_in_many_tiles() -> None:
    assert is_closed(BALL)
    assert len(TILED.tiles) > 15
    assert len(WHOLE.tiles) == 1
    assert isinstance(posed(Solid(TILED)), TiledSkin)
    assert isinstance(posed(Solid(WHOLE)), Skin)


@settings(max_examples=30)
@given(place)
def test_in_tiles_and_whole_are_the_same_to_bodies(drawn: tuple[float, ...]) -> None:
    """Apart, crossing and inside; its distance both ways, and its points on the two skins."""
    pose = pose_of(drawn)
    tiled, whole = (Solid(TILED, pose),), (Solid(WHOLE, pose),)
    for other in OTHERS:
        near = body_gap(tiled, other)
        alike(near, body_gap(whole, other))
        alike(body_gap(other, tiled), body_gap(other, whole))
        assert crosses(posed(tiled[0]), posed(other[0])) == crosses(posed(whole[0]), posed(other[0]))
        if near.distance_mm > 1e-6:
            spans(near)
            on_skin(WHOLE, pose, near.on_body)
            spans(body_gap(other, tiled))


@settings(max_examples=25)
@given(place)
def test_in_tiles_and_whole_are_the_same_on_a_floor(drawn: tuple[float, ...]) -> None:
    """Over it, in it and under it."""
    pose = Pose(shift_mm=(0.0, 0.0, 120.0)).after(pose_of(drawn))
    near = FLOOR.gap((Solid(TILED, pose),))
    alike(near, FLOOR.gap((Solid(WHOLE, pose),)))
    if near.distance_mm > 1e-6:
        spans(near)
        on_skin(WHOLE, pose, near.on_body)


def steps() -> Iterator[Pose]:
    for k in range(15):
        yield Pose(shift_mm=(7.0 * k - 50.0, 30.0 - 5.0 * k, 190.0 - 10.0 * k)).after(
            Pose.turned((0.3, 1.0, 0.2), 15.0 * k)
        )


def test_a_mesh_in_tiles_on_its_way_over_a_floor_is_the_same_warm_and_cold() -> None:
    memory = GapMemory()
    for pose in steps():
        moved = (Solid(TILED, pose),)
        assert FLOOR.gap(moved, memory=memory) == FLOOR.gap(moved)


@pytest.mark.parametrize("drawn", [(20.0, 70.0, 130.0, 20.0, 30.0), (160.0, -40.0, -60.0, 120.0, 60.0)])
def test_in_tiles_against_all_triangles(drawn: tuple[float, ...]) -> None:
    pose = pose_of(drawn)
    other = OTHERS[2][0]
    moved = other.pose.apply(SMALL.mesh.points)[SMALL.mesh.faces]
    expected = Reference(pose.apply(BALL.points), BALL.faces).distance(moved)
    assert expected > 1.0
    met = apart(posed(other), posed(Solid(TILED, pose)))
    assert met.distance_mm == pytest.approx(expected, abs=1e-9)
    # The face is numbered in the whole mesh: the nearest point lies in it.
    corners = pose.apply(TILED.mesh.points)[TILED.mesh.faces[met.face]]
    normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
    assert abs((met.second - corners[0]) @ normal) / np.linalg.norm(normal) < 1e-6


def test_two_that_share_one_hull_stand_each_at_its_own_pose() -> None:
    poses = Pose(shift_mm=(-90.0, 10.0, 0.0)), Pose.turned((0.2, 1.0, 0.0), 100.0, (95.0, 0.0, 20.0))
    one, two = (body_gap((Solid(hull, poses[0]),), (Solid(hull, poses[1]),)) for hull in (TILED, WHOLE))
    assert one.distance_mm > 1.0
    alike(one, two)


def test_only_tiles_that_something_comes_near_are_made_ready_and_by_whoever_comes_first() -> None:
    """Trees are shared: what one thread made ready another finds."""
    hull = MeshHull(BALL, tile_triangles=40)
    rod = (Solid(capsule([-100, 0, 0], [-100, 10, 0], 5.0)),)
    assert hull.built == 0.0
    near = body_gap((Solid(hull),), rod)
    built = hull.built
    assert 0.0 < built < 0.4
    told: list[Near] = []
    beside = threading.Thread(target=lambda: told.append(body_gap((Solid(hull),), rod)))
    beside.start()
    beside.join()
    assert told == [near]
    assert hull.built == built
    left = sum(not tile.built for tile in hull.tiles)
    for _ in range(left):
        assert hull.build_next()
    assert all(tile.built for tile in hull.tiles)


def test_what_an_open_mesh_in_tiles_surrounds_is_told_by_all_its_solid_angles() -> None:
    """The judge sums up the solid angles of all triangles, the generalised winding number, by a general library."""
    open_ball = lower_half(BALL)
    tiled, whole = (MeshHull(open_ball, tile_triangles=count) for count in (40, _WHOLE))
    assert not tiled.closed
    up = np.zeros((2000, 3))
    up[:, :2], up[:, 2] = (12.0, -20.0), np.linspace(-50.0, 50.0, len(up))
    points = np.vstack([np.random.default_rng(4).uniform(-90.0, 90.0, (1500, 3)), up])
    turns = np.abs(igl.winding_number(open_ball.points, open_ball.faces.astype(np.int64), points))
    low, high = open_ball.bounds
    inside = (turns > 0.5) & ((points > low) & (points < high)).all(axis=1)
    sure = np.abs(turns - 0.5) > 1e-5
    # Some of them so near to a half that they have to be counted again.
    assert np.count_nonzero(np.abs(turns - 0.5) < 1e-3) > 3
    assert 300 < np.count_nonzero(inside) < 3000
    for hull in (tiled, whole):
        deep, _ = hull.depths(points)
        assert ((deep > 0.0) == inside)[sure].all()
    other = (Solid(box((-20, -20, -20), (20, 20, 20))),)
    for pose in steps():
        alike(body_gap((Solid(tiled, pose),), other), body_gap((Solid(whole, pose),), other))


@pytest.mark.parametrize("mesh", [BALL, lower_half(BALL)])
def test_a_mesh_is_ready_once_every_tile_knows_what_is_inside_too(mesh: Mesh) -> None:
    hull, count = MeshHull(mesh, tile_triangles=40), 0
    done = [hull.built]
    while hull.build_next():
        count += 1
        done.append(hull.built)
    assert count == 2 * len(hull.tiles)
    assert done == sorted(done)
    assert done[-1] == 1.0
    assert all(tile.built and tile.knows_points(not hull.closed) for tile in hull.tiles)
