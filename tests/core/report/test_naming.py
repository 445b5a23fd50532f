"""What things, states and places are called."""

import dataclasses

import pytest

from core.report.made_up import finding, layout
from floorpan.driver import Person
from floorpan.items import Buckle, KeepOut, Place, Seat, Shifter
from floorpan.items.states import state_of
from floorpan.layout import Layout
from floorpan.limits import DEFAULT, Limit
from floorpan.report.naming import called, place_text, second_of, small, state_title, state_words
from floorpan.report.sentences import sentence, short_title


@pytest.mark.parametrize(
    ("stops", "words"),
    [
        ({}, ""),
        ({"shifter-1.gear": "R"}, "in reverse"),
        ({"shifter-1.gear": "N"}, "in neutral"),
        ({"shifter-1.gear": "3"}, "in 3rd"),
        ({"shifter-1.gear": "6"}, "in 6th"),
        ({"shifter-1.gear": "N-3"}, "between neutral and 3rd"),
        ({"driver-1.belts": "tight"}, "belts tight"),
        ({"seat-1.notch": "1"}, "seat full back"),
        ({"seat-1.notch": "12"}, "seat full forward"),
        ({"seat-1.notch": "6"}, "seat in notch 6"),
        ({"seat-1.notch": "5-6"}, "seat between notches 5 and 6"),
        ({"seat-1.notch": "1-12"}, "seat anywhere on its rails"),
        ({"handbrake-1.lever": "half"}, "handbrake half up"),
        ({"vessel-1.place": "lifting"}, "bottle on its way out"),
        ({"vessel-1.place": "in"}, ""),
        ({"thing-1.lid": "open"}, "lid open"),
        (
            {"seat-1.notch": "1", "shifter-1.gear": "R", "driver-1.belts": "tight", "vessel-1.place": "in"},
            "in reverse, belts tight, seat full back",
        ),
    ],
)
def test_states(stops: dict[str, str], words: str) -> None:
    assert state_words(state_of(stops), layout()) == words


def test_a_row_says_the_gear_without_its_preposition() -> None:
    assert (
        state_title(state_of({"shifter-1.gear": "R", "driver-1.belts": "loose"}), layout())
        == "reverse, belts loose"
    )


def test_with_two_seats_the_seat_is_named() -> None:
    seats = (*layout().seats, Seat(id="seat-2", name="Passenger seat"))
    assert state_words(state_of({"seat-2.notch": "1"}), layout(seats=seats)) == "passenger seat full back"


def test_a_seat_of_one_notch_is_neither_back_nor_forward() -> None:
    fixed = Seat(id="seat-1", name="Bucket", notches=1, notch_here=1)
    assert state_words(state_of({"seat-1.notch": "1"}), layout(seats=(fixed,))) == "seat in notch 1"


@pytest.mark.parametrize(
    ("id", "head", "inside"),
    [
        ("driver-1.hand", "Knuckles", "the knuckles"),
        ("vessel-1", "The bottle", "the bottle"),
        ("seat-1", "The driver seat", "the driver seat"),
        ("shifter-1.lever", "The lever", "the lever"),
        ("shifter-1.box", "The shifter box", "the shifter box"),
        ("seat-1.bolster left", "The left bolster of the driver seat", "the left bolster of the driver seat"),
        ("scan-1", "The scan", "the scan"),
        ("scan-1.tunnel-flank-2", "The tunnel flank", "the tunnel flank"),
        ("gone-7", "Gone-7", "gone-7"),
    ],
)
def test_subjects(id: str, head: str, inside: str) -> None:
    assert (called(id, layout()).head, called(id, layout()).inside) == (head, inside)


def test_with_two_drivers_and_two_shifters_everybody_is_named() -> None:
    people = (*layout().people, Person(id="driver-2", name="Second driver"))
    items = (*layout().items, Shifter(id="shifter-2", name="Spare"))
    held = layout(people=people, items=items)
    assert called("driver-2.hand", held).head == "Second driver\u2019s knuckles"
    assert called("shifter-2.lever", held).inside == "the lever of the spare"


@pytest.mark.parametrize(
    ("name", "inside"),
    [
        ("Bottle", "bottle"),
        ("PET bottle", "PET bottle"),
        ("A cup", "A cup"),
        ("250 ml can", "250 ml can"),
        ("", ""),
    ],
)
def test_a_name_inside_a_sentence(name: str, inside: str) -> None:
    assert small(name) == inside


@pytest.mark.parametrize(
    ("side", "point", "text"),
    [
        ("left", (640.2, 30.0, 212.4), "640 rear, 30 passenger side, 212 up"),
        ("right", (640.0, 30.0, 212.0), "640 rear, 30 driver side, 212 up"),
        ("left", (-120.0, -0.2, -8.0), "120 front, on the centre plane, 8 down"),
        ("right", (0.0, -7.0, 0.0), "0 rear, 7 passenger side, 0 up"),
    ],
)
def test_places(side: str, point: tuple[float, float, float], text: str) -> None:
    assert place_text(point, Layout(driver_side=side)) == text  # type: ignore[arg-type]


def test_places_in_inches() -> None:
    assert place_text((254.0, 12.7, 25.4), Layout(), "in") == "10 rear, 1\u20442 passenger side, 1 up"


def test_the_place_of_the_made_up_seat_is_on_the_drivers_side() -> None:
    at = Place(x_mm=1400.0, y_mm=-370.0, z_mm=260.0)
    assert "driver side" in place_text((at.x_mm, at.y_mm, at.z_mm), layout())


def test_a_name_is_told_up_to_its_comma_while_that_names_one_thing() -> None:
    first, *rest = reversed(layout().items)
    one = dataclasses.replace(first, name="Bottle, 500 ml")
    assert called("vessel-1", layout(items=(*rest, one))).inside == "the bottle"
    two = dataclasses.replace(first, id="vessel-2", name="Bottle, 1 l")
    held = layout(items=(*rest, one, two))
    assert called("vessel-1", held).inside == "the bottle, 500 ml"
    assert called("vessel-2", held).inside == "the bottle, 1 l"


def test_what_a_state_is_about_is_not_named_again() -> None:
    seats = (*layout().seats, Seat(id="seat-2", name="Passenger seat"))
    state = state_of({"seat-1.notch": "1-12"})
    assert state_words(state, layout(seats=seats), "seat-1") == "anywhere on its rails"
    assert state_words(state, layout(seats=seats), "shifter-1") == "driver seat anywhere on its rails"


def test_whose_seat_it_is_need_not_be_said() -> None:
    """Of somebody who sits in it, of its buckle, of what meets it: the seat; as soon as two are told, by name."""
    two = layout(
        seats=(*layout().seats, Seat(id="seat-2", name="Passenger seat")),
        items=(*layout().items, Buckle(id="buckle-1", seat_id="seat-2")),
    )
    one, other = state_of({"seat-1.notch": "6"}), state_of({"seat-2.notch": "6"})
    assert state_words(one, two, "driver-1") == "seat in notch 6"
    assert state_words(other, two, "driver-1") == "passenger seat in notch 6"
    assert state_words(other, two, "buckle-1") == "seat in notch 6"
    assert state_words(other, two, "driver-1", "seat-2") == "seat in notch 6"
    both = state_of({"seat-1.notch": "6", "seat-2.notch": "6"})
    assert state_words(both, two, "driver-1", "seat-2") == "driver seat in notch 6, passenger seat in notch 6"


def test_own_stops_come_before_those_of_others() -> None:
    state = state_of({"handbrake-1.lever": "up", "vessel-1.place": "lifting", "shifter-1.gear": "2"})
    assert state_words(state, layout(), "vessel-1") == "in 2nd, on its way out, handbrake up"
    assert state_words(state, layout(), "handbrake-1") == "in 2nd, handbrake up, bottle on its way out"


def test_a_scanned_part_is_told_from_a_thing_of_its_name() -> None:
    shifter = dataclasses.replace(layout().items[0], name="Handbrake")
    assert called("scan-1.handbrake", layout()).inside == "the handbrake"
    held = layout(items=(shifter, *layout().items[1:]))
    assert called("scan-1.handbrake", held).inside == "the scanned handbrake"
    met = finding("hand-scan", ("driver-1.hand", "scan-1.handbrake"), 9.0, met="handbrake")
    assert second_of(met, held).inside == "the scanned handbrake"
    assert second_of(met, layout()).inside == "the handbrake"


def test_what_enters_a_room_is_told_first() -> None:
    kept = KeepOut(id="keep-out-1", name="Fuel pipe")
    held = layout(items=(*layout().items, kept))
    wanted = Limit(id="keep-out", value=0.0, sense="at_least", unit="mm", source=DEFAULT)
    hits = finding("keep-out", ("keep-out-1", "console-1"), -4.0, limit=wanted, is_gap=True)
    assert sentence(hits, held) == "The console hits the fuel pipe by 4 mm (give or take 2)."
    assert short_title(hits, held) == "Console \u2013 fuel pipe"
