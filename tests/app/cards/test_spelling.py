"""How fields read and write numbers: what is written can be read back, what is no number is refused in words."""

import pytest

from floorpan.errors import BadValue, NotALength
from floorpan.fields import Range
from floorpan_app.cards.spelling import numbers_of, plain_number, show_small, spelling_of, whole_numbers

THIN = "\u2009"


@pytest.mark.parametrize(
    ("system", "typed", "mm"),
    [
        ("mm", "89", 89.0), ("mm", "3,5", 3.5), ("mm", "1 in", 25.4),
        ("in", "3 1/2", 88.9), ("in", "89 mm", 89.0), ("in", "0.5", 12.7),
    ],
)  # fmt: skip
def test_a_bare_length_is_in_the_shown_unit(system: str, typed: str, mm: float) -> None:
    """25.4 mm to the inch (international yard and pound agreement, 1959)."""
    parse, _ = spelling_of("mm", system)  # type: ignore[arg-type]
    assert parse(typed) == pytest.approx(mm)


@pytest.mark.parametrize(
    ("unit", "system", "value", "shown"),
    [
        ("mm", "mm", 241.34, "241.3 mm"), ("mm", "in", 88.9, f"3{THIN}1\u20442 in"),
        ("deg", "mm", -12.54, "\u221212.5\u00b0"), ("percent", "mm", 98.0, f"98{THIN}%"),
        ("kg", "mm", 0.355, f"0.35{THIN}kg"), ("g", "mm", 1.25, f"1.25{THIN}g"), ("", "mm", 2.5, "2.5"),
    ],
)  # fmt: skip
def test_numbers_are_written_with_their_unit(unit: str, system: str, value: float, shown: str) -> None:
    _, show = spelling_of(unit, system)  # type: ignore[arg-type]
    assert show(value) == shown


@pytest.mark.parametrize("system", ["mm", "in"])
@pytest.mark.parametrize("unit", ["mm", "deg", "percent", "kg", "g", ""])
@pytest.mark.parametrize("value", [0.0, 0.25, -1.5, 90.0, 1234.5])
def test_what_is_written_can_be_read_back(unit: str, system: str, value: float) -> None:
    parse, show = spelling_of(unit, system)  # type: ignore[arg-type]
    # One digit after the point, two of a weight, a sixteenth of an inch: half of that is lost at most.
    lost = 25.4 / 32 if (unit, system) == ("mm", "in") else 0.05
    assert parse(show(value)) == pytest.approx(value, abs=lost + 1e-9)
    assert show(parse(show(value))) == show(value)


@pytest.mark.parametrize("typed", ["", "  ", "ten", "1.2.3", "12 mm", "nan", "inf", "-infinity"])
def test_what_is_no_plain_number_is_refused_in_words(typed: str) -> None:
    with pytest.raises(BadValue) as refused:
        plain_number(typed)
    what = f"\u201c{typed.strip()}\u201d is not a number." if typed.strip() else "Nothing is typed here."
    assert what in str(refused.value)


@pytest.mark.parametrize("typed", ["", "3 1/", "ten", "nan"])
def test_what_is_no_length_is_refused(typed: str) -> None:
    parse, _ = spelling_of("mm", "mm")
    with pytest.raises(NotALength):
        parse(typed)


@pytest.mark.parametrize(
    ("typed", "kg"), [("0,4", 0.4), ("0.4 kg", 0.4), ("355 g", 0.355), ("5 g", 0.005), (f"2{THIN}kg", 2.0)]
)
def test_grams_are_not_taken_for_kilograms(typed: str, kg: float) -> None:
    parse, _ = spelling_of("kg", "mm")
    assert parse(typed) == pytest.approx(kg)


def test_a_count_is_whole() -> None:
    parse, show = spelling_of("", "mm", whole=True)
    assert parse("12") == 12.0
    assert show(12.0) == "12"
    for typed in ("2.5", "nan", "two"):
        with pytest.raises(BadValue):
            parse(typed)


def test_lists_of_whole_numbers() -> None:
    assert whole_numbers("7, 5 6;5") == (5, 6, 7)
    for typed in ("", "5.5", "5, x", "-1", "5,", "1234567890"):
        with pytest.raises(BadValue, match="no list of numbers"):
            whole_numbers(typed)


@pytest.mark.parametrize(
    ("rule", "system", "shown"),
    [
        (Range(60, 600, "mm", "Lever"), "mm", "60 to 600 mm"),
        (Range(25.4, 254, "mm", "Lever"), "in", "1 to 10 in"),
        (Range(-30, 30, "deg", "Lean"), "in", "\u221230 to 30\u00b0"),
        (Range(1, 40, "", "Notches"), "mm", "1 to 40"),
    ],
)
def test_what_a_range_takes(rule: Range, system: str, shown: str) -> None:
    assert numbers_of(rule, system) == shown  # type: ignore[arg-type]


def test_small_distances_keep_their_digits() -> None:
    """0.254 mm are ten thousandths of an inch, 25.4 mm to the inch."""
    assert show_small(0.254, "mm") == "0.3"
    assert show_small(0.254, "mm", digits=2) == "0.25"
    assert show_small(0.254, "in") == "0.01"
