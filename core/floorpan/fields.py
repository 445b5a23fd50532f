"""What a field takes, hung on a dataclass field by `Annotated`: one truth for validation, forms and reports."""

import dataclasses
import functools
import math
import typing
from dataclasses import dataclass
from typing import Any

from floorpan.errors import BadValue


@dataclass(frozen=True, slots=True)
class Range:
    """A finite number from `least` to `most` in `unit` (mm, deg, g, kg, n, or empty for a count)."""

    least: float
    most: float
    unit: str
    label: str
    help: str = ""

    def check(self, value: object) -> None:
        """Raise BadValue unless value is a finite number inside the range."""
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            raise BadValue("not-finite", f"{self.label}: {value} is not a number.", "Type a plain number.")
        if not self.least <= value <= self.most:
            span = f"{self.least:g} to {self.most:g}{' ' + self.unit if self.unit else ''}"
            raise BadValue(
                "out-of-range",
                f"{self.label} is {span}; {value:g} is outside.",
                f"Type a value from {span}.",
                least=self.least,
                most=self.most,
                value=value,
                unit=self.unit,
                label=self.label,
            )


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few words."""

    words: tuple[str, ...]
    label: str
    help: str = ""

    def check(self, value: object) -> None:
        """Raise BadValue unless value is one of the words."""
        if value not in self.words:
            raise BadValue(
                "not-a-choice", f"{self.label}: {value!r} is not known here.", f"Use {', '.join(self.words)}."
            )


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text up to `longest` characters."""

    longest: int
    label: str
    help: str = ""

    def check(self, value: object) -> None:
        """Raise BadValue unless value is a string that fits and holds no control characters."""
        if not isinstance(value, str) or len(value) > self.longest or any(ord(c) < 32 for c in value):
            raise BadValue(
                "not-a-text", f"{self.label}: one line of {self.longest} characters at most.", "Shorten it."
            )


Rule = Range | Choice | Text


@functools.cache
def rules(model: Any) -> dict[str, Rule]:
    """Field name to rule for a dataclass whose fields carry one by `Annotated`."""
    hints = typing.get_type_hints(model, include_extras=True)
    found: dict[str, Rule] = {}
    for field in dataclasses.fields(model):
        for mark in getattr(hints[field.name], "__metadata__", ()):
            if isinstance(mark, Range | Choice | Text):
                found[field.name] = mark
    return found


def check_fields(value: Any) -> None:
    """Raise BadValue at the first field of a dataclass value that breaks its rule.

    Tuples are checked element by element; None is let through where the field says so by its default.
    """
    for name, rule in rules(value.__class__).items():
        held = getattr(value, name)
        for one in held if isinstance(held, tuple) else (held,):
            if one is not None:
                rule.check(one)
