"""What a body remembers of a surface makes the next answer quicker and never another one."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from floorpan.frames import Pose
from floorpan.geometry.approach import GapMemory
from floorpan.geometry.skin_tree import Skin
from floorpan.geometry.solids import Body, Solid, ball, box, capsule
from floorpan.geometry.surface import Surface
from made_up_sheets import sheet, tunnel_floor, without

SCAN = Surface(without(tunnel_floor(8.0, noise=0.4), (100, -160), (180, -100)), tile_triangles=300)
PARTS: Body = (
    Solid(capsule([0, 0, 0], [0, 0, 120], 7.0)),
    Solid(ball([0, 0, 120], 22.0)),
    Solid(box([-25, -40, -30], [25, 40, 0], 3.0)),
    Solid(box([30, -10, -20], [50, 10, 10])),
)

step = st.tuples(*[st.floats(-60, 60)] * 2, st.floats(-40, 40), st.floats(-25, 25))


def moved(pose: Pose) -> Body:
    return tuple(Solid(solid.hull, pose.after(solid.pose)) for solid in PARTS)


@settings(max_examples=40)
@given(st.lists(step, min_size=2, max_size=12))
def test_cold_and_warm_are_equal_bit_for_bit(steps: list[tuple[float, float, float, float]]) -> None:
    """Random walks over, into, under and beside a noisy floor with a hole."""
    memory, pose = GapMemory(), Pose(shift_mm=(0.0, 0.0, 150.0))
    for x, y, z, turn in steps:
        pose = Pose(shift_mm=(x, y, z)).after(pose).after(Pose.turned((0.3, 1.0, 0.2), turn))
        assert SCAN.gap(moved(pose), memory=memory) == SCAN.gap(moved(pose))


def test_small_steps_ask_few_tiles(monkeypatch: pytest.MonkeyPatch) -> None:
    """Counted, not timed: after the first pose a small step asks the skin library a few times only."""
    asked = itertools.count()
    plain = Skin.apart
    monkeypatch.setattr(Skin, "apart", lambda self, other: (next(asked), plain(self, other))[1])
    plates = tuple(Solid(box([60 * k - 150, -120, 0], [60 * k - 95, 120, 20])) for k in range(5))
    way = [Pose(shift_mm=(0.3 * k, 0.2 * k, 101.0)) for k in range(30)]
    poses = [tuple(Solid(plate.hull, pose) for plate in plates) for pose in way]
    for pose in poses:
        SCAN.gap(pose)
    cold = next(asked)
    memory = GapMemory()
    for pose in poses:
        SCAN.gap(pose, memory=memory)
    warm = next(asked) - cold
    assert warm < 0.5 * cold


def test_another_hull_or_another_surface_is_noticed() -> None:
    memory = GapMemory()
    one, two = Surface(sheet()), Surface(sheet(400, 400, 10.0, low=(-200, -200)))
    small, large = (Solid(ball([0, 0, 50], 5.0)),), (Solid(ball([0, 0, 50], 20.0)),)
    assert one.gap(small, memory=memory).distance_mm == 45.0
    assert one.gap(large, memory=memory).distance_mm == 30.0
    assert two.gap(large, memory=memory).distance_mm == 30.0
    assert one.gap(small, memory=memory).distance_mm == 45.0
    assert one.gap(small + large, memory=memory).distance_mm == 30.0
