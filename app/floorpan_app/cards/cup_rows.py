"""Rows of vessels: each with how hard it is held, one small rule a way."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, QSizeF
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QWidget

from floorpan.items.held import COMFORT_G, LIMIT_G, SPORTS_TYRE_G
from floorpan_app.cards import cup_words as said
from floorpan_app.cards import words
from floorpan_app.cards.blocks import heading
from floorpan_app.cards.rows import Row, RowMark, Rows
from floorpan_app.theme.fonts import BODY, LEAST, SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.hold_rule import HoldReading, paint_hold_rule, paint_marks
from floorpan_app.widgets.lettering import BOLD, BOLDER, LEFT, RIGHT, line_height, text_width, write
from floorpan_app.widgets.seam import paint_focus, paint_rule
from floorpan_app.widgets.verdict_shape import paint_stale, paint_verdict, square

MARKS_G = (COMFORT_G, LIMIT_G, SPORTS_TYRE_G)

_PAD, _SHAPE, _BAR = 8.0, 14.0, 3.0
_LANE, _LANE_LABEL, _LANE_VALUE, _GAP = 19.0, 56.0, 82.0, 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Lane:
    """One way a vessel is pushed: its name, what is held, and its rule."""

    name: str
    reading: HoldReading
    value: str
    trust: str = ""
    stale: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldRow(Row):
    """A vessel; `word` is its verdict, `end` the end of its rules [g]."""

    word: str = ""
    lanes: tuple[Lane, ...] = ()
    end: float = 1.2


def rule_span(width: float) -> tuple[float, float]:
    """Left and right of the rules in a row so wide."""
    left = scaled(_PAD + _SHAPE + 8 + _LANE_LABEL + _LANE_VALUE + _GAP)
    return left, width - scaled(_PAD) - scaled(4)


class HoldMark(RowMark):
    """One vessel, painted."""

    def hold_row(self) -> HoldRow:
        """What is shown."""
        assert isinstance(self.row, HoldRow)
        return self.row

    def sizeHint(self) -> QSize:
        words_high = line_height(text_font(BODY)) + line_height(text_font(SECOND))
        high = words_high + scaled(_LANE) * len(self.hold_row().lanes) + scaled(12)
        return QSizeF(scaled(200), high).toSize()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect, row = theme_in_use(), QPainter(self), QRectF(self.rect()), self.hold_row()
        lit = self.isChecked() or self.underMouse()
        if lit:
            painter.fillRect(rect, QColor(theme.wash))
        if self.isChecked():
            painter.fillRect(QRectF(0, 0, scaled(_BAR), rect.height()), QColor(theme.accent))
        if not self.first:
            paint_rule(painter, 0, rect.width(), 0)
        left, right = scaled(_PAD), rect.width() - scaled(_PAD)
        top, high = scaled(5), line_height(text_font(BODY))
        if row.mark is not None:
            paint_verdict(painter, square(left, top + high / 2 + 1, scaled(_SHAPE)), row.mark)
            line = QRectF(left, top, right - left, high)
            ink = theme.verdict(row.mark)
            right -= write(painter, line, row.word, text_font(SECOND, BOLDER), ink, RIGHT) + scaled(8)
        text = left + scaled(_SHAPE + 8)
        heavy = BOLDER if row.mark in ("hits", "short") else None
        font = text_font(BODY, heavy) if heavy is not None else text_font(BODY)
        write(painter, QRectF(text, top, right - text, high), row.title, font, theme.ink)
        low = line_height(text_font(SECOND))
        second = QRectF(text, top + high, rect.width() - scaled(_PAD) - text, low)
        write(painter, second, row.second, text_font(SECOND), theme.ink2)
        lane_top = second.bottom() + scaled(2)
        for number, lane in enumerate(row.lanes):
            self._paint_lane(painter, lane, lane_top + number * scaled(_LANE), lit=lit)
        if self.hasFocus():
            paint_focus(painter, rect.adjusted(1, 1, -1, -1))

    def _paint_lane(self, painter: QPainter, lane: Lane, top: float, *, lit: bool) -> None:
        theme, high = theme_in_use(), scaled(_LANE)
        left = scaled(_PAD + _SHAPE + 8)
        label = QRectF(left, top, scaled(_LANE_LABEL), high)
        write(painter, label, lane.name, text_font(SECOND), theme.ink2, LEFT)
        value = QRectF(label.right(), top, scaled(_LANE_VALUE), high)
        used = write(painter, value, lane.trust, text_font(SECOND), theme.ink2, RIGHT) if lane.trust else 0.0
        value.setRight(value.right() - used - (scaled(5) if used else 0.0))
        ink, font = theme.ink2 if lane.stale else theme.ink, text_font(BODY, BOLD)
        write(painter, value, lane.value, font, ink, RIGHT)
        if lane.stale:
            clock = value.right() - text_width(lane.value, font) - scaled(15)
            paint_stale(painter, square(clock, value.center().y(), scaled(12)))
        start, end = rule_span(self.width())
        rule = QRectF(start, top, end - start, high)
        ground = theme.wash if lit else self.palette().color(self.backgroundRole()).name()
        paint_hold_rule(painter, rule, lane.reading, MARKS_G, self.hold_row().end, ground)


class HoldRows(Rows):
    """Vessels of which one may be chosen."""

    def mark_of(self, row: Row) -> RowMark:
        return HoldMark(row, self)


class HoldHead(QWidget):
    """The title of the vessels, and the marks' numbers over the rules."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._end = 1.2
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        self._unit = QLabel(said.HOLDS_TO)
        self._unit.setFont(text_font(SECOND))
        self._unit.setProperty("role", "second")
        row.addWidget(heading(words.VESSELS))
        row.addSpacing(round(scaled(_GAP)))
        row.addWidget(self._unit)
        row.addStretch(1)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_end(self, end: float) -> None:
        """Where the rules below end [g]."""
        self._end = end
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        left, right = rule_span(self.width())
        high = line_height(text_font(LEAST))
        rect = QRectF(left, self.height() - high, right - left, high)
        paint_marks(QPainter(self), rect, tuple((g, f"{g:.1f}") for g in MARKS_G), self._end)
