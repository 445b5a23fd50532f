"""Reach of every gear: for every driver, mirrored, moved, with foam, jacket and glove, and worst gear first."""

from dataclasses import replace

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Evaluator, Finding
from floorpan.checks.reach import CHECKS
from floorpan.derive import Bench
from floorpan.driver import LINKS, Person, filled
from floorpan.items import Place, Seat, Shifter
from floorpan.items.knob_point import KnobPoint
from floorpan.items.shifter_gate import gate_table
from floorpan.layout import Layout
from floorpan.progress import finish

RAW = raw_scan(level_floor(cells=4))
# Near enough that every gear is reached.
BASE = edits.shift(small_layout(RAW), "seat-1", (-200.0, 0.0, 0.0))
TYPED = tuple(
    KnobPoint(gear=gear, x_mm=x, y_mm=y, z_mm=260.0 - 0.1 * abs(x))
    for gear, x, y in (
        ("N", 20.0, 0.0), ("1", -30.0, -28.0), ("2", 70.0, -27.0), ("3", -32.0, 1.0), ("4", 71.0, 0.0),
        ("5", -31.0, 30.0), ("R", 72.0, 31.0),
    )
)  # fmt: skip


def judged(layout: Layout) -> dict[str, Finding]:
    bench = Bench({RAW.sha256: RAW})
    found = finish(Evaluator(bench, CHECKS).settle(layout))
    return {one.id: one for one in found}


def typed(layout: Layout = BASE) -> Layout:
    return edits.change(layout, "shifter-1", knobs=TYPED, place=Place(x_mm=-40.0, y_mm=15.0, z_mm=10.0))


def mirrored(layout: Layout) -> Layout:
    """The same car with the driver on the other side: Y of everything turned round, typed knob places too."""
    layout = edits.set_driver_side(layout, "right" if layout.driver_side == "left" else "left")
    shifter, seat = layout.of(Shifter)[0], layout.seats[0]
    knobs = tuple(replace(knob, y_mm=-knob.y_mm) for knob in shifter.knobs)
    for thing, more in ((shifter, {"knobs": knobs}), (seat, {})):
        place = replace(thing.place, y_mm=-thing.place.y_mm, turn_deg=-thing.place.turn_deg)
        layout = edits.change(layout, thing.id, place=place, **more)
    person = layout.people[0]
    return edits.change_person(layout, person.id, hip_right_mm=-person.hip_right_mm)


def test_a_mirrored_car_reaches_the_mirrored_knobs_alike() -> None:
    layout = edits.change(typed(), "seat-1", place=replace(BASE.seats[0].place, turn_deg=3.0))
    layout = edits.change_person(layout, "driver-1", hip_right_mm=12.0, jacket_mm=8.0)
    here, there = judged(layout), judged(mirrored(layout))
    assert here.keys() == there.keys()
    for id, one in here.items():
        assert one.value == pytest.approx(there[id].value, abs=1e-9), id
        assert one.uncertainty == pytest.approx(there[id].uncertainty, abs=1e-9)
        assert one.at_mm is not None
        np.testing.assert_allclose(np.array(one.at_mm) * [1, -1, 1], np.array(there[id].at_mm), atol=1e-9)


def test_moving_car_and_driver_together_changes_no_reach() -> None:
    layout = typed()
    moved = layout
    for thing in (layout.seats[0], layout.of(Shifter)[0]):
        moved = edits.shift(moved, thing.id, (130.0, -45.0, 220.0))
    here, there = judged(layout), judged(moved)
    for id, one in here.items():
        assert one.value == pytest.approx(there[id].value, abs=1e-9), id


def test_typed_knobs_are_what_is_reached_for() -> None:
    layout = typed()
    knobs = {place.gear: place.knob_mm for place in gate_table(layout.of(Shifter)[0])}
    for one in judged(layout).values():
        assert one.at_mm is not None
        gear = dict(one.state)["shifter-1.gear"]
        if gear != "R":
            np.testing.assert_allclose(one.at_mm[1], knobs[gear], atol=1e-9)


def test_every_driver_is_judged_at_their_own_notches() -> None:
    layout, second = edits.add_person(
        edits.change_person(BASE, "driver-1", notches_used=(6,)),
        Person(
            id="new",
            name="Two",
            seat_id="seat-1",
            notches_used=(3, 9),
            shoulder_to_grip_mm=600.0,
            upper_arm_mm=310.0,
        ),
    )
    notches: dict[str, set[str]] = {}
    for one in judged(layout).values():
        owner = one.subjects[0].partition(".")[0]
        notches.setdefault(owner, set()).add(dict(one.state)["seat-1.notch"])
    assert notches == {"driver-1": {"6"}, second: {"3", "9"}}


def test_a_shorter_second_driver_has_less_to_spare_by_the_very_difference() -> None:
    """Belts tight, same torso: the spare is the straight arm less a span that both share."""
    first = BASE.people[0]
    layout, second = edits.add_person(
        BASE, replace(first, id="new", shoulder_to_grip_mm=640.0, upper_arm_mm=320.0)
    )
    found = judged(layout)
    for id, one in found.items():
        if one.check == "reach" and one.subjects[0] == f"{second}.hand":
            other = found[id.replace(second, first.id)]
            assert other.value is not None
            assert one.value == pytest.approx(other.value - (first.shoulder_to_grip_mm - 640.0), abs=1e-9)


def test_reverse_is_reached_with_the_ring_held_up() -> None:
    """The hand sits a lift ring's travel farther out along the lever."""
    plain, ring = (judged(edits.change(BASE, "shifter-1", ring_lift_mm=lift)) for lift in (0.0, 18.0))
    for id, one in plain.items():
        moved = np.linalg.norm(np.subtract(one.at_mm[1], ring[id].at_mm[1]))  # type: ignore[index]
        assert moved == pytest.approx(18.0 if "gear=R" in id else 0.0, abs=1e-9)


def test_what_nobody_taped_widens_the_give_or_take_and_is_named() -> None:
    taped = judged(BASE)
    loose = replace(BASE, people=(filled(replace(BASE.people[0], not_taped=LINKS)),))
    for id, one in judged(loose).items():
        assert one.uncertainty > taped[id].uncertainty
        assert [doubt.name for doubt in one.doubts] == ["taped body", "sizes not taped"]
        assert [doubt.name for doubt in taped[id].doubts] == ["taped body"]


def test_settled_foam_lowers_the_shoulder_by_as_much() -> None:
    soft = edits.change(BASE, "seat-1", foam_mm=15.0)
    assert isinstance(soft.seats[0], Seat)
    before, after = judged(BASE), judged(soft)
    for id, one in before.items():
        if one.check == "reach" and "tight" in id:
            assert one.at_mm is not None
            assert after[id].at_mm is not None
            knob = np.array(one.at_mm[1])
            shoulder = np.array(one.at_mm[0]) - [0.0, 0.0, 15.0]
            arm = BASE.people[0].shoulder_to_grip_mm
            assert after[id].value == pytest.approx(arm - float(np.linalg.norm(shoulder - knob)), abs=0.05)
