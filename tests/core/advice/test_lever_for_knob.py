"""What lever a knob needs: single freedoms in closed form, least trouble against a general optimiser, the gate."""

import dataclasses
import itertools
import math

import numpy as np
import pytest
from scipy.optimize import differential_evolution

from floorpan.advice.lever_for_knob import LeverAnswer, lever_for_knob
from floorpan.advice.lever_freedom import USUAL_TROUBLE, LeverFreedom, Trouble, usual_freedom
from floorpan.advice.lever_words import model_remarks, what_stops
from floorpan.errors import BadValue
from floorpan.frames import Vector
from floorpan.items import Shifter
from floorpan.items.knob_point import KnobPoint
from floorpan.items.placing import Place
from floorpan.items.shifter_gate import gate_table, lever_states, pivot_pose

SHIFTER = Shifter(id="shifter-1", place=Place(x_mm=500.0, y_mm=10.0, z_mm=80.0))
NOTHING = LeverFreedom(length_free=False, bend_free=False, raise_free=False, tilt_free=False, move_free=False)


def only(**free: object) -> LeverFreedom:
    return dataclasses.replace(NOTHING, **free)  # type: ignore[arg-type]


def neutral(shifter: Shifter) -> np.ndarray:
    return np.array(gate_table(shifter)[0].knob_mm)


def shifted(shifter: Shifter, *by: float) -> Vector:
    x, y, z = (float(v) for v in neutral(shifter) + by)
    return (x, y, z)


def on_target(answer: LeverAnswer, target: Vector) -> bool:
    return math.dist(gate_table(answer.shifter)[0].knob_mm, target) < 1e-6


def test_nothing_free_and_the_knob_already_there_changes_nothing() -> None:
    answer = lever_for_knob(SHIFTER, shifted(SHIFTER, 0, 0, 0), NOTHING)
    assert answer.met
    assert answer.trouble == 0.0
    assert answer.shifter == SHIFTER


def test_only_length_on_the_levers_own_line() -> None:
    """Closed form: the target s along the lever's line asks for s more of lever."""
    stick = lever_states(SHIFTER)["N"].stick()
    for longer in (-30.0, 60.0):
        target = shifted(SHIFTER, *(longer * stick))
        answer = lever_for_knob(SHIFTER, target, only(length_free=True))
        assert answer.met
        assert on_target(answer, target)
        assert answer.shifter.lever_mm == pytest.approx(240.0 + longer)
        assert answer.readings.rod_mm == pytest.approx(240.0 + longer)
        assert answer.bend is None
        # The lever law: the push goes down as the lever gets longer.
        assert answer.readings.effort == pytest.approx(240.0 / (240.0 + longer))
        assert answer.readings.travel.plain_mm == pytest.approx((240 + longer) * math.sin(math.radians(12)))
        assert answer.trouble == pytest.approx(abs(longer))


def test_effort_is_counted_against_the_old_lever_where_one_is_named() -> None:
    answer = lever_for_knob(SHIFTER, shifted(SHIFTER, 0, 0, 0), NOTHING, 200.0)
    assert answer.readings.effort == pytest.approx(200.0 / 240.0)


def test_spacers_of_50_mm_raise_the_knob_by_50_mm_and_leave_the_throw() -> None:
    """A builder's account of 50 mm nuts under the box; plain geometry."""
    target = shifted(SHIFTER, 0, 0, 50)
    answer = lever_for_knob(SHIFTER, target, only(raise_free=True))
    assert answer.met
    assert on_target(answer, target)
    assert answer.box_move_mm == pytest.approx((0.0, 0.0, 50.0))
    assert answer.readings.travel == answer.present.travel
    assert answer.shifter.stands_on == "none"
    # The opening stays where it is cut, 50 mm lower from the raised foot.
    assert answer.shifter.opening_mm == pytest.approx(60.0)


def test_only_the_box_moved_is_the_way_itself() -> None:
    target = shifted(SHIFTER, 37, -21, 0)
    answer = lever_for_knob(SHIFTER, target, only(move_free=True))
    assert answer.box_move_mm == pytest.approx((37.0, -21.0, 0.0), abs=1e-6)
    assert on_target(answer, target)
    assert answer.shifter.opening_back_mm == pytest.approx(-37.0)
    # The model's opening cannot lie beside the box: it goes along across.
    assert answer.opening_off_mm == pytest.approx(21.0)
    assert model_remarks(answer) == ("The opening is drawn 21 mm from where it is in the console.",)


def test_a_turned_box_moves_along_the_cars_axes_all_the_same() -> None:
    turned = dataclasses.replace(SHIFTER, place=Place(x_mm=500.0, turn_deg=180.0))
    target = shifted(turned, 37, -21, 0)
    answer = lever_for_knob(turned, target, only(move_free=True))
    assert answer.box_move_mm == pytest.approx((37.0, -21.0, 0.0), abs=1e-6)
    assert answer.shifter.opening_back_mm == pytest.approx(37.0)
    assert on_target(answer, target)


def test_only_tilt_turns_the_knob_about_the_foot() -> None:
    """Closed form: a turn about the foot; every gear of the model lands where the turned box has it."""
    tilt = math.radians(6.0)
    turn = np.array([[math.cos(tilt), 0, math.sin(tilt)], [0, 1, 0], [-math.sin(tilt), 0, math.cos(tilt)]])
    foot = np.array([500.0, 10.0, 80.0])
    wanted = {p.gear: foot + turn @ (np.array(p.knob_mm) - foot) for p in gate_table(SHIFTER)}
    answer = lever_for_knob(SHIFTER, tuple(wanted["N"].tolist()), only(tilt_free=True))
    assert answer.met
    assert answer.tilt_deg == pytest.approx(6.0)
    for place in gate_table(answer.shifter):
        np.testing.assert_allclose(place.knob_mm, wanted[place.gear], atol=1e-6)
    assert answer.shifter.lean_deg == pytest.approx(14.0)
    assert answer.foot_off_mm == pytest.approx(45.0 * math.sin(tilt))
    assert model_remarks(answer) == (
        "The box is drawn level under its leaning gate, its foot 5 mm from the real one.",
    )


def test_a_bend_is_the_angle_between_the_two_pieces_of_rod() -> None:
    """Two vectors: along the old lever to the bend, from there to the target; and the rod keeps its length."""
    state = lever_states(SHIFTER)["N"]
    pivot = np.array(pivot_pose(SHIFTER).shift_mm)
    corner = pivot + 50.0 * state.stick()
    side = np.array([0.3, 0.2, 0.0])
    way = state.stick() + side
    target = corner + 190.0 * way / np.linalg.norm(way)
    answer = lever_for_knob(SHIFTER, tuple(target.tolist()), only(bend_free=True))
    assert answer.met
    assert answer.bend is not None
    between = math.degrees(math.acos(float(way @ state.stick()) / float(np.linalg.norm(way))))
    assert answer.bend.deg == pytest.approx(between)
    assert answer.bend.at_mm == pytest.approx(50.0)
    assert 0.0 < answer.bend.towards_deg < 90.0
    assert answer.readings.rod_mm == pytest.approx(240.0)
    assert answer.readings.lever_mm == pytest.approx(float(np.linalg.norm(target - pivot)))
    assert on_target(answer, tuple(target.tolist()))
    # The corner told in the new lever's own axes is the corner in the car.
    told = lever_states(answer.shifter)["N"].turn().apply(np.array(answer.bend.corner_mm))
    np.testing.assert_allclose(pivot + told, corner, atol=1e-6)


def told_trouble(answer: LeverAnswer, trouble: Trouble = USUAL_TROUBLE) -> float:
    """Worked out again from what the answer tells."""
    x, y, z = answer.box_move_mm
    bend = answer.bend.deg if answer.bend else 0.0
    return (
        trouble.length_per_mm * abs(answer.readings.rod_mm - answer.present.rod_mm)
        + trouble.bend_per_deg * bend
        + trouble.raise_per_mm * z
        + trouble.tilt_per_deg * abs(answer.tilt_deg)
        + trouble.move_per_mm * (abs(x) + abs(y))
    )


def least_by_evolution(target: Vector, free: LeverFreedom, kink: float = 50.0) -> float:
    """The least trouble by another way: box pose searched by evolution, rod and bend then given by two triangles.

    Lever and bend free: the box's pose leaves one rod and one bend. scipy's differential evolution is the outside
    reference; nothing of the package is used but the shifter's own figures.
    """
    lean = math.radians(SHIFTER.lean_deg)
    stick = np.array([math.sin(lean), 0.0, math.cos(lean)])

    def trouble(box: np.ndarray) -> float:
        rise, tilt, x, y = box
        t = math.radians(tilt)
        back = np.array([[math.cos(t), 0, -math.sin(t)], [0, 1, 0], [math.sin(t), 0, math.cos(t)]])
        from_foot = back @ (np.array(target) - [500.0 + x, 10.0 + y, 80.0 + rise])
        over = from_foot - [0, 0, SHIFTER.pivot_mm] - kink * stick
        length = float(np.linalg.norm(over))
        bend = math.degrees(math.atan2(float(np.linalg.norm(np.cross(stick, over))), float(stick @ over)))
        rod = kink + length
        out = max(0.0, bend - free.bend_most_deg) * 1e3
        out += max(0.0, rod - free.length_most_mm, free.length_least_mm - rod) * 1e3
        return out + abs(rod - 240) + 6 * bend + 4 * rise + 20 * abs(tilt) + 8 * (abs(x) + abs(y))

    ranges = [
        (0.0, free.raise_most_mm),
        (free.tilt_least_deg, free.tilt_most_deg),
        (-free.move_forward_mm, free.move_rearward_mm),
        (-free.move_left_mm, free.move_right_mm),
    ]
    return float(differential_evolution(trouble, ranges, seed=1, tol=1e-10, maxiter=400).fun)


@pytest.mark.parametrize(
    ("by", "free"),
    [
        ((60.0, 0.0, 20.0), LeverFreedom()),
        ((80.0, 30.0, 90.0), LeverFreedom(bend_most_deg=10.0, length_most_mm=300.0)),
        ((-40.0, -45.0, 10.0), LeverFreedom(bend_most_deg=6.0)),
        ((95.0, 0.0, 20.0), LeverFreedom(bend_most_deg=8.0, length_most_mm=260.0)),
    ],
)
def test_no_less_trouble_is_found_by_a_general_optimiser(by: Vector, free: LeverFreedom) -> None:
    """scipy's differential evolution on a second statement of the question."""
    target = shifted(SHIFTER, *by)
    answer = lever_for_knob(SHIFTER, target, free)
    assert answer.met
    assert on_target(answer, target)
    assert answer.trouble == pytest.approx(told_trouble(answer), abs=1e-6)
    assert answer.trouble == pytest.approx(least_by_evolution(target, free), rel=2e-3)


def test_the_order_of_trouble_is_kept() -> None:
    """Lever before bend before box: common practice, no source."""
    up = lever_for_knob(SHIFTER, shifted(SHIFTER, 0, 0, 40), LeverFreedom())
    assert up.readings.rod_mm > 275.0
    assert up.box_move_mm == (0.0, 0.0, 0.0)
    back = lever_for_knob(SHIFTER, shifted(SHIFTER, 40, 0, 0), LeverFreedom())
    assert back.bend is not None
    assert back.tilt_deg == 0.0
    assert back.box_move_mm == (0.0, 0.0, 0.0)


def test_a_target_out_of_range_is_told_with_how_far_and_what_stops_it() -> None:
    """Closed form: a lever that ends 25 mm short of a target on its line falls short by 25 mm."""
    stick = lever_states(SHIFTER)["N"].stick()
    answer = lever_for_knob(SHIFTER, shifted(SHIFTER, *(135.0 * stick)), only(length_free=True))
    assert not answer.met
    assert answer.short_mm == pytest.approx(25.0, abs=1.1e-2)
    assert answer.readings.lever_mm == pytest.approx(350.0, abs=1.1e-2)
    assert answer.stopped_by == ("length_most_mm",)
    assert {"raise_free", "move_free"} <= set(answer.not_free)
    assert what_stops(answer)[0] == "the lever is at its longest"
    assert "the box is not raised" in what_stops(answer)


def test_the_nearest_knob_of_a_moved_box_is_the_corner_of_its_range() -> None:
    answer = lever_for_knob(SHIFTER, shifted(SHIFTER, 80, 34, 0), only(move_free=True))
    assert answer.box_move_mm == pytest.approx((50.0, 30.0, 0.0), abs=0.1)
    assert answer.short_mm == pytest.approx(math.hypot(30, 4), abs=1.1e-2)
    assert answer.stopped_by == ("move_rearward_mm", "move_right_mm")


def test_a_box_cannot_be_lowered() -> None:
    answer = lever_for_knob(SHIFTER, shifted(SHIFTER, 0, 0, -15), only(raise_free=True))
    assert answer.short_mm == pytest.approx(15.0, abs=1.1e-2)
    assert answer.stopped_by == ("raise_least_mm",)
    assert answer.shifter.place.z_mm == pytest.approx(80.0, abs=1.1e-2)


def test_nothing_free_tells_the_whole_way() -> None:
    answer = lever_for_knob(SHIFTER, shifted(SHIFTER, 3, 4, 0), NOTHING)
    assert not answer.met
    assert answer.short_mm == pytest.approx(5.0)
    assert answer.stopped_by == ()
    assert answer.shifter == SHIFTER


@pytest.mark.parametrize("by", [(30.0, 25.0, 20.0), (120.0, 90.0, 0.0), (-20.0, 60.0, 150.0)])
def test_a_mirrored_target_gets_the_mirrored_answer(by: Vector) -> None:
    centred = dataclasses.replace(SHIFTER, place=Place(x_mm=500.0, z_mm=80.0))
    free = LeverFreedom(bend_most_deg=8.0)
    x, y, z = shifted(centred, *by)
    right, left = lever_for_knob(centred, (x, y, z), free), lever_for_knob(centred, (x, -y, z), free)
    assert right.met == left.met
    assert left.short_mm == pytest.approx(right.short_mm, abs=1e-2)
    assert left.trouble == pytest.approx(right.trouble, rel=1e-3)
    assert left.shifter.side_lean_deg == pytest.approx(-right.shifter.side_lean_deg, abs=1e-2)
    assert left.box_move_mm[1] == pytest.approx(-right.box_move_mm[1], abs=5e-2)
    assert right.shifter.side_lean_deg > 0.0


def test_moving_car_and_target_together_changes_nothing() -> None:
    far = dataclasses.replace(SHIFTER, place=Place(x_mm=-1200.0, y_mm=310.0, z_mm=-40.0))
    here = lever_for_knob(SHIFTER, shifted(SHIFTER, 40, 15, 30), LeverFreedom())
    there = lever_for_knob(far, shifted(far, 40, 15, 30), LeverFreedom())
    assert there.shifter.lever_mm == pytest.approx(here.shifter.lever_mm, abs=1e-5)
    assert there.shifter.lean_deg == pytest.approx(here.shifter.lean_deg, abs=1e-5)
    assert there.trouble == pytest.approx(here.trouble)


def test_the_same_question_gets_the_same_answer() -> None:
    target = shifted(SHIFTER, 90, 20, 60)
    assert lever_for_knob(SHIFTER, target, LeverFreedom()) == lever_for_knob(SHIFTER, target, LeverFreedom())


def test_typed_knobs_move_with_the_lever_they_were_taped_on() -> None:
    """A typed neutral sets the present lever; typed gears keep their angles off it and their extra length."""
    knobs = tuple(
        KnobPoint(gear=place.gear, x_mm=x - 500.0, y_mm=y - 10.0, z_mm=z - 80.0)
        for place in gate_table(SHIFTER)
        for x, y, z in [place.knob_mm]
    )
    # Angles that are wrong on purpose: the typed knobs win over them.
    typed = dataclasses.replace(SHIFTER, knobs=knobs, lever_mm=300.0, lean_deg=20.0)
    target = shifted(SHIFTER, 30, 12, 45)
    free = LeverFreedom(bend_most_deg=5.0)
    plain, same = lever_for_knob(SHIFTER, target, free), lever_for_knob(typed, target, free)
    assert same.readings.lever_mm == pytest.approx(plain.readings.lever_mm)
    assert on_target(same, target)
    for one, other in zip(gate_table(plain.shifter), gate_table(same.shifter), strict=True):
        np.testing.assert_allclose(one.knob_mm, other.knob_mm, atol=1e-5)


def test_a_bent_lever_parts_from_the_model_only_in_the_outer_planes_and_little() -> None:
    """By hand: over a plane of 6.5 deg the two swings part by some tenths of a mm for a bend of 6 deg."""
    bent = lever_for_knob(SHIFTER, shifted(SHIFTER, 30, 0, 0), only(bend_free=True, length_free=True))
    assert bent.met
    assert 0.0 < bent.gears_off_mm < 1.0
    straight = lever_for_knob(SHIFTER, shifted(SHIFTER, 0, 0, 30), only(raise_free=True))
    assert straight.gears_off_mm == 0.0
    assert model_remarks(bent) == ()
    assert model_remarks(straight) == ("Spacers of 30 mm are not drawn; the box stands on nothing.",)
    assert what_stops(bent) == ()


def test_a_lever_on_the_gearbox_has_only_itself_to_change() -> None:
    free = usual_freedom(dataclasses.replace(SHIFTER, family="gearbox"))
    assert (free.length_free, free.bend_free) == (True, True)
    assert (free.raise_free, free.tilt_free, free.move_free) == (False, False, False)
    assert usual_freedom(SHIFTER) == LeverFreedom()


def test_what_cannot_be_asked_is_refused_with_a_remedy() -> None:
    target = shifted(SHIFTER, 0, 0, 0)
    with pytest.raises(BadValue, match="Set it again") as told:
        lever_for_knob(SHIFTER, (0.0, math.nan, 0.0), NOTHING)
    assert told.value.code == "not-finite"
    with pytest.raises(BadValue) as told:
        lever_for_knob(dataclasses.replace(SHIFTER, boot_mm=30.0), target, only(bend_free=True))
    assert told.value.code == "bend-under-pivot"
    with pytest.raises(BadValue) as told:
        lever_for_knob(dataclasses.replace(SHIFTER, boot_mm=300.0), target, only(bend_free=True))
    assert told.value.code == "bend-over-knob"
    on_pivot = dataclasses.replace(SHIFTER, knobs=(KnobPoint(gear="N", x_mm=0, y_mm=0, z_mm=45.0),))
    with pytest.raises(BadValue) as told:
        lever_for_knob(on_pivot, target, NOTHING)
    assert told.value.code == "no-lever"
    with pytest.raises(BadValue) as told:
        lever_for_knob(SHIFTER, target, NOTHING, -1.0)
    assert told.value.code == "not-a-lever"
    with pytest.raises(BadValue) as told:
        LeverFreedom(length_least_mm=300.0, length_most_mm=200.0)
    assert told.value.code == "range-turned-round"
    with pytest.raises(BadValue) as told:
        Trouble(bend_per_deg=0.0)
    assert told.value.code == "cost-out-of-range"


def test_every_met_target_of_a_grid_is_on_the_gate() -> None:
    free = LeverFreedom(bend_most_deg=9.0, length_most_mm=290.0)
    met = 0
    for by in itertools.product((-50.0, 0.0, 70.0), (-30.0, 0.0), (-20.0, 60.0)):
        target = shifted(SHIFTER, *by)
        answer = lever_for_knob(SHIFTER, target, free)
        met += answer.met
        assert on_target(answer, target) == answer.met
        assert math.dist(neutral(answer.shifter), target) == pytest.approx(answer.short_mm, abs=1e-6)
    assert met >= 8
