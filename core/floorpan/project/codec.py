"""A layout as JSON and back, with whatever a newer hand wrote into it kept."""

import functools
import json
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import cast

from floorpan.driver import filled
from floorpan.errors import BadValue
from floorpan.items import CupHolder
from floorpan.layout import KINDS, Layout, Unknown
from floorpan.project.strict_json import Json
from floorpan.project.typed_json import KIND, Extra, Kinds, Reading, Record, Spot, shape_of

LAYOUT = Spot("layout", ("layout",))


@functools.cache
def kinds() -> Kinds:
    """The word that stands for each placed dataclass in a saved layout."""
    return {record.kind.replace(" ", "-"): record.model for record in KINDS}


@functools.cache
def _shape() -> Record:
    return cast(Record, shape_of(Layout, kinds(), leave_out=frozenset({"unknown"})))


def write_layout(layout: Layout, extra: Extra) -> dict[str, Json]:
    """A layout as JSON, keys in the order of its fields.

    extra : unknown keys by address, as `read_layout` found them; those of things that are gone stay out
    Entries of unknown kinds go back into the list they came from, after the known ones.
    Raises BadValue for a number that is not finite.
    """
    written = cast(dict[str, Json], _shape().write(layout, LAYOUT, extra))
    for unknown in layout.unknown:
        for slot, entry in json.loads(unknown.extra).items():
            cast(list[Json], written[slot]).append(entry)
    return written


def read_layout(value: Json, reading: Reading) -> Layout:
    """The layout of a JSON value; unknown keys are left in `reading.extra`.

    Raises ProjectDamaged with the place of whatever does not fit.
    """
    layout = cast(Layout, _shape().read(value, LAYOUT, reading))
    unknown = tuple(_unknown(slot, entry) for slot, entry in reading.strange)
    layout = replace(layout, unknown=unknown)
    _check_whole(layout, reading)
    return replace(layout, last_number=_numbers_used(layout))


def _unknown(slot: str, entry: dict[str, Json]) -> Unknown:
    kind = str(entry[KIND])
    id, name = entry.get("id"), entry.get("name")
    return Unknown(
        id=id if isinstance(id, str) else "",
        kind=kind,
        name=name if isinstance(name, str) else kind,
        extra=json.dumps({slot: entry}, ensure_ascii=False),
    )


def _check_whole(layout: Layout, reading: Reading) -> None:
    """Raise ProjectDamaged where two things share an id, or one leans on another that is not there."""
    for id, times in Counter(_ids(layout)).items():
        if times > 1:
            raise reading.refuse(LAYOUT, f"the id {id} stands {times} times in it")
    seats = {seat.id: seat for seat in layout.seats}
    for index, person in enumerate(layout.people):
        here = LAYOUT.key("people").element(index, person.id)
        if person.seat_id not in seats:
            raise reading.refuse(here.key("seat_id"), f"there is no seat {person.seat_id}")
        if not all(1 <= notch <= seats[person.seat_id].notches for notch in person.notches_used):
            raise reading.refuse(here.key("notches_used"), f"{person.seat_id} has no such notch")
        try:
            filled(person)
        except BadValue as fault:
            raise reading.refuse(here.key("sizes"), fault.what.rstrip(".")) from None
    holders = {holder.id for holder in layout.of(CupHolder)}
    for index, item in enumerate(layout.items):
        holder = getattr(item, "stands_in", "")
        if holder and holder not in holders:
            here = LAYOUT.key("items").element(index, item.id)
            raise reading.refuse(here.key("stands_in"), f"there is no cup holder {holder}")
        seat = getattr(item, "seat_id", "")
        if seat and seat not in seats:
            here = LAYOUT.key("items").element(index, item.id)
            raise reading.refuse(here.key("seat_id"), f"there is no seat {seat}")


def _ids(layout: Layout) -> Iterator[str]:
    yield from (scan.id for scan in layout.scans)
    yield from (area.id for scan in layout.scans for area in scan.areas)
    yield from (person.id for person in layout.people)
    yield from (thing.id for thing in layout.things())
    yield from (unknown.id for unknown in layout.unknown if unknown.id)


def _numbers_used(layout: Layout) -> tuple[tuple[str, int], ...]:
    """The last number of each kind, so that a layout written by hand gets no id twice."""
    used = dict(layout.last_number)
    for kind, number in _numbered(_ids(layout)):
        used[kind] = max(used.get(kind, 0), number)
    return tuple(sorted(used.items()))


def _numbered(ids: Iterable[str]) -> Iterator[tuple[str, int]]:
    for id in ids:
        kind, _, number = id.rpartition("-")
        if kind and number.isascii() and number.isdigit() and len(number) < 10:
            yield kind, int(number)
