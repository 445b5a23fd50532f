"""The room a vessel and the hand on it take on the way out: closed forms beside a wall, under a shelf, past a ball."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest

from floorpan.driver import BodySize, Person
from floorpan.driver.round_hand import FINGERS_MM, hand_breadth_mm, hand_round
from floorpan.frames import Pose
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.solids import Body, Solid, ball, box
from floorpan.items import CupHolder, Place, Vessel
from floorpan.items.lift_out import (
    FINGERTIPS_MM,
    HAND_OVER_EDGE_MM,
    OVER_EDGE_MM,
    LiftOut,
    gone_mm,
    held_at,
    lift_out,
    way_of_hand,
    way_of_vessel,
)
from floorpan.items.vessels import convex_runs, envelope, moved

PLAIN = CupHolder(id="c", depth_mm=60.0, mouth_mm=70.0, base_mm=70.0, place=Place(x_mm=500.0, z_mm=200.0))
CAN = Vessel(id="v", profile=((0.0, 30.0), (120.0, 30.0)))
# A neck, a shoulder and a belly: three convex runs, and a radius that jumps.
BOTTLE = Vessel(
    id="v", profile=((0.0, 28.0), (60.0, 34.0), (120.0, 20.0), (180.0, 12.0), (180.0, 16.0), (200.0, 16.0))
)
FACET = 1 / math.cos(math.pi / 48) - 1.0


def slab(low: tuple[float, float, float], high: tuple[float, float, float]) -> Body:
    return (Solid(box(np.array(low), np.array(high))),)


def test_past_an_upright_wall_it_is_the_way_aside_that_counts() -> None:
    """Wall at X: X less where the axis ends up less the radius; the round skin is drawn at most its facet outside."""
    way = lift_out(PLAIN, CAN, toward_mm=(600.0, 0.0), far_mm=100.0)
    wall = slab((650.0, -500.0, 0.0), (700.0, 500.0, 900.0))
    gap = body_gap(way_of_vessel(way, CAN), wall).distance_mm
    assert gap == pytest.approx(650.0 - 600.0 - 30.0, abs=30.0 * FACET + 1e-9)
    # The same wall only beside the way straight up, and lower than where it goes aside over it.
    low = slab((550.0, -500.0, 0.0), (700.0, 500.0, 261.0))
    near = body_gap(way_of_vessel(way, CAN), low)
    assert near.distance_mm == pytest.approx(270.0 - 261.0)


def test_under_a_shelf_it_is_the_way_up_that_counts() -> None:
    way = lift_out(PLAIN, CAN, toward_mm=(600.0, 0.0), far_mm=100.0)
    shelf = slab((400.0, -500.0, 450.0), (560.0, 500.0, 500.0))
    near = body_gap(way_of_vessel(way, CAN), shelf)
    assert near.distance_mm == pytest.approx(450.0 - (200.0 + 60.0 + OVER_EDGE_MM + 120.0))
    # Lower by 80 it is met on the way up, by as much as it then lies under its top; that is the least way out.
    low = slab((400.0, -500.0, 370.0), (560.0, 500.0, 500.0))
    assert body_gap(way_of_vessel(way, CAN), low).distance_mm == pytest.approx(370.0 - 390.0)


def test_what_is_still_in_the_well_is_left_out() -> None:
    """A slab round the mouth, its hole narrower than the vessel: nothing below the base's end height meets it."""
    way = lift_out(PLAIN, BOTTLE, toward_mm=(500.0, 0.0))
    ring = slab((500.0, -500.0, 200.0), (700.0, 500.0, 260.0))
    assert way.level_mm == 0.0
    assert body_gap(way_of_vessel(way, BOTTLE), ring).distance_mm == pytest.approx(OVER_EDGE_MM)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_room_is_that_of_every_place_on_the_way(seed: int) -> None:
    """Dense sampling, 0.5 mm of the way apart, of the part over the edge; the room is nowhere more than that nearer."""
    rng = np.random.default_rng(seed)
    way = lift_out(PLAIN, BOTTLE, toward_mm=(560.0, -170.0))
    at = np.array([500.0, 0.0, 330.0]) + rng.uniform(-1.0, 1.0, 3) * (90.0, 90.0, 60.0)
    thing: Body = (Solid(ball(np.zeros(3), 5.0), Pose(shift_mm=(float(at[0]), float(at[1]), float(at[2])))),)
    swept = body_gap(way_of_vessel(way, BOTTLE), thing).distance_mm
    over = way.from_place.z_mm + way.up_mm
    steps = math.ceil(way.length_mm / 0.5)
    sampled = min(_over_gap(way, n / steps, over, thing) for n in range(steps + 1))
    assert sampled > 0.0
    assert swept <= sampled + 1e-9
    assert swept >= sampled - 0.5


def _over_gap(way: LiftOut, share: float, over: float, thing: Body) -> float:
    """Gap to the part of the vessel over a height, cut from its outline here and now."""
    place = way.at(share)
    level = over - place.z_mm
    runs = [_cut(run, level) for run in convex_runs(BOTTLE.profile)]
    parts = [replace(BOTTLE, profile=_from_zero(run)) for run in runs if len(run) > 1]
    lows = [run[0][0] for run in runs if len(run) > 1]
    bodies = [
        solid
        for part, low in zip(parts, lows, strict=True)
        for solid in envelope(moved(part, replace(place, z_mm=place.z_mm + low)), "vessel", {})
    ]
    return body_gap(tuple(bodies), thing).distance_mm


def _cut(run: tuple[tuple[float, float], ...], level: float) -> tuple[tuple[float, float], ...]:
    heights, radii = zip(*run, strict=True)
    if level <= heights[0]:
        return run
    if level >= heights[-1]:
        return ()
    return ((level, float(np.interp(level, heights, radii))), *(at for at in run if at[0] > level))


def _from_zero(run: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    return tuple((height - run[0][0], radius) for height, radius in run)


def test_a_hand_holds_two_thirds_up_but_clear_of_the_edge() -> None:
    breadth = 88.0
    tall = replace(CAN, profile=((0.0, 30.0), (300.0, 30.0)))
    assert held_at(PLAIN, tall, breadth).low_mm == pytest.approx(200.0 - 44.0)
    assert held_at(PLAIN, CAN, breadth).low_mm == pytest.approx(60.0 + HAND_OVER_EDGE_MM)
    # Let into something higher than its mouth; at last only the fingertips hold it.
    assert held_at(PLAIN, CAN, breadth, around_mm=270.0).low_mm == pytest.approx(70.0 + HAND_OVER_EDGE_MM)
    assert held_at(PLAIN, CAN, breadth, around_mm=310.0).low_mm == pytest.approx(120.0 - FINGERTIPS_MM)
    # By the neck of the bottle, as low as the hand spans no more than 3 mm over what its cap is wide: the neck's
    # straight cone at the hand's lower side.
    held = held_at(PLAIN, BOTTLE, breadth)
    assert held.radius_mm == pytest.approx(20.0 - 8.0 * (held.low_mm - 120.0) / 60.0)
    assert 16.0 + 3.0 - 2.0 * 8.0 / 60.0 <= held.radius_mm < 16.0 + 3.0
    assert lift_out(PLAIN, CAN, (0.0, 0.0), around_mm=280.0).up_mm == pytest.approx(80.0 + OVER_EDGE_MM)


def test_the_hand_is_as_broad_as_taped_and_as_thick_as_its_glove() -> None:
    """Published: hand breadth of the 2012 survey's middle man 88, woman 78."""
    assert hand_breadth_mm(Person(id="a")) == 88.0
    assert hand_breadth_mm(Person(id="a", sex="woman", glove_mm=3.0)) == 84.0
    taped = Person(id="a", sizes=(BodySize(measure="hand_breadth_mm", size=95.0),), glove_mm=2.0)
    (one,) = hand_round(taped, (10.0, 20.0, 30.0), 33.0)
    low, high = one.box()[0] - one.hull.radius_mm, one.box()[1] + one.hull.radius_mm
    assert (low[2], high[2]) == pytest.approx((30.0 - 49.5, 30.0 + 49.5))
    assert high[0] - 10.0 == pytest.approx(33.0 + FINGERS_MM + 2.0, abs=33.0 * FACET + 1e-6)


def test_a_hand_over_its_whole_way_beside_a_wall() -> None:
    way = lift_out(PLAIN, CAN, toward_mm=(600.0, 0.0), far_mm=100.0)
    hand = hand_round(Person(id="a"), (500.0, 0.0, 300.0), 30.0)
    wall = slab((680.0, -500.0, 0.0), (700.0, 500.0, 900.0))
    gap = body_gap(way_of_hand(way, hand), wall).distance_mm
    assert gap == pytest.approx(680.0 - 600.0 - 30.0 - FINGERS_MM, abs=30.0 * FACET + 1e-6)
    # And under a shelf: the way up on top of the hand's half breadth.
    shelf = slab((400.0, -500.0, 450.0), (700.0, 500.0, 500.0))
    up = body_gap(way_of_hand(way, hand), shelf).distance_mm
    assert up == pytest.approx(450.0 - 300.0 - way.up_mm - 44.0)


def test_how_far_it_has_come_when_it_first_takes_a_place() -> None:
    way = lift_out(PLAIN, CAN, toward_mm=(600.0, 0.0), far_mm=100.0)
    assert gone_mm(way, (520.0, 0.0, 310.0), CAN.profile) == (0.0, 0.0)
    up, level = gone_mm(way, (520.0, 0.0, 350.0), CAN.profile)
    assert (up, level) == pytest.approx((30.0, 0.0), abs=1.0)
    up, level = gone_mm(way, (590.0, 0.0, 300.0), CAN.profile)
    assert (up, level) == pytest.approx((way.up_mm, 60.0))
    # Aside of the line its axis goes along the skin comes later: 30 wide, 18 aside leaves 24.
    up, level = gone_mm(way, (590.0, 18.0, 300.0), CAN.profile)
    assert level == pytest.approx(66.0)
    for a, b in itertools.pairwise(np.linspace(540.0, 600.0, 7)):
        assert gone_mm(way, (a, 5.0, 300.0), CAN.profile)[1] < gone_mm(way, (b, 5.0, 300.0), CAN.profile)[1]
