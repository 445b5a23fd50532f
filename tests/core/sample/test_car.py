"""The union and the invented car's dimensions."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose, assert_array_equal

from floorpan.sample.build import build_car
from floorpan.sample.car import Car
from floorpan.sample.plan import CarSizes
from floorpan.sample.targets import targets

SIZES = CarSizes()
MIRROR = np.array((1.0, -1.0, 1.0))


def room(seed: int, count: int) -> np.ndarray:
    return np.random.default_rng(seed).uniform((-700.0, -750.0, -100.0), (1150.0, 750.0, 900.0), (count, 3))


def away(car: Car, *point: float) -> float:
    return float(car.distance(np.array([point]))[0])


def test_the_union_is_the_least_of_all_its_solids(car: Car) -> None:
    points = room(1, 20_000)
    every = np.stack([shape.distance(points) for shape in car.shapes])
    assert_array_equal(car.distance(points), every.min(axis=0))
    assert_array_equal(car.nearest_shape(points), every.argmin(axis=0))
    assert car.nearest_label(points[:50]) == [car.shapes[k].label for k in every[:, :50].argmin(axis=0)]


def test_the_union_asked_point_by_point_says_the_same(car: Car) -> None:
    points = room(2, 40)
    assert_array_equal(np.concatenate([car.distance(point[None]) for point in points]), car.distance(points))


def test_solids_can_be_taken_or_left_by_their_labels(car: Car) -> None:
    assert {shape.label for shape in car.labelled(only=["dash", "tunnel"]).shapes} == {"dash", "tunnel"}
    left = {shape.label for shape in car.labelled(exclude=["tunnel"]).shapes}
    assert left == {shape.label for shape in car.shapes} - {"tunnel"}
    bare = {shape.label for shape in build_car(SIZES, with_seats=False).shapes}
    assert {shape.label for shape in car.shapes} - bare == {"driver seat", "passenger seat", "seat rail"}


def test_right_hand_drive_is_the_mirror_image(car: Car) -> None:
    right = build_car(replace(SIZES, driver_side="right"))
    points = room(3, 5000)
    assert_allclose(right.distance(points * MIRROR), car.distance(points), atol=1e-9)
    assert right.nearest_label(points[:200] * MIRROR) == car.nearest_label(points[:200])


@pytest.mark.parametrize("side", ["left", "right"])
def test_what_the_plan_says_is_where_the_solids_are(side: str) -> None:
    sizes = replace(SIZES, driver_side=side)
    car = build_car(sizes)
    tunnel = car.labelled(only=["tunnel"])
    for x in (-300.0, 0.0, 100.0, 450.0, 900.0):
        centre = sizes.on_tunnel(x)
        assert abs(away(tunnel, *centre)) < 1e-9
        for y in (-60.0, 60.0):
            assert abs(away(tunnel, x, centre[1] + y, sizes.tunnel_top_z(x, centre[1] + y))) < 1e-9
            flank_y = centre[1] + np.sign(y) * sizes.tunnel_half_width(x, 60.0)
            assert abs(away(tunnel, x, flank_y, 60.0)) < 0.05
    for seat, h_point in (
        ("driver seat", sizes.driver_h_point_mm),
        ("passenger seat", sizes.passenger_h_point_mm),
    ):
        # The hip point is above the cushion and ahead of the backrest of its own seat.
        assert 50.0 < away(car.labelled(only=[seat]), *h_point) < 110.0
        assert car.nearest_label(np.array([h_point])) == [seat]
    assert away(car.labelled(only=["handbrake"]), *sizes.handbrake_pivot_mm) < 0.0
    assert abs(away(car.labelled(only=["handbrake"]), *sizes.handbrake_button_mm)) < 1e-9
    rim = sizes.wheel_diameter_mm / 2.0 - 2.0 * sizes.wheel_tube_radius_mm
    assert_allclose(away(car.labelled(only=["wheel rim"]), *sizes.wheel_centre_mm), rim)


def test_the_driver_sits_on_the_side_the_car_is_driven_from() -> None:
    right = replace(SIZES, driver_side="right")
    assert SIZES.driver_h_point_mm[1] < 0.0 < right.driver_h_point_mm[1]
    assert SIZES.wheel_centre_mm[1] == SIZES.driver_h_point_mm[1]
    # The tunnel lies towards the passenger of the car's centre plane, the handbrake towards the driver of it.
    assert SIZES.tunnel_centre_y(0.0) == 12.0 == -right.tunnel_centre_y(0.0)
    assert SIZES.handbrake_pivot_mm[1] < SIZES.tunnel_centre_y(SIZES.handbrake_pivot_x_mm)


def test_the_lever_hole_is_open_down_to_its_well(car: Car) -> None:
    x, y, z = SIZES.lever_hole_mm
    # The rim's rounding has its middle as far beyond the hole's side and below the tunnel's top as its radius.
    rim, radius = SIZES.lever_hole_width_mm / 2.0, SIZES.tunnel_edge_radius_mm
    for down in (-20.0, 0.0, 20.0):
        expected = np.hypot(rim + radius, max(radius - down, 0.0)) - radius
        assert_allclose(away(car, x, y, z - down), expected, atol=0.2)
    deep = SIZES.lever_hole_depth_mm
    # The well's floor lies square under the top, a point is put into it upright.
    above = deep - (deep - 10.0) * np.cos(np.radians(SIZES.tunnel_rise_deg))
    assert_allclose(away(car, x, y, z - deep + 10.0), above, atol=1e-9)
    assert away(car, x, y, z - deep - 5.0) < 0.0


def test_the_seats_leave_the_gap_between_their_cushions_and_touch_nothing_beside_them(car: Car) -> None:
    y = np.linspace(-150.0, 150.0, 30_001)
    line = np.stack((np.full_like(y, 450.0), y, np.full_like(y, 135.0)), axis=1)
    free = y[car.labelled(only=["driver seat", "passenger seat"]).distance(line) > 0.0]
    assert_allclose(np.ptp(free), SIZES.cushion_gap_mm, atol=0.1)
    assert_allclose(free.mean(), 0.0, atol=0.1)


def test_the_dimensions_are_those_met_in_practice() -> None:
    """Ranges for fixtures: common practice, no source."""
    assert 230.0 <= SIZES.cushion_gap_mm <= 280.0
    assert 120.0 <= SIZES.tunnel_top_width_mm <= 180.0
    assert 60.0 <= SIZES.tunnel_flank_deg <= 80.0
    assert 180.0 <= SIZES.tunnel_top_z(-200.0) <= 240.0
    assert 3.0 <= SIZES.tunnel_rise_deg <= 6.0
    assert 320.0 <= SIZES.dash_lower_z_mm <= 380.0
    assert 150.0 <= SIZES.seat_h_z_mm <= 190.0
    assert SIZES.tunnel_offset_mm == 12.0


def test_the_targets_lie_on_the_car_in_level_pairs(car: Car) -> None:
    named = targets(SIZES)
    assert len(named) == 7
    assert np.abs(car.distance(np.array(tuple(named.values())))).max() < 1e-9
    for end in ("front", "rear"):
        one, other = named[f"driver seat bolt, {end}"], named[f"passenger seat bolt, {end}"]
        assert one == (other[0], -other[1], other[2])
        assert named[f"tunnel hole, {end}"][1] == 0.0
    assert named["tunnel hole, front"][0] == 0.0
    assert (named["floor plug"][0], named["floor plug"][2]) == (0.0, 0.0)
