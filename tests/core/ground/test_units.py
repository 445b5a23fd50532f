"""Lengths: 1 in = 25.4 mm exactly (international yard and pound agreement of 1959)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.errors import BadValue, NotALength
from floorpan.units import MINUS, THIN, mm_per, parse_length, show_length, show_number


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("3 1/2 in", 88.9),
        ("89", 89.0),
        ("89 mm", 89.0),
        ("3,5", 3.5),
        ("3.5cm", 35.0),
        ("0.089 m", 89.0),
        ("-3", -3.0),
        ("\u22123", -3.0),
        ('2 1/16"', 52.3875),
        ("2-1/16 in", 52.3875),
        ("\u00bd in", 12.7),
        ("1\u00bd in", 38.1),
        ("2 ft", 609.6),
        ("11 inches", 279.4),
        ("1e2", 100.0),
    ],
)
def test_what_people_type(text: str, mm: float) -> None:
    assert parse_length(text) == pytest.approx(mm, abs=1e-12)


def test_a_bare_number_is_in_the_shown_system() -> None:
    assert parse_length("3 1/2", "in") == pytest.approx(88.9)
    assert parse_length("3 1/2", "mm") == 3.5


@pytest.mark.parametrize(
    "text", ["", "3 1/", "3 1/0 in", "mm", "three", "1e999", "nan", "inf", "3 1/2 1/2", "--3", "5 kg"]
)
def test_what_is_no_length(text: str) -> None:
    with pytest.raises(NotALength) as told:
        parse_length(text)
    assert told.value.remedy == "Try 3 1/2 in, 89 or 89 mm."


@given(st.floats(min_value=-1e5, max_value=1e5))
def test_millimetres_read_back(mm: float) -> None:
    assert parse_length(show_length(mm, digits=3).replace(THIN, "")) == pytest.approx(mm, abs=0.00051)


@given(st.floats(min_value=-1e5, max_value=1e5))
def test_inches_read_back_to_half_a_sixteenth(mm: float) -> None:
    shown = show_length(mm, "in", with_unit=True)
    assert abs(parse_length(shown) - mm) <= 25.4 / 32 + 1e-9


def test_fractions_are_reduced_and_set() -> None:
    assert show_length(52.3875, "in") == f"2{THIN}1\u204416"
    assert show_length(12.7, "in") == "1\u20442"
    assert show_length(25.4, "in") == "1"
    assert show_length(-88.9, "in") == f"{MINUS}3{THIN}1\u20442"
    assert show_length(-0.1, "in") == "0"


def test_numbers_have_a_true_minus_and_no_idle_zeros() -> None:
    assert show_number(-6.0) == f"{MINUS}6"
    assert show_number(-0.04) == "0"
    assert show_number(1234567.25, 2) == f"1{THIN}234{THIN}567.25"
    assert show_number(14.50, 2) == "14.5"


def test_units_are_named() -> None:
    assert [mm_per(u) for u in ("mm", "cm", "m", "in", "ft")] == [1.0, 10.0, 1000.0, 25.4, 304.8]
    with pytest.raises(BadValue):
        mm_per("yd")
    with pytest.raises(BadValue):
        show_length(math.nan)
