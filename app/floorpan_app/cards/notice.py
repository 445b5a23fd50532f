"""A sentence that stands out: raised, with a bar at its left in the colour of what it says."""

from typing import Literal

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from floorpan_app.cards.blocks import px, told
from floorpan_app.theme.fonts import BODY, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import Verdict
from floorpan_app.widgets.verdict_shape import VerdictMark

_BAR = 3.0
Tone = Verdict | Literal["next", "quiet"]


class Notice(QWidget):
    """Hidden while there is nothing to say. `below` takes what can be done about it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._tone: Tone = "quiet"
        self._mark = VerdictMark("close", with_word=False)
        self._mark.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._said = told()
        self._said.setFont(text_font(BODY, QFont.Weight.DemiBold))
        row = QHBoxLayout()
        row.setSpacing(px(8))
        row.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._said, 1)
        self.below = QVBoxLayout()
        self.below.setSpacing(px(8))
        column = QVBoxLayout(self)
        column.setContentsMargins(px(12), px(8), px(10), px(10))
        column.setSpacing(px(8))
        column.addLayout(row)
        column.addLayout(self.below)
        self.hide()

    def say(self, text: str, tone: Tone = "quiet") -> None:
        """Say this, or nothing."""
        self._tone = tone
        if tone not in ("next", "quiet"):
            self._mark.set_verdict(tone)  # type: ignore[arg-type]
        self._mark.setVisible(tone not in ("next", "quiet"))
        if text != self._said.text():
            self._said.setText(text)
        self.setVisible(bool(text))
        self.update()

    def said(self) -> str:
        """The sentence."""
        return self._said.text()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        painter.fillRect(rect, QColor(theme.raised))
        tone = self._tone
        colour = theme.accent if tone == "next" else theme.edge if tone == "quiet" else theme.verdict(tone)
        painter.fillRect(QRectF(0, 0, scaled(_BAR), rect.height()), QColor(colour))
        if theme.name == "contrast":
            painter.setPen(QColor(theme.line))
            painter.drawRect(rect.adjusted(0.5, 0.5, -0.5, -0.5))
