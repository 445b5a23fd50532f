"""The gap rule: where a gap stands between touching and what is wanted, drawn like a steel rule."""

import math
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from floorpan_app.theme.fonts import LEAST, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import Verdict
from floorpan_app.widgets.hatch import paint_hatch
from floorpan_app.widgets.lettering import CENTRE, line_height, text_width, write
from floorpan_app.widgets.verdict_shape import paint_verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class GapReading:
    """What a gap rule shows. Numbers are in the finding's own unit, for a gap millimetres.

    `touch` is None for a quantity that cannot touch. `value` is None while unseen or pending.
    """

    verdict: Verdict
    value: float | None
    give_or_take: float = 0.0
    wanted: float | None = None
    wanted_text: str = ""
    touch: float | None = 0.0
    low: float = -20.0
    high: float = 60.0
    tick: float = 5.0
    sentence: str = ""


_BAND = 16.0
_SHAPE = 12.0


class _Scale:
    """Places values of a reading along a rectangle."""

    def __init__(self, reading: GapReading, band: QRectF) -> None:
        self._reading = reading
        self._band = band

    def x(self, value: float) -> float:
        span = self._reading.high - self._reading.low
        share = (value - self._reading.low) / span
        return self._band.left() + min(1.0, max(0.0, share)) * self._band.width()

    def outside(self, value: float) -> int:
        """-1 left of the rule, 1 right of it, 0 on it."""
        return (value > self._reading.high) - (value < self._reading.low)


def _paint_ruler(painter: QPainter, band: QRectF, reading: GapReading, scale: _Scale) -> None:
    theme = theme_in_use()
    if reading.touch is not None:
        left = QRectF(band.left(), band.top(), scale.x(reading.touch) - band.left(), band.height())
        paint_hatch(painter, left, theme.edge, pitch=3.2, line=0.9)
    base = band.bottom()
    painter.fillRect(QRectF(band.left(), base, band.width() + 1, 1), QColor(theme.edge))
    first = math.ceil(reading.low / reading.tick - 1e-9)
    last = math.floor(reading.high / reading.tick + 1e-9)
    for number in range(first, last + 1):
        tick_height = scaled(5) if number % 2 == 0 else scaled(3)
        x = float(round(scale.x(number * reading.tick)))
        painter.fillRect(QRectF(x, base - tick_height, 1, tick_height), QColor(theme.edge))
    if reading.touch is not None:
        x = float(round(scale.x(reading.touch)))
        painter.fillRect(QRectF(x - 1, band.top() - 1, 2, band.height() + 5), QColor(theme.ink))
    if reading.wanted is not None:
        x = round(scale.x(reading.wanted)) + 0.5
        pen = QPen(QColor(theme.ink2), 1.4, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([2, 1.6])
        painter.setPen(pen)
        painter.drawLine(QLineF(x, band.top() - 1, x, base + 4))


def _paint_arrow(painter: QPainter, tip: QPointF, side: int, colour: str) -> None:
    """Says that the value lies beyond the end of the rule."""
    back = tip.x() - side * scaled(5)
    half = scaled(4)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(colour))
    painter.drawPolygon(QPolygonF([tip, QPointF(back, tip.y() - half), QPointF(back, tip.y() + half)]))


def _paint_value(painter: QPainter, band: QRectF, reading: GapReading, scale: _Scale, backing: str) -> None:
    theme = theme_in_use()
    colour = theme.verdict(reading.verdict)
    side, middle = scaled(_SHAPE), band.top() + band.height() / 2 - 1
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if reading.value is None:
        place = scale.x(reading.wanted) if reading.wanted is not None else band.center().x()
        if reading.verdict == "unseen":
            start = scale.x(reading.touch) if reading.touch is not None else band.left()
            pen = QPen(QColor(colour), 1.8, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
            pen.setDashPattern([1.2, 2.2])
            painter.setPen(pen)
            painter.drawLine(QLineF(start + 2, middle, band.right(), middle))
            place += side / 2 + 2
        clearing = QRectF(place - side / 2 - 2, middle - side / 2 - 1, side + 4, side + 2)
        painter.fillRect(clearing, QColor(backing))
        paint_verdict(painter, QRectF(place - side / 2, middle - side / 2, side, side), reading.verdict)
        return
    beyond = scale.outside(reading.value)
    at = scale.x(reading.value) - beyond * (side / 2 + scaled(7))
    ends = [scale.x(reading.value - reading.give_or_take), scale.x(reading.value + reading.give_or_take)]
    if not beyond and reading.give_or_take > 0:
        painter.setPen(QPen(QColor(colour), 1.8, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
        painter.drawLine(QLineF(ends[0], middle, ends[1], middle))
        for x in ends:
            painter.drawLine(QLineF(x, middle - scaled(4), x, middle + scaled(4)))
    rect = QRectF(at - side / 2, middle - side / 2, side, side)
    if reading.verdict != "pending":
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(backing))
        painter.drawEllipse(rect.adjusted(1, 1, -1, -1))
    paint_verdict(painter, rect, reading.verdict)
    if beyond:
        _paint_arrow(painter, QPointF(scale.x(reading.value), middle), beyond, colour)


def _paint_words(painter: QPainter, words: QRectF, reading: GapReading, scale: _Scale) -> None:
    theme, font = theme_in_use(), text_font(LEAST)
    wanted_rect = QRectF()
    if reading.wanted is not None and reading.wanted_text:
        text = f"wanted {reading.wanted_text}"
        width = text_width(text, font) + 2
        left = min(max(words.left(), scale.x(reading.wanted) - width / 2), words.right() - width)
        wanted_rect = QRectF(left, words.top(), width, words.height())
        write(painter, wanted_rect, text, font, theme.ink2, CENTRE)
    if reading.touch is not None:
        width = text_width("touch", font) + 2
        left = max(words.left(), scale.x(reading.touch) - width / 2)
        touch_rect = QRectF(left, words.top(), width, words.height())
        if wanted_rect.isNull() or touch_rect.right() + scaled(6) < wanted_rect.left():
            write(painter, touch_rect, "touch", font, theme.ink2, CENTRE)


def paint_gap_rule(
    painter: QPainter,
    rect: QRectF,
    reading: GapReading,
    *,
    with_words: bool = True,
    backing: str | None = None,
) -> None:
    """Draw the rule of `reading` across `rect`; `backing` is the colour it lies on."""
    painter.save()
    band = QRectF(rect.left() + 1, rect.top() + 2, rect.width() - 3, scaled(_BAND))
    scale = _Scale(reading, band)
    _paint_ruler(painter, band, reading, scale)
    _paint_value(painter, band, reading, scale, backing or theme_in_use().raised)
    if with_words:
        top = band.bottom() + scaled(3)
        words = QRectF(rect.left(), top, rect.width(), line_height(text_font(LEAST)))
        _paint_words(painter, words, reading, scale)
    painter.restore()


def gap_rule_height(*, with_words: bool = True) -> float:
    """How high a rule is drawn, in logical pixels."""
    words = scaled(3) + line_height(text_font(LEAST)) if with_words else 4.0
    return 2 + scaled(_BAND) + words + 1


class GapRule(QWidget):
    """One gap rule. Its sentence is its spoken name."""

    def __init__(
        self, reading: GapReading | None = None, *, with_words: bool = True, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._reading = reading
        self._with_words = with_words
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.set_reading(reading)

    def reading(self) -> GapReading | None:
        return self._reading

    def set_reading(self, reading: GapReading | None) -> None:
        """Show `reading`, or an empty strip that keeps its place."""
        self._reading = reading
        self.setAccessibleName(reading.sentence if reading else "")
        self.update()

    def sizeHint(self) -> QSize:
        return QSizeF(scaled(280), gap_rule_height(with_words=self._with_words)).toSize()

    def minimumSizeHint(self) -> QSize:
        return QSize(round(scaled(120)), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._reading is None:
            return
        painter = QPainter(self)
        backing = self.palette().color(self.backgroundRole()).name()
        paint_gap_rule(
            painter, QRectF(self.rect()), self._reading, with_words=self._with_words, backing=backing
        )
