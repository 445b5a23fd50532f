"""The hatch of what was not seen: 45 degrees, always on a paper-coloured backing, rim dashed."""

import math

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

PITCH = 6.0
LINE = 1.3


def hatch_lines(rect: QRectF, pitch: float = PITCH) -> list[QLineF]:
    """Lines at 45 degrees, `pitch` apart across the line, rising to the right, clipped to `rect`.

    They hang together over neighbouring rectangles: every line lies on the same lattice.
    """
    step = pitch * math.sqrt(2)
    left, top, right, bottom = rect.left(), rect.top(), rect.right(), rect.bottom()
    lines = []
    total = math.floor((left + top) / step) * step
    while total < right + bottom:
        # Along a line x + y stays the same.
        x_low, x_high = max(left, total - bottom), min(right, total - top)
        if x_low < x_high:
            lines.append(QLineF(x_low, total - x_low, x_high, total - x_high))
        total += step
    return lines


def paint_hatch(
    painter: QPainter, rect: QRectF, colour: str, *, pitch: float = PITCH, line: float = LINE
) -> None:
    """Hatch `rect` in `colour`; what lies under it shows between the lines."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor(colour), line, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    painter.drawLines(hatch_lines(rect, pitch))
    painter.restore()


def paint_unseen_box(painter: QPainter, rect: QRectF, colour: str, backing: str) -> None:
    """A hatched box with a dashed rim on `backing`: something nobody scanned."""
    painter.fillRect(rect, QColor(backing))
    paint_hatch(painter, rect, colour)
    painter.save()
    pen = QPen(QColor(colour), 1.2, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
    pen.setDashPattern([3.5, 2.5])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(rect)
    painter.restore()
