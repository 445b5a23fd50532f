"""Writing in painted pieces: one line at a time, shortened with dots where room runs out."""

from typing import Final

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

PLAIN: Final = QFont.Weight.Normal
BOLDER: Final = QFont.Weight.DemiBold
BOLD: Final = QFont.Weight.Bold

LEFT: Final = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT: Final = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
CENTRE: Final = Qt.AlignmentFlag.AlignCenter


def text_width(text: str, font: QFont) -> float:
    """Width of `text` in logical pixels."""
    return QFontMetricsF(font).horizontalAdvance(text)


def line_height(font: QFont) -> float:
    """Height of one line in logical pixels."""
    return QFontMetricsF(font).height()


def write(
    painter: QPainter, rect: QRectF, text: str, font: QFont, colour: str, align: Qt.AlignmentFlag = LEFT
) -> float:
    """Write one line into `rect` and answer how wide it came out."""
    metrics = QFontMetricsF(font)
    # Widths are rounded up and down on the way; a hair of room keeps a text that fits from being shortened.
    shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, rect.width() + 0.5)
    painter.setFont(font)
    painter.setPen(QColor(colour))
    painter.drawText(rect, int(align | Qt.TextFlag.TextSingleLine | Qt.TextFlag.TextDontClip), shown)
    return metrics.horizontalAdvance(shown)
