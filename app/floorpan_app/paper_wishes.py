"""How a report is wanted: for whom, on what paper, in which lengths."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from floorpan.report.facts import EDITIONS, Edition
from floorpan.units import System

if TYPE_CHECKING:
    # What writes papers brings its own libraries only once papers are written.
    from floorpan.report.pdf import PaperSize


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperWishes:
    """Wishes for one report; system None takes the bench's own."""

    edition: Edition = "myself"
    size: "PaperSize" = "A4"
    system: System | None = None


def wishes_of(*, edition: str, size: str, system: str) -> PaperWishes:
    """Wishes from words of a list; a word that is not known is passed over."""
    return PaperWishes(
        edition=next((one for one in EDITIONS if one == edition), "myself"),
        size="letter" if size == "letter" else "A4",
        system="in" if system == "in" else "mm",
    )
