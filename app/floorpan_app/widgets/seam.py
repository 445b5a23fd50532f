"""Dotted seams, where sheets part, and the ring round what has the keyboard."""

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from floorpan_app.theme.in_use import theme_in_use

DOT = 1.4
FOCUS = 2.0


def paint_seam(painter: QPainter, start: QPointF, end: QPointF) -> None:
    """A row of dots from `start` to `end`."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    pen = QPen(QColor(theme_in_use().edge), DOT, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.RoundCap)
    pen.setDashPattern([0.01, 2.6])
    painter.setPen(pen)
    painter.drawLine(QLineF(start, end))
    painter.restore()


def paint_rule(painter: QPainter, left: float, right: float, y: float) -> None:
    """A thin line across, between rows."""
    painter.fillRect(QRectF(left, y, right - left, 1), QColor(theme_in_use().line))


def paint_focus(painter: QPainter, rect: QRectF, radius: float = 4.0) -> None:
    """The focus ring just inside `rect`."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor(theme_in_use().accent), FOCUS))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    inset = FOCUS / 2
    painter.drawRoundedRect(rect.adjusted(inset, inset, -inset, -inset), radius, radius)
    painter.restore()
