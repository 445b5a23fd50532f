"""How each type of a frozen dataclass is written as JSON and read back: one small class a type.

A shape is found from the type hints alone, so a new field or a new dataclass needs no line here. Unknown keys
of a dataclass go into a side table under the address of their value and come back from it.
"""

import dataclasses
import functools
import hashlib
import json
import math
import types
import typing
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, Protocol, Union

from floorpan.errors import BadValue, FloorpanError
from floorpan.project.strict_json import Json, damaged

Address = tuple[str, ...]
Extra = Mapping[Address, Mapping[str, Json]]
Kinds = Mapping[str, type]

KIND = "kind"
# What an element of a list is known by, whatever its place in the list.
_NAMED_BY = "id"


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a value stands: `place` for people (`layout.items[2].lever_mm`), `address` for the side table."""

    place: str
    address: Address = ()

    def key(self, name: str) -> "Spot":
        """The spot of a key of the value here."""
        return Spot(f"{self.place}.{name}" if self.place else name, (*self.address, name))

    def element(self, index: int, label: str) -> "Spot":
        """The spot of an element of the list here."""
        return Spot(f"{self.place}[{index}]", (*self.address, label))


@dataclass(slots=True)
class Reading:
    """One pass over a document: what is being read, and what was found on the way.

    extra   : unknown keys by address
    strange : entries of a kind nobody knows, with the key of the list they stood in
    """

    source: str
    extra: dict[Address, dict[str, Json]] = field(default_factory=dict)
    strange: list[tuple[str, dict[str, Json]]] = field(default_factory=list)

    def refuse(self, spot: Spot, what: str) -> FloorpanError:
        """What is raised for a value that does not fit its spot."""
        return damaged(f"{self.source}, at {spot.place or 'its top'},", what, place=spot.place)


class Shape(Protocol):
    """Writes and reads the values of one type."""

    def write(self, value: Any, spot: Spot, extra: Extra) -> Json:
        """The value as JSON, with what the side table holds for it; raises BadValue for NaN and infinity."""
        ...

    def read(self, value: Json, spot: Spot, reading: Reading) -> Any:
        """The value of a JSON text; raises ProjectDamaged with the place."""
        ...


class Number:
    """A finite float."""

    def write(self, value: Any, spot: Spot, extra: Extra) -> Json:
        number = float(value)
        if not math.isfinite(number):
            raise BadValue("not-finite", f"{spot.place}: {number} is not a number.", "Type a plain number.")
        return number

    def read(self, value: Json, spot: Spot, reading: Reading) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise reading.refuse(spot, f"a number belongs there, not {_called(value)}")
        try:
            return float(value)
        except OverflowError:
            raise reading.refuse(spot, "the number is too large") from None


class Whole:
    """An int."""

    def write(self, value: Any, spot: Spot, extra: Extra) -> Json:
        return int(value)

    def read(self, value: Json, spot: Spot, reading: Reading) -> int:
        if isinstance(value, bool) or not isinstance(value, int):
            raise reading.refuse(spot, f"a whole number belongs there, not {_called(value)}")
        return value


class Flag:
    """A bool."""

    def write(self, value: Any, spot: Spot, extra: Extra) -> Json:
        return bool(value)

    def read(self, value: Json, spot: Spot, reading: Reading) -> bool:
        if not isinstance(value, bool):
            raise reading.refuse(spot, f"true or false belongs there, not {_called(value)}")
        return value


class Words:
    """A str."""

    def write(self, value: Any, spot: Spot, extra: Extra) -> Json:
        return str(value)

    def read(self, value: Json, spot: Spot, reading: Reading) -> str:
        if not isinstance(value, str):
            raise reading.refuse(spot, f"a text belongs there, not {_called(value)}")
        return value


@dataclass(frozen=True)
class OneOf:
    """A Literal of texts or whole numbers."""

    values: tuple[str | int, ...]

    def write(self, value: Any, spot: Spot, extra: Extra) -> Json:
        return value  # type: ignore[no-any-return]

    def read(self, value: Json, spot: Spot, reading: Reading) -> str | int:
        for one in self.values:
            if value == one and type(value) is type(one):
                return one
        raise reading.refuse(
            spot, f"{_called(value)} is not known there; use {', '.join(map(str, self.values))}"
        )


@dataclass(frozen=True)
class Maybe:
    """Something or None."""

    inner: Shape

    def write(self, value: Any, spot: Spot, extra: Extra) -> Json:
        return None if value is None else self.inner.write(value, spot, extra)

    def read(self, value: Json, spot: Spot, reading: Reading) -> Any:
        return None if value is None else self.inner.read(value, spot, reading)


@dataclass(frozen=True)
class Fixed:
    """A tuple of so many elements, each with its type."""

    inner: tuple[Shape, ...]

    def write(self, value: Any, spot: Spot, extra: Extra) -> Json:
        return [
            shape.write(one, spot.element(index, str(index)), extra)
            for index, (shape, one) in enumerate(zip(self.inner, value, strict=True))
        ]

    def read(self, value: Json, spot: Spot, reading: Reading) -> tuple[Any, ...]:
        if not isinstance(value, list) or len(value) != len(self.inner):
            raise reading.refuse(spot, f"a list of {len(self.inner)} belongs there, not {_called(value)}")
        return tuple(
            shape.read(one, spot.element(index, str(index)), reading)
            for index, (shape, one) in enumerate(zip(self.inner, value, strict=True))
        )


@dataclass(frozen=True)
class Many:
    """A tuple of any length. Elements are known by their id, or by their content where they have none."""

    inner: Shape

    def write(self, value: Any, spot: Spot, extra: Extra) -> Json:
        return [self._write_one(one, index, spot, extra) for index, one in enumerate(value)]

    def _write_one(self, value: Any, index: int, spot: Spot, extra: Extra) -> Json:
        plain = self.inner.write(value, spot.element(index, ""), {})
        if not extra or not isinstance(plain, dict | list):
            return plain
        return self.inner.write(value, spot.element(index, _label(plain)), extra)

    def read(self, value: Json, spot: Spot, reading: Reading) -> tuple[Any, ...]:
        if not isinstance(value, list):
            raise reading.refuse(spot, f"a list belongs there, not {_called(value)}")
        found = []
        for index, one in enumerate(value):
            if isinstance(self.inner, Record | AnyOf) and self.inner.is_strange(one):
                reading.strange.append((spot.address[-1], typing.cast(dict[str, Json], one)))
            else:
                found.append(self._read_one(one, index, spot, reading))
        return tuple(found)

    def _read_one(self, value: Json, index: int, spot: Spot, reading: Reading) -> Any:
        inside = Reading(reading.source)
        here = Spot(spot.element(index, "").place)
        read = self.inner.read(value, here, inside)
        if inside.extra:
            address = spot.element(index, _label(self.inner.write(read, here, {}))).address
            for below, keys in inside.extra.items():
                reading.extra.setdefault((*address, *below), {}).update(keys)
        reading.strange.extend(inside.strange)
        return read


@dataclass(frozen=True)
class Record:
    """A dataclass. `kind` is written first where it has one."""

    model: type
    kind: str | None
    kinds: tuple[str, ...]
    fields: Mapping[str, Shape]

    def is_strange(self, value: Json) -> bool:
        """Whether this is an entry of a kind that nobody knows, where entries carry their kind."""
        return self.kind is not None and _names_strange_kind(value, self.kinds)

    def write(self, value: Any, spot: Spot, extra: Extra) -> Json:
        written: dict[str, Json] = {KIND: self.kind} if self.kind else {}
        for name, shape in self.fields.items():
            written[name] = shape.write(getattr(value, name), spot.key(name), extra)
        for name, kept in extra.get(spot.address, {}).items():
            written.setdefault(name, kept)
        return written

    def read(self, value: Json, spot: Spot, reading: Reading) -> Any:
        if not isinstance(value, dict):
            raise reading.refuse(spot, f"a group of named values belongs there, not {_called(value)}")
        if self.kind is not None and value.get(KIND, self.kind) != self.kind:
            raise reading.refuse(spot, f"a {self.kind} belongs there, not {_called(value[KIND])}")
        given = {
            name: s.read(value[name], spot.key(name), reading)
            for name, s in self.fields.items()
            if name in value
        }
        known = {*self.fields, KIND} if self.kind else set(self.fields)
        unknown = {name: kept for name, kept in value.items() if name not in known}
        if unknown:
            reading.extra[spot.address] = unknown
        for one in dataclasses.fields(self.model):
            if one.name in self.fields and one.name not in given and _is_required(one):
                raise reading.refuse(spot, f"{one.name} is missing")
        try:
            return self.model(**given)
        except FloorpanError as bad:
            raise reading.refuse(spot, bad.what.rstrip(".")) from bad


@dataclass(frozen=True)
class AnyOf:
    """One of several dataclasses, told apart by `kind`."""

    records: tuple[Record, ...]

    def is_strange(self, value: Json) -> bool:
        """Whether this is an entry of a kind that nobody knows."""
        return _names_strange_kind(value, self.records[0].kinds)

    def write(self, value: Any, spot: Spot, extra: Extra) -> Json:
        return next(r for r in self.records if type(value) is r.model).write(value, spot, extra)

    def read(self, value: Json, spot: Spot, reading: Reading) -> Any:
        kind = value.get(KIND) if isinstance(value, dict) else None
        for record in self.records:
            if record.kind == kind:
                return record.read(value, spot, reading)
        known = ", ".join(str(record.kind) for record in self.records)
        raise reading.refuse(spot, f"its kind must be one of {known}, not {_called(kind)}")


def shape_of(hint: Any, kinds: Kinds, *, leave_out: frozenset[str] = frozenset()) -> Shape:
    """The shape of a type hint; raises TypeError for a type that has no place in a saved value.

    leave_out : fields of this very dataclass that are not written
    """
    plain: dict[Any, Shape] = {float: Number(), int: Whole(), bool: Flag(), str: Words()}
    if hint in plain:
        return plain[hint]
    if dataclasses.is_dataclass(hint):
        return _record(typing.cast(type, hint), kinds, leave_out)
    origin, inner = typing.get_origin(hint), typing.get_args(hint)
    if origin is Literal:
        return OneOf(inner)
    if origin is tuple and len(inner) == 2 and inner[1] is Ellipsis:
        return Many(shape_of(inner[0], kinds))
    if origin is tuple:
        return Fixed(tuple(shape_of(one, kinds) for one in inner))
    if origin in (Union, types.UnionType):
        return _either(tuple(one for one in inner if one is not types.NoneType), inner, kinds)
    raise TypeError(f"{hint} has no place in a saved value")


def _either(held: tuple[Any, ...], given: tuple[Any, ...], kinds: Kinds) -> Shape:
    shapes = tuple(shape_of(one, kinds) for one in held)
    either: Shape = shapes[0]
    if set(held) == {int, float}:
        either = Number()
    elif len(held) > 1:
        if not all(isinstance(one, Record) and one.kind for one in shapes):
            raise TypeError(f"{held} cannot be told apart in a saved value")
        either = AnyOf(typing.cast(tuple[Record, ...], shapes))
    return Maybe(either) if len(held) < len(given) else either


def _record(model: type, kinds: Kinds, leave_out: frozenset[str]) -> Record:
    hints = _hints(model)
    fields = {
        one.name: shape_of(hints[one.name], kinds)
        for one in dataclasses.fields(model)
        if one.init and one.name not in leave_out
    }
    kind = next((name for name, made in kinds.items() if made is model), None)
    if kind is not None and KIND in fields:
        raise TypeError(f"{model} has a field of its own called {KIND}")
    return Record(model, kind, tuple(kinds), fields)


@functools.cache
def _hints(model: type) -> dict[str, Any]:
    return typing.get_type_hints(model)


def _is_required(one: "dataclasses.Field[Any]") -> bool:
    return one.default is dataclasses.MISSING and one.default_factory is dataclasses.MISSING


def _names_strange_kind(value: Json, kinds: tuple[str, ...]) -> bool:
    return isinstance(value, dict) and isinstance(value.get(KIND), str) and value[KIND] not in kinds


def _label(written: Json) -> str:
    if isinstance(written, dict) and isinstance(written.get(_NAMED_BY), str):
        return typing.cast(str, written[_NAMED_BY])
    return "#" + hashlib.sha256(json.dumps(written).encode()).hexdigest()[:16]


def _called(value: Json) -> str:
    if isinstance(value, dict):
        return "a group of named values"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    return json.dumps(value)[:60]
