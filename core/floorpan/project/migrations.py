"""From the formats of old to the format of now, one step at a time."""

from collections.abc import Callable, Mapping
from typing import Any

from floorpan.errors import ProjectNewer
from floorpan.project.strict_json import Json, damaged

FORMAT = 1

Migration = Callable[[dict[str, Any]], dict[str, Any]]

# From this format to the next: the whole document in, the whole document with its new number out.
MIGRATIONS: Mapping[int, Migration] = {}


def migrate(
    document: Json, source: str, *, to: int = FORMAT, steps: Mapping[int, Migration] = MIGRATIONS
) -> dict[str, Any]:
    """A document in format `to`; raises ProjectNewer for a later one, ProjectDamaged where none leads
    there."""
    if not isinstance(document, dict):
        raise damaged(source, "it holds no project")
    found = document.get("format")
    if isinstance(found, bool) or not isinstance(found, int) or found < 1:
        raise damaged(source, "no format number stands in it")
    if found > to:
        raise ProjectNewer(
            "project-newer",
            f"{source} was written by a newer floorpan (format {found}; this one reads up to {to}).",
            "Update floorpan, or have the project saved by the older one.",
            found=found,
            reads=to,
        )
    while found < to:
        if found not in steps:
            raise damaged(source, f"format {found} is too old to be read")
        document = steps[found](document)
        found += 1
    return document
