"""Lines with their halo, and words with paper behind them."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPainterPath, QPen

from floorpan_app.theme.fonts import scaled
from floorpan_app.widgets.lettering import CENTRE, line_height, text_width, write

Floats = NDArray[np.float64]

HALO_PX = 2.2
"""How far a halo stands out on each side of its line."""

Dash = Sequence[float]
DASHED: Dash = (3.0, 3.0)
CENTRE_LINE: Dash = (14.0, 3.0, 3.0, 3.0)
DOTTED: Dash = (1.6, 3.2)


def pen(colour: str, width: float, dash: Dash = ()) -> QPen:
    """A flat-ended pen; dashes in pixels."""
    made = QPen(
        QColor(colour), width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.RoundJoin
    )
    if dash:
        made.setDashPattern([length / width for length in dash])
    return made


def stroke_path(
    painter: QPainter, path: QPainterPath, colour: str, width: float, halo: str, dash: Dash = ()
) -> None:
    """Draw a path on its halo."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    under = pen(halo, width + 2 * HALO_PX)
    under.setCapStyle(Qt.PenCapStyle.RoundCap)
    painter.setPen(under)
    painter.drawPath(path)
    painter.setPen(pen(colour, width, dash))
    painter.drawPath(path)


def stroke_line(
    painter: QPainter, line: QLineF, colour: str, width: float, halo: str, dash: Dash = ()
) -> None:
    """Draw a straight line on its halo."""
    path = QPainterPath(line.p1())
    path.lineTo(line.p2())
    stroke_path(painter, path, colour, width, halo, dash)


def path_of(pieces: Floats) -> QPainterPath:
    """A path through straight pieces (N, 2, 2) in pixels, joined where one ends as the next begins."""
    path = QPainterPath()
    last: tuple[float, float] | None = None
    for (x, y), (to_x, to_y) in pieces.tolist():
        if last != (x, y):
            path.moveTo(x, y)
        path.lineTo(to_x, to_y)
        last = (to_x, to_y)
    return path


def paper_box(text: str, font: QFont, middle: QPointF) -> QRectF:
    """The room a word on paper takes about its middle."""
    width = text_width(text, font) + scaled(12)
    height = line_height(font) + scaled(4)
    return QRectF(middle.x() - width / 2, middle.y() - height / 2, width, height)


def on_paper(
    painter: QPainter,
    box: QRectF,
    text: str,
    font: QFont,
    *,
    ink: str,
    paper: str,
    border: str,
    width: float = 1.2,
) -> None:
    """A word in a small paper box with a border."""
    painter.setPen(pen(border, width))
    painter.setBrush(QColor(paper))
    painter.drawRoundedRect(box, 3, 3)
    write(painter, box, text, font, ink, CENTRE)
