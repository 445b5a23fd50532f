"""JSON as floorpan reads and writes it: finite numbers, no key twice, a bounded depth, whole characters."""

import json
import math
from typing import Any

from floorpan.errors import ProjectDamaged

Json = None | bool | int | float | str | list[Any] | dict[str, Any]

DEEPEST = 64
LONGEST_BYTES = 64 * 1024 * 1024
_MOST_DIGITS = 300
_MEND = "Mend it by hand, or open an earlier save: project.json.bak or a kept version."


def parse(text: bytes, source: str) -> Json:
    """The value of a JSON text in UTF-8; raises ProjectDamaged, which names `source` and the place."""
    if len(text) > LONGEST_BYTES:
        raise damaged(source, f"{len(text)} bytes are more than any layout has", bytes=len(text))
    try:
        value: Json = json.loads(
            text.decode("utf-8-sig"),
            parse_constant=_refuse_constant,
            parse_float=_finite,
            parse_int=_whole,
            object_pairs_hook=_each_once,
        )
        _check_tree(value)
    except json.JSONDecodeError as fault:
        place = f"line {fault.lineno}, column {fault.colno}"
        raise damaged(
            source, f"it stops making sense at {place}", line=fault.lineno, column=fault.colno
        ) from fault
    except RecursionError as fault:
        raise damaged(source, f"it is nested deeper than {DEEPEST} levels") from fault
    except UnicodeDecodeError as fault:
        raise damaged(source, f"byte {fault.start} is no text", byte=fault.start) from fault
    except ValueError as fault:
        raise damaged(source, str(fault)) from fault
    return value


def print_json(value: Json) -> bytes:
    """UTF-8 text, indented by two, keys in the order given; raises ValueError for NaN and half characters."""
    return (json.dumps(value, ensure_ascii=False, allow_nan=False, indent=2) + "\n").encode("utf-8")


def damaged(source: str, what: str, **facts: object) -> ProjectDamaged:
    """What is raised for a text that cannot be read back."""
    return ProjectDamaged(
        "project-damaged", f"{source} cannot be read: {what}.", _MEND, source=source, **facts
    )


def _refuse_constant(word: str) -> Json:
    raise ValueError(f"{word} is not a number")


def _finite(digits: str) -> float:
    value = float(digits)
    if not math.isfinite(value):
        raise ValueError(f"{digits[:40]} is not a number")
    return value


def _whole(digits: str) -> int:
    if len(digits) > _MOST_DIGITS:
        raise ValueError(f"a number of {len(digits)} digits stands in it")
    return int(digits)


def _each_once(pairs: list[tuple[str, Json]]) -> dict[str, Json]:
    held = dict(pairs)
    if len(held) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise ValueError(f"the key {twice[:40]!r} stands twice in one place")
    return held


def _check_tree(value: Json) -> None:
    """Raise ValueError where a text holds half a character or the tree is too deep to be printed again."""
    level: list[Json] = [value]
    for _ in range(DEEPEST):
        below: list[Json] = []
        for one in level:
            if isinstance(one, str):
                _check_text(one)
            elif isinstance(one, list):
                below.extend(one)
            elif isinstance(one, dict):
                for key in one:
                    _check_text(key)
                below.extend(one.values())
        if not below:
            return
        level = below
    raise ValueError(f"it is nested deeper than {DEEPEST} levels")


def _check_text(text: str) -> None:
    if any("\ud800" <= sign <= "\udfff" for sign in text):
        raise ValueError("a text holds half a character")
