"""A layout that somebody edited by hand, badly: it opens whole or is refused with its place, and nothing else."""

import copy
from collections.abc import Iterator
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from core.report import made_up
from floorpan.errors import ProjectDamaged
from floorpan.layout import Layout
from floorpan.project.codec import read_layout, write_layout
from floorpan.project.strict_json import parse, print_json
from floorpan.project.typed_json import Reading

WHOLE: Any = parse(print_json(write_layout(made_up.layout(), {})), "project.json")

hostile = st.one_of(
    st.none(),
    st.booleans(),
    st.sampled_from(
        [0, -1, 1, 10**300, -(10**300), 10**20, 0.0, -0.0, 5e-324, 1e-300, 1.7e308, -1.7e308, 1e16]
    ),
    st.integers(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.sampled_from(["", "seat-1", "scan-1", "left", "x" * 1000, "\x00", "\u202e", "NaN"]),
    st.text(max_size=5),
    st.sampled_from(
        [[], {}, [[]], [0, 0, 0], [1e308] * 3, [[0, 0], [0, 0]], {"kind": "x"}, {"id": "seat-1"}]
    ),
    st.lists(st.floats(-1e308, 1e308), max_size=9),
)


def spots(value: Any, way: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to every value inside a value."""
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, one in inside:
        yield (*way, key)
        yield from spots(one, (*way, key))


WAYS = list(spots(WHOLE))


@given(st.lists(st.tuples(st.sampled_from(WAYS), hostile), min_size=1, max_size=3))
def test_a_layout_edited_badly_opens_whole_or_is_refused(changes: list[tuple[tuple[Any, ...], Any]]) -> None:
    edited = copy.deepcopy(WHOLE)
    for way, value in changes:
        held = edited
        for key in way[:-1]:
            held = held[key] if isinstance(held, dict) and key in held else _at(held, key)
        _put(held, way[-1], value)
    reading = Reading("project.json")
    try:
        layout = read_layout(edited, reading)
    except ProjectDamaged:
        return
    assert isinstance(layout, Layout)
    again = read_layout(parse(print_json(write_layout(layout, reading.extra)), "again"), Reading("again"))
    assert again == layout


def _at(held: Any, key: Any) -> Any:
    """What an earlier change has left at a key; nothing to go into where it left none."""
    return held[key] if isinstance(held, list) and isinstance(key, int) and key < len(held) else {}


def _put(held: Any, key: Any, value: Any) -> None:
    if isinstance(held, dict) or (isinstance(held, list) and isinstance(key, int) and key < len(held)):
        held[key] = value
