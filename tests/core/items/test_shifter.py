"""The shifter: throw and gate in closed form, typed knobs, the lift ring, the opening cut two ways."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.errors import BadValue
from floorpan.items.knob_point import KnobPoint
from floorpan.items.opening import opening_gap
from floorpan.items.placing import Place
from floorpan.items.shifter import HAND_RADIUS_MM, KIND
from floorpan.items.shifter_fields import Shifter
from floorpan.items.shifter_gate import gate_table, lever_readout, lever_states, pivot_pose


def knobs(shifter: Shifter) -> dict[str, np.ndarray]:
    return {place.gear: np.array(place.knob_mm) for place in gate_table(shifter)}


@pytest.mark.parametrize(("lever", "throw"), [(220, 46), (250, 52), (300, 62), (350, 73)])
def test_throw_each_way_is_the_lever_times_the_sine(lever: float, throw: float) -> None:
    """Statics of a lever at 12 degrees each way: 220 -> 46, 250 -> 52, 300 -> 62, 350 -> 73 mm, worked by hand."""
    shifter = Shifter(id="shifter-1", lever_mm=lever, throw_deg=12.0, lean_deg=17.0)
    assert round(lever_readout(shifter).throw_mm) == throw
    # The same at the knob: how far third and fourth lie off the line of the neutral lever.
    at = knobs(shifter)
    pivot = np.array(pivot_pose(shifter).shift_mm)
    along = (at["N"] - pivot) / lever
    for gear in ("3", "4"):
        off = np.linalg.norm(np.cross(along, at[gear] - pivot))
        assert off == pytest.approx(lever_readout(shifter).throw_mm)


def test_a_hundred_more_of_lever_costs_21_mm_each_way() -> None:
    short, long = (lever_readout(Shifter(id="s-1", lever_mm=mm)).throw_mm for mm in (240.0, 340.0))
    assert long - short == pytest.approx(100 * math.sin(math.radians(12)))
    assert round(long - short) == 21


def test_knobs_in_closed_form() -> None:
    """x = L sin(fore) cos(side), y = L sin(side), z = pivot + L cos(fore) cos(side)."""
    shifter = Shifter(id="shifter-1", place=Place(x_mm=500.0, y_mm=10.0, z_mm=80.0))
    at = knobs(shifter)
    fore, side = math.radians(8 - 12), math.radians(6.5)
    np.testing.assert_allclose(
        at["5"],
        [
            500 + 240 * math.sin(fore) * math.cos(side),
            10 + 240 * math.sin(side),
            80 + 45 + 240 * math.cos(fore) * math.cos(side),
        ],
    )
    np.testing.assert_allclose(at["1"], at["5"] * [1, 0, 1] + [0, 10 - 240 * math.sin(side), 0])
    assert at["N"][0] == pytest.approx(500 + 240 * math.sin(math.radians(8)))


def test_odd_gears_lie_in_front_and_planes_run_left_to_right_whoever_drives() -> None:
    at = knobs(Shifter(id="shifter-1", gears=6, reverse="front left"))
    assert at["1"][0] < at["N"][0] < at["2"][0]
    assert at["R"][1] < at["1"][1] < at["3"][1] < at["5"][1]
    assert at["1"][1] == pytest.approx(at["2"][1])


def test_turning_the_shifter_round_turns_its_pattern() -> None:
    at = knobs(Shifter(id="shifter-1", place=Place(turn_deg=180.0), lean_deg=0.0))
    assert at["1"][0] > at["2"][0]
    assert at["1"][1] > at["5"][1]


def test_a_typed_knob_wins_and_the_others_stay() -> None:
    plain = Shifter(id="shifter-1", place=Place(x_mm=400.0, y_mm=-5.0, z_mm=60.0))
    typed = dataclasses.replace(plain, knobs=(KnobPoint(gear="4", x_mm=90.0, y_mm=4.0, z_mm=270.0),))
    np.testing.assert_allclose(knobs(typed)["4"], [490.0, -1.0, 330.0])
    for gear in ("N", "1", "2", "3", "5", "R"):
        np.testing.assert_allclose(knobs(typed)[gear], knobs(plain)[gear])
    # Its lever is as long as that knob says.
    assert lever_states(typed)["4"].length_mm == pytest.approx(math.dist((90, 4, 270), (0, 0, 45)))


def test_a_knob_typed_for_a_gear_the_box_has_not_waits() -> None:
    typed = Shifter(id="shifter-1", gears=4, knobs=(KnobPoint(gear="6", x_mm=0, y_mm=0, z_mm=300),))
    assert knobs(typed).keys() == {"N", "1", "2", "3", "4", "R"}


def test_the_hand_sits_higher_along_the_lever_with_the_ring_up_and_only_in_reverse() -> None:
    shifter = Shifter(id="shifter-1", ring_lift_mm=20.0)
    for gear, knob in knobs(shifter).items():
        grip = KIND.grips(shifter, {"gear": gear})[0]
        assert grip.radius_mm == HAND_RADIUS_MM == 55.0
        away = np.array(grip.at_mm) - knob
        lift = 20.0 if gear == "R" else 0.0
        np.testing.assert_allclose(away, lift * lever_states(shifter)[gear].stick(), atol=1e-9)


def test_the_ring_is_up_before_the_lever_swings_into_reverse() -> None:
    shifter = Shifter(id="shifter-1", ring_lift_mm=20.0)
    across = 240 * math.radians(6.5)
    swing = 240 * math.radians(12)
    grip = KIND.grips_between(shifter, {}, "gear", "N", "R", across / (across + swing))[0]
    pivot = np.array(pivot_pose(shifter).shift_mm)
    assert np.linalg.norm(np.array(grip.at_mm) - pivot) == pytest.approx(260.0)


def test_lever_and_knob_stand_where_the_gate_says() -> None:
    shifter = Shifter(id="shifter-1", place=Place(x_mm=100.0, turn_deg=15.0))
    for gear, at in knobs(shifter).items():
        (knob,) = KIND.envelope(shifter, "knob", {"gear": gear})
        np.testing.assert_allclose(knob.points(), [at], atol=1e-9)
        assert knob.hull.radius_mm == 24.0
        (lever,) = KIND.envelope(shifter, "lever", {"gear": gear})
        boot, top = lever.points()
        np.testing.assert_allclose(top, at, atol=1e-9)
        assert math.dist(boot, top) == pytest.approx(240.0 - 90.0)
        pivot = np.array(pivot_pose(shifter).shift_mm)
        assert np.linalg.norm(np.cross(top - pivot, boot - pivot)) == pytest.approx(0.0, abs=1e-6)


def test_the_box_stands_on_its_foot() -> None:
    (box,) = KIND.envelope(Shifter(id="s-1", place=Place(z_mm=33.0)), "box", {})
    np.testing.assert_allclose(
        [box.points().min(axis=0), box.points().max(axis=0)], [[-70, -55, 33], [70, 55, 93]]
    )


def test_set_down_looks_under_the_four_corners_of_the_foot() -> None:
    corners = KIND.set_down_mm(Shifter(id="s-1", place=Place(x_mm=10.0, y_mm=5.0, turn_deg=90.0)))
    assert sorted((round(x, 6), round(y, 6)) for x, y in corners) == [
        (-45.0, -65.0),
        (-45.0, 75.0),
        (65.0, -65.0),
        (65.0, 75.0),
    ]


def test_the_opening_around_an_upright_lever() -> None:
    shifter = Shifter(id="s-1", lean_deg=0.0, opening_length_mm=150.0, opening_width_mm=100.0, rock_mm=4.0)
    assert opening_gap(shifter, "N") == pytest.approx(50.0 - 6.5 - 4.0)


def test_the_opening_in_fourth_in_closed_form() -> None:
    """h = 110 - 45; axis at h tan 20; the rod's level cut reaches r / cos 20 along its slope."""
    shifter = Shifter(id="s-1", opening_width_mm=400.0)
    lean = math.radians(20)
    expected = 75.0 - 65.0 * math.tan(lean) - 6.5 / math.cos(lean)
    assert opening_gap(shifter, "4") == pytest.approx(expected)
    # An opening set rearward by 10 gives 10 more there.
    behind = dataclasses.replace(shifter, opening_back_mm=10.0)
    assert opening_gap(behind, "4") == pytest.approx(expected + 10.0)


@given(
    st.floats(-20, 40), st.floats(-20, 20), st.floats(2, 20), st.floats(60, 300), st.sampled_from("N12345R")
)
def test_the_opening_two_ways(lean: float, side: float, radius: float, opening: float, gear: str) -> None:
    """Second way: 7200 straight lines along the rod's skin, each met with the plane of the opening."""
    shifter = Shifter(
        id="s-1", lean_deg=lean, side_lean_deg=side, lever_radius_mm=radius, opening_mm=opening, rock_mm=3.0
    )
    stick = lever_states(shifter)[gear].stick()
    around = np.linspace(0, 2 * np.pi, 7200, endpoint=False)
    one = np.cross(stick, [0.0, 1.0, 0.0]) / np.linalg.norm(np.cross(stick, [0.0, 1.0, 0.0]))
    rim = radius * (np.cos(around)[:, None] * one + np.sin(around)[:, None] * np.cross(stick, one))
    cut = rim + ((opening - 45.0 - rim[:, 2]) / stick[2])[:, None] * stick
    to_edge = np.minimum(75.0 - np.abs(cut[:, 0]), 60.0 - np.abs(cut[:, 1])).min()
    assert opening_gap(shifter, gear) == pytest.approx(to_edge - 3.0, abs=1e-4)


def test_a_lever_that_lies_flat_never_passes_its_opening() -> None:
    shifter = Shifter(id="s-1", lean_deg=60.0, throw_deg=35.0)
    assert opening_gap(shifter, "4") < -1000.0


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("lever_mm", math.nan),
        ("gears", 7),
        ("gears", 4.5),
        ("reverse", "up"),
        ("family", "wire"),
        ("rock_mm", -1.0),
    ],
)
def test_values_out_of_range_are_refused(field: str, value: object) -> None:
    with pytest.raises(BadValue):
        Shifter(id="s-1", **{field: value})  # type: ignore[arg-type]


def test_a_knob_point_is_checked() -> None:
    with pytest.raises(BadValue):
        KnobPoint(gear="7", x_mm=0.0, y_mm=0.0, z_mm=300.0)
    with pytest.raises(BadValue):
        KnobPoint(gear="3", x_mm=math.nan, y_mm=0.0, z_mm=300.0)


def test_a_readout_says_how_high_the_knob_stands() -> None:
    readout = lever_readout(Shifter(id="s-1"))
    assert readout.knob_over_foot_mm == pytest.approx(45 + 240 * math.cos(math.radians(8)))
    assert readout.cross_mm == pytest.approx(240 * math.sin(math.radians(6.5)))
    # Road gates measure 25 to 40 mm from plane to plane. Common practice, no source.
    assert 25.0 < readout.cross_mm < 40.0


def test_a_fist_on_the_knob_is_asked_for_by_the_shifter() -> None:
    for hand, knuckles in (("ball", (0.0, 0.0)), ("fist", (125.0, 95.0))):
        grip = KIND.grips(Shifter(id="s-1", hand=hand), {"gear": "R"})[0]  # type: ignore[arg-type]
        assert (grip.knuckles_mm, grip.knuckles_deep_mm) == knuckles
        assert grip.radius_mm == HAND_RADIUS_MM
