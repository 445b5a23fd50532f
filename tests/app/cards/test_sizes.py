"""The driver's sizes, taped, following and by percentile; points taped in the car; heel and wheel."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, choose, press, press_row, settle, told_beside
from app.cards.test_driver_card import driver_card
from floorpan import edits
from floorpan.driver import LINKS, body_of, filled, sit
from floorpan.items import h_point
from floorpan_app.cards import sizes_words as words
from floorpan_app.desk import Desk

NOT_TAPED = replace(LAYOUT, people=(filled(replace(LAYOUT.people[0], not_taped=LINKS)),))


def test_what_nobody_taped_says_how_sure_it_is_until_it_is_typed(desk: Desk, show: Show) -> None:
    """The survey's men: straight arm 665 with a standard deviation of 33; the tape is good to 10."""
    card = driver_card(show, NOT_TAPED)
    beside = card.sizes.links.beside
    assert beside("shoulder_to_grip_mm").text() == "\u00b1 66"
    settle(card.sizes.links.fields["shoulder_to_grip_mm"], "700")
    assert beside("shoulder_to_grip_mm").text() == "\u00b1 10"
    [person] = desk.layout.people
    assert person.shoulder_to_grip_mm == 700.0
    assert person.upper_arm_mm > NOT_TAPED.people[0].upper_arm_mm
    assert "upper_arm_mm" in person.not_taped


def test_a_taped_link_is_let_go_again(desk: Desk, show: Show) -> None:
    card = driver_card(show, LAYOUT)
    field = card.sizes.links.fields["upper_arm_mm"]
    field.line_edit().setFocus()
    QApplication.processEvents()
    assert card.sizes.keyboard_at() == "upper_arm_mm"
    assert card.sizes.follow.text() == "Not taped: let upper arm follow"
    press(card.sizes.follow)
    assert desk.layout.people[0].not_taped == ("upper_arm_mm",)


def test_another_size_is_taped_shown_and_forgotten(desk: Desk, show: Show) -> None:
    card = driver_card(show, NOT_TAPED)
    choose(card.sizes.measure, "stature_mm")
    settle(card.sizes.another_size.field, "1900")
    [person] = desk.layout.people
    assert person.sizes[0].measure == "stature_mm"
    assert person.shoulder_to_grip_mm > NOT_TAPED.people[0].shoulder_to_grip_mm
    [row] = card.sizes.sizes.rows()
    assert (row.title, row.value) == ("Height", "1\u2009900 mm")
    press_row(card.sizes.sizes, "stature_mm")
    press(card.sizes.forget)
    assert desk.layout == NOT_TAPED


def test_a_size_that_goes_with_nobody_is_refused_beside_its_field(desk: Desk, show: Show) -> None:
    layout = edits.set_size(NOT_TAPED, NOT_TAPED.people[0].id, "stature_mm", 1950.0)
    card = driver_card(show, layout)
    choose(card.sizes.measure, "sitting_height_mm")
    settle(card.sizes.another_size.field, "700")
    assert desk.layout is layout
    assert "does not go with this body" in card.sizes.another_size.said()


def test_a_percentile_is_chosen(desk: Desk, show: Show) -> None:
    card = driver_card(show, LAYOUT)
    press(card.sizes.source.buttons[1])
    choose(card.sizes.percent_of, "stature_mm")
    settle(card.sizes.percent.field, "5")
    choose(card.sizes.sex.fields["sex"], "woman")
    [person] = desk.layout.people
    assert person.sex == "woman"
    assert person.sizes[0].percent == 5.0
    # The 5th percentile of stature of the survey's women.
    assert body_of(person)["stature_mm"].mean == pytest.approx(1525.0, abs=3.0)
    assert card.sizes.percent.isVisible()
    desk.document.undo()
    desk.document.undo()
    assert desk.layout == LAYOUT


def test_leaving_the_percentile_forgets_it(desk: Desk, show: Show) -> None:
    card = driver_card(show, LAYOUT)
    press(card.sizes.source.buttons[1])
    settle(card.sizes.percent.field, "95")
    assert desk.layout.people[0].sizes[0].percent == 95.0
    press(card.sizes.source.buttons[0])
    assert desk.layout.people[0].sizes == ()
    settle(card.sizes.links.fields["shoulder_to_grip_mm"], "640")
    assert card.sizes.source.key() == "taped"
    assert card.sizes.another_size.isVisible()


def test_a_size_that_goes_with_nobody_is_only_told_where_all_is_taped(desk: Desk, show: Show) -> None:
    card = driver_card(show, LAYOUT)
    settle(card.sizes.another_size.field, "2400")
    assert desk.layout.people[0].sizes[0].size == 2400.0
    choose(card.sizes.measure, "weight_kg")
    assert "does not go with this body" in card.sizes.another_size.said()
    desk.document.undo()
    assert desk.layout == LAYOUT


def test_an_emptied_field_lets_its_link_follow(desk: Desk, show: Show) -> None:
    card = driver_card(show, LAYOUT)
    edit = card.sizes.links.fields["upper_arm_mm"].line_edit()
    edit.setFocus()
    edit.selectAll()
    QTest.keyClick(edit, Qt.Key.Key_Delete)
    QTest.keyClick(edit, Qt.Key.Key_Return)
    assert desk.layout.people[0].not_taped == ("upper_arm_mm",)
    assert told_beside(card.sizes.links) == []


def test_a_seat_on_the_other_side_is_told(desk: Desk, show: Show) -> None:
    card = driver_card(show, LAYOUT)
    assert not card.other_side.isVisible()
    desk.change("sit on the right", lambda layout: edits.set_driver_side(layout, "right"))
    assert card.other_side.isVisible()
    assert "other side" in card.other_side.said()


def test_points_typed_in_the_car_set_the_driver(desk: Desk, show: Show) -> None:
    card = driver_card(show, LAYOUT)
    seat = LAYOUT.seats[0]
    hip = h_point(seat, int(seat.notch_here))
    wanted = (hip[0] + 20.0, hip[1], hip[2] - 10.0)
    for field, number in zip(card.points.places.fields["hip"], wanted, strict=True):
        settle(field, f"{number}")
    press(card.points.take)
    sitting = sit(desk.layout.people[0], hip, seat.back_deg)
    assert sitting.h_point == pytest.approx(wanted, abs=0.01)
    assert desk.document.undo_words() == "tape Driver in the car"


def test_half_a_point_is_told_and_takes_nothing(desk: Desk, show: Show) -> None:
    card = driver_card(show, LAYOUT)
    settle(card.points.places.fields["elbow"][0], "100")
    press(card.points.take)
    assert desk.layout is LAYOUT
    assert card.points.places.fault().startswith("Elbow has a length missing.")


def test_heel_and_wheel_are_typed_and_forgotten(desk: Desk, show: Show) -> None:
    card = driver_card(show, LAYOUT)
    for field, text in zip(card.position.places.fields["heel_mm"], ("-500", "-300", "4 in"), strict=True):
        settle(field, text)
    assert desk.layout.driving_position.heel_mm == pytest.approx((-500.0, -300.0, 101.6))
    assert not card.position.wheel.isVisible()
    press(card.position.forget)
    assert desk.layout.driving_position.heel_mm is None


@pytest.mark.parametrize(("heel", "says"), [(-80.0, "hand-reach plane stands"), (900.0, "as high as")])
def test_the_published_plane_is_told_or_why_there_is_none(
    desk: Desk, show: Show, heel: float, says: str
) -> None:
    layout = edits.set_driving_position(
        LAYOUT, heel_mm=(-500.0, -400.0, heel), wheel_mm=(-100.0, -400.0, 600.0)
    )
    card = driver_card(show, layout)
    assert says in card.position.plane.text()
    assert card.position.plane.isVisible()


def test_a_second_driver_is_added_looked_at_and_taken_out(desk: Desk, show: Show) -> None:
    card = driver_card(show, LAYOUT)
    press(card.add_driver)
    assert [one.name for one in desk.layout.people] == ["Driver", words.SECOND_DRIVER]
    assert desk.person == desk.layout.people[1].id
    assert card.person.fields["name"].text() == words.SECOND_DRIVER
    press(card.take_driver_out)
    assert desk.layout.people == LAYOUT.people
