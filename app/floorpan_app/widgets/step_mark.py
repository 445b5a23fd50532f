"""The marks of the step strip, kept apart from the shapes of the verdicts."""

from typing import Literal

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath

from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.verdict_shape import paint_stale

Mark = Literal["accepted", "as it is", "open", "look again"]


def _punch(rect: QRectF) -> QPainterPath:
    path = QPainterPath()
    path.addEllipse(rect)
    return path


def _notch(rect: QRectF) -> QPainterPath:
    """A wedge out of the upper right of a punch mark, as a file leaves it."""
    centre, reach = rect.center(), rect.width()
    path = QPainterPath(centre)
    path.lineTo(centre + QPointF(reach * 0.28, -reach))
    path.lineTo(centre + QPointF(reach, -reach * 0.28))
    path.closeSubpath()
    return path


def paint_mark(painter: QPainter, rect: QRectF, mark: Mark) -> None:
    """Draw `mark` into the square `rect`."""
    theme = theme_in_use()
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(theme.ink))
    inner = rect.adjusted(1, 1, -1, -1)
    if mark == "accepted":
        painter.drawPath(_punch(inner))
    elif mark == "as it is":
        painter.drawPath(_punch(inner).subtracted(_notch(inner)))
    elif mark == "open":
        painter.setBrush(QColor(theme.ink2))
        thick = max(2.0, rect.height() * 0.16)
        bar = QRectF(inner.left(), rect.center().y() - thick / 2, inner.width(), thick)
        painter.drawRoundedRect(bar, thick / 2, thick / 2)
    else:
        grown = rect.adjusted(-3, -3, 3, 3)
        paint_stale(painter, grown, theme.ink)
    painter.restore()
