"""Reaching for switches and cups: the straight arm in closed form, which hand, every driver and every used notch."""

import math
from typing import Any

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Finding, evaluate
from floorpan.derive import Bench
from floorpan.driver import Person
from floorpan.frames import Vector
from floorpan.items import Control, CupHolder, Place, Seat, Vessel, vessel_place
from floorpan.items.control import FINGERS_MM
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.report.sentences import pair_title, sentence

RAW = raw_scan(level_floor())
LAYOUT = small_layout(RAW)
PERSON = Person(id="driver-1")
SIDES = {"shifting hand": 1.0, "other hand": -1.0}


def reached(layout: Layout) -> dict[str, Finding]:
    """The findings of reaching for something, by what and state."""
    found = finish(evaluate(layout, Bench({RAW.sha256: RAW})))
    return {finding.id: finding for finding in found if finding.check == "reach-for"}


def shoulder(seat: Seat, side: float, person: Person = PERSON) -> Vector:
    """By plain trigonometry, in the notch at which the seat's place is its hip point."""
    lean = math.radians(seat.back_deg)
    return (
        seat.place.x_mm + person.shoulder_mm * math.sin(lean),
        seat.place.y_mm + side * person.shoulder_out_mm,
        seat.place.z_mm + person.shoulder_mm * math.cos(lean),
    )


def with_switch(away: Vector, side: float = 1.0, **fields: Any) -> tuple[Layout, str, str]:
    """A switch so far from a shoulder in car axes; answers the layout, and the switch's and the seat's notch names."""
    seat = LAYOUT.seats[0]
    at = [a + b for a, b in zip(shoulder(seat, side), away, strict=True)]
    place = Place(x_mm=at[0], y_mm=at[1], z_mm=at[2])
    layout, id = edits.add(LAYOUT, Control(id="new", place=place, **fields))
    layout = edits.change_person(layout, "driver-1", notches_used=(6,))
    return layout, id, f"driver-1.belts=tight,{seat.id}.notch=6"


@pytest.mark.parametrize("touch", ["whole hand", "three fingers", "fingertip"])
@pytest.mark.parametrize("hand", ["shifting hand", "other hand"])
def test_a_switch_is_reached_by_the_straight_arm_and_the_touch(touch: str, hand: str) -> None:
    """600 away along (-2, 1, -2) / 3 from the very shoulder: straight arm and fingers less 600."""
    layout, id, state = with_switch((-400.0, 200.0, -400.0), SIDES[hand], touch=touch, hand=hand)
    finding = reached(layout)[f"reach-for:driver-1.hand:{id}:{state}"]
    straight = PERSON.shoulder_to_grip_mm + FINGERS_MM[touch]  # type: ignore[index]
    assert finding.value == pytest.approx(straight - 600.0, abs=1e-9)
    assert finding.at_mm is not None
    assert math.dist(*finding.at_mm) == pytest.approx(600.0)
    assert finding.at_mm[1] == layout.of(Control)[0].place.pose().shift_mm


def test_what_is_too_far_is_short_and_says_why_in_words() -> None:
    """900 away, 765 of arm and finger: 135 too far."""
    layout, id, state = with_switch((-600.0, 300.0, -600.0), name="Horn")
    finding = reached(layout)[f"reach-for:driver-1.hand:{id}:{state}"]
    assert finding.value == pytest.approx(-135.0)
    assert finding.verdict == "short"
    told = sentence(finding, layout)
    assert told.startswith("The horn is 135 mm too far (give or take ")
    assert "belts tight" in told
    assert pair_title(finding, layout) == "Reach to horn"


def test_a_driver_on_the_right_shifts_with_the_left() -> None:
    layout, id, state = with_switch((-400.0, 200.0, -400.0), SIDES["other hand"])
    layout = edits.set_driver_side(layout, "right")
    finding = reached(layout)[f"reach-for:driver-1.hand:{id}:{state}"]
    assert finding.value == pytest.approx(PERSON.shoulder_to_grip_mm + 100.0 - 600.0, abs=1e-9)


def test_every_driver_at_their_own_notches() -> None:
    """The second driver has 50 more of arm, and so to spare where both sit in notch 3."""
    layout, id, _ = with_switch((-400.0, 200.0, -400.0))
    seat = layout.seats[0].id
    layout = edits.change_person(layout, "driver-1", notches_used=(1, 3))
    layout, second = edits.add_person(
        layout, Person(id="new", seat_id=seat, notches_used=(3, 5), shoulder_to_grip_mm=715.0)
    )
    found = reached(edits.remove(layout, "vessel-1"))
    notches = [("driver-1", 1), ("driver-1", 3), (second, 3), (second, 5)]
    assert set(found) == {
        f"reach-for:{who}.hand:{id}:{who}.belts=tight,{seat}.notch={notch}" for who, notch in notches
    }
    first, other = (
        found[f"reach-for:{who}.hand:{id}:{who}.belts=tight,{seat}.notch=3"] for who in ("driver-1", second)
    )
    assert first.value is not None
    assert other.value == pytest.approx(first.value + 50.0)
    assert "for Driver" in sentence(other, layout)


def test_a_cup_in_its_well_is_reached_by_the_whole_hand_at_two_thirds() -> None:
    layout = edits.change_person(LAYOUT, "driver-1", notches_used=(6,))
    [vessel], [holder], [seat] = layout.of(Vessel), layout.of(CupHolder), layout.seats
    [finding] = reached(layout).values()
    stands = vessel_place(vessel, holder)
    grip = (stands.x_mm, stands.y_mm, stands.z_mm + vessel.profile[-1][0] * 2 / 3)
    away = math.dist(shoulder(seat, 1.0), grip)
    assert finding.subjects == ("driver-1.hand", vessel.id)
    assert finding.value == pytest.approx(PERSON.shoulder_to_grip_mm - away, abs=1e-9)


def test_a_cup_that_stands_in_no_well_is_not_reached_for() -> None:
    assert reached(edits.change(LAYOUT, "vessel-1", stands_in="")) == {}


def test_nobody_reaches_where_nobody_drives() -> None:
    assert reached(edits.remove_person(LAYOUT, "driver-1")) == {}


def test_a_moved_switch_is_judged_again_and_a_builder_s_own_limit_counts() -> None:
    layout, id, state = with_switch((-400.0, 200.0, -400.0))
    key = f"reach-for:driver-1.hand:{id}:{state}"
    assert reached(layout)[key].verdict == "clear"
    wanted = edits.set_limit(layout, "reach-for", 200.0)
    assert reached(wanted)[key].verdict == "short"
    nearer = edits.shift(wanted, id, (200.0, -100.0, 200.0))
    assert reached(nearer)[key].value == pytest.approx(765.0 - 300.0)
    assert reached(nearer)[key].verdict == "clear"
