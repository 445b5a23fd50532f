"""Lines over the picture and on sections: the gap between two jaws, a plain dimension, strings and rings.

Places are in logical pixels. Every line lies on a halo of paper, so that it reads on any ground.
"""

import math

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from floorpan_app.theme.fonts import PART, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import Verdict
from floorpan_app.widgets.hatch import paint_unseen_box
from floorpan_app.widgets.lettering import BOLDER, CENTRE, line_height, text_width, write
from floorpan_app.widgets.verdict_shape import paint_verdict, square

LINE, HALO, JAW = 2.2, 6.5, 16.0
TAKE_LEAST, TAKE_MOST = 6.0, 24.0
RING = 60.0
_THIN, _TAIL = 1.4, 1.6


def take_length(take_px: float) -> float:
    """How far the thin line runs past a jaw for a give or take of `take_px`, true to scale within bounds."""
    return min(TAKE_MOST, max(TAKE_LEAST, take_px))


def _along(start: QPointF, end: QPointF) -> QPointF:
    """The direction from `start` to `end`; across the picture where they coincide."""
    delta = end - start
    length = math.hypot(delta.x(), delta.y())
    return QPointF(delta.x() / length, delta.y() / length) if length > 1e-6 else QPointF(1.0, 0.0)


def _haloed(painter: QPainter, lines: list[tuple[QLineF, float]], colour: str, dash: list[float]) -> None:
    halo = QColor(theme_in_use().paper)
    for line, width in lines:
        painter.setPen(QPen(halo, width + HALO - LINE, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        painter.drawLine(line)
    for line, width in lines:
        pen = QPen(QColor(colour), width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap)
        if dash and width == LINE and line is lines[0][0]:
            pen.setDashPattern(dash)
        painter.setPen(pen)
        painter.drawLine(line)


def paint_gap(painter: QPainter, start: QPointF, end: QPointF, verdict: Verdict, take_px: float) -> None:
    """The gap from `start`, on the side that was seen, to `end`; `take_px` is its give or take in pixels.

    Hits: `end` lies behind `start`, the jaws cross and a ring marks the place. Unseen: dotted, with a hatched
    stub instead of the far jaw. Pending draws nothing.
    """
    if verdict == "pending":
        return
    colour = theme_in_use().verdict(verdict)
    along = _along(start, end)
    across = QPointF(-along.y(), along.x()) * (scaled(JAW) / 2)
    past = along * take_length(take_px)
    seen = [(QLineF(start - across, start + across), LINE), (QLineF(start, start - past), _THIN)]
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if verdict == "unseen":
        _haloed(painter, [(QLineF(start, end), LINE), *seen], colour, [1.4, 1.6])
        side = scaled(10)
        stub = QRectF(end.x() - side / 2, end.y() - scaled(JAW) / 2, side, scaled(JAW))
        paint_unseen_box(painter, stub, colour, theme_in_use().paper)
    else:
        far = [(QLineF(end - across, end + across), LINE), (QLineF(end, end + past), _THIN)]
        if verdict == "hits":
            overlap = QColor(colour)
            overlap.setAlphaF(0.25)
            corners = [start - across, start + across, end + across, end - across]
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(overlap)
            painter.drawPolygon(QPolygonF(corners))
        _haloed(painter, [(QLineF(start, end), LINE), *seen, *far], colour, [])
        if verdict == "short":
            _paint_wedge(painter, (start + end) / 2)
    painter.restore()
    if verdict == "hits":
        paint_ring(painter, (start + end) / 2, verdict)


def _paint_wedge(painter: QPainter, middle: QPointF) -> None:
    """The shape of short on its own line, which otherwise looks as that of close."""
    side = scaled(14)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(theme_in_use().paper))
    painter.drawEllipse(middle, side * 0.72, side * 0.72)
    paint_verdict(painter, square(middle.x() - side / 2, middle.y(), side), "short")


def paint_ring(painter: QPainter, middle: QPointF, verdict: Verdict) -> None:
    """The ring of 60 px round a place that hits."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    radius = scaled(RING) / 2
    for colour, width in ((theme_in_use().paper, HALO), (theme_in_use().verdict(verdict), LINE)):
        painter.setPen(QPen(QColor(colour), width))
        painter.drawEllipse(middle, radius, radius)
    painter.restore()


def paint_tail(painter: QPainter, start: QPointF, end: QPointF, colour: str) -> None:
    """The tail of a ticket or the string of a tag."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _haloed(painter, [(QLineF(start, end), _TAIL)], colour, [])
    painter.restore()


def paint_plain(painter: QPainter, start: QPointF, end: QPointF, text: str) -> None:
    """A length without a verdict: thin ink, slim filled arrows, the value in a break of the line."""
    theme, font = theme_in_use(), text_font(PART, BOLDER)
    along = _along(start, end)
    across = QPointF(-along.y(), along.x())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    middle, half = (start + end) / 2, text_width(text, font) / 2 + scaled(8)
    # A value stands level; across a steep line it needs its height only.
    if abs(along.y()) > abs(along.x()):
        half = line_height(font) / 2 + scaled(3)
    lines = [(QLineF(start, middle - along * half), _THIN), (QLineF(middle + along * half, end), _THIN)]
    _haloed(painter, lines, theme.ink, [])
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(theme.ink))
    for tip, inward in ((start, along), (end, along * -1.0)):
        back = tip + inward * scaled(11)
        painter.drawPolygon(QPolygonF([tip, back + across * scaled(3.5), back - across * scaled(3.5)]))
    room = QRectF(0, 0, text_width(text, font) + 4, line_height(font))
    room.moveCenter(middle)
    write(painter, room, text, font, theme.ink, CENTRE)
    painter.restore()


def paint_ghost(painter: QPainter, outline: QPolygonF) -> None:
    """Where a thing stood before it was moved: its outline, dashed."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(theme_in_use().paper), _THIN + HALO - LINE))
    painter.drawPolygon(outline)
    pen = QPen(QColor(theme_in_use().accent), _THIN, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
    pen.setDashPattern([3, 3])
    painter.setPen(pen)
    painter.drawPolygon(outline)
    painter.restore()
