"""The list of what is cleaned away from a scan, as it is kept: one deed a line, done in their order."""

from dataclasses import dataclass, fields

from floorpan.errors import BadValue
from floorpan.scan.cleaning import (
    Cleaned,
    CutForeignFaces,
    DropSmallIslands,
    DropUselessFaces,
    KeepOneSheet,
    NamedIslands,
    RemoveSpikes,
    TurnFaces,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CleaningDeed:
    """One line of the list: exactly one of these. Raises BadValue for none or several."""

    small_islands: DropSmallIslands | None = None
    named_islands: NamedIslands | None = None
    spikes: RemoveSpikes | None = None
    useless: DropUselessFaces | None = None
    foreign: CutForeignFaces | None = None
    facing: TurnFaces | None = None
    one_sheet: KeepOneSheet | None = None

    def __post_init__(self) -> None:
        if len(self._held()) != 1:
            raise BadValue("one-deed", "One line cleans one thing.", "Take it back and choose again.")

    def _held(self) -> list[tuple[str, Cleaned]]:
        held = ((one.name, getattr(self, one.name)) for one in fields(self))
        return [(name, deed) for name, deed in held if deed is not None]

    @property
    def kind(self) -> str:
        """What it does, by the name of its field."""
        return self._held()[0][0]

    @property
    def deed(self) -> Cleaned:
        """The deed itself."""
        return self._held()[0][1]


def deeds(done: tuple[CleaningDeed, ...]) -> tuple[Cleaned, ...]:
    """The deeds of a list, in their order."""
    return tuple(line.deed for line in done)
