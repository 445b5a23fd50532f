"""A tile is asked piece by piece: the answer is that of the tile as a whole, and little of it is built."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from floorpan.frames import Pose
from floorpan.geometry.approach import GapMemory
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.mesh_solids import MeshHull
from floorpan.geometry.skin_tree import Skin
from floorpan.geometry.solids import Body, Solid, ball, box, capsule, frustum
from floorpan.geometry.surface import Surface
from floorpan.geometry.tiles import PIECE_TRIANGLES, Tile
from made_up_sheets import globe, joined, sheet, tunnel_floor, without

ROUGH = without(tunnel_floor(6.0, noise=0.4), (100, -160), (180, -100))
LEVEL = joined(sheet(600, 400, 8.0, low=(-300, -200)), sheet(200, 100, 8.0, low=(-100, 500)))
PARTS: Body = (
    Solid(capsule([0, 0, 0], [0, 0, 120], 7.0)),
    Solid(ball([0, 0, 120], 22.0)),
    Solid(box([-25, -40, -30], [25, 40, 0], 3.0)),
    Solid(frustum(-20.0, 40.0, 30.0, 35.0), Pose(shift_mm=(80.0, 0.0, 0.0))),
)

step = st.tuples(*[st.floats(-60, 60)] * 2, st.floats(-40, 40), st.floats(-25, 25))


def moved(pose: Pose, of: Body = PARTS) -> Body:
    return tuple(Solid(solid.hull, pose.after(solid.pose)) for solid in of)


def whole(mesh: Mesh) -> Surface:
    return Surface(mesh, tile_triangles=2000, in_pieces=False)


WHOLE, WHOLE_LEVEL = whole(ROUGH), whole(LEVEL)


@settings(max_examples=30, deadline=None)
@given(st.lists(step, min_size=1, max_size=5), st.integers(0, 6))
def test_what_is_told_does_not_hang_on_what_is_built(
    steps: list[tuple[float, float, float, float]], tiles_built: int
) -> None:
    """To the bit: in one order with a memory and some tiles built, in the other with none."""
    for mesh in (ROUGH, LEVEL):
        pose, poses = Pose(shift_mm=(0.0, 0.0, 150.0)), []
        for x, y, z, turn in steps:
            pose = Pose(shift_mm=(x, y, z)).after(pose).after(Pose.turned((0.3, 1.0, 0.2), turn))
            poses.append(moved(pose))
        poses.append(moved(Pose(shift_mm=(steps[0][0], steps[0][1], 160.0))))
        warm, memory = Surface(mesh, tile_triangles=2000), GapMemory()
        for _ in range(tiles_built):
            warm.build_next((0.0, 0.0, 0.0))
        told = [warm.gap(body, memory=memory) for body in poses]
        cold = Surface(mesh, tile_triangles=2000)
        assert [cold.gap(body) for body in reversed(poses)] == told[::-1]


@settings(max_examples=40, deadline=None)
@given(st.lists(step, min_size=1, max_size=5))
def test_pieces_answer_as_the_whole_does(steps: list[tuple[float, float, float, float]]) -> None:
    """Random walks over, into, under and beside a rough floor with a hole."""
    surface, pose = Surface(ROUGH, tile_triangles=2000), Pose(shift_mm=(0.0, 0.0, 150.0))
    for x, y, z, turn in steps:
        pose = Pose(shift_mm=(x, y, z)).after(pose).after(Pose.turned((0.3, 1.0, 0.2), turn))
        found, wanted = surface.gap(moved(pose)), WHOLE.gap(moved(pose))
        assert found.distance_mm == pytest.approx(wanted.distance_mm, abs=1e-9)
        assert found.at_rim == wanted.at_rim
        assert np.allclose(found.on_body, wanted.on_body, atol=1e-6)
        assert np.allclose(found.on_surface, wanted.on_surface, atol=1e-6)
        assert np.allclose(found.away, wanted.away, atol=1e-6)


FEET = {
    "box": box([-60, -50, 0], [60, 50, 40]),
    "rod": capsule([-50, 0, 20], [50, 0, 20], 20.0),
    "ring": frustum(0.0, 50.0, 30.0, 40.0),
}


@pytest.mark.parametrize("foot", FEET)
@pytest.mark.parametrize("turn_deg", [0.0, 30.0])
def test_of_places_that_are_equally_near_the_same_is_told(foot: str, turn_deg: float) -> None:
    """A level foot over a level floor: which place of it is told decides whose doubts are told."""
    surface = Surface(LEVEL, tile_triangles=2000)
    pose = Pose(shift_mm=(11.0, 7.0, 33.0)).after(Pose.turned((0.0, 0.0, 1.0), turn_deg))
    body = (Solid(FEET[foot], pose),)
    assert surface.gap(body) == WHOLE_LEVEL.gap(body)
    assert surface.gap(body).distance_mm == pytest.approx(33.0)


def test_two_places_that_are_equally_near_are_noticed() -> None:
    """A ball between two sheets is as near to either: the one that is told is the one that whole tiles tell."""
    low, high = sheet(300, 300, 6.0), sheet(300, 300, 6.0)
    mesh = joined(low, high.moved(Pose.turned((1.0, 0.0, 0.0), 180.0, (0.0, 0.0, 50.0)).matrix()))
    cold, warm = Surface(mesh, tile_triangles=2000), whole(mesh)
    ball_between = (Solid(ball([1.0, 2.0, 50.0], 10.0)),)
    assert cold.gap(ball_between) == warm.gap(ball_between)


@pytest.fixture
def trees(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Triangles of every tree that is built."""
    counted: list[int] = []
    plain = Skin.__init__

    def count(self: Skin, points: np.ndarray, faces: np.ndarray) -> None:
        counted.append(len(faces))
        plain(self, points, faces)

    monkeypatch.setattr(Skin, "__init__", count)
    return counted


def test_what_is_far_is_never_built(trees: list[int]) -> None:
    """Counted, not timed: a knob over a floor has a few pieces of it built."""
    surface = Surface(ROUGH, tile_triangles=4000)
    knob = (Solid(ball([40.0, 10.0, 260.0], 25.0)),)
    found = surface.gap(knob)
    mine = [count for count in trees if count > 1]
    assert max(mine) <= PIECE_TRIANGLES
    assert sum(mine) < 0.1 * len(ROUGH.faces)
    assert found.distance_mm == pytest.approx(WHOLE.gap(knob).distance_mm, abs=1e-9)
    assert surface.built == 0.0
    while surface.build_next():
        pass
    assert surface.built == 1.0
    assert surface.gap(knob) == found


def test_what_lies_under_a_slanted_body_is_not_built(trees: list[int]) -> None:
    """Its box comes near to much of the floor; seen along the way to the nearest place little of it is near."""
    surface = Surface(ROUGH, tile_triangles=4000)
    arm = (Solid(capsule([-150.0, -40.0, 240.0], [150.0, 60.0, 330.0], 30.0)),)
    found = surface.gap(arm)
    assert sum(count for count in trees if count > 1) < 0.2 * len(ROUGH.faces)
    assert found.distance_mm == pytest.approx(WHOLE.gap(arm).distance_mm, abs=1e-9)


def test_a_mesh_part_asks_pieces_too() -> None:
    """Its own tiles against the floor's pieces; it stands over the rough floor, and in it."""
    part = MeshHull(globe(40.0), tile_triangles=300)
    for z in (200.0, 120.0, 60.0):
        body = (Solid(part, Pose(shift_mm=(20.0, 5.0, z))),)
        found, wanted = Surface(ROUGH, tile_triangles=2000).gap(body), WHOLE.gap(body)
        assert found.distance_mm == pytest.approx(wanted.distance_mm, abs=1e-9)


def test_pieces_are_the_tile() -> None:
    """Every face is in one of them, and their boxes hold it."""
    faces = np.arange(0, len(ROUGH.faces), 3)
    pieces = Tile(ROUGH, faces, cut=True).pieces()
    seen = []
    for at in range(len(pieces.boxes)):
        for number in itertools.count():
            try:
                face = pieces.face(at, number)
            except IndexError:
                break
            seen.append(face)
            corners = ROUGH.points[ROUGH.faces[face]]
            assert (corners >= pieces.boxes[at, 0]).all()
            assert (corners <= pieces.boxes[at, 1]).all()
        assert 0 < number <= PIECE_TRIANGLES
    assert sorted(seen) == faces.tolist()
