"""Layouts made up by hypothesis from the dataclasses themselves: whatever a field takes, it gets.

A new field, item or rule joins by being there. Values that a rule between fields refuses are dropped.
"""

import dataclasses
import json
import types
import typing
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from floorpan.driver import Person, filled
from floorpan.errors import BadValue
from floorpan.fields import Choice, Range, Rule, Text, rules
from floorpan.frames import Pose
from floorpan.items import MeshPart
from floorpan.layout import Layout, Unknown

T = TypeVar("T")

_FAR_MM = 5000.0
_SHORT = 12
# What no text or number made up at random would be.
_RULED: dict[tuple[type[Any], str], st.SearchStrategy[Any]] = {
    (MeshPart, "sha256"): st.text("0123456789abcdef", min_size=64, max_size=64),
    (MeshPart, "sides_in_file"): st.tuples(*[st.floats(0.1, 9.0)] * 3),
}


def layouts() -> st.SearchStrategy[Layout]:
    """Layouts as they can stand in a project: every id once, people in seats that are there."""
    return _built(Layout, leave_out=frozenset({"unknown", "last_number"})).map(_made_whole)


def _of_one_body(person: Person) -> Person:
    """The same where what was taped goes together, as every edit sees to; else taped whole."""
    try:
        filled(person)
    except BadValue:
        return dataclasses.replace(person, not_taped=())
    return person


def _made_whole(layout: Layout) -> Layout:
    """Fresh ids everywhere, a seat for everyone, a remembered last number of every kind."""
    numbers: dict[str, int] = {}

    def named(kind: str) -> str:
        numbers[kind] = numbers.get(kind, 0) + 1
        return f"{kind}-{numbers[kind]}"

    def renamed(held: tuple[Any, ...]) -> tuple[Any, ...]:
        return tuple(
            dataclasses.replace(one, id=named(type(one).__name__.lower()), **_loose(one)) for one in held
        )

    seats = renamed(layout.seats)
    people = tuple(
        _of_one_body(dataclasses.replace(one, id=named(one.role), seat_id=seats[0].id, notches_used=(1,)))
        for one in (layout.people if seats else ())
    )
    scans = tuple(
        dataclasses.replace(
            one, areas=tuple(dataclasses.replace(area, id=named(f"{one.id}.area")) for area in one.areas)
        )
        for one in renamed(layout.scans)
    )
    return dataclasses.replace(
        layout,
        scans=scans,
        seats=seats,
        people=people,
        items=renamed(layout.items),
        consoles=renamed(layout.consoles),
        unknown=tuple(_lamp(named("lamp")) for _ in layout.absent),
        last_number=tuple(sorted(numbers.items())),
    )


def _lamp(id: str) -> Unknown:
    """A thing of a kind that this version does not know."""
    entry = {"kind": "lamp", "id": id, "name": "Lämpchen", "lens": {"tint": [0.5, None, True]}}
    return Unknown(
        id=id, kind="lamp", name="Lämpchen", extra=json.dumps({"items": entry}, ensure_ascii=False)
    )


def _loose(thing: Any) -> dict[str, str]:
    return {name: "" for name in ("stands_in", "seat_id") if hasattr(thing, name)}


def _built(model: type[T], leave_out: frozenset[str] = frozenset()) -> st.SearchStrategy[T]:
    """Values of a dataclass: any fields that have a default may keep it, so that rules between fields hold often."""
    hints = get_type_hints(model, include_extras=True)
    checked = rules(model)
    needed, free = {}, {}
    for one in dataclasses.fields(model):  # type: ignore[arg-type]
        if one.name in leave_out or not one.init:
            continue
        ruled = _RULED.get((model, one.name))
        values = _values(hints[one.name], checked.get(one.name)) if ruled is None else ruled
        has_default = (one.default, one.default_factory) != (dataclasses.MISSING, dataclasses.MISSING)
        (free if has_default else needed)[one.name] = values
    return st.fixed_dictionaries(needed, optional=free).map(lambda given: _tried(model, given)).filter(bool)  # type: ignore[return-value]


def _tried(model: type[T], given: dict[str, Any]) -> T | None:
    try:
        return model(**given)
    except BadValue:
        return None


def _values(hint: Any, rule: Rule | None) -> st.SearchStrategy[Any]:
    origin, inner = get_origin(hint), get_args(hint)
    if origin is typing.Annotated:
        return _values(inner[0], rule)
    if hint is Pose:
        return _poses()
    if dataclasses.is_dataclass(hint):
        return _built(typing.cast(type[Any], hint))
    if origin is Literal:
        return st.sampled_from(inner)
    if origin in (Union, types.UnionType):
        return st.one_of(*(st.none() if one is types.NoneType else _values(one, rule) for one in inner))
    if origin is tuple and inner[-1] is Ellipsis:
        return st.lists(_values(inner[0], rule), max_size=3).map(tuple)
    if origin is tuple:
        return st.tuples(*(_values(one, rule) for one in inner))
    return _plain(hint, rule)


def _plain(hint: Any, rule: Rule | None) -> st.SearchStrategy[Any]:
    if isinstance(rule, Choice):
        return st.sampled_from(rule.words)
    if hint is bool:
        return st.booleans()
    if hint is int:
        least, most = (int(rule.least), int(rule.most)) if isinstance(rule, Range) else (-1000, 1000)
        return st.integers(least, most)
    if hint is float:
        least_mm, most_mm = (rule.least, rule.most) if isinstance(rule, Range) else (-_FAR_MM, _FAR_MM)
        return st.floats(least_mm, most_mm)
    assert hint is str, hint
    longest = min(rule.longest, _SHORT) if isinstance(rule, Text) else _SHORT
    return st.text(st.characters(exclude_categories=("Cc", "Cs")), max_size=longest)


def _poses() -> st.SearchStrategy[Pose]:
    near = st.floats(-_FAR_MM, _FAR_MM)
    return st.builds(
        lambda axis, angle_deg, at_mm: Pose.turned(axis, angle_deg, at_mm),
        st.sampled_from([(0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (0.6, 0.0, 0.8)]),
        st.floats(-180, 180),
        st.tuples(near, near, near),
    )
