"""Gaps between rounded segments against a collision library, by hand, and what is refused."""

import fcl
import numpy as np
import pytest

from floorpan.driver.obstacles import Obstacles, gaps_mm, segments_apart
from floorpan.errors import BadValue


def test_segments_against_a_collision_library() -> None:
    """Reference: the capsule distance of the Flexible Collision Library, on 300 pairs that do not touch."""
    draw = np.random.default_rng(5)
    a, b, c, d = draw.uniform(-300.0, 300.0, (4, 300, 3))
    apart = segments_apart(a, b, c, d)
    clear = np.flatnonzero(apart > 1.0)
    assert len(clear) > 250
    for row in clear:
        near, far = thin(a[row], b[row]), thin(c[row], d[row])
        told = fcl.distance(near, far, fcl.DistanceRequest(), fcl.DistanceResult())
        # The library's capsules are a hundredth thick.
        assert told + 0.02 == pytest.approx(apart[row], abs=0.01)


def thin(start: np.ndarray, end: np.ndarray) -> fcl.CollisionObject:
    way = (end - start) / np.linalg.norm(end - start)
    across = np.cross(way, [1.0, 0.0, 0.0] if abs(way[0]) < 0.9 else [0.0, 1.0, 0.0])
    across /= np.linalg.norm(across)
    turn = np.column_stack([across, np.cross(way, across), way])
    shape = fcl.Capsule(0.01, float(np.linalg.norm(end - start)))
    return fcl.CollisionObject(shape, fcl.Transform(turn, (start + end) / 2))


@pytest.mark.parametrize(
    ("a", "b", "c", "d", "apart"),
    [
        ((0, 0, 0), (10, 0, 0), (5, -5, 3), (5, 5, 3), 3.0),
        ((0, 0, 0), (10, 0, 0), (2, 4, 0), (8, 4, 0), 4.0),
        ((0, 0, 0), (10, 0, 0), (13, 4, 0), (20, 4, 0), 5.0),
        ((0, 0, 0), (10, 0, 0), (12, 0, 0), (20, 0, 0), 2.0),
        ((0, 0, 0), (10, 0, 0), (5, 0, -5), (5, 0, 5), 0.0),
        ((0, 0, 0), (10, 0, 0), (5, 7, 0), (5, 7, 0), 7.0),
        ((3, 4, 0), (3, 4, 0), (0, 0, 0), (0, 0, 0), 5.0),
    ],
)
def test_segments_by_hand(a: tuple, b: tuple, c: tuple, d: tuple, apart: float) -> None:
    ends = [np.array(end, dtype=float) for end in (a, b, c, d)]
    assert segments_apart(*ends) == pytest.approx(apart, abs=1e-9)
    assert segments_apart(ends[2], ends[3], ends[1], ends[0]) == pytest.approx(apart, abs=1e-9)


def test_gaps_take_off_both_radii_and_keep_the_nearest_thing() -> None:
    things = Obstacles(
        starts=np.array([[0.0, 100.0, 0.0], [0.0, 300.0, 0.0]]),
        ends=np.array([[50.0, 100.0, 0.0], [50.0, 300.0, 0.0]]),
        radii=np.array([30.0, 5.0]),
        on_planes=np.array([[0.0, 0.0, -40.0]]),
        free_sides=np.array([[0.0, 0.0, 3.0]]),
    )
    starts = np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 500.0]])
    ends = np.array([[50.0, 0.0, 0.0], [50.0, 0.0, -100.0]])
    # 100 - 30 - 20 to the segment and 40 - 20 to the plane; then an end 60 under the plane and 20 thick.
    np.testing.assert_allclose(gaps_mm(starts, ends, 20.0, things), [20.0, -80.0])
    assert np.isinf(gaps_mm(starts, ends, 20.0, Obstacles())).all()


@pytest.mark.parametrize(
    "fields",
    [
        {"starts": np.zeros((1, 3))},
        {"starts": np.zeros((1, 3)), "ends": np.zeros((1, 3)), "radii": np.array([-1.0])},
        {"starts": np.zeros((1, 3)), "ends": np.full((1, 3), np.nan), "radii": np.ones(1)},
        {"starts": np.zeros((1, 2)), "ends": np.zeros((1, 2)), "radii": np.ones(1)},
        {"on_planes": np.zeros((1, 3))},
        {"on_planes": np.zeros((1, 3)), "free_sides": np.zeros((1, 3))},
    ],
)
def test_obstacles_that_do_not_match_are_refused(fields: dict[str, np.ndarray]) -> None:
    with pytest.raises(BadValue):
        Obstacles(**fields)
