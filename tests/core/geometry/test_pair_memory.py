"""What a body on its way remembers of one that stands makes the next answer quicker and never another one."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from floorpan.frames import Pose
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.pair_memory import PairMemory
from floorpan.geometry.skin_tree import Skin
from floorpan.geometry.solids import Body, Solid, ball, box, capsule, frustum

LEVER: Body = (
    Solid(capsule([0, 0, 0], [0, 0, 120], 7.0)),
    Solid(ball([0, 0, 120], 22.0)),
    Solid(box([-25, -40, -30], [25, 40, 0], 3.0)),
)
# A ring of walls, as a well has, and a rod through the middle of nothing.
WELL: Body = (
    *(Solid(box([60, -20, 0], [66, 20, 90], 1.0), Pose.turned((0.0, 0.0, 1.0), 45.0 * k)) for k in range(8)),
    Solid(frustum(-20.0, 0.0, 40.0, 50.0)),
)
# Slanted rods about a slanted lever: their boxes overlap and tell nothing.
CAGE: Body = tuple(
    Solid(capsule([90, -80, -60], [90, 80, 120], 4.0), Pose.turned((0.0, 0.0, 1.0), 45.0 * k))
    for k in range(8)
)

step = st.tuples(*[st.floats(-60, 60)] * 2, st.floats(-40, 40), st.floats(-25, 25))


def moved(pose: Pose, of: Body = LEVER) -> Body:
    return tuple(Solid(solid.hull, pose.after(solid.pose)) for solid in of)


@settings(max_examples=40, deadline=None)
@given(st.lists(step, min_size=2, max_size=12))
def test_answers_are_equal_bit_for_bit(steps: list[tuple[float, float, float, float]]) -> None:
    """Random walks over, into and beside a well."""
    memory, pose = PairMemory(), Pose(shift_mm=(0.0, 0.0, 150.0))
    for x, y, z, turn in steps:
        pose = Pose(shift_mm=(x, y, z)).after(pose).after(Pose.turned((0.3, 1.0, 0.2), turn))
        assert body_gap(moved(pose), WELL, memory) == body_gap(moved(pose), WELL)


def test_small_steps_ask_few_pairs(monkeypatch: pytest.MonkeyPatch) -> None:
    """Counted, not timed; and longer than what is remembered."""
    asked = itertools.count()
    plain = Skin.apart
    monkeypatch.setattr(Skin, "apart", lambda self, other: (next(asked), plain(self, other))[1])
    slant = Pose.turned((1.0, 1.0, 0.0), 25.0)
    poses = [moved(Pose(shift_mm=(0.2 * k - 10.0, 0.1 * k, 20.0)).after(slant)) for k in range(80)]
    plainly = [body_gap(pose, CAGE) for pose in poses]
    cold = next(asked)
    memory = PairMemory()
    assert [body_gap(pose, CAGE, memory) for pose in poses] == plainly
    assert next(asked) - cold < 0.5 * cold


def test_another_body_and_other_hulls_are_noticed() -> None:
    memory = PairMemory()
    near, far = moved(Pose(shift_mm=(300.0, 0.0, 0.0)), WELL), moved(Pose(shift_mm=(900.0, 0.0, 0.0)), WELL)
    for body, other in ((LEVER, far), (LEVER, near), (LEVER[:2], near), (LEVER[1:], near), (LEVER, far)):
        assert body_gap(body, other, memory) == body_gap(body, other)
