"""The sums of a lever: throw and effort in closed form, the opening against the check's own gap and by sampling."""

import dataclasses
import itertools
import math

import numpy as np
import pytest

from floorpan.advice.lever_for_knob import lever_for_knob
from floorpan.advice.lever_freedom import LeverFreedom
from floorpan.advice.lever_remarks import lever_remarks
from floorpan.advice.lever_sums import (
    effort_factor,
    knob_travel,
    lever_readings,
    opening_need,
    plain_throw_mm,
    usual_margin,
)
from floorpan.items import Shifter, opening_gap
from floorpan.items.knob_point import KnobPoint
from floorpan.items.placing import Place
from floorpan.items.shifter_gate import gate_table, lever_readout, lever_states, lever_way
from floorpan.limits import COMMON, limit

SHIFTER = Shifter(id="shifter-1", place=Place(x_mm=500.0, y_mm=10.0, z_mm=80.0))


@pytest.mark.parametrize(("lever", "throw"), [(220, 46), (250, 52), (300, 62), (350, 73)])
def test_the_trades_table_of_throws(lever: float, throw: float) -> None:
    """Lever times sine of 12 deg: 46, 52, 62, 73 mm; closed form."""
    assert round(plain_throw_mm(lever, 12.0)) == throw
    readings = lever_readings(dataclasses.replace(SHIFTER, lever_mm=lever))
    assert round(readings.travel.plain_mm) == throw


def test_effort_goes_the_other_way_by_the_lengths_ratio() -> None:
    """The law of the lever: force times length is the same at both knobs."""
    for old, new in ((240.0, 340.0), (300.0, 200.0)):
        assert 100.0 * old == pytest.approx(100.0 * effort_factor(old, new) * new)
    assert effort_factor(240.0, 340.0) < 1.0


def test_travel_in_closed_form() -> None:
    """Chords 2 L sin(throw / 2); level parts L (sin of one lean less sin of the other), so lean parts them."""
    travel = knob_travel(SHIFTER)
    chord = 2 * 240 * math.sin(math.radians(6))
    assert travel.forward_mm == pytest.approx(chord)
    assert travel.rearward_mm == pytest.approx(chord)
    sines = [240 * math.sin(math.radians(lean)) for lean in (-4, 8, 20)]
    assert travel.forward_level_mm == pytest.approx(sines[1] - sines[0])
    assert travel.rearward_level_mm == pytest.approx(sines[2] - sines[1])
    assert travel.plain_mm == pytest.approx(lever_readout(SHIFTER).throw_mm)
    leant = knob_travel(dataclasses.replace(SHIFTER, side_lean_deg=10.0))
    assert leant.right_mm == pytest.approx(240 * (math.sin(math.radians(16.5)) - math.sin(math.radians(10))))
    assert leant.left_mm == pytest.approx(240 * (math.sin(math.radians(10)) - math.sin(math.radians(3.5))))


def test_travel_of_typed_knobs_is_as_typed() -> None:
    typed = dataclasses.replace(
        SHIFTER,
        knobs=(
            KnobPoint(gear="N", x_mm=30.0, y_mm=0.0, z_mm=280.0),
            KnobPoint(gear="3", x_mm=-25.0, y_mm=0.0, z_mm=280.0),
            KnobPoint(gear="4", x_mm=70.0, y_mm=0.0, z_mm=250.0),
        ),
    )
    travel = knob_travel(typed)
    assert travel.forward_mm == pytest.approx(55.0)
    assert travel.rearward_mm == pytest.approx(50.0)
    assert travel.rearward_level_mm == pytest.approx(40.0)


def test_a_gate_without_a_plane_there_has_no_travel_to_it() -> None:
    four = knob_travel(dataclasses.replace(SHIFTER, gears=4, reverse="front left"))
    assert four.right_mm is None
    assert four.left_mm is not None


@pytest.mark.parametrize("rock", [0.0, 4.0])
@pytest.mark.parametrize(("lean", "side"), [(8.0, 0.0), (-3.0, 0.0), (10.0, 7.0)])
def test_the_needed_opening_is_the_least_the_gap_allows(lean: float, side: float, rock: float) -> None:
    """The check's own gap is nothing at that size and negative at any less, each way by itself."""
    shifter = dataclasses.replace(SHIFTER, lean_deg=lean, side_lean_deg=side, rock_mm=rock)
    need = opening_need(shifter, shifter.opening_mm, margin_mm=0.0)
    held = dataclasses.replace(
        shifter,
        opening_length_mm=need.length_mm + 1e-9,
        opening_width_mm=need.centred_width_mm + 1e-9,
        opening_back_mm=need.back_mm,
    )

    def least_gap(one: Shifter) -> float:
        return min(opening_gap(one, gear) for gear in lever_states(one))

    assert least_gap(held) == pytest.approx(0.0, abs=1e-6)
    assert least_gap(held) >= 0.0
    assert need.spare_mm(held) == pytest.approx(0.0, abs=1e-6)
    shorter = dataclasses.replace(held, opening_length_mm=need.length_mm - 0.02)
    narrower = dataclasses.replace(held, opening_width_mm=need.centred_width_mm - 0.02)
    assert least_gap(shorter) == pytest.approx(-0.01, abs=1e-6)
    assert least_gap(narrower) == pytest.approx(-0.01, abs=1e-6)
    assert lever_readings(shorter, margin_mm=0.0).meets_opening
    assert not lever_readings(held, margin_mm=0.0).meets_opening


def test_margin_and_rock_go_on_every_side() -> None:
    bare = opening_need(SHIFTER, 110.0, margin_mm=0.0)
    wide = opening_need(dataclasses.replace(SHIFTER, rock_mm=5.0), 110.0, margin_mm=3.0)
    assert wide.length_mm == pytest.approx(bare.length_mm + 16.0)
    assert wide.width_mm == pytest.approx(bare.width_mm + 16.0)
    assert (wide.back_mm, wide.right_mm) == pytest.approx((bare.back_mm, bare.right_mm))
    assert wide.margin_source == "as given"


def test_the_usual_margin_goes_by_what_the_lever_stands_on() -> None:
    """8 mm on the body, 12 mm at least on the gearbox: common practice, no source."""
    assert usual_margin(SHIFTER) == (limit("lever-opening").value, COMMON)
    assert usual_margin(dataclasses.replace(SHIFTER, family="gearbox")) == (12.0, COMMON)
    assert opening_need(SHIFTER, 110.0).margin_mm == 8.0


def test_a_longer_opening_higher_up_in_proportion() -> None:
    """An upright lever without thickness: the opening grows with the height over the pivot (intercept theorem)."""
    thin = dataclasses.replace(SHIFTER, lean_deg=0.0, lever_radius_mm=2.0)
    low, high = (opening_need(thin, 45.0 + h, margin_mm=0.0) for h in (60.0, 120.0))
    skin = 2 * 2.0 / math.cos(math.radians(12))
    assert high.length_mm - skin == pytest.approx(2 * (low.length_mm - skin))
    assert low.length_mm == pytest.approx(2 * 60 * math.tan(math.radians(12)) + skin)


def skin_at_height(corners: np.ndarray, radius: float, height: float) -> np.ndarray:
    """Points of a rod's skin at a height, by marching along lines on the skin of each piece: no ellipse used."""
    found = []
    for one, two in itertools.pairwise(corners):
        along = (two - one) / np.linalg.norm(two - one)
        across = np.cross(along, [0.3, 0.9, 0.1])
        across /= np.linalg.norm(across)
        other = np.cross(along, across)
        for angle in np.linspace(0, 2 * np.pi, 721):
            start = one + radius * (np.cos(angle) * across + np.sin(angle) * other)
            share = (height - start[2]) / (two - one)[2]
            if 0.0 <= share <= 1.0:
                found.append(start + share * (two - one))
    return np.array(found)[:, :2]


def test_a_bent_levers_opening_by_sampling_its_whole_way() -> None:
    """Skin points of the bent rod, many places of the way into every gear: their extent is the opening needed."""
    x, y, z = gate_table(SHIFTER)[0].knob_mm
    answer = lever_for_knob(SHIFTER, (x + 50.0, y + 15.0, z), LeverFreedom())
    assert answer.bend is not None
    shifter, bend = answer.shifter, answer.bend
    points = []
    for gear in ("1", "2", "3", "4", "5", "R"):
        way = lever_way(shifter, "N", gear)
        for share in (0.0, 0.25, 0.5, 0.75, 1.0, *np.linspace(0.3, 0.7, 9)):
            state = way.at(share)
            lever = np.array([[0.0, 0.0, 0.0], bend.corner_mm, [0.0, 0.0, state.length_mm]])
            corners = state.turn().apply(lever) + np.array([0.0, 0.0, shifter.pivot_mm])
            points.append(skin_at_height(corners, shifter.lever_radius_mm, shifter.opening_mm))
    low, high = np.concatenate(points).min(axis=0), np.concatenate(points).max(axis=0)
    need = opening_need(shifter, shifter.opening_mm, margin_mm=0.0)
    assert need.length_mm == pytest.approx(high[0] - low[0], abs=0.05)
    assert need.width_mm == pytest.approx(high[1] - low[1], abs=0.05)
    assert need.back_mm == pytest.approx((high + low)[0] / 2, abs=0.05)
    assert need.right_mm == pytest.approx((high + low)[1] / 2, abs=0.05)


def test_the_boots_height_is_where_the_boot_ends_along_the_lever() -> None:
    readings = lever_readings(SHIFTER)
    assert readings.boot_opening.height_mm == pytest.approx(45 + 90 * math.cos(math.radians(8)))
    assert readings.opening.height_mm == 110.0
    assert not readings.opening.over_knob
    assert opening_need(SHIFTER, 290.0).over_knob
    assert readings.knob_over_foot_mm == pytest.approx(lever_readout(SHIFTER).knob_over_foot_mm)
    assert readings.effort == 1.0


def test_remarks_tell_what_is_usual_with_its_source_and_judge_nothing() -> None:
    """40 to 65 mm, 25 to 40 mm, 10 to 14 deg, 5 to 8 deg: common practice; 360 and 970 mm, a third: published."""
    long = dataclasses.replace(SHIFTER, lever_mm=350.0)
    remarks = {remark.about: remark for remark in lever_remarks(long, lever_readings(long))}
    throw = remarks["Throw each way"]
    assert not throw.usual
    assert throw.text() == "Throw each way: 73 mm; 40 to 65 mm is usual (common practice, no source)."
    assert remarks["Front to rear"].usual
    assert remarks["Front to rear"].most == 360.0
    assert remarks["Side to side"].most == 970.0
    third = remarks["Neutral to a gear, beside a third of the lever"]
    assert third.least == pytest.approx(350.0 / 3)
    # A 200 mm lever asks for 67 mm by that rule.
    short = dataclasses.replace(SHIFTER, lever_mm=200.0)
    by_rule = lever_remarks(short, lever_readings(short))[-1]
    assert by_rule.least is not None
    assert round(by_rule.least) == 67
    assert "67 mm at least" in by_rule.text()
