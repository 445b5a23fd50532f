"""Bars about a middle line: to the left what brought the knob nearer, to the right what took it further away."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from floorpan_app.theme.fonts import BODY, LEAST, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.lettering import BOLDER, LEFT, RIGHT, write

# Shares of a row's width: where the middle line stands, how far a bar goes from it, where the figure begins.
_MIDDLE, _LONGEST, _FIGURE = 0.58, 0.22, 0.82
_ROW, _HEAD, _BAR = 23.0, 16.0, 9.0
# The whole length of a bar stands for one of these [mm], so that it does not breathe while something is dragged.
_FULL = (25.0, 50.0, 100.0, 200.0, 400.0, 800.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseReading:
    """One cause: what changed, how much further it took the knob [mm], that figure as told, and a sentence."""

    label: str
    share_mm: float
    figure: str
    sentence: str


class CauseRow(QWidget):
    """One cause, painted. Its sentence is its spoken name."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._reading: CauseReading | None = None
        self._full = _FULL[0]

    def reading(self) -> CauseReading | None:
        """What it shows."""
        return self._reading

    def show_reading(self, reading: CauseReading, full_mm: float) -> None:
        """Show a cause; full_mm is what the longest bar stands for."""
        if (reading, full_mm) != (self._reading, self._full):
            self._reading, self._full = reading, full_mm
            self.setAccessibleName(reading.sentence)
            self.update()

    def bar(self) -> QRectF:
        """Where the bar lies; left of the middle where the knob came nearer."""
        middle = float(round(_MIDDLE * self.width()))
        share = self._reading.share_mm if self._reading is not None else 0.0
        long = min(1.0, abs(share) / self._full) * _LONGEST * self.width()
        high = scaled(_BAR)
        return QRectF(middle if share >= 0.0 else middle - long, (self.height() - high) / 2, long, high)

    def sizeHint(self) -> QSize:
        return QSize(round(scaled(240)), round(scaled(_ROW)))

    def minimumSizeHint(self) -> QSize:
        return QSize(round(scaled(120)), round(scaled(_ROW)))

    def paintEvent(self, event: QPaintEvent) -> None:
        reading = self._reading
        if reading is None:
            return
        theme, painter, wide, high = theme_in_use(), QPainter(self), self.width(), self.height()
        label = QRectF(0, 0, (_MIDDLE - _LONGEST) * wide - scaled(4), high)
        write(painter, label, reading.label, text_font(BODY), theme.ink, LEFT)
        painter.fillRect(self.bar(), QColor(theme.ink2))
        painter.fillRect(QRectF(round(_MIDDLE * wide), 0, 1, high), QColor(theme.edge))
        figure = QRectF(_FIGURE * wide, 0, wide - _FIGURE * wide, high)
        write(painter, figure, reading.figure, text_font(BODY, BOLDER), theme.ink, RIGHT)


class _Head(QWidget):
    """Says which way is which."""

    def __init__(self, ways: tuple[str, str], parent: QWidget) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._ways = ways

    def sizeHint(self) -> QSize:
        return QSize(round(scaled(240)), round(scaled(_HEAD)))

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, wide = theme_in_use(), QPainter(self), self.width()
        middle, gap, high = _MIDDLE * wide, scaled(5), self.height()
        font, (left, right) = text_font(LEAST), self._ways
        write(painter, QRectF(0, 0, middle - gap, high), left, font, theme.ink2, RIGHT)
        write(painter, QRectF(middle + gap, 0, wide - middle - gap, high), right, font, theme.ink2, LEFT)


class CauseBars(QWidget):
    """A row for each cause, under a line that says which way is which.

    most : rows at most; ways : the words for left and right
    """

    def __init__(self, most: int, ways: tuple[str, str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(_Head(ways, self))
        self.rows = [CauseRow(self) for _ in range(most)]
        for row in self.rows:
            column.addWidget(row)

    def show_readings(self, readings: Sequence[CauseReading]) -> None:
        """Show these causes, all to one scale; none shows nothing."""
        most = max((abs(one.share_mm) for one in readings), default=0.0)
        full = next((step for step in _FULL if step >= most), most)
        for place, row in enumerate(self.rows):
            row.setVisible(place < len(readings))
            if place < len(readings):
                row.show_reading(readings[place], full)
        self.setVisible(bool(readings))
