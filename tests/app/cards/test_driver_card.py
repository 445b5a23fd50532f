"""Driver: the tape, the seats, how the car is shown, and the reach of every gear."""

from dataclasses import replace

import pytest

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, choose, escape, press, press_row, settle, told_beside, write
from floorpan import edits
from floorpan.checks import Finding
from floorpan.driver import Person
from floorpan.items import Place, Seat
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan_app.cards import words
from floorpan_app.cards.driver_card import DriverCard
from floorpan_app.desk import Desk


def driver_card(show: Show, layout: Layout = LAYOUT) -> DriverCard:
    card = show("driver", layout)
    assert isinstance(card, DriverCard)
    return card


def with_passenger() -> Layout:
    seat = Seat(id="new", name="Passenger\u2019s seat", for_whom="passenger", place=Place(y_mm=400.0))
    layout, id = edits.add(LAYOUT, seat)
    return edits.add_person(layout, Person(id="new", name="Friend", role="passenger", seat_id=id))[0]


def test_the_tape_is_typed_in_either_unit(desk: Desk, show: Show) -> None:
    """25.4 mm to the inch."""
    card = driver_card(show)
    settle(card.sizes.links.fields["shoulder_to_grip_mm"], "700")
    settle(card.sizes.links.fields["upper_arm_mm"], "13 1/2 in")
    [person] = desk.layout.people
    assert person.shoulder_to_grip_mm == 700.0
    assert person.upper_arm_mm == pytest.approx(342.9)
    assert desk.document.undo_words() == "tape Driver"
    desk.document.undo()
    desk.document.undo()
    assert desk.layout == LAYOUT
    assert card.sizes.links.fields["shoulder_to_grip_mm"].line_edit().text() == "665 mm"


@pytest.mark.parametrize(
    ("name", "typed", "says"),
    [
        ("shoulder_to_grip_mm", "300", "Shoulder to grip: 400 to 950 mm."),
        ("shoulder_to_grip_mm", "26", "Inches? Type 26 in."),
        ("upper_arm_mm", "long", "is not a length"),
        ("notches_used", "5 to 7", "is no list of numbers"),
        ("notches_used", "39", "has notches 1 to"),
    ],
)
def test_a_refused_tape_changes_nothing_and_is_told(
    desk: Desk, show: Show, name: str, typed: str, says: str
) -> None:
    card = driver_card(show)
    form = card.person if name == "notches_used" else card.sizes.links
    field = form.fields[name]
    before = field.text() if name == "notches_used" else field.line_edit().text()
    settle(field, typed)
    assert desk.layout is LAYOUT
    [told] = told_beside(form)
    assert says in told
    assert told == form.fault(name)
    escape(field)
    assert told_beside(form) == []
    assert (field.text() if name == "notches_used" else field.line_edit().text()) == before


def test_escape_brings_name_and_measure_back(desk: Desk, show: Show) -> None:
    card = driver_card(show)
    fields = {**card.person.fields, **card.sizes.links.fields}
    for name in ("name", "shoulder_mm", "notches_used"):
        write(fields[name], "6 x")
        escape(fields[name])
    assert card.person.fields["name"].text() == "Driver"
    assert card.sizes.links.fields["shoulder_mm"].line_edit().text() == "508 mm"
    assert card.person.fields["notches_used"].text() == "6"
    assert desk.layout is LAYOUT


def test_notches_are_typed_with_commas(desk: Desk, show: Show) -> None:
    card = driver_card(show)
    settle(card.person.fields["notches_used"], "7, 5 6")
    assert desk.layout.people[0].notches_used == (5, 6, 7)
    assert card.person.fields["notches_used"].text() == "5, 6, 7"


def test_more_measures_unfold(desk: Desk, show: Show) -> None:
    card = driver_card(show)
    assert not card.person_more.isVisible()
    press(card.fold)
    settle(card.person_more.fields["elbow_least_deg"], "80")
    assert desk.layout.people[0].elbow_least_deg == 80.0
    assert card.person_more.isVisible(), "a change folds nothing away"
    press(card.fold)
    assert not card.person_more.isVisible()


def test_another_seat_with_fewer_notches_is_refused(desk: Desk, show: Show) -> None:
    layout, other = edits.add(LAYOUT, Seat(id="new", name="Bucket", notches=1, notch_here=1))
    card = driver_card(show, layout)
    choose(card.person.fields["seat_id"], other)
    assert desk.layout is layout
    assert card.person.fields["seat_id"].key() == layout.seats[0].id, "the list shows what holds"
    [told] = told_beside(card.person)
    assert told.startswith("Bucket has notches 1 to 1.")


def test_what_was_typed_for_one_person_does_not_pass_to_the_next(desk: Desk, show: Show) -> None:
    layout = with_passenger()
    card = driver_card(show, layout)
    settle(card.sizes.links.fields["upper_arm_mm"], "long")
    settle(card.person.fields["notches_used"], "all")
    choose(card.who, layout.people[1].id)
    assert card.person.fields["name"].text() == "Friend"
    assert card.sizes.links.fields["upper_arm_mm"].line_edit().text() == "335 mm"
    assert card.person.fields["notches_used"].text() == "6"
    assert told_beside(card.person) == told_beside(card.sizes) == []
    settle(card.sizes.links.fields["upper_arm_mm"], "320")
    assert [person.upper_arm_mm for person in desk.layout.people] == [335.0, 320.0]


def test_a_seat_is_typed_and_what_is_wrong_with_it_stays_its_own(desk: Desk, show: Show) -> None:
    layout = with_passenger()
    card = driver_card(show, layout)
    driver, passenger = layout.seats
    settle(card.seat.form.fields["notches"], "11.5")
    assert desk.layout is layout
    settle(card.seat.place.fields["turn_deg"], "askew")
    choose(card.seat.which, passenger.id)
    assert told_beside(card.seat) == []
    assert card.seat.place.fields["turn_deg"].line_edit().text() == "0\u00b0"
    settle(card.seat.place.fields["x_mm"], "16 in")
    assert desk.layout.seats[0] == driver
    assert desk.layout.seats[1].place.x_mm == pytest.approx(406.4)


def test_a_locked_seat_stays_where_it_is(desk: Desk, show: Show) -> None:
    card = driver_card(show)
    press(card.seat.lock)
    assert desk.layout.seats[0].locked
    assert not card.seat.place.isEnabled()
    desk.document.undo()
    assert card.seat.place.isEnabled()


def test_a_seat_that_somebody_sits_in_is_not_taken_out(desk: Desk, show: Show) -> None:
    card = driver_card(show)
    faults: list[object] = []
    desk.faulted.connect(faults.append)
    press(card.seat.out)
    assert desk.layout is LAYOUT
    assert [str(fault) for fault in faults] == [
        "Somebody sits in this seat. Give the driver another seat first."
    ]


def test_the_car_is_shown_otherwise_without_a_change(desk: Desk, show: Show) -> None:
    card = driver_card(show)
    assert card.belts.key() == "tight"
    press(card.belts.buttons[0])
    choose(card.notch, "3")
    state = dict(desk.state)
    assert state[f"{LAYOUT.people[0].id}.belts"] == "loose"
    assert state[f"{LAYOUT.seats[0].id}.notch"] == "3"
    assert card.belts.key() == "loose"
    assert desk.layout is LAYOUT


def test_reach_is_listed_and_a_press_lights_the_finding(judged: Desk, show: Show) -> None:
    card = driver_card(show)
    rows = card.reach.rows()
    by_id = {found.id: found for found in judged.judging.findings}
    assert {row.title for row in rows} == {"1st", "2nd", "3rd", "4th", "5th", "Reverse", "Neutral"}
    assert all(by_id[row.id].check == "reach" and by_id[row.id].verdict == row.mark for row in rows)
    press_row(card.reach, rows[-1].id)
    assert judged.finding == rows[-1].id
    shown = dict(judged.state)
    assert all(shown[axis] == stop.rpartition("-")[2] for axis, stop in by_id[rows[-1].id].state)


def test_reach_that_is_short_wants_a_reason(judged: Desk, show: Show, findings: tuple[Finding, ...]) -> None:
    card = driver_card(show)
    short = sum(found.verdict == "short" for found in findings if found.check.startswith(("reach", "elbow")))
    assert short > 0
    assert card.foot().accept.text() == words.ACCEPT_WITH.format(what=f"{short} states short")
    press(card.foot().accept)
    settle(card.foot().reason, "the seat moves forward first")
    assert edits.step_mark(judged.layout, "driver") == "accepted as it is"
    judged.document.undo()
    assert judged.layout == LAYOUT


def test_a_driver_is_taped_where_nobody_sits(desk: Desk, show: Show) -> None:
    empty = replace(LAYOUT, people=())
    card = driver_card(show, empty)
    assert card.next.said() == words.NEED_DRIVER
    assert not card.person.isVisible()
    [tape] = [one for one in card.next.findChildren(type(card.fold)) if one.isVisible()]
    press(tape)
    driver = desk.layout.driver()
    assert driver is not None
    assert driver.seat_id == LAYOUT.seats[0].id
    assert card.person.isVisible()
    desk.document.undo()
    assert desk.layout == empty


def test_a_seat_is_set_down_in_the_middle(desk: Desk, show: Show) -> None:
    bare = replace(LAYOUT, people=(), seats=())
    finish(desk.judging.bench.prepare(bare.scans[0]))
    desk.judging.bench.floor(bare)
    card = driver_card(show, bare)
    assert card.next.said() == words.NEED_SEAT
    buttons = [one for one in card.next.findChildren(type(card.fold)) if one.isVisible()]
    assert [button.text() for button in buttons] == [words.ON_THE_SCAN, words.IN_THE_MIDDLE]
    press(buttons[1])
    [seat] = desk.layout.seats
    # A quarter of the sheet's 1.4 m left of its middle, on the sheet at Z = 0.
    assert (seat.place.x_mm, seat.place.y_mm) == pytest.approx((0.0, -350.0))
    assert desk.selection == seat.id
    desk.document.undo()
    assert desk.layout == bare
