"""Plain dimensions, and the string a tag hangs by."""

import math

from PySide6.QtCore import QLineF, QPointF
from PySide6.QtGui import QColor, QPainter, QPolygonF

from floorpan_app.theme.fonts import BODY, text_font
from floorpan_app.theme.record import Theme
from floorpan_app.viewport.marks import Dimension, Tether
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.rooms import Rooms
from floorpan_app.viewport.strokes import on_paper, paper_box, pen, stroke_line
from floorpan_app.widgets.lettering import BOLDER

LINE_PX = 1.4
ARROW_PX = (11.0, 7.0)
_STRING_PX = 2.0
_KNOT_PX = 3.5


def paint_dimension(
    painter: QPainter, dimension: Dimension, projection: Projection, theme: Theme, rooms: Rooms
) -> None:
    """A line with slim arrows at both ends and its value in the middle; outside the arrows where it is short."""
    a, b = projection.pixel(dimension.a_mm), projection.pixel(dimension.b_mm)
    if a is None or b is None:
        return
    start, end = QPointF(*a), QPointF(*b)
    length = math.dist(a, b)
    stroke_line(painter, QLineF(start, end), theme.ink, LINE_PX, theme.paper)
    if length > 2.5 * ARROW_PX[0]:
        for tip, other in ((start, end), (end, start)):
            _paint_arrow(painter, tip, (other - tip) / length, theme)
    else:
        for tip in (start, end):
            painter.setPen(pen(theme.paper, 2.0))
            painter.setBrush(QColor(theme.ink))
            painter.drawEllipse(tip, 3.0, 3.0)
    if not dimension.text:
        return
    font = text_font(BODY, BOLDER)
    box = paper_box(dimension.text, font, (start + end) / 2)
    if length < box.width() + 3 * ARROW_PX[0]:
        box.translate(0.0, -box.height())
    on_paper(
        painter, rooms.take(box), dimension.text, font, ink=theme.ink, paper=theme.paper, border=theme.line
    )


def paint_tether(painter: QPainter, tether: Tether, projection: Projection, theme: Theme) -> None:
    """The string, with a knot where it holds the thing."""
    at = projection.pixel(tether.at_mm)
    if at is None:
        return
    knot = QPointF(*at)
    stroke_line(painter, QLineF(knot, QPointF(*tether.to_px)), theme.accent, _STRING_PX, theme.paper)
    painter.setPen(pen(theme.accent, 1.6))
    painter.setBrush(QColor(theme.raised))
    painter.drawEllipse(knot, _KNOT_PX, _KNOT_PX)


def _paint_arrow(painter: QPainter, tip: QPointF, inward: QPointF, theme: Theme) -> None:
    across = QPointF(-inward.y(), inward.x()) * (ARROW_PX[1] / 2)
    foot = tip + inward * ARROW_PX[0]
    head = QPolygonF([tip, foot + across, foot - across])
    painter.setPen(pen(theme.paper, 2.0))
    painter.setBrush(QColor(theme.paper))
    painter.drawPolygon(head)
    painter.setPen(pen(theme.ink, 0.6))
    painter.setBrush(QColor(theme.ink))
    painter.drawPolygon(head)
