"""One saved layout as a text: what stands in project.json, in a version and in the autosave."""

import importlib.metadata
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import cast

from floorpan.layout import Layout
from floorpan.project.codec import read_layout, write_layout
from floorpan.project.imports import Import
from floorpan.project.migrations import FORMAT, migrate
from floorpan.project.strict_json import Json, damaged, parse, print_json
from floorpan.project.typed_json import Extra, Reading, Record, Spot, shape_of

_TOP = Spot("")
_IMPORT = cast(Record, shape_of(Import, {}))
_IMPORT_LESS_KEY = cast(Record, shape_of(Import, {}, leave_out=frozenset({"sha256"})))
_KEYS = ("format", "floorpan", "saved", "name", "layout", "imports")


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A layout with what it rests on.

    saved   : when it was written
    imports : the scan files of the project
    name    : what a kept version is called, else ""
    extra   : unknown keys by address; they survive a save
    """

    saved: datetime
    layout: Layout
    imports: tuple[Import, ...] = ()
    name: str = ""
    extra: Extra = field(default_factory=dict, compare=False)


def print_document(document: Document) -> bytes:
    """The text of a document; raises BadValue for what cannot be saved."""
    written: dict[str, Json] = {
        "format": FORMAT,
        "floorpan": importlib.metadata.version("floorpan"),
        "saved": document.saved.astimezone(UTC).isoformat(timespec="milliseconds"),
    }
    if document.name:
        written["name"] = document.name
    written["layout"] = write_layout(document.layout, document.extra)
    written["imports"] = {
        one.sha256: _IMPORT_LESS_KEY.write(one, _import_spot(one.sha256), document.extra)
        for one in document.imports
    }
    for key, kept in document.extra.get(_TOP.address, {}).items():
        written.setdefault(key, kept)
    return print_json(written)


def parse_document(text: bytes, source: str) -> Document:
    """The document of a text; `source` is the name of its file.

    Raises ProjectNewer for a later format, ProjectDamaged with the place of what does not fit.
    """
    found = migrate(parse(text, source), source)
    reading = Reading(source)
    layout = read_layout(found.get("layout"), reading)
    imports = _read_imports(found.get("imports", {}), reading)
    unknown = {key: kept for key, kept in found.items() if key not in _KEYS}
    if unknown:
        reading.extra[_TOP.address] = unknown
    return Document(
        saved=_time(found.get("saved"), source),
        layout=layout,
        imports=imports,
        name=str(found.get("name", "")),
        extra=reading.extra,
    )


def _read_imports(found: Json, reading: Reading) -> tuple[Import, ...]:
    if not isinstance(found, dict):
        raise reading.refuse(_TOP.key("imports"), "a group of named values belongs there")
    read = []
    for sha256, entry in found.items():
        spot = _import_spot(sha256)
        if not isinstance(entry, dict):
            raise reading.refuse(spot, "a group of named values belongs there")
        read.append(cast(Import, _IMPORT.read({**entry, "sha256": sha256}, spot, reading)))
    return tuple(read)


def _import_spot(sha256: str) -> Spot:
    return _TOP.key("imports").key(sha256)


def _time(found: Json, source: str) -> datetime:
    try:
        time = datetime.fromisoformat(cast(str, found))
    except (TypeError, ValueError) as fault:
        raise damaged(source, "it does not say when it was saved") from fault
    return time if time.tzinfo else time.replace(tzinfo=UTC)
