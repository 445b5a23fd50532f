"""Where this layout's knob should be: judged by the reach itself, limits in closed form, moved and mirrored."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest

from core.sample_case import sample_case
from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.advice.knob_for_driver import (
    LOOKED_AT_MM,
    NOT_LOOKED,
    THIGH,
    WHEEL_RIM,
    KnobAdvice,
    where_the_knob_should_be,
)
from floorpan.derive import Bench, Scene, knob_in_neutral, reach_from, sitting_in
from floorpan.driver import Person
from floorpan.frames import Floats, Pose
from floorpan.items import Shifter
from floorpan.items.knob_point import KnobPoint
from floorpan.items.shifter import GEAR
from floorpan.items.shifter_gate import gate_table
from floorpan.layout import Layout, record_of
from floorpan.limits import LIMITS
from floorpan.progress import Step, finish

RAW = raw_scan(level_floor(cells=20))
# The floor lies deep enough to keep nobody's hand off.
DEEP = Pose(shift_mm=(0.0, 0.0, -300.0))
# This high it does; the shifter is held by nothing here.
FLOOR_MM = 200.0
FLOOR = Pose(shift_mm=(0.0, 0.0, FLOOR_MM))
WANTED = 55.0 + LIMITS["hand-scan"].value
RIM = {"wheel_mm": (60.0, -400.0, 640.0), "wheel_across_mm": 360.0, "rim_mm": 30.0, "wheel_deg": 25.0}


def a_layout(pose: Pose = DEEP, *, x_mm: float = 130.0, z_mm: float = 60.0) -> Layout:
    """One driver at two notches, with everything that was scanned far below."""
    layout = small_layout(RAW, pose)
    layout = edits.change_person(layout, "driver-1", notches_used=(1, 3))
    return edits.move(layout, "shifter-1", x_mm=x_mm, z_mm=z_mm)


def scene_of(layout: Layout) -> Scene:
    bench = Bench({RAW.sha256: RAW})
    finish(bench.make_floors(layout))
    return bench.scene(layout)


def advice_on(layout: Layout, spacing_mm: float = 20.0) -> KnobAdvice:
    advice = finish(where_the_knob_should_be(scene_of(layout), spacing_mm))
    assert advice is not None
    return advice


def shifter_of(layout: Layout) -> Shifter:
    return layout.of(Shifter)[0]


def places_about(layout: Layout, number: int = 3000, seed: int = 5) -> Floats:
    present = np.array(knob_in_neutral(shifter_of(layout)))
    return present + np.random.default_rng(seed).uniform(-180.0, 180.0, (number, 3))


def judged(scene: Scene, shifter: Shifter) -> list[tuple[float, float, float, float]]:
    """(spare, elbow, least and most wanted) of every driver at every used notch in every gear."""
    record, found = record_of(shifter), []
    for person in scene.drivers():
        seat = scene.seat_of(person)
        assert seat is not None
        for notch, gear in itertools.product(person.notches_used, record.axes(shifter)[0].stops):
            grip = record.grips(shifter, {GEAR: gear})[0]
            reach = reach_from(sitting_in(person, seat, notch), "tight", scene.hand_side(), grip.at_mm)
            found.append((reach.spare_mm, reach.elbow_deg, person.elbow_least_deg, person.elbow_most_deg))
    return found


def check_reached(layout: Layout, by_mm: tuple[float, float, float]) -> None:
    moved = edits.shift(layout, "shifter-1", by_mm)
    for spare, elbow, least, most in judged(scene_of(moved), shifter_of(moved)):
        assert spare >= 0.0
        assert least - 1e-6 <= elbow <= most + 1e-6


# --- the proposal -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("x_mm", "z_mm"), [(20.0, 60.0), (130.0, 20.0), (280.0, 120.0)])
def test_where_it_says_every_gear_is_reached_with_the_elbow_as_wanted(x_mm: float, z_mm: float) -> None:
    """Judged by the reach that the checks use, at both notches and for both drivers."""
    layout = a_layout(x_mm=x_mm, z_mm=z_mm)
    second = Person(id="new", name="Other", seat_id="seat-1", notches_used=(2,), shoulder_to_grip_mm=690.0)
    layout, _ = edits.add_person(layout, second)
    advice = advice_on(layout)
    move = advice.move
    assert move is not None
    assert move.move_mm is not None
    check_reached(layout, move.move_mm)
    if not move.inside:
        present = np.array(knob_in_neutral(shifter_of(layout)))
        check_reached(layout, tuple(np.array(move.place_mm) - present))


def test_a_knob_that_is_moved_there_stays_there() -> None:
    layout = a_layout(x_mm=20.0)
    before = advice_on(layout).move
    assert before is not None
    assert not before.inside
    assert before.move_mm is not None
    after = advice_on(edits.shift(layout, "shifter-1", before.move_mm)).move
    assert after is not None
    assert after.inside
    assert after.move_mm == (0, 0, 0)
    assert after.margin_mm == pytest.approx(before.moved_margin_mm, abs=1e-6)


def test_what_is_short_by_the_reach_is_what_limits_the_present_knob() -> None:
    """The room in the worst gear is the span the elbow allows less the span there is, by the law of cosines."""
    layout = a_layout(x_mm=20.0)
    move, scene = advice_on(layout).move, scene_of(layout)
    assert move is not None
    person = scene.drivers()[0]
    short = []
    for spare, *_ in judged(scene, shifter_of(layout)):
        away = person.shoulder_to_grip_mm - spare
        upper, lower = person.upper_arm_mm, person.forearm_mm()
        longest = math.sqrt(
            upper**2 + lower**2 - 2.0 * upper * lower * math.cos(math.radians(person.elbow_most_deg))
        )
        short.append(longest - away)
    assert move.margin_mm == pytest.approx(min(short), abs=1e-6)
    assert move.cause.name == "elbow too straight"


def test_the_sample_is_told_to_go_where_all_its_gears_are_reached() -> None:
    case = sample_case(1)
    bench = case.bench()
    finish(bench.make_floors(case.layout))
    advice = finish(where_the_knob_should_be(bench.scene(case.layout)))
    assert advice is not None
    assert advice.move is not None
    assert advice.move.move_mm is not None
    moved = edits.shift(case.layout, "shifter-1", advice.move.move_mm)
    for spare, elbow, least, most in judged(bench.scene(moved), shifter_of(moved)):
        assert spare >= 0.0
        assert least - 1e-6 <= elbow <= most + 1e-6
    names = {side.name for side in advice.sides}
    assert {"elbow too straight", "elbow too bent", THIGH, "handbrake", "wheel rim", NOT_LOOKED} <= names
    assert "belts" not in names


# --- its limits ---------------------------------------------------------------------------------------------------


def test_a_wheel_rim_keeps_the_hand_off_as_a_torus_would() -> None:
    """Closed form: to the ring less half the rim, the hand and the wanted gap, in the gear that comes nearest."""
    layout = edits.set_driving_position(a_layout(), **RIM)
    question = advice_on(layout).region.question
    rows = [row for row, term in enumerate(question.terms) if term.cause.name == WHEEL_RIM]
    knobs = np.array([gear.knob_mm for gear in gate_table(shifter_of(layout))])
    assert len(rows) == len(knobs)
    tilt = math.radians(25.0)
    up, across = np.array([-math.sin(tilt), 0.0, math.cos(tilt)]), np.array([0.0, 1.0, 0.0])
    turn = np.linspace(0.0, 2.0 * math.pi, 20_000)[:, None]
    # A tyre's middle line, laid from its plane that leans with its top forward.
    ring = np.array(RIM["wheel_mm"]) + 165.0 * (np.cos(turn) * up + np.sin(turn) * across)
    for place in places_about(layout, 40):
        grips = place + knobs - knobs[0]
        gap = np.linalg.norm(grips[:, None] - ring[None], axis=2).min(axis=1).min() - 15.0 - WANTED
        assert min(question.room_of_each(tuple(place))[rows]) == pytest.approx(gap, abs=1e-3)


def test_a_thigh_keeps_the_hand_off_as_a_rounded_rod_would() -> None:
    """Closed form: hip to knee of each leg at each notch, 75 thick, rising as the cushion does."""
    layout = a_layout()
    scene, question = scene_of(layout), advice_on(layout).region.question
    person, seat = scene.drivers()[0], layout.seats[0]
    rows = [row for row, term in enumerate(question.terms) if term.cause.name == THIGH]
    knobs = np.array([gear.knob_mm for gear in gate_table(shifter_of(layout))])
    rise = math.radians(seat.cushion_deg)
    way, length = np.array([-math.cos(rise), 0.0, math.sin(rise)]), 618.0 - 130.0 - 75.0
    for place in places_about(layout, 60):
        gaps = []
        for notch, out, knob in itertools.product(person.notches_used, (-80.0, 80.0), knobs):
            hip = np.array(sitting_in(person, seat, notch).h_point) + np.array([0.0, out, 0.0])
            away = place + knob - knobs[0] - hip
            along = min(max(float(away @ way), 0.0), length)
            gaps.append(float(np.linalg.norm(away - along * way)) - 75.0 - WANTED)
        assert min(question.room_of_each(tuple(place))[rows]) == pytest.approx(min(gaps), abs=1e-6)


def test_a_floor_under_the_knob_is_a_limit_and_one_far_below_is_none() -> None:
    below = advice_on(a_layout())
    assert "scan" not in {cause.name for cause in below.region.causes}
    near = a_layout(FLOOR)
    advice = advice_on(near)
    knobs = np.array([gear.knob_mm for gear in gate_table(shifter_of(near))])
    lowest = float((knobs[:, 2] - knobs[0, 2]).min())
    rows = [row for row, cause in enumerate(advice.region.causes) if cause.name == "scan"]
    assert rows
    inside = np.argwhere(advice.region.field.margin >= 0.0)
    for place in advice.region.field.places(inside)[::7]:
        # The gap to a level floor in closed form; told 18.5 mm too small at most.
        gap = float(place[2]) + lowest - FLOOR_MM - WANTED
        assert gap >= 0.0
        told = min(advice.region.question.room_of_each(tuple(place))[rows])
        assert min(gap, 80.0) - 18.5 <= told <= gap + 1e-9


def test_nothing_is_said_of_places_further_than_were_looked_at() -> None:
    layout = a_layout()
    region = advice_on(layout).region
    present = np.array(knob_in_neutral(shifter_of(layout)))
    inside = region.field.places(np.argwhere(region.field.margin >= 0.0))
    assert (np.abs(inside - present) <= LOOKED_AT_MM + 1e-9).all()
    side = next(one for one in advice_on(layout).sides if one.name == NOT_LOOKED)
    assert np.abs(np.array(side.at_mm) - present).max() >= LOOKED_AT_MM - 2.0 * region.field.spacing_mm


@pytest.mark.parametrize("kind", ["glove", "second driver", "another notch", "wheel", "wider limit"])
def test_more_to_heed_only_takes_room_away(kind: str) -> None:
    layout = a_layout()
    heeding = {
        "glove": lambda: edits.change_person(layout, "driver-1", glove_mm=6.0),
        "second driver": lambda: edits.add_person(
            layout, Person(id="new", name="Other", seat_id="seat-1", shoulder_to_grip_mm=600.0)
        )[0],
        "another notch": lambda: edits.change_person(layout, "driver-1", notches_used=(1, 3, 6)),
        "wheel": lambda: edits.set_driving_position(layout, **RIM),
        "wider limit": lambda: edits.set_limit(layout, "hand-scan", 30.0, note="gloves"),
    }[kind]()
    at = places_about(layout)
    before, after = (advice_on(one).region for one in (layout, heeding))
    assert (after.question.margins(at) <= before.question.margins(at) + 1e-9).all()
    assert (after.question.margins(at) < before.question.margins(at) - 1e-6).any()
    assert after.volume_litres < before.volume_litres


def test_a_jacket_moves_the_arm_ahead_with_the_hip() -> None:
    """The jacket is behind the back: the shoulder goes ahead square to the torso line by its thickness."""
    layout = a_layout()
    dressed = edits.change_person(layout, "driver-1", jacket_mm=8.0)
    lean = math.radians(layout.seats[0].back_deg + layout.people[0].lean_off_deg)
    for bare, worn in zip(
        advice_on(layout).region.question.arms, advice_on(dressed).region.question.arms, strict=True
    ):
        moved = np.subtract(worn.shoulder_mm, bare.shoulder_mm)
        assert moved == pytest.approx([-8.0 * math.cos(lean), 0.0, 8.0 * math.sin(lean)], abs=1e-9)
        assert worn.longest_mm == bare.longest_mm


# --- the same car elsewhere ---------------------------------------------------------------------------------------


def test_a_moved_car_has_the_moved_answer() -> None:
    layout = edits.set_driving_position(a_layout(x_mm=20.0), **RIM)
    by = np.array([340.0, -75.0, 130.0])
    moved = edits.set_axes(layout, "scan-1", Pose(shift_mm=tuple(by + DEEP.shift_mm)))
    for thing in layout.things():
        if not getattr(thing, "stands_in", ""):
            moved = edits.shift(moved, thing.id, tuple(by))
    moved = edits.set_driving_position(moved, wheel_mm=tuple(np.array(RIM["wheel_mm"]) + by))
    one, other = advice_on(layout), advice_on(moved)
    assert one.move is not None
    assert other.move is not None
    assert other.move.move_mm == one.move.move_mm
    assert np.subtract(other.move.place_mm, one.move.place_mm) == pytest.approx(by, abs=1e-6)
    assert [side.name for side in other.sides] == [side.name for side in one.sides]
    assert other.region.volume_litres == pytest.approx(one.region.volume_litres, rel=1e-6)
    at = places_about(layout)
    assert other.region.question.margins(at + by) == pytest.approx(one.region.question.margins(at), abs=1e-6)


def test_a_mirrored_car_has_the_mirrored_answer() -> None:
    """Every knob is typed: a gate that follows from angles does not mirror with the car."""
    layout = edits.set_driving_position(a_layout(x_mm=20.0), **RIM)
    shifter = shifter_of(layout)
    foot = np.array([shifter.place.x_mm, shifter.place.y_mm, shifter.place.z_mm])

    def typed(side: float) -> tuple[KnobPoint, ...]:
        return tuple(
            KnobPoint(gear=one.gear, x_mm=at[0], y_mm=side * at[1], z_mm=at[2])
            for one in gate_table(shifter)
            for at in [tuple(float(v) for v in np.subtract(one.knob_mm, foot).round(3))]
        )

    left = edits.change(layout, "shifter-1", knobs=typed(1.0))
    right = edits.change(layout, "shifter-1", knobs=typed(-1.0))
    seat = layout.seats[0]
    there = replace(seat.place, y_mm=-seat.place.y_mm)
    right = edits.set_driver_side(edits.change(right, "seat-1", place=there), "right")
    right = edits.set_driving_position(right, wheel_mm=(60.0, 400.0, 640.0))
    one, other = advice_on(left), advice_on(right)
    assert one.move is not None
    assert other.move is not None
    mirror = np.array([1.0, -1.0, 1.0])
    assert np.array(other.move.place_mm) == pytest.approx(np.array(one.move.place_mm) * mirror, abs=0.1)
    assert other.region.volume_litres == pytest.approx(one.region.volume_litres, rel=1e-6)
    at = places_about(left)
    assert other.region.question.margins(at * mirror) == pytest.approx(
        one.region.question.margins(at), abs=1e-6
    )


# --- no answer ----------------------------------------------------------------------------------------------------


def test_a_knob_that_nobody_can_serve_says_what_clashes() -> None:
    """A driver with a narrow wish at both ends of a long slide: nowhere is near enough and far enough for both."""
    layout = edits.change(a_layout(), "seat-1", notches=12, notch_mm=25.0)
    layout = edits.change_person(
        layout, "driver-1", notches_used=(1, 12), elbow_least_deg=110.0, elbow_most_deg=125.0
    )
    advice = advice_on(layout)
    assert advice.region.empty
    assert advice.move is None
    assert advice.sides == ()
    roomiest = advice.region.roomiest
    assert roomiest.margin_mm < 0.0
    assert roomiest.at_most_mm < 0.0
    names = {cause.name for cause in roomiest.causes}
    assert {"elbow too straight", "elbow too bent"} <= names


def test_nobody_who_drives_or_nothing_to_shift_has_no_answer() -> None:
    layout = a_layout()
    for without in (
        edits.remove(layout, "shifter-1"),
        edits.remove_person(layout, "driver-1"),
    ):
        assert finish(where_the_knob_should_be(scene_of(without))) is None


def test_it_tells_how_far_it_is_and_never_goes_back() -> None:
    told: list[Step] = []
    finish(where_the_knob_should_be(scene_of(a_layout(FLOOR)), 20.0), told.append)
    done = [step.done for step in told]
    assert done == sorted(done)
    assert done[0] >= 0.0
    assert done[-1] <= 1.0
    assert "Measuring to the scan" in {step.doing for step in told}


def test_a_place_is_a_place() -> None:
    """The knob of a shifter that stands turned is where its own axes put it, and so is the answer."""
    layout = edits.turn(a_layout(x_mm=20.0), "shifter-1", 25.0)
    move = advice_on(layout).move
    assert move is not None
    assert move.move_mm is not None
    check_reached(layout, move.move_mm)
