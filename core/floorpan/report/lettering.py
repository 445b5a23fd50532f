"""The typeface of the papers: how wide its text runs, and how fractions and thin spaces are set in it."""

import functools
import re
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import as_file, files

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from floorpan.units import FRACTION, THIN

REGULAR, SEMIBOLD, BOLD, ITALIC = "Floorpan", "Floorpan-Semibold", "Floorpan-Bold", "Floorpan-Italic"
_FILES = {
    REGULAR: "SourceSansPro-Regular.ttf",
    SEMIBOLD: "SourceSansPro-Semibold.ttf",
    BOLD: "SourceSansPro-Bold.ttf",
    ITALIC: "SourceSansPro-It.ttf",
}
_FRACTION = re.compile(rf"(\d+){FRACTION}(\d+)")
_SMALL, _RAISED = 0.62, 0.30
_MISSING = "?"


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of text: its size and its rise, both as shares of the line's em."""

    text: str
    size: float = 1.0
    rise: float = 0.0


@functools.cache
def fonts() -> dict[str, TTFont]:
    """The four faces, registered with the PDF library under their names here."""
    held: dict[str, TTFont] = {}
    for name, file in _FILES.items():
        with as_file(files("floorpan_assets").joinpath("fonts", file)) as path:
            held[name] = TTFont(name, str(path))
        pdfmetrics.registerFont(held[name])
    pdfmetrics.registerFontFamily(REGULAR, normal=REGULAR, bold=SEMIBOLD, italic=ITALIC, boldItalic=SEMIBOLD)
    return held


def settable(text: str) -> str:
    """The text with what the face lacks replaced: thin spaces by plain ones, strange signs by a question mark."""
    known = fonts()[REGULAR].face.charToGlyph
    plain = text.replace(THIN, "\u00a0").replace("\t", " ").replace("\n", " ")
    return "".join(sign if ord(sign) in known else _MISSING for sign in plain)


def runs(text: str) -> Iterator[Run]:
    """A line in runs: the figures of a fraction small, its numerator raised."""
    end = 0
    for match in _FRACTION.finditer(text):
        if match.start() > end:
            yield Run(text[end : match.start()])
        yield Run(match[1], _SMALL, _RAISED)
        yield Run(FRACTION)
        yield Run(match[2], _SMALL)
        end = match.end()
    if end < len(text):
        yield Run(text[end:])


def face(*, bold: bool) -> str:
    """The name of the regular or the semibold face."""
    return SEMIBOLD if bold else REGULAR


def width(text: str, size: float, *, bold: bool = False) -> float:
    """How wide a line runs, in the unit of size (the em)."""
    fonts()
    name = face(bold=bold)
    return sum(float(pdfmetrics.stringWidth(run.text, name, size * run.size)) for run in runs(settable(text)))


def shortened(text: str, size: float, most: float, *, bold: bool = False) -> str:
    """The text cut to a width, with an ellipsis where something was cut."""
    if width(text, size, bold=bold) <= most:
        return text
    kept = text
    while kept and width(kept + "\u2026", size, bold=bold) > most:
        kept = kept[:-1]
    return kept.rstrip() + "\u2026"
