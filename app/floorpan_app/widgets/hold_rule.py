"""A small rule of g: how hard a vessel is held, between nothing and more than any car does."""

from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from floorpan_app.theme.fonts import LEAST, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import Verdict
from floorpan_app.widgets.lettering import CENTRE, text_width, write
from floorpan_app.widgets.verdict_shape import paint_verdict

MOST_SHOWN_G = 1.2
_SHAPE = 12.0
_OVER_WANTED = 1.2


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldReading:
    """What a rule shows [g]. `value` is None while it is being worked out."""

    verdict: Verdict
    value: float | None
    give_or_take: float
    wanted: float


def end_of(wanted: tuple[float, ...]) -> float:
    """Where a rule ends so that all of these are on it [g]."""
    return max((MOST_SHOWN_G, *(_OVER_WANTED * one for one in wanted)))


def place_on(rect: QRectF, g: float, end: float) -> float:
    """Where along a rule a value stands; beyond its ends at them."""
    return rect.left() + min(max(g / end, 0.0), 1.0) * rect.width()


def paint_hold_rule(
    painter: QPainter, rect: QRectF, reading: HoldReading, marks: tuple[float, ...], end: float, backing: str
) -> None:
    """Draw one rule: its marks, what is wanted dotted, the value's shape with its give or take."""
    theme = theme_in_use()
    painter.save()
    base, middle = rect.bottom() - 2.0, rect.center().y() - 1.0
    painter.fillRect(QRectF(rect.left(), base, rect.width() + 1.0, 1.0), QColor(theme.edge))
    for mark in (0.0, *marks):
        high = scaled(6 if mark else 4)
        painter.fillRect(QRectF(round(place_on(rect, mark, end)), base - high, 1.0, high), QColor(theme.edge))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    pen = QPen(QColor(theme.ink2), 1.4, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
    pen.setDashPattern([2, 1.6])
    painter.setPen(pen)
    wanted = round(place_on(rect, reading.wanted, end)) + 0.5
    painter.drawLine(QLineF(wanted, rect.top(), wanted, base + 2.0))
    _paint_value(painter, rect, middle, reading, end, backing)
    painter.restore()


def _paint_value(
    painter: QPainter, rect: QRectF, middle: float, reading: HoldReading, end: float, backing: str
) -> None:
    colour, side = theme_in_use().verdict(reading.verdict), scaled(_SHAPE)
    value = reading.wanted if reading.value is None else reading.value
    beyond = value > end
    at = place_on(rect, value, end) - (scaled(7) + side / 2 if beyond else 0.0)
    if reading.value is not None and reading.give_or_take > 0.0 and not beyond:
        painter.setPen(QPen(QColor(colour), 1.6, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
        ends = [place_on(rect, value + sign * reading.give_or_take, end) for sign in (-1.0, 1.0)]
        painter.drawLine(QLineF(ends[0], middle, ends[1], middle))
        for x in ends:
            painter.drawLine(QLineF(x, middle - scaled(3), x, middle + scaled(3)))
    shape = QRectF(at - side / 2, middle - side / 2, side, side)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(backing))
    painter.drawEllipse(shape.adjusted(1, 1, -1, -1))
    paint_verdict(painter, shape, reading.verdict)
    if beyond:
        tip, half = QPointF(rect.right(), middle), scaled(4)
        back = tip.x() - scaled(5)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(colour))
        painter.drawPolygon(QPolygonF([tip, QPointF(back, middle - half), QPointF(back, middle + half)]))


def paint_marks(painter: QPainter, rect: QRectF, marks: tuple[tuple[float, str], ...], end: float) -> None:
    """Write the marks' numbers over a rule; one that would touch the one before is left out."""
    font, theme, taken = text_font(LEAST), theme_in_use(), rect.left() - scaled(20)
    for mark, text in marks:
        wide = text_width(text, font) + 1.0
        left = min(place_on(rect, mark, end) - wide / 2, rect.right() + scaled(6) - wide)
        if left < taken + 1.0:
            continue
        write(painter, QRectF(left, rect.top(), wide, rect.height()), text, font, theme.ink2, CENTRE)
        taken = left + wide
