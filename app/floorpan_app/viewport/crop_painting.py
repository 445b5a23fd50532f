"""The crop box: its edges, dashed where something covers them, and a grip with its number on each face."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QColor, QPainter

from floorpan_app.theme.fonts import SECOND, text_font
from floorpan_app.theme.record import Theme
from floorpan_app.viewport.marks import FACES, CropBoxMark
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.rooms import Rooms, beside
from floorpan_app.viewport.strokes import on_paper, paper_box, path_of, pen, stroke_path

Floats = NDArray[np.float64]
Covered = Callable[[Floats], NDArray[np.bool_]]

GRIP_PX = 16.0
GRAB_PX = 24.0
_PIECES = 14


def edges(box: CropBoxMark) -> Floats:
    """The twelve edges (12, 2, 3) in car axes [mm]."""
    low, high = np.asarray(box.least_mm), np.asarray(box.greatest_mm)
    ends = []
    for axis in range(3):
        one, two = (axis + 1) % 3, (axis + 2) % 3
        for first in (low, high):
            for second in (low, high):
                start, end = low.copy(), high.copy()
                for corner in (start, end):
                    corner[one], corner[two] = first[one], second[two]
                ends.append([start, end])
    return box.pose.apply(np.array(ends).reshape(-1, 3)).reshape(-1, 2, 3)


def paint_crop_box(
    painter: QPainter, box: CropBoxMark, projection: Projection, theme: Theme, covered: Covered, rooms: Rooms
) -> None:
    """Edges first, then the grips and their words over them."""
    shares = np.linspace(0.0, 1.0, _PIECES + 1)[:, None]
    ends = edges(box)
    cuts = ends[:, None, 0] + shares * (ends[:, None, 1] - ends[:, None, 0])
    pieces = np.stack([cuts[:, :-1], cuts[:, 1:]], axis=2).reshape(-1, 2, 3)
    hidden = covered(pieces.mean(axis=1))
    stroke_path(
        painter, path_of(projection.segments(pieces[hidden])), theme.accent, 1.6, theme.paper, (6.0, 4.0)
    )
    stroke_path(painter, path_of(projection.segments(pieces[~hidden])), theme.accent, 1.6, theme.paper)
    grips = grip_places(box, projection)
    for face, place in grips.items():
        rooms.take(_square(QPointF(*place)))
        _paint_grip(painter, QPointF(*place), face == box.lit, theme)
    font = text_font(SECOND)
    for word, face in zip(box.words, FACES, strict=True):
        if word and face in grips:
            at = QPointF(*grips[face])
            box_of_word = rooms.place(beside(paper_box(word, font, at), at, GRIP_PX / 2 + 4.0))
            on_paper(
                painter,
                box_of_word,
                word,
                font,
                ink=theme.ink,
                paper=theme.paper,
                border=theme.line,
                width=1.0,
            )


def grip_places(box: CropBoxMark, projection: Projection) -> dict[str, tuple[float, float]]:
    """The middle of each grip in pixels; those behind the eye are left out."""
    seen = {face: projection.pixel(place) for face, place in box.grips().items()}
    return {str(face): place for face, place in seen.items() if place is not None}


def _square(at: QPointF) -> QRectF:
    return QRectF(at.x() - GRIP_PX / 2, at.y() - GRIP_PX / 2, GRIP_PX, GRIP_PX)


def _paint_grip(painter: QPainter, at: QPointF, lit: bool, theme: Theme) -> None:
    square = _square(at)
    painter.setPen(pen(theme.paper, 5.0))
    painter.drawRoundedRect(square, 2, 2)
    painter.setPen(pen(theme.accent, 2.0))
    painter.setBrush(QColor(theme.accent if lit else theme.raised))
    painter.drawRoundedRect(square, 2, 2)
    painter.setPen(pen(theme.on_accent if lit else theme.accent, 1.8))
    for x in (-2.4, 2.4):
        painter.drawLine(QLineF(at.x() + x, at.y() - 3.2, at.x() + x, at.y() + 3.2))
