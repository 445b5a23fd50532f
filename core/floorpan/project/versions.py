"""Layouts kept under a name, beside the project's own."""

import math
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from floorpan.errors import BadValue, FloorpanError, NotSaved, ProjectProblem
from floorpan.layout import Layout
from floorpan.project.document import Document, parse_document
from floorpan.project.durable import leads_out, read_inside, saving
from floorpan.project.folder import Project, write_document
from floorpan.project.slugs import slug
from floorpan.project.strict_json import LONGEST_BYTES

VERSIONS = "versions"

_LONGEST_NAME = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """A kept layout. fault : why it cannot be read, "" where it can."""

    path: Path
    name: str
    saved: datetime | None
    fault: str = ""


def save_version(
    project: Project, layout: Layout, name: str, *, now: datetime | None = None, replace: bool = False
) -> Version:
    """Keep a layout under a name, which is written into the file as it was typed.

    Raises BadValue for a name that is empty, too long or already kept (unless replace); NotSaved.
    """
    project.check_writable()
    called = " ".join(name.split())
    if not called or len(called) > _LONGEST_NAME or not called.isprintable():
        raise BadValue(
            "version-name", f"A version's name has 1 to {_LONGEST_NAME} characters.", "Type a name for it."
        )
    path = project.folder / VERSIONS / f"{slug(called)}.json"
    if path.exists() and not replace:
        raise BadValue(
            "version-kept", f"A version {called} is kept already.", "Type another name.", path=str(path)
        )
    with saving(path.parent):
        path.parent.mkdir(exist_ok=True)
    if leads_out(project.folder, path.parent):
        raise NotSaved("leads-outside", f"{VERSIONS} is a link.", "Put a folder of that name there.")
    document = project.document(layout, now, called)
    write_document(path, document)
    return Version(path=path, name=called, saved=document.saved)


def versions(project: Project) -> tuple[Version, ...]:
    """Every kept layout, oldest first; those that cannot be read come last, with why."""
    found = []
    for path in sorted((project.folder / VERSIONS).glob("*.json")):
        try:
            document = _read(project, path)
        except FloorpanError as fault:
            found.append(Version(path=path, name=path.stem, saved=None, fault=fault.what))
        else:
            found.append(Version(path=path, name=document.name or path.stem, saved=document.saved))
    return tuple(sorted(found, key=_by_age))


def open_version(project: Project, path: Path) -> Layout:
    """The layout of a kept version; raises ProjectProblem where there is none, or as `open_project`."""
    return _read(project, project.folder / VERSIONS / path.name).layout


def _by_age(one: Version) -> tuple[float, str]:
    return (math.inf if one.saved is None else one.saved.timestamp()), one.name


def _read(project: Project, path: Path) -> Document:
    text = read_inside(project.folder, path, LONGEST_BYTES)
    if text is None:
        raise ProjectProblem("no-version", f"There is no version {path.stem}.", "Pick one from the list.")
    return parse_document(text, f"{VERSIONS}/{path.name}")
