"""A side outline drawn small: on a hung project and in the drawer. Knows nothing of the car."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from floorpan_app.settings import OutlineLine
from floorpan_app.theme.fonts import scaled
from floorpan_app.theme.in_use import theme_in_use

_WIDTHS = {"floor": 2.0, "console": 2.0, "knob": 1.2}
_FILLED = ("knob",)


def paint_outline(painter: QPainter, room: QRectF, lines: Sequence[OutlineLine]) -> None:
    """Draw lines into `room`, all of them at one scale, front at the left."""
    points = [point for line in lines for point in line.points]
    if not points:
        return
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    low, high = min(z for _, z in points), max(z for _, z in points)
    scale = min(room.width() / max(right - left, 1.0), room.height() / max(high - low, 1.0))
    # The floor stays where it is from card to card: pictures stand on the lower edge.
    start = QPointF(room.center().x() - scale * (left + right) / 2, room.bottom() + scale * low)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for line in lines:
        shape = QPolygonF([start + QPointF(scale * x, -scale * z) for x, z in line.points])
        pen = QPen(QColor(_colour(line.role)), scaled(_WIDTHS.get(line.role, 1.4)))
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.setPen(pen)
        painter.setBrush(QColor(_colour(line.role)) if line.role in _FILLED else Qt.BrushStyle.NoBrush)
        painter.drawPolyline(shape) if line.role not in _FILLED else painter.drawPolygon(shape)
    painter.restore()


def _colour(role: str) -> str:
    theme = theme_in_use()
    by_role = {
        "floor": theme.ink,
        "knob": theme.ink,
        "steel": theme.ink,
        "console": theme.things.console_line,
    }
    return by_role.get(role, theme.ink2)
