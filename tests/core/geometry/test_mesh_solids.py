"""Placed meshes: a box as a mesh is the box, a dented one against all its triangles, and what lies inside is hit."""

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from core.geometry.brute_force import Reference
from floorpan.frames import Pose
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.mesh_solids import MeshHull, is_closed, mesh_hull
from floorpan.geometry.motion import least_over_motion
from floorpan.geometry.solids import Hull, Solid, ball, box, capsule
from floorpan.geometry.surface import Surface
from made_up_sheets import body, sheet

Floats = NDArray[np.float64]

_BOX_FACES = np.array(
    [
        *([0, 1, 3], [0, 3, 2], [4, 6, 7], [4, 7, 5], [0, 4, 5], [0, 5, 1]),
        *([2, 3, 7], [2, 7, 6], [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3]),
    ],
    dtype=np.int32,
)


def box_mesh(low: tuple[float, float, float], high: tuple[float, float, float]) -> Mesh:
    """Twelve triangles facing outward."""
    return Mesh(box(low, high).points, _BOX_FACES)


def joined(*meshes: Mesh) -> Mesh:
    starts = np.cumsum([0, *(len(mesh.points) for mesh in meshes[:-1])])
    faces = [mesh.faces + start for mesh, start in zip(meshes, starts, strict=True)]
    return Mesh(np.vstack([mesh.points for mesh in meshes]), np.vstack(faces))


def channel() -> Mesh:
    """A U along X, 200 long, 100 wide, 80 high, walls and floor 20 thick, open above: 60 of room inside."""
    outline = np.array(
        [[-50, 0], [50, 0], [50, 80], [30, 80], [30, 20], [-30, 20], [-30, 80], [-50, 80]], float
    )
    count = len(outline)
    points = np.vstack([np.column_stack([np.full(count, x), outline]) for x in (-100.0, 100.0)])
    caps = np.array([[0, 1, 4], [0, 4, 5], [1, 2, 3], [1, 3, 4], [0, 5, 7], [5, 6, 7]])
    sides = [[k, (k + 1) % count + count, k + count] for k in range(count)]
    sides += [[k, (k + 1) % count, (k + 1) % count + count] for k in range(count)]
    return Mesh(points, np.vstack([caps[:, ::-1], caps + count, sides]).astype(np.int32))


def poses(count: int, far_mm: float, seed: int) -> list[Pose]:
    draw = np.random.default_rng(seed)
    turns = Rotation.random(count, rng=draw).as_matrix()
    shifts = draw.uniform(-far_mm, far_mm, (count, 3))
    return [
        Pose.from_matrix(np.column_stack([turn, shift])) for turn, shift in zip(turns, shifts, strict=True)
    ]


def test_the_made_up_channel_is_closed_and_faces_outward() -> None:
    """Its volume by the divergence theorem: 200 long, 100 by 80 less 60 by 60 across."""
    mesh = channel()
    corners = mesh.points[mesh.faces]
    volume = np.einsum("ij,ij->", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])) / 6.0
    assert is_closed(mesh)
    assert volume == pytest.approx(200.0 * (100.0 * 80.0 - 60.0 * 60.0))


def test_a_box_as_a_mesh_is_the_box_in_200_poses() -> None:
    mesh, plain = mesh_hull(box_mesh((-40, -30, 0), (40, 30, 50))), box((-40, -30, 0), (40, 30, 50))
    other = (Solid(capsule([-60, 0, 0], [60, 10, 0], 12.0)), Solid(box((0, 0, 0), (30, 20, 90), 4.0)))
    signs = set()
    for pose in poses(200, 130.0, 1):
        one, two = body_gap((Solid(mesh, pose),), other), body_gap((Solid(plain, pose),), other)
        assert one.distance_mm == pytest.approx(two.distance_mm, abs=1e-6)
        signs.add(one.distance_mm > 0.0)
    assert signs == {True, False}


def test_a_box_that_is_kept_as_a_mesh_is_the_box_wherever_it_is_apart() -> None:
    """The way that takes no short cut: every skin as triangles, on a floor and against a body, standing and moving."""
    mesh, plain = MeshHull(box_mesh((-40, -30, 0), (40, 30, 50))), box((-40, -30, 0), (40, 30, 50))
    floor = Surface(sheet(800.0, 800.0, 40.0))
    rod = body(capsule([-60, 0, 0], [60, 10, 0], 12.0))
    apart = 0
    for pose in poses(200, 150.0, 2):
        one, two = body_gap((Solid(mesh, pose),), rod), body_gap((Solid(plain, pose),), rod)
        assert (one.distance_mm > 0.0) == (two.distance_mm > 0.0)
        on, under = floor.gap((Solid(mesh, pose),)), floor.gap((Solid(plain, pose),))
        if two.distance_mm > 0.0:
            assert one.distance_mm == pytest.approx(two.distance_mm, abs=1e-6)
            apart += 1
        # Against a sheet the deepest corner tells for both.
        assert on.distance_mm == pytest.approx(under.distance_mm, abs=1e-6)
    assert apart > 100


def test_the_least_gap_of_a_mesh_on_its_way_is_that_of_the_box() -> None:
    """A lid that swings by 70 degrees past a rod: no point travels farther than its farthest corner's arc."""
    mesh, plain = MeshHull(box_mesh((0, -30, 0), (90, 30, 10))), box((0, -30, 0), (90, 30, 10))
    rod = body(capsule([70, -60, 80], [70, 60, 80], 8.0))
    travel = math.radians(70.0) * math.hypot(90.0, 10.0)

    def least(hull: Hull) -> float:
        def gap_at(share: float) -> float:
            turned = Pose.turned((0.0, 1.0, 0.0), -70.0 * share)
            return body_gap((Solid(hull, turned),), rod).distance_mm

        return least_over_motion(gap_at, travel, within_mm=0.05).gap_mm

    assert least(mesh) == pytest.approx(least(plain), abs=1e-6)
    # The lid's end nearest the rod sweeps the arc of its corners; the rod stands 106.3 from the hinge.
    assert least(mesh) == pytest.approx(math.hypot(70.0, 80.0) - math.hypot(90.0, 10.0) - 8.0, abs=0.05)


def test_a_dented_mesh_against_all_its_triangles() -> None:
    mesh, other = channel(), joined(box_mesh((-20, -20, 0), (20, 20, 30)), box_mesh((-5, -5, 30), (5, 5, 70)))
    hull, second = mesh_hull(mesh), mesh_hull(other)
    assert hull.uneven is not None
    assert second.uneven is not None
    apart = 0
    for pose in poses(20, 140.0, 3):
        moved = Mesh(pose.apply(other.points), other.faces)
        expected = Reference(mesh.points, mesh.faces).distance(moved.points[moved.faces])
        near = body_gap((Solid(hull),), (Solid(second, pose),))
        x, y, z = np.abs(moved.points[:1] - [0.0, 0.0, 40.0])[0]
        in_stuff = x < 100.0 and y < 50.0 and z < 40.0 and not (y < 30.0 and moved.points[0, 2] > 20.0)
        if expected > 1e-6 and not in_stuff:
            assert near.distance_mm == pytest.approx(expected, abs=1e-6)
            apart += 1
        else:
            assert near.distance_mm <= 0.0
    assert apart > 8


@pytest.mark.parametrize(("radius", "expected"), [(10.0, 20.0), (29.0, 1.0), (34.0, -4.0)])
def test_a_ball_in_the_channel_is_in_the_open(radius: float, expected: float) -> None:
    """In the hull of the channel's corners, but 30 from its walls."""
    near = body_gap(body(ball([0, 0, 60], radius)), (Solid(mesh_hull(channel())),))
    assert near.distance_mm == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    "stuff", [ball([0, 0, 10], 2.0), box((-4, -4, 8), (4, 4, 12)), ball([60, 40, 50], 1.0)]
)
def test_what_lies_wholly_inside_is_hit(stuff: Hull) -> None:
    """In the middle of the channel's floor and of a wall, both 20 thick: no point is deeper than 10."""
    near = body_gap(body(stuff), (Solid(mesh_hull(channel())),))
    back = body_gap((Solid(mesh_hull(channel())),), body(stuff))
    thick = float(np.ptp(stuff.points[:, 2]))
    assert -10.0 - stuff.radius_mm - 1e-9 <= near.distance_mm <= -10.0 - stuff.radius_mm + thick / 2 + 1e-9
    assert back.distance_mm == pytest.approx(near.distance_mm, abs=1e-9)


def test_a_mesh_inside_a_mesh_and_one_of_two_pieces_inside_a_box_are_hit() -> None:
    small = joined(box_mesh((-2, -2, 8), (2, 2, 12)), box_mesh((-2, -2, 300), (2, 2, 304)))
    assert body_gap((Solid(mesh_hull(small)),), (Solid(mesh_hull(channel())),)).distance_mm < 0.0
    around = body(box((-9, -9, 290), (9, 9, 310)))
    assert body_gap(around, (Solid(mesh_hull(small)),)).distance_mm < 0.0
    assert body_gap(around, (Solid(mesh_hull(channel())),)).distance_mm == pytest.approx(
        math.hypot(210.0, 21.0)
    )


def test_a_mesh_that_is_inside_out_is_the_same() -> None:
    mesh = channel()
    turned = mesh_hull(Mesh(mesh.points, mesh.faces[:, ::-1]))
    near = body_gap(body(ball([0, 0, 10], 2.0)), (Solid(turned),))
    assert near.distance_mm == pytest.approx(-12.0)


def test_in_a_shell_with_a_hole_is_inside_and_beside_a_sheet_is_not() -> None:
    """A box of 100 without one of its twelve triangles: from its middle a twelfth of all ways leads out."""
    open_box = Mesh(box_mesh((-50, -50, -50), (50, 50, 50)).points, _BOX_FACES[1:])
    hull = mesh_hull(open_box)
    assert isinstance(hull, MeshHull)
    assert not hull.closed
    assert body_gap(body(ball([0, 0, 0], 5.0)), (Solid(hull),)).distance_mm == pytest.approx(-55.0)
    flat = mesh_hull(sheet())
    for height in (30.0, -30.0):
        beside = body_gap(body(ball([0, 0, height], 5.0)), (Solid(flat),))
        assert beside.distance_mm == pytest.approx(25.0)


def test_a_mesh_sunk_into_the_floor_is_as_deep_as_its_lowest_corner() -> None:
    floor = Surface(sheet())
    for sunk in (-7.0, 0.5, 12.0):
        near = floor.gap((Solid(mesh_hull(channel()), Pose(shift_mm=(0.0, 0.0, -sunk))),))
        assert near.distance_mm == pytest.approx(-sunk, abs=1e-9)
    # Astride a ridge that stands up in the channel without touching.
    ridge = Surface(Mesh(box_mesh((-300, -10, -5), (300, 10, 55)).points, _BOX_FACES), floor=False)
    near = ridge.gap((Solid(mesh_hull(channel()), Pose.turned((1.0, 0.0, 0.0), 180.0, (0.0, 0.0, 50.0))),))
    assert near.distance_mm == pytest.approx(20.0, abs=1e-9)
