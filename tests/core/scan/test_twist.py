"""Twist by two levels, racking by two diagonals: closed forms, and how often the give or take holds."""

import math

import numpy as np
import pytest

from floorpan.frames import Pose, Vector
from floorpan.geometry.mesh import Floats
from floorpan.scan.acceptance import scan_doubt
from floorpan.scan.axis_doubt import PICK_MM
from floorpan.scan.known_lengths import KnownLength
from floorpan.scan.straight_edges import StraightEdge
from floorpan.scan.twist import (
    CAR_TILT_DEG,
    WAY_TILT_DEG,
    check_rackings,
    check_twists,
    up_in_scan,
)

FRONT, REAR = 200.0, 1700.0
UP: Vector = (0.0, 0.0, 1.0)


def level(
    id: str, x: float, *, half: float = 400.0, yaw_deg: float = 0.0, z: float = 0.0, levelled: bool = True
) -> StraightEdge:
    """Five places along a level that lies across the car."""
    yaw = math.radians(yaw_deg)
    steps = np.linspace(-half, half, 5)
    points = tuple((x + s * math.sin(yaw), float(s * math.cos(yaw)), z) for s in steps)
    return StraightEdge(id=id, points_mm=points, levelled=levelled)


def moved(edge: StraightEdge, points: Floats) -> StraightEdge:
    return StraightEdge(
        id=edge.id, points_mm=tuple(tuple(map(float, p)) for p in points), levelled=edge.levelled
    )


def wound(edge: StraightEdge, deg_per_m: float) -> StraightEdge:
    """What a scan that is wound about X makes of it: each place turned by an angle that grows along the car."""
    points = np.array(edge.points_mm)
    angle = np.radians(deg_per_m * points[:, 0] / 1000.0)
    y = points[:, 1] * np.cos(angle) - points[:, 2] * np.sin(angle)
    z = points[:, 1] * np.sin(angle) + points[:, 2] * np.cos(angle)
    return moved(edge, np.column_stack([points[:, 0], y, z]))


def seen(edge: StraightEdge, pose: Pose) -> StraightEdge:
    return moved(edge, pose.apply(np.array(edge.points_mm)))


@pytest.mark.parametrize("deg_per_m", [0.0, 0.02, 0.1, 0.5, -0.5])
@pytest.mark.parametrize("up", [UP, None])
def test_a_scan_wound_by_a_known_angle_is_told_by_that_angle(deg_per_m: float, up: Vector | None) -> None:
    edges = [wound(level("front", FRONT), deg_per_m), wound(level("rear", REAR, half=300.0), deg_per_m)]
    (found,) = check_twists(edges, up=up)
    angle = abs(deg_per_m) * (REAR - FRONT) / 1000.0
    # Closed form: about X, the rear is turned against the front by the angle per metre times the way between.
    assert found.angle_deg == pytest.approx(angle, rel=1e-4, abs=1e-9)
    assert found.off_mm == pytest.approx(800.0 * math.sin(math.radians(angle)), rel=1e-4, abs=1e-9)
    assert (found.span_mm, found.allowed_mm) == pytest.approx((800.0, 0.8))
    assert found.apart_mm == pytest.approx(REAR - FRONT, rel=1e-4)
    # Five picks, evenly spaced: sum of squares along each level is 10 steps squared; parallel levels leak nothing.
    spreads = (10 * 200.0**2, 10 * 150.0**2)
    picks = 2.0 * PICK_MM * math.sqrt(sum(1.0 / one for one in spreads))
    assert found.u_mm == pytest.approx(800.0 * picks, rel=1e-4)


@pytest.mark.parametrize(("off", "verdict"), [(0.7, "clear"), (2.0, "close"), (4.0, "short")])
def test_levels_may_be_wound_by_a_millimetre_in_a_metre(off: float, verdict: str) -> None:
    front, rear = level("front", FRONT), level("rear", REAR)
    points = np.array(rear.points_mm)
    points[:, 2] += off * points[:, 1] / 800.0
    (found,) = check_twists([front, moved(rear, points)])
    assert found.off_mm == pytest.approx(off, rel=1e-4)
    assert found.verdict == verdict


def test_nothing_changes_with_the_scans_own_coordinates_or_the_end_that_was_picked_first() -> None:
    pose = Pose.turned((1.0, 2.0, -0.5), 73.0, (100.0, -900.0, 40.0))
    edges = [wound(level("front", FRONT), 0.3), wound(level("rear", REAR, yaw_deg=6.0), 0.3)]
    (still,) = check_twists(edges, up=UP)
    askew = [seen(edge, pose) for edge in edges]
    askew[1] = moved(askew[1], np.array(askew[1].points_mm)[::-1])
    (found,) = check_twists(askew, up=up_in_scan(pose.inverse()))
    assert found.angle_deg == pytest.approx(still.angle_deg, abs=1e-9)
    assert found.u_mm == pytest.approx(still.u_mm, abs=1e-9)
    assert up_in_scan(None) is None
    # Up in the scan is what the pose turns into Z.
    np.testing.assert_allclose(
        pose.inverse().apply(pose.apply(np.zeros(3)) + up_in_scan(pose.inverse())), UP, atol=1e-9
    )


def test_levels_that_are_not_parallel_are_known_less_well_until_up_is_known() -> None:
    """A rear level that lies higher and skew: the plane through both leans, and the skew leaks into the twist."""
    edges = [level("front", FRONT), level("rear", REAR, yaw_deg=8.0, z=150.0)]
    (known,), (unknown,) = check_twists(edges, up=UP), check_twists(edges)
    assert known.off_mm == pytest.approx(0.0, abs=1e-9)
    assert known.verdict == "clear"
    assert unknown.off_mm > 5.0
    assert unknown.off_mm < unknown.u_mm
    assert unknown.verdict != "short"
    skew = math.radians(8.0) * 800.0
    # Both levels' picks, and the share of the skew that a lean of the car, or of the way between them, lets through.
    picks = 2.0 * PICK_MM * math.sqrt(2.0 / (10 * 200.0**2)) * 800.0
    for found, tilt in ((known, CAR_TILT_DEG), (unknown, WAY_TILT_DEG)):
        assert found.u_mm == pytest.approx(math.hypot(picks, skew * math.sin(math.radians(tilt))), rel=0.01)


def test_levels_stood_plumb_are_held_against_each_other_too() -> None:
    """Upright at the front and at the rear: up says nothing of them, the way between them does."""

    def plumb(id: str, x: float, lean_deg: float) -> StraightEdge:
        lean = math.radians(lean_deg)
        points = tuple((x, s * math.sin(lean), s * math.cos(lean)) for s in (0.0, 150.0, 300.0, 450.0, 600.0))
        return StraightEdge(id=id, points_mm=points, levelled=True)

    (found,) = check_twists([plumb("front", FRONT, 0.0), plumb("rear", REAR, 0.4)], up=UP)
    assert found.angle_deg == pytest.approx(0.4, rel=1e-3)


@pytest.mark.parametrize(
    "edges",
    [
        (),
        (level("front", FRONT),),
        (level("front", FRONT), level("rear", REAR, levelled=False)),
        (level("front", FRONT), level("near", FRONT + 290.0)),
        (level("front", FRONT), level("skew", REAR, yaw_deg=21.0)),
    ],
    ids=["none", "one", "not levelled", "too near", "too skew"],
)
def test_what_makes_no_pair_tells_nothing(edges: tuple[StraightEdge, ...]) -> None:
    assert check_twists(edges) == ()
    assert "twist" not in {part.name for part in scan_doubt((), edges).parts}


def test_levels_end_to_end_in_one_line_make_no_pair() -> None:
    """A thousand apart along themselves, and nothing apart across: nothing winds between them."""
    right = moved(level("right", FRONT), np.add(level("right", FRONT).points_mm, (0.0, 1000.0, 0.0)))
    assert check_twists([level("left", FRONT), right]) == ()


def test_three_levels_make_three_pairs() -> None:
    edges = [level(name, x) for name, x in (("a", 0.0), ("b", 700.0), ("c", 1400.0))]
    assert [one.ids for one in check_twists(edges)] == [("a", "b"), ("a", "c"), ("b", "c")]


@pytest.mark.parametrize("up", [UP, None])
def test_the_give_or_take_of_a_twist_holds_in_95_of_100(up: Vector | None) -> None:
    """Picks off by PICK_MM every way; the levels skew to each other, and the way between them off level.

    Monte Carlo after JCGM 101, 3000 draws: one sigma of the share is 0.4 %, and a half-width of two sigma holds 95.4 %.
    """
    random = np.random.default_rng(8)
    held = 0
    for _ in range(3000):
        tilt = math.radians(random.normal(0.0, (CAR_TILT_DEG if up else WAY_TILT_DEG) / 2.0))
        front, rear = level("front", FRONT), level("rear", REAR, yaw_deg=12.0)
        # In the car both are level; what is taken for up, or the way between them, leans by the tilt.
        pose = Pose.turned((0.0, 1.0, 0.0), math.degrees(tilt))
        edges = [
            moved(one, np.array(one.points_mm) + random.normal(0.0, PICK_MM, (5, 3))) for one in (front, rear)
        ]
        if up is None:
            edges[1] = moved(
                edges[1], np.add(edges[1].points_mm, (0.0, 0.0, math.tan(tilt) * (REAR - FRONT)))
            )
        else:
            edges = [seen(one, pose) for one in edges]
        (found,) = check_twists(edges, up=up)
        held += found.off_mm <= found.u_mm
    assert held / 3000 == pytest.approx(0.954, abs=0.015)


# --- racking ----------------------------------------------------------------------------------------------------


def targets(racked: float = 0.0, factor: float = 1.0) -> dict[str, Vector]:
    """Four targets of a rectangle, 1500 along and 900 across, racked by a slope of Y over X, times a factor."""
    corners = {"fl": (0.0, -450.0), "fr": (0.0, 450.0), "rl": (1500.0, -450.0), "rr": (1500.0, 450.0)}
    return {name: (factor * (x + racked * y), factor * y, 5.0) for name, (x, y) in corners.items()}


def taped(id: str, ends: tuple[Vector, Vector], mm: float) -> KnownLength:
    return KnownLength(id=id, ends_mm=ends, taped_mm=mm)


def diagonals(at: dict[str, Vector]) -> tuple[KnownLength, KnownLength]:
    true = math.hypot(1500.0, 900.0)
    return taped("d1", (at["fl"], at["rr"]), true), taped("d2", (at["rl"], at["fr"]), true)


@pytest.mark.parametrize("slope", [0.0, 0.001, -0.004])
def test_a_racked_rectangle_is_told_by_the_difference_of_its_diagonals(slope: float) -> None:
    (found,) = check_rackings(diagonals(targets(slope)))
    # Closed form: one diagonal runs over 1500 + 900 slope, the other over 1500 - 900 slope.
    long = math.hypot(1500.0 + 900.0 * slope, 900.0)
    short = math.hypot(1500.0 - 900.0 * slope, 900.0)
    assert found.ids == ("d1", "d2")
    assert found.off_mm == pytest.approx(long - short, abs=1e-9)
    assert found.allowed_mm == pytest.approx(math.hypot(1500.0, 900.0) / 1000.0)
    # Four picked ends and two tapes.
    assert found.u_mm == pytest.approx(2.0 * math.sqrt(4.0 * PICK_MM**2 + 2.0 * 0.25**2))
    assert found.verdict == ("clear" if abs(slope) < 0.0015 else "short")


def test_a_scan_that_is_only_too_large_is_not_racked() -> None:
    (found,) = check_rackings(diagonals(targets(factor=1.01)))
    assert found.off_mm == pytest.approx(0.0, abs=1e-9)


def test_the_give_or_take_of_racking_holds_in_95_of_100() -> None:
    """Monte Carlo after JCGM 101, 3000 draws; one sigma of the share is 0.4 %."""
    random = np.random.default_rng(4)
    at, true = targets(), math.hypot(1500.0, 900.0)
    held = 0
    for _ in range(3000):
        ends = {
            name: tuple(map(float, np.array(place) + random.normal(0.0, PICK_MM, 3)))
            for name, place in at.items()
        }
        pair = (("d1", "fl", "rr"), ("d2", "rl", "fr"))
        known = [taped(id, (ends[a], ends[b]), true + random.normal(0.0, 0.25)) for id, a, b in pair]
        (found,) = check_rackings(known)
        held += abs(found.off_mm) <= found.u_mm
    assert held / 3000 == pytest.approx(0.954, abs=0.015)


def test_sides_and_lengths_that_pass_each_other_are_no_diagonals() -> None:
    at = targets()
    front, rear = taped("f", (at["fl"], at["fr"]), 900.0), taped("r", (at["rl"], at["rr"]), 900.0)
    left = taped("l", (at["fl"], at["rl"]), 1500.0)
    assert check_rackings([front, rear, left]) == ()
    one, other = diagonals(at)
    (ax, ay, _), (bx, by, _) = other.ends_mm
    above = taped("up", ((ax, ay, 400.0), (bx, by, 400.0)), other.taped_mm)
    assert check_rackings([one, above]) == ()
    assert check_rackings([]) == ()
    # Of all six only the diagonals are a pair.
    assert [found.ids for found in check_rackings([front, rear, left, one, other])] == [("d1", "d2")]


def test_the_worst_pair_of_levels_stands_in_what_the_scan_is_good_to() -> None:
    edges = tuple(
        wound(level(name, x), 0.2) for name, x in (("front", 0.0), ("middle", 700.0), ("rear", 1400.0))
    )
    parts = {part.name: part for part in scan_doubt((), edges, up=UP).parts}
    worst = 800.0 * math.sin(math.radians(0.2 * 1.4))
    # Even over its greatest departure: JCGM 100, 4.3.7.
    assert parts["twist"].standard_mm == pytest.approx(worst / math.sqrt(3.0), rel=1e-4)
    assert parts["twist"].source == "the worst pair of levels"
