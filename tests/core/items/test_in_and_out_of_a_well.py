"""Going in and being lifted out: room at every height, the way out, and how hard each vessel is held over its fills."""

import itertools
import math
from dataclasses import replace

import pytest

from floorpan.items.cup_holder import GRIPS, KIND, CupHolder
from floorpan.items.entering import entering
from floorpan.items.held import (
    COMFORT_G,
    LIMIT_G,
    SPORTS_TYRE_G,
    held_free,
    held_in_well,
    leans_in_well_deg,
    spills_in_well_g,
)
from floorpan.items.lift_out import OVER_EDGE_MM, lift_out
from floorpan.items.placing import Place
from floorpan.items.vessel_library import library, vessel_of
from floorpan.items.vessel_weight import weight
from floorpan.items.vessels import Vessel
from floorpan.items.well_fit import well_fit
from floorpan.items.well_hold import leaving_ratio
from floorpan.items.well_outline import WellOutline, well_outline

PLAIN = CupHolder(id="h-1", mouth_mm=86, base_mm=74, depth_mm=50)
CUP = Vessel(id="v-1", profile=((0, 30), (100, 40)), full_kg=0.4)


def test_room_at_every_height_of_a_taper() -> None:
    """Well 74 to 86 over 50, cup 60 to 80 over 100: 14 to spare at the bottom, 86 - 70 = 16 at the mouth."""
    found = entering(PLAIN, CUP)
    assert found.enters
    assert found.sits_mm == 50.0
    assert [room.height_mm for room in found.rooms] == pytest.approx([0.0, 50.0], abs=1e-4)
    assert [room.across_mm for room in found.rooms] == pytest.approx([14.0, 16.0], abs=1e-4)
    assert found.tightest is not None
    assert found.tightest.across_mm == pytest.approx(well_fit(PLAIN, CUP).side_mm, abs=1e-4)


def test_both_sides_of_a_step_and_the_ring_are_told() -> None:
    holder = replace(
        PLAIN, mouth_mm=84, base_mm=84, step_mm=70, step_depth_mm=20, ring_mm=90, ring_over_mm=25
    )
    told = {
        round(room.height_mm, 3): room.across_mm
        for room in entering(holder, Vessel(id="v-1", profile=((0, 33), (100, 33)))).rooms
    }
    assert told[0.0] == pytest.approx(4.0)
    assert sorted(told) == pytest.approx([0.0, 20.0, 50.0, 75.0], abs=1e-3)
    assert told[75.0] == pytest.approx(24.0)
    rooms = [room.across_mm for room in entering(holder, vessel_of("can-355", "v-1")).rooms]
    assert max(rooms) > min(rooms) + 13.0


def test_what_does_not_enter_has_no_room() -> None:
    found = entering(PLAIN, Vessel(id="v-1", profile=((0, 45), (100, 45))))
    assert (found.enters, found.rooms, found.tightest) == (False, (), None)


def test_a_ring_narrower_than_the_vessel_keeps_it_out() -> None:
    holder = replace(PLAIN, ring_mm=64, ring_over_mm=40)
    assert well_fit(holder, vessel_of("slim-can-250", "v-1")).sits_mm == 50.0
    assert not well_fit(holder, vessel_of("can-355", "v-1")).enters


@pytest.mark.parametrize("key", [vessel.key for vessel in library()])
def test_the_tightest_place_is_where_the_fit_says(key: str) -> None:
    vessel = vessel_of(key, "v-1")
    found, fit = entering(PLAIN, vessel), well_fit(PLAIN, vessel)
    assert (found.enters, found.sits_mm) == (fit.enters, fit.sits_mm)
    if fit.enters:
        assert found.tightest is not None
        assert found.tightest.across_mm == pytest.approx(fit.side_mm, abs=1e-3)


def test_the_way_out_goes_up_past_the_ring_and_then_level() -> None:
    holder = replace(
        PLAIN, place=Place(x_mm=600, y_mm=50, z_mm=200, turn_deg=15), ring_mm=90, ring_over_mm=40
    )
    way = lift_out(holder, CUP, toward_mm=(900.0, -350.0), far_mm=100.0)
    assert way.up_mm == 90.0 + OVER_EDGE_MM
    assert math.hypot(*way.aside_mm) == pytest.approx(100.0)
    assert way.at(0.0) == way.from_place
    halfway = way.at(way.up_mm / way.length_mm)
    assert (halfway.x_mm, halfway.y_mm, halfway.z_mm) == pytest.approx((600.0, 50.0, 300.0))
    end = way.at(1.0)
    assert (end.x_mm, end.y_mm, end.z_mm) == pytest.approx((660.0, -30.0, 300.0))
    assert end.turn_deg == 15
    # No step of the way is longer than its share of the whole.
    places = [way.at(share / 50) for share in range(51)]
    for a, b in itertools.pairwise(places):
        gone = math.dist((a.x_mm, a.y_mm, a.z_mm), (b.x_mm, b.y_mm, b.z_mm))
        assert gone <= way.length_mm / 50 + 1e-9


def test_the_way_out_stops_where_it_is_to_go() -> None:
    way = lift_out(PLAIN, CUP, toward_mm=(30.0, 40.0))
    assert way.aside_mm == pytest.approx((30.0, 40.0))
    assert lift_out(PLAIN, CUP, toward_mm=(0.0, 0.0)).aside_mm == (0.0, 0.0)


def test_the_worst_fill_is_the_one_that_leaves_first() -> None:
    """One fill level at a time, none holds less than the worst that is told."""
    bottle = vessel_of("bottle-500", "v-1")
    held = held_in_well(PLAIN, bottle)
    one_by_one = {
        fill: held_in_well(PLAIN, bottle, fills=(fill,)).cornering_g for fill in (0.0, 0.3, 0.6, 0.8, 1.0)
    }
    assert held.cornering_g <= min(one_by_one.values()) + 1e-9
    assert one_by_one[0.3] > one_by_one[1.0]
    assert held.centre_mm == pytest.approx(weight(bottle, held.fill).centre_mm)


def test_a_vessel_in_a_shallow_dish_is_held_as_one_that_stands_free() -> None:
    dish = CupHolder(id="h-1", mouth_mm=160, base_mm=160, depth_mm=10)
    can = Vessel(id="v-1", profile=((0, 33), (200, 33)), full_kg=0.7)
    in_dish = held_in_well(dish, can, unloaded_g=0.0, fills=(1.0,)).cornering_g
    free = held_free(can, unloaded_g=0.0, grip=9.0, fills=(1.0,)).cornering_g
    assert free == pytest.approx(0.33)
    assert in_dish == pytest.approx(33 / (100 - 10), rel=1e-5)


def test_half_the_weight_off_holds_half_the_corner() -> None:
    bottle = vessel_of("bottle-500", "v-1")
    whole, half = (held_in_well(PLAIN, bottle, unloaded_g=off).cornering_g for off in (0.0, 0.5))
    assert half == pytest.approx(whole / 2)
    assert held_in_well(PLAIN, bottle, unloaded_g=1.2).cornering_g == 0.0


def test_a_holder_that_leans_back_holds_less_under_braking() -> None:
    bottle = vessel_of("bottle-500", "v-1")
    level = held_in_well(PLAIN, bottle)
    leaning = held_in_well(replace(PLAIN, lean_back_deg=8.0), bottle)
    assert level.cornering_g == level.braking_g
    assert leaning.braking_g < leaning.cornering_g < level.cornering_g
    sideways = held_in_well(replace(PLAIN, lean_right_deg=8.0), bottle)
    assert sideways.cornering_g == pytest.approx(leaning.braking_g)


@pytest.mark.parametrize("grip", GRIPS[1:])
def test_fingers_in_a_loose_well_hold_harder(grip: str) -> None:
    bottle = vessel_of("bottle-500", "v-1")
    gripped = replace(PLAIN, grip=grip, grip_reach_mm=9.0, grip_n_per_mm=1.5)
    assert held_in_well(gripped, bottle).cornering_g > 1.5 * held_in_well(PLAIN, bottle).cornering_g
    # They grip alike in every direction.
    held = held_in_well(gripped, bottle)
    assert held.cornering_g == pytest.approx(held.braking_g)


def test_how_a_vessel_leaves_is_told() -> None:
    bottle = vessel_of("bottle-500", "v-1")
    assert held_in_well(PLAIN, bottle).how == "leans out"
    snug = CupHolder(id="h-1", mouth_mm=66.0, base_mm=66.0, depth_mm=80)
    assert held_in_well(snug, bottle).how == "stays"
    assert held_in_well(PLAIN, Vessel(id="v-1", profile=((0, 50), (90, 50)))).how == "does not go in"
    assert held_free(bottle).how == "tips"
    assert held_free(bottle, grip=0.05).how == "slides"


def test_what_drivers_use() -> None:
    """Check value 4.19."""
    assert (COMFORT_G, LIMIT_G, SPORTS_TYRE_G) == (0.4, 0.8, 1.0)


def test_an_open_cup_spills_sooner_where_it_leans() -> None:
    cup = vessel_of("open-cup-12", "v-1")
    upright = 15 / 45
    snug = CupHolder(id="h-1", mouth_mm=73, base_mm=62, depth_mm=75)
    assert spills_in_well_g(snug, cup) == pytest.approx(upright, abs=1e-6)
    tilted = spills_in_well_g(replace(snug, lean_right_deg=6.0), cup)
    assert math.tan(math.atan(tilted) + math.radians(6.0)) == pytest.approx(upright, abs=1e-6)
    assert leans_in_well_deg(snug, cup, 0.3, unloaded_g=0.0) == 0.0
    assert spills_in_well_g(snug, vessel_of("paper-cup-12", "v-1")) == math.inf


def test_the_outline_of_each_kind_of_well() -> None:
    straight = CupHolder(id="h-1", mouth_mm=80, base_mm=80, depth_mm=70)
    assert well_outline(straight) == WellOutline(((0.0, 40.0), (70, 40.0)))
    stepped = replace(straight, step_mm=60.0, step_depth_mm=25.0)
    assert well_outline(stepped).wall == ((0.0, 30.0), (25.0, 30.0), (25.0, 40.0), (70, 40.0))
    assert well_outline(stepped).corners() == ((25.0, 30.0), (70, 40.0))
    ringed = replace(straight, ring_mm=90.0, ring_over_mm=45.0)
    assert well_outline(ringed).ring == (115.0, 45.0)
    assert well_outline(ringed).top_mm == 115.0
    # A step as deep as the well, or a wall that narrows upward, is a straight well.
    assert well_outline(replace(stepped, step_depth_mm=70.0)) == well_outline(straight)
    assert well_outline(replace(straight, base_mm=90)) == well_outline(straight)


def test_step_and_ring_are_drawn_open() -> None:
    """Nothing stands in the way of the vessel: no corner lies inside the narrow part or the ring."""
    plain = CupHolder(id="h-1", mouth_mm=80, base_mm=80, depth_mm=70, wall_mm=3)
    whole = replace(plain, step_mm=60.0, step_depth_mm=25.0, ring_mm=90.0, ring_over_mm=45.0)
    extra = KIND.envelope(whole, "well", {})[len(KIND.envelope(plain, "well", {})) :]
    assert len(extra) == 48
    for solid in extra:
        points = solid.points()
        least = 45.0 if points[:, 2].min() > 70.0 else 30.0
        assert min(math.hypot(x, y) for x, y in points[:, :2]) >= least - 1e-9
    assert max(solid.points()[:, 2].max() for solid in extra) == pytest.approx(116.5)


def test_the_ratio_is_the_same_for_a_holder_and_for_its_outline() -> None:
    bottle = vessel_of("bottle-500", "v-1")
    at = weight(bottle, 1.0)
    held = held_in_well(PLAIN, bottle, unloaded_g=0.0, fills=(1.0,))
    assert held.cornering_g == pytest.approx(leaving_ratio(bottle.profile, well_outline(PLAIN), at.centre_mm))
