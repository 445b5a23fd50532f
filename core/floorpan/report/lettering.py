"""The typeface of the papers: how wide its text runs, how fractions and thin spaces are set in it, and what stands in.

Chinese, Japanese and Korean letters, which a name may have, are set in the reader's own face for them: PDF names such
faces without carrying them along (ISO 32000-1, 9.7).
"""

import functools
import re
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import as_file, files

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.cidfonts import UnicodeCIDFont
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
# Hangul, kana, and the signs that Chinese and Japanese share (blocks of the Unicode Standard).
_KOREAN = "\u1100-\u11ff\u3130-\u318f\uac00-\ud7af"
_KANA = "\u3040-\u30ff"
_HAN = "\u3000-\u303f\u3400-\u4dbf\u4e00-\u9fff\uff00-\uffef"
_ASIAN = re.compile(f"([{_KOREAN}{_KANA}{_HAN}]+)")
_FACES = ((re.compile(f"[{_KOREAN}]"), "HYSMyeongJo-Medium"), (re.compile(f"[{_KANA}]"), "HeiseiMin-W3"))
_CHINESE = "STSong-Light"


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of text: its size and rise as shares of the line's em; its face where that is not the line's."""

    text: str
    size: float = 1.0
    rise: float = 0.0
    face: str = ""


@functools.cache
def fonts() -> dict[str, TTFont]:
    """The four faces, registered with the PDF library under their names here."""
    held: dict[str, TTFont] = {}
    for name, file in _FILES.items():
        with as_file(files("floorpan_assets").joinpath("fonts", file)) as path:
            held[name] = TTFont(name, str(path))
        pdfmetrics.registerFont(held[name])
    pdfmetrics.registerFontFamily(REGULAR, normal=REGULAR, bold=SEMIBOLD, italic=ITALIC, boldItalic=SEMIBOLD)
    for name in (_CHINESE, *(face for _, face in _FACES)):
        pdfmetrics.registerFont(UnicodeCIDFont(name))
    return held


def settable(text: str) -> str:
    """The text with what the face lacks replaced: thin spaces by plain ones, strange signs by a question mark."""
    known = fonts()[REGULAR].face.charToGlyph
    plain = text.replace(THIN, "\u00a0").replace("\t", " ").replace("\n", " ")
    return "".join(sign if ord(sign) in known or _ASIAN.match(sign) else _MISSING for sign in plain)


def runs(text: str) -> Iterator[Run]:
    """A line in runs: the figures of a fraction small, its numerator raised; what the face lacks in another face."""
    asian = next((face for wanted, face in _FACES if wanted.search(text)), _CHINESE)
    for piece in _ASIAN.split(text):
        if _ASIAN.match(piece):
            yield Run(piece, face=asian)
        else:
            yield from _fractions(piece)


def _fractions(text: str) -> Iterator[Run]:
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
    return sum(
        float(pdfmetrics.stringWidth(run.text, run.face or name, size * run.size))
        for run in runs(settable(text))
    )


def shortened(text: str, size: float, most: float, *, bold: bool = False) -> str:
    """The text cut to a width, with an ellipsis where something was cut."""
    if width(text, size, bold=bold) <= most:
        return text
    kept = text
    while kept and width(kept + "\u2026", size, bold=bold) > most:
        kept = kept[:-1]
    return kept.rstrip() + "\u2026"
