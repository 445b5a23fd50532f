"""Lengths as people write them, millimetres as the core keeps them.

The only place in floorpan that knows how long an inch is. 25.4 mm exactly: international inch of 1959.
"""

import math
import re
from fractions import Fraction
from typing import Literal

from floorpan.errors import BadValue, NotALength

System = Literal["mm", "in"]

MM_PER: dict[str, float] = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}

MINUS = "\u2212"
THIN = "\u2009"
FRACTION = "\u2044"

_SUFFIX = re.compile(r"(mm|cm|m|in|ft|inch|inches|\"|''|\u2033|')?$")
_WORDS = {"inch": "in", "inches": "in", '"': "in", "''": "in", "\u2033": "in", "'": "ft"}
_DECIMAL = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?$", re.IGNORECASE)
_MIXED = re.compile(r"(?P<sign>[+-]?)((?P<whole>\d+)[ -])?(?P<top>\d+)/(?P<bottom>\d+)$")
_VULGAR = {"\u00bd": "1/2", "\u00bc": "1/4", "\u00be": "3/4", "\u215b": "1/8", "\u215c": "3/8"}
_VULGAR |= {"\u215d": "5/8", "\u215e": "7/8"}


def mm_per(unit: str) -> float:
    """Millimetres in one `unit` (mm, cm, m, in, ft)."""
    try:
        return MM_PER[unit]
    except KeyError:
        raise BadValue(
            "unit-unknown", f"\u201c{unit}\u201d is no unit here.", "Use mm, cm, m, in or ft.", unit=unit
        ) from None


def parse_length(text: str, system: System = "mm") -> float:
    """Millimetres from what somebody typed: `89`, `89 mm`, `3,5`, `3 1/2 in`, `3 1/2`.

    A number without a unit is in the shown system. Raises NotALength.
    """
    number, unit = _split(_plain(text), system)
    value = _number(number)
    if value is None or not math.isfinite(value):
        raise NotALength(
            "not-a-length",
            f"\u201c{text.strip()}\u201d is not a length." if text.strip() else "Nothing is typed here.",
            "Try 3 1/2 in, 89 or 89 mm.",
            text=text,
        )
    return value * MM_PER[unit]


def _plain(text: str) -> str:
    plain = text.strip().replace(MINUS, "-").replace(THIN, " ").replace(FRACTION, "/").replace("\u00a0", " ")
    for sign, ascii_form in _VULGAR.items():
        plain = plain.replace(sign, " " + ascii_form)
    return re.sub(r"\s+", " ", plain).strip().lower()


def _split(plain: str, system: System) -> tuple[str, str]:
    match = _SUFFIX.search(plain)
    word = match.group(1) if match else None
    if not word:
        return plain, system
    return plain[: -len(word)].strip(), _WORDS.get(word, word)


def _number(text: str) -> float | None:
    if _DECIMAL.match(text):
        return float(text.replace(",", "."))
    mixed = _MIXED.match(text)
    if mixed is None or int(mixed["bottom"]) == 0:
        return None
    size = Fraction(int(mixed["top"]), int(mixed["bottom"])) + int(mixed["whole"] or 0)
    return float(-size if mixed["sign"] == "-" else size)


def show_length(
    mm: float, system: System = "mm", *, digits: int = 1, parts: int = 16, with_unit: bool = False
) -> str:
    """A length for people; `digits` decimals in mm, `parts` to the inch in inches."""
    if not math.isfinite(mm):
        raise BadValue("not-finite", "A length is a finite number.", "Type it again.", value=mm)
    if system == "mm":
        shown = show_number(mm, digits)
        return f"{shown} mm" if with_unit else shown
    shown = _show_inches(mm, parts)
    return f"{shown} in" if with_unit else shown


def show_number(value: float, digits: int = 1) -> str:
    """A number with a true minus, thin spaces in thousands and no trailing zeros."""
    text = f"{abs(value):,.{digits}f}".replace(",", THIN)
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{MINUS}{text}" if value < 0 and text.strip("0.") else text


def _show_inches(mm: float, parts: int) -> str:
    steps = round(abs(mm) / MM_PER["in"] * parts)
    whole, rest = divmod(steps, parts)
    sign = MINUS if mm < 0 and steps else ""
    if not rest:
        return f"{sign}{whole}"
    part = Fraction(rest, parts)
    shown = f"{part.numerator}{FRACTION}{part.denominator}"
    return f"{sign}{whole}{THIN}{shown}" if whole else f"{sign}{shown}"
