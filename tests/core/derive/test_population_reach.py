"""Who of a population reaches the gears of a layout: body by body, in closed form, and against real people.

Source: 2012 Anthropometric Survey of U.S. Army Personnel (Gordon et al., NATICK/TR-15/007, open data).
"""

import math
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from core.driver.test_population import sizes
from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.derive import PopulationReach, Scene, knob_in_neutral, population_reach, reach_from, sitting_in
from floorpan.derive.memory import Memory
from floorpan.derive.population_reach import DRAWN, bodies_of
from floorpan.driver import Person
from floorpan.driver.bodies import draw
from floorpan.driver.body_figures import SEXES, Sex, figures, place_of
from floorpan.driver.filling import HIP_OVER_CUSHION_MM
from floorpan.errors import BadValue
from floorpan.frames import Vector
from floorpan.items import Shifter, h_point
from floorpan.items.shifter import GEAR
from floorpan.layout import Layout, record_of
from floorpan.progress import finish

SMALL = small_layout(raw_scan(level_floor(cells=4)))


def with_knob(ahead_mm: float, down_mm: float, notches: tuple[int, ...] = (6,)) -> Layout:
    """The shifter moved until its knob in neutral stands there from the seat reference point at notch 6; down from
    the shoulder of a 500 mm torso leaning as the seat does."""
    person = replace(SMALL.people[0], notches_used=notches)
    layout, seat, shifter = replace(SMALL, people=(person,)), SMALL.seats[0], SMALL.of(Shifter)[0]
    x, _, z = h_point(seat, 6)
    lean = math.radians(seat.back_deg)
    wanted = x + 500.0 * math.sin(lean) - ahead_mm, z + 500.0 * math.cos(lean) - down_mm
    knob = knob_in_neutral(shifter)
    place = shifter.place
    to = {"x_mm": place.x_mm + wanted[0] - knob[0], "z_mm": place.z_mm + wanted[1] - knob[2]}
    moved = replace(shifter, stands_on="none", place=replace(place, **to))
    items = tuple(moved if isinstance(one, Shifter) else one for one in layout.items)
    return replace(layout, items=items)


def found_in(layout: Layout, drawn: int = DRAWN) -> PopulationReach:
    found = finish(population_reach(Scene(layout=layout, floors=(), memory=Memory()), drawn))
    assert found is not None
    return found


def grips_of(layout: Layout, gears: tuple[str, ...]) -> list[Vector]:
    shifter = layout.of(Shifter)[0]
    return [record_of(shifter).grips(shifter, {GEAR: gear})[0].at_mm for gear in gears]


# Taken so far away that the gate tells both sexes apart; 330 down as in the example worked by hand.
FAR = with_knob(490.0, 330.0)
NOTCHES = (5, 6, 8)


def test_gears_are_the_gates_without_neutral() -> None:
    found = found_in(FAR, 10)
    assert found.gears == ("1", "2", "3", "4", "5", "R")
    assert (found.drawn, found.notches, found.men_percent) == (10, (6,), 50.0)
    assert all(len(group.each) == 6 for group in (found.men, found.women, found.mix))


def test_body_by_body_it_is_everybodys_own_reach() -> None:
    """The same 40 bodies of either sex one after another, as people on the seat, each at the best notch."""
    layout = replace(FAR, people=(replace(FAR.people[0], notches_used=NOTCHES),))
    found, seat = found_in(layout, 40), layout.seats[0]
    for place, (sex, told) in enumerate(zip(SEXES, (found.men, found.women), strict=True)):
        bodies = bodies_of(draw(sex, 40, 2012 + place))
        each, every = np.zeros(len(found.gears)), 0
        for row in range(40):
            person = Person(
                id="d-1",
                shoulder_to_grip_mm=float(bodies.shoulder_to_grip_mm[row]),
                upper_arm_mm=0.45 * float(bodies.shoulder_to_grip_mm[row]),
                shoulder_mm=float(bodies.shoulder_mm[row]),
                shoulder_out_mm=float(bodies.shoulder_out_mm[row]),
            )
            reached = np.array(
                [
                    [
                        reach_from(sitting_in(person, seat, notch), "tight", "right", grip).spare_mm >= 0.0
                        for grip in grips_of(layout, found.gears)
                    ]
                    for notch in NOTCHES
                ]
            )
            each += reached.any(axis=0)
            every += bool(reached.all(axis=1).any())
        assert told.each == pytest.approx(each / 40)
        assert told.every == pytest.approx(every / 40)
        assert told.every_error == pytest.approx(math.sqrt(told.every * (1 - told.every) / 40))


def margin_of_sizes(layout: Layout, grip: Vector, size: np.ndarray) -> float:
    """Straight arm less shoulder to grip by Pythagoras: arm, torso over the hip, shoulder out, seat as it stands."""
    arm, torso, out = size
    seat = layout.seats[0]
    x, y, z = h_point(seat, 6)
    lean = math.radians(seat.back_deg)
    shoulder = (x + torso * math.sin(lean), y + out, z + torso * math.cos(lean))
    return float(arm - math.dist(shoulder, grip))


@pytest.mark.parametrize("sex", SEXES)
def test_each_gear_against_the_bell_curve(sex: Sex) -> None:
    """The margin is all but a sum of three normal sizes, so the share is a normal integral: the delta method, to
    second order for the middle."""
    found, held = found_in(FAR), figures(sex)
    told = found.men if sex == "man" else found.women
    columns = [place_of(key) for key in ("shoulder_to_grip_mm", "shoulder_height_mm", "acromion_breadth_mm")]
    scale = np.array([1.0, 1.0, 0.5])
    mean = held.mean[columns] * scale - [0.0, HIP_OVER_CUSHION_MM, 0.0]
    spread = held.covariance[np.ix_(columns, columns)] * np.outer(scale, scale)
    for place, grip in enumerate(grips_of(FAR, found.gears)):
        middle = margin_of_sizes(FAR, grip, mean)
        slope = np.array([margin_of_sizes(FAR, grip, mean + step) - middle for step in np.eye(3)])
        deviation = math.sqrt(slope @ spread @ slope)
        # The bend along the spread's own axes, by what is lost one standard deviation to either side.
        variances, ways = np.linalg.eigh(spread)
        for variance, way in zip(variances, ways.T, strict=True):
            out = math.sqrt(variance) * way
            ends = (margin_of_sizes(FAR, grip, mean + out), margin_of_sizes(FAR, grip, mean - out))
            middle += sum(ends) / 2.0 - margin_of_sizes(FAR, grip, mean)
        share = 0.5 * (1.0 + math.erf(middle / deviation / math.sqrt(2.0)))
        assert told.each[place] == pytest.approx(share, abs=0.015)


@pytest.mark.parametrize(("ahead", "share"), [(60.0, 1.0), (1500.0, 0.0)])
def test_at_the_shoulder_everybody_and_far_ahead_nobody(ahead: float, share: float) -> None:
    found = found_in(with_knob(ahead, 200.0), 500)
    for group in (found.men, found.women, found.mix):
        assert set(group.each) == {share}
        assert group.every == share


def test_everybody_takes_the_best_notch() -> None:
    """More notches never take anybody away, nor bring more people than each of them brings alone."""
    alone = [found_in(with_knob(490.0, 330.0, (notch,)), 4000) for notch in NOTCHES]
    together = found_in(with_knob(490.0, 330.0, NOTCHES), 4000)
    assert together.notches == NOTCHES
    for sex in ("men", "women", "mix"):
        told, parts = getattr(together, sex), [getattr(one, sex) for one in alone]
        for place in range(len(together.gears)):
            shares = [part.each[place] for part in parts]
            assert max(shares) <= told.each[place] + 1e-12 <= min(1.0, sum(shares)) + 2e-12
        every = [part.every for part in parts]
        assert max(every) <= told.every + 1e-12 <= min(1.0, sum(every)) + 2e-12
        assert told.every <= min(told.each)
    order = found_in(with_knob(490.0, 330.0, (8, 5, 6)), 4000)
    assert order == together, "the order they were typed in says nothing"


@pytest.mark.parametrize("percent", [0.0, 30.0, 100.0])
def test_a_mix_counts_men_and_women_by_their_part(percent: float) -> None:
    found = found_in(edits.set_mix(FAR, percent), 1000)
    part = percent / 100.0
    assert found.men_percent == percent
    assert found.mix.every == pytest.approx(part * found.men.every + (1 - part) * found.women.every)
    assert found.mix.each == pytest.approx(
        [part * man + (1 - part) * woman for man, woman in zip(found.men.each, found.women.each, strict=True)]
    )
    error = math.hypot(part * found.men.every_error, (1 - part) * found.women.every_error)
    assert found.mix.every_error == pytest.approx(error)


def test_a_mix_that_cannot_be_is_refused() -> None:
    with pytest.raises(BadValue):
        edits.set_mix(FAR, 101.0)


def test_whoever_else_drives_sits_as_the_seat_gives_it() -> None:
    """The design driver's own hip, lean and jacket are theirs alone."""
    own = replace(
        FAR.people[0], hip_back_mm=60.0, lean_off_deg=8.0, jacket_mm=20.0, shoulder_to_grip_mm=800.0
    )
    assert found_in(replace(FAR, people=(own,)), 500) == found_in(FAR, 500)


@pytest.mark.parametrize("notches", [(6,), NOTCHES])
@pytest.mark.parametrize("sex", SEXES)
def test_shares_against_counting_real_people(shared_data: Path, sex: Sex, notches: tuple[int, ...]) -> None:
    """Every row of the survey by Pythagoras, tight belts, at the best of the notches: within 3 points."""
    layout = with_knob(490.0, 330.0, notches)
    found, seat = found_in(layout), layout.seats[0]
    told = found.men if sex == "man" else found.women
    rows = sizes(shared_data, "M" if sex == "man" else "F")
    lean, grips = math.radians(seat.back_deg), np.array(grips_of(layout, found.gears))
    reached = []
    for notch in notches:
        x, y, z = h_point(seat, notch)
        shoulders = np.column_stack(
            [x + rows[:, 1] * math.sin(lean), y + rows[:, 2], z + rows[:, 1] * math.cos(lean)]
        )
        reached.append(np.linalg.norm(shoulders[:, None] - grips, axis=2) <= rows[:, :1])
    each = np.any(reached, axis=0).mean(axis=0)
    every = float(np.any([one.all(axis=1) for one in reached], axis=0).mean())
    error = math.sqrt(every * (1.0 - every) / len(rows))
    told_as = (
        f"counted {every:.4f} with a standard error of {error:.4f}, drawn {told.every:.4f} with "
        f"{told.every_error:.4f}"
    )
    sys.stdout.write(f"{sex}, notches {notches}: {told_as}\n")
    assert 0.05 < every < 0.98
    np.testing.assert_allclose([*told.each, told.every], [*each, every], atol=0.03, err_msg=told_as)


@pytest.mark.parametrize("missing", ["people", "seats", "items"])
def test_where_something_is_missing_nobody_is_counted(missing: str) -> None:
    layout = replace(FAR, **{missing: ()})
    assert finish(population_reach(Scene(layout=layout, floors=(), memory=Memory()), 10)) is None
