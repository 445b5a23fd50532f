"""Vessels that people carry, with where their sizes come from; kept as data beside the program."""

import functools
import importlib.resources
import json
from dataclasses import dataclass

from floorpan.errors import NoSuchThing
from floorpan.items.placing import ORIGIN, Place
from floorpan.items.vessels import Profile, Vessel, check_profile


@dataclass(frozen=True, slots=True, kw_only=True)
class LibraryVessel:
    """A vessel of the library: its key, label, profile [mm], weights, fill line, whether it is open, its source."""

    key: str
    label: str
    profile: Profile
    full_kg: float
    empty_kg: float
    filled_to_mm: float
    open_top: bool
    source: str


@functools.cache
def library() -> tuple[LibraryVessel, ...]:
    """Every vessel of the library, in menu order."""
    text = importlib.resources.files("floorpan_assets").joinpath("vessels.json").read_text(encoding="utf-8")
    found = []
    for entry in json.loads(text)["vessels"]:
        profile = tuple((float(height), float(radius)) for height, radius in entry["profile_mm"])
        check_profile(profile)
        found.append(
            LibraryVessel(
                key=entry["key"],
                label=entry["label"],
                profile=profile,
                full_kg=float(entry["full_kg"]),
                empty_kg=float(entry["empty_kg"]),
                filled_to_mm=float(entry["filled_to_mm"]),
                open_top=bool(entry["open_top"]),
                source=entry["source"],
            )
        )
    return tuple(found)


def library_vessel(key: str) -> LibraryVessel:
    """The vessel of a key; raises NoSuchThing."""
    for vessel in library():
        if vessel.key == key:
            return vessel
    raise NoSuchThing("no-such-vessel", f"There is no vessel {key}.", "Pick one from the list of vessels.")


def vessel_of(key: str, id: str, place: Place | None = None, stands_in: str = "") -> Vessel:
    """A vessel of the library as a placed thing; raises NoSuchThing for an unknown key."""
    found = library_vessel(key)
    return Vessel(
        id=id,
        name=found.label,
        place=place or ORIGIN,
        stands_in=stands_in,
        profile=found.profile,
        full_kg=found.full_kg,
        empty_kg=found.empty_kg,
        filled_to_mm=found.filled_to_mm,
        open_top=found.open_top,
    )
