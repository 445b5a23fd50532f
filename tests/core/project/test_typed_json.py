"""The shapes on small dataclasses of our own, so that they hold for every field a layout may get."""

import math
from dataclasses import dataclass, field
from typing import Annotated, Any, Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.errors import BadValue, ProjectDamaged
from floorpan.fields import Range, check_fields
from floorpan.project.typed_json import Reading, Spot, shape_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    id: str
    length_mm: Annotated[float, Range(60, 600, "mm", "Lever")] = 300.0

    def __post_init__(self) -> None:
        check_fields(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Well:
    id: str
    at_mm: tuple[float, float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pick:
    point_mm: tuple[float, float]
    side: Literal["left", "right"] = "left"


@dataclass(frozen=True, slots=True, kw_only=True)
class Car:
    count: int
    name: str = ""
    locked: bool = False
    things: tuple[Lever | Well, ...] = ()
    picks: tuple[Pick, ...] = ()
    spare: Lever | None = None
    numbers: tuple[tuple[str, int], ...] = ()
    worked_out: int = field(default=7, init=False)


KINDS = {"lever": Lever, "well": Well}
CAR = shape_of(Car, KINDS)
TOP = Spot("car")

numbers = st.floats(allow_nan=False, allow_infinity=False)
names = st.text(max_size=8)
levers = st.builds(Lever, id=names, length_mm=st.floats(60, 600))
wells = st.builds(Well, id=names, at_mm=st.none() | st.tuples(numbers, numbers, numbers))
cars = st.builds(
    Car,
    count=st.integers(),
    name=names,
    locked=st.booleans(),
    things=st.lists(levers | wells, max_size=4).map(tuple),
    picks=st.lists(
        st.builds(Pick, point_mm=st.tuples(numbers, numbers), side=st.sampled_from(["left", "right"])),
        max_size=3,
    ).map(tuple),
    spare=st.none() | levers,
    numbers=st.lists(st.tuples(names, st.integers()), max_size=3).map(tuple),
)


def read(value: Any, reading: Reading | None = None) -> Any:
    return CAR.read(value, TOP, reading or Reading("car.json"))


@given(cars)
def test_what_is_written_is_read_back(car: Car) -> None:
    written = CAR.write(car, TOP, {})
    assert read(written) == car
    assert CAR.write(read(written), TOP, {}) == written


def test_keys_come_in_the_order_of_the_fields_with_the_kind_first() -> None:
    written: Any = CAR.write(Car(count=1, things=(Lever(id="lever-1"),)), TOP, {})
    assert list(written) == ["count", "name", "locked", "things", "picks", "spare", "numbers"]
    assert list(written["things"][0]) == ["kind", "id", "length_mm"]


def test_what_is_left_out_takes_its_default() -> None:
    assert read({"count": 2}) == Car(count=2)


@pytest.mark.parametrize(
    ("value", "place", "word"),
    [
        ([], "at car,", "not a list of 0"),
        ({}, "at car,", "count is missing"),
        ({"count": 1.5}, "car.count", "whole number"),
        ({"count": True}, "car.count", "whole number"),
        ({"count": 1, "name": 3}, "car.name", "text"),
        ({"count": 1, "locked": 0}, "car.locked", "true or false"),
        ({"count": 1, "things": {}}, "car.things", "a list belongs there"),
        (
            {"count": 1, "things": [{"kind": "lever", "id": "a", "length_mm": 5}]},
            "car.things[0]",
            "60 to 600",
        ),
        ({"count": 1, "things": [{"id": "a"}]}, "car.things[0]", "lever, well"),
        ({"count": 1, "things": [3]}, "car.things[0]", "lever, well"),
        (
            {"count": 1, "things": [{"kind": "well", "id": "a", "at_mm": [1, 2]}]},
            "car.things[0].at_mm",
            "of 3",
        ),
        ({"count": 1, "picks": [{"point_mm": [1, "x"]}]}, "car.picks[0].point_mm[1]", "a number belongs"),
        ({"count": 1, "picks": [{"point_mm": [1, 10**400]}]}, "car.picks[0].point_mm[1]", "too large"),
        ({"count": 1, "picks": [{"point_mm": [1, 2], "side": "up"}]}, "car.picks[0].side", "left, right"),
        ({"count": 1, "spare": {"kind": "well", "id": "a"}}, "car.spare", "a lever belongs"),
        ({"count": 1, "numbers": [["a", None]]}, "car.numbers[0][1]", "whole number"),
    ],
)
def test_what_does_not_fit_is_refused_with_its_place(value: Any, place: str, word: str) -> None:
    with pytest.raises(ProjectDamaged) as caught:
        read(value)
    assert place in caught.value.what
    assert word in caught.value.what
    assert caught.value.remedy


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_numbers_that_are_none_are_not_written(number: float) -> None:
    car = Car(count=1, picks=(Pick(point_mm=(0.0, number)),))
    with pytest.raises(BadValue, match=r"car\.picks\[0\]\.point_mm\[1\]"):
        CAR.write(car, TOP, {})


def test_unknown_keys_come_back_wherever_their_thing_went() -> None:
    file = {
        "count": 1,
        "colour": "grey",
        "things": [
            {"kind": "lever", "id": "lever-1", "shaft": {"of": ["steel"]}},
            {"kind": "well", "id": "well-1"},
        ],
        "picks": [{"point_mm": [1, 2], "by": "hand"}, {"point_mm": [3, 4]}],
        "spare": {"kind": "lever", "id": "lever-2", "worn": True},
    }
    reading = Reading("car.json")
    car = read(file, reading)
    moved = Car(count=1, things=(Well(id="well-1"), Lever(id="lever-1", length_mm=99)), picks=car.picks[::-1])
    written: Any = CAR.write(moved, TOP, reading.extra)
    assert written["colour"] == "grey"
    assert written["things"] == [
        {"kind": "well", "id": "well-1", "at_mm": None},
        {"kind": "lever", "id": "lever-1", "length_mm": 99.0, "shaft": {"of": ["steel"]}},
    ]
    assert written["picks"] == [
        {"point_mm": [3.0, 4.0], "side": "left"},
        {"point_mm": [1.0, 2.0], "side": "left", "by": "hand"},
    ]
    assert written["spare"] is None


def test_a_known_key_is_never_overwritten_from_the_side_table() -> None:
    written: Any = CAR.write(Car(count=1), TOP, {(): {"count": 5, "more": 6}})
    assert (written["count"], written["more"]) == (1, 6)


def test_entries_of_a_strange_kind_are_set_aside_with_their_list() -> None:
    reading = Reading("car.json")
    strange = {"kind": "ashtray", "id": "ashtray-1", "depth_mm": 30}
    car = read({"count": 1, "things": [strange, {"kind": "well", "id": "well-1"}]}, reading)
    assert car.things == (Well(id="well-1"),)
    assert reading.strange == [("things", strange)]


@pytest.mark.parametrize(
    "hint", [dict, list[int], set[str], tuple[Lever | Pick, ...], str | int, object, bytes]
)
def test_a_type_without_a_saved_form_is_found_before_anything_is_saved(hint: Any) -> None:
    with pytest.raises(TypeError, match="saved value"):
        shape_of(hint, KINDS)
