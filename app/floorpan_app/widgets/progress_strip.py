"""The progress strip in the status line: what is being worked out, how far it is, and a way to stop it."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from floorpan_app.theme.fonts import SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.hatch import paint_hatch

BAR_WIDTH, BAR_HEIGHT = 180.0, 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Work that goes on. `done` runs from 0 to 1, None where it cannot be told.

    `left` is the time left, ready written; `others` counts what else is being worked out.
    """

    doing: str
    done: float | None = None
    left: str = ""
    others: int = 0

    def line(self) -> str:
        more = f"and {self.others} more" if self.others else ""
        return ", ".join(part for part in (self.doing, more, self.left) if part)


class _Bar(QWidget):
    """A strip of 180 by 6; where how far cannot be told it is hatched and stands still."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.done: float | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(round(scaled(BAR_WIDTH)), round(scaled(BAR_HEIGHT)))

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        radius = rect.height() / 2
        # In the contrast theme lines are as bright as text, and the filling would not stand out on them.
        painter.setBrush(QColor(theme.wash if theme.name == "contrast" else theme.line))
        painter.drawRoundedRect(rect, radius, radius)
        if self.done is None:
            paint_hatch(painter, rect.adjusted(2, 0, -2, 0), theme.accent, pitch=5, line=1.3)
            return
        width = min(1.0, max(0.0, self.done)) * rect.width()
        if width > 0:
            painter.setBrush(QColor(theme.accent))
            painter.drawRoundedRect(QRectF(0, 0, max(width, rect.height()), rect.height()), radius, radius)


class ProgressStrip(QWidget):
    """Words, strip and Stop; nothing at all while nothing goes on."""

    stopAsked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._work: Work | None = None
        self._words = QLabel(self)
        self._words.setFont(text_font(SECOND))
        self._bar = _Bar(self)
        self._stop = QPushButton("Stop", self)
        self._stop.setProperty("role", "link")
        self._stop.clicked.connect(self.stopAsked)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(round(scaled(10)))
        for widget in (self._words, self._bar, self._stop):
            row.addWidget(widget)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.set_work(None)

    def work(self) -> Work | None:
        return self._work

    def set_work(self, work: Work | None) -> None:
        """Show what goes on; None takes the strip away."""
        self._work = work
        self._words.setText(work.line() if work else "")
        self._bar.done = work.done if work else None
        percent = f", {round(work.done * 100)} %" if work and work.done is not None else ""
        self.setAccessibleName(f"{work.line()}{percent}" if work else "")
        self._bar.update()
        self.setVisible(work is not None)

    def stop_button(self) -> QPushButton:
        return self._stop
