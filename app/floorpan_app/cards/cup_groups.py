"""The vessels of the library by kind."""

from typing import Final

from floorpan.items import library
from floorpan.items.vessel_library import LibraryVessel
from floorpan_app.cards import cup_words as said

# Which words of a vessel's key put it into a kind.
_WORDS: Final = {
    "can": ("can",),
    "bottle": ("bottle",),
    "cup": ("cup",),
    "mug": ("mug", "tumbler"),
    "flask": ("flask",),
}


def group_of(vessel: LibraryVessel) -> str:
    """The kind of a vessel, "" for one of no kind."""
    parts = vessel.key.split("-")
    return next((group for group, words in _WORDS.items() if any(word in parts for word in words)), "")


def groups() -> list[tuple[str, str]]:
    """The kinds that the library has, as (key, words)."""
    held = {group_of(vessel) for vessel in library()}
    return [(group, label) for group, label in said.GROUPS.items() if group in held]


def vessels_of(group: str) -> list[tuple[str, str]]:
    """The vessels of a kind, as (key, words)."""
    return [(vessel.key, vessel.label) for vessel in library() if group_of(vessel) == group]
