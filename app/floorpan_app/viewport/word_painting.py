"""Words on paper, each tied to its place: every string lies under every paper."""

from collections.abc import Iterable

from PySide6.QtCore import QLineF, QPointF
from PySide6.QtGui import QPainter

from floorpan_app.theme.fonts import SECOND, text_font
from floorpan_app.theme.record import Theme
from floorpan_app.viewport.mark_painting import colour_of
from floorpan_app.viewport.marks import Word
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.rooms import Rooms
from floorpan_app.viewport.strokes import on_paper, paper_box, stroke_line

# How far out a word goes where the nearest places are taken.
_FARTHER = (1.0, 1.5, 2.2, 3.0)


def paint_words(
    painter: QPainter, words: Iterable[Word], projection: Projection, theme: Theme, rooms: Rooms
) -> None:
    """Words on paper, each tied to its place."""
    font = text_font(SECOND)
    seen = ((word, projection.pixel(word.at_mm)) for word in words)
    placed = [
        (
            word,
            QPointF(*at),
            rooms.place([paper_box(word.text, font, middle) for middle in _middles(word, at)]),
        )
        for word, at in seen
        if at is not None
    ]
    for word, at, box in placed:
        if word.away_px != (0.0, 0.0):
            stroke_line(painter, QLineF(at, box.center()), colour_of(theme, word.role), 1.2, theme.paper)
    for word, _, box in placed:
        border = colour_of(theme, word.role)
        on_paper(painter, box, word.text, font, ink=theme.ink, paper=theme.paper, border=border)


def _middles(word: Word, at: tuple[float, float]) -> list[QPointF]:
    """Where a word may go: as asked, mirrored, turned, then the same farther out; untied, on its place alone."""
    x, y = word.away_px
    if not (x or y):
        return [QPointF(*at)]
    ways = ((x, y), (x, -y), (-x, y), (-x, -y), (y, x), (y, -x))
    return [QPointF(at[0] + far * a, at[1] + far * b) for far in _FARTHER for a, b in ways]
