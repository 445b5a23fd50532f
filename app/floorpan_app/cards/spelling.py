"""How a field reads and writes its number: lengths in the shown unit, all else as a plain number."""

import math
import re
from collections.abc import Callable

from floorpan.errors import BadValue
from floorpan.fields import Range
from floorpan.units import FRACTION, MINUS, THIN, System, mm_per, parse_length, show_length, show_number

Spelling = tuple[Callable[[str], float], Callable[[float], str]]

_SIGNS = {"deg": "\u00b0", "percent": f"{THIN}%", "n": f"{THIN}N"}
_UNIT = re.compile(r"\s*(\u00b0|deg|degrees|%|percent|kg|g|n)$", re.IGNORECASE)
_GRAMS = re.compile(r"[\d.,\s]g$", re.IGNORECASE)
# A thin space stands between whole inches and a fraction too: that one stays.
_THOUSANDS = re.compile(rf"(?<=\d){THIN}(?=\d{{3}}(?![\d/{FRACTION}]))")


def spelling_of(unit: str, system: System, *, whole: bool = False) -> Spelling:
    """Reading and writing of numbers of a unit (mm, deg, percent, kg, g, or empty for a count)."""
    if unit == "mm":
        return lambda text: _length(text, system), lambda mm: show_length(mm, system, with_unit=True)
    digits = 0 if whole else 2 if unit in ("kg", "g") else 1
    sign = _SIGNS.get(unit, f"{THIN}{unit}" if unit else "")
    parse = _whole_number if whole else _kilograms if unit == "kg" else plain_number
    return parse, lambda value: f"{show_number(value, digits)}{sign}"


def numbers_of(rule: Range, system: System) -> str:
    """What a range takes, as `60 to 600 mm`."""
    if rule.unit == "mm":
        least, most = show_length(rule.least, system), show_length(rule.most, system, with_unit=True)
        return f"{least} to {most}"
    _, show = spelling_of(rule.unit, system)
    return f"{show_number(rule.least)} to {show(rule.most)}"


def show_small(mm: float, system: System, *, digits: int = 1) -> str:
    """A distance far under a sixteenth of an inch: mm with these digits, thousandths of an inch; without its unit."""
    return show_number(mm, digits) if system == "mm" else show_number(mm / mm_per("in"), 3)


def plain_number(text: str) -> float:
    """A plain number, decimal comma or point, with its unit or without; raises BadValue."""
    bare = _UNIT.sub("", text.strip().replace(MINUS, "-").replace(THIN, "")).replace(",", ".")
    try:
        value = float(bare)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        typed = text.strip()
        what = f"\u201c{typed}\u201d is not a number." if typed else "Nothing is typed here."
        raise BadValue("not-a-number", what, "Type a plain number.", text=text)
    return value


def whole_numbers(text: str) -> tuple[int, ...]:
    """Whole numbers with commas or spaces between, each once, in order; raises BadValue."""
    found = re.split(r"[\s,;]+", text.strip())
    if not all(re.fullmatch(r"\d{1,9}", one) for one in found):
        raise BadValue(
            "not-whole-numbers",
            f"\u201c{text.strip()}\u201d is no list of numbers.",
            "Type them with commas between, as 5, 6, 7.",
            text=text,
        )
    return tuple(sorted({int(one) for one in found}))


def _length(text: str, system: System) -> float:
    return parse_length(_THOUSANDS.sub("", text), system)


def _kilograms(text: str) -> float:
    value = plain_number(text)
    return value / 1000.0 if _GRAMS.search(text.strip()) else value


def _whole_number(text: str) -> float:
    value = plain_number(text)
    if not value.is_integer():
        raise BadValue("not-whole", f"{text.strip()} is no whole number.", "Type a whole number.", text=text)
    return value
