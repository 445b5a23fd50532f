"""The legend of colours laid over a scan: what they are, the colours, their ticks, and what is past them."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QLinearGradient, QPainter

from floorpan_app.theme.fonts import SECOND, scaled, text_font
from floorpan_app.theme.record import Theme
from floorpan_app.viewport.marks import Legend
from floorpan_app.viewport.scale_painting import Insets
from floorpan_app.viewport.strokes import pen
from floorpan_app.widgets.lettering import BOLD, LEFT, line_height, text_width, write

_WIDTH, _BAR, _PAD, _TICK = 220.0, 12.0, 10.0, 4.0


def paint_legend(painter: QPainter, legend: Legend, theme: Theme, height: float, insets: Insets) -> None:
    """Write the legend at the lower left of the picture."""
    font, head = text_font(SECOND), text_font(SECOND, BOLD)
    line, pad, bar = line_height(font), scaled(_PAD), scaled(_BAR)
    width = max(scaled(_WIDTH), text_width(legend.title, head), text_width(legend.beyond, font)) + 2 * pad
    lines = 2 + bool(legend.beyond)
    room = QRectF(0.0, 0.0, width, lines * line + bar + scaled(_TICK) + 2 * pad)
    room.moveBottomLeft(QPointF(scaled(12), height - insets.bottom - scaled(44)))
    painter.setPen(pen(theme.line, 1.0))
    painter.setBrush(QColor(theme.paper))
    painter.drawRoundedRect(room, 3, 3)
    inside = room.adjusted(pad, pad, -pad, -pad)
    write(
        painter,
        QRectF(inside.left(), inside.top(), inside.width(), line),
        legend.title,
        head,
        theme.ink,
        LEFT,
    )
    colours = QRectF(inside.left(), inside.top() + line, inside.width(), bar)
    fade = QLinearGradient(colours.topLeft(), colours.topRight())
    for number, stop in enumerate(legend.stops):
        fade.setColorAt(number / (len(legend.stops) - 1), QColor(stop))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.fillRect(colours, fade)
    painter.setPen(pen(theme.ink, 1.2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for share, text in legend.ticks:
        x = colours.left() + share * colours.width()
        painter.drawLine(QPointF(x, colours.bottom()), QPointF(x, colours.bottom() + scaled(_TICK)))
        wide = text_width(text, font)
        left = min(max(x - wide / 2, colours.left()), colours.right() - wide)
        below = QRectF(left, colours.bottom() + scaled(_TICK), wide + 2, line)
        write(painter, below, text, font, theme.ink2, LEFT)
    if legend.beyond:
        below = QRectF(inside.left(), colours.bottom() + scaled(_TICK) + line, inside.width(), line)
        write(painter, below, legend.beyond, font, theme.ink2, LEFT)
