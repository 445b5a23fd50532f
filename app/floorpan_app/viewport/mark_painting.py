"""Picked points, axes, lines, words and ghosts, painted over the picture."""

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPolygonF
from scipy.spatial import ConvexHull, QhullError

from floorpan_app.theme.fonts import BODY, SECOND, scaled, text_font
from floorpan_app.theme.record import Theme
from floorpan_app.viewport.marks import Ghost, Path, PickMark, Tripod
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.rooms import Rooms, cornered
from floorpan_app.viewport.rounded import skin_of
from floorpan_app.viewport.strokes import (
    CENTRE_LINE,
    DASHED,
    Dash,
    paper_box,
    path_of,
    pen,
    stroke_line,
    stroke_path,
)
from floorpan_app.widgets.lettering import BOLD, BOLDER, CENTRE, text_width, write
from floorpan_app.widgets.verdict_shape import paint_verdict, square

Floats = NDArray[np.float64]

_CROSS_PX, _CROSS_GAP_PX = 13.0, 4.0
_TRIPOD_PX = 76.0
_HAIR_PX = 0.8
_DASHES: dict[str, Dash] = {"solid": (), "dashed": (5.0, 4.0), "centre": CENTRE_LINE}


def colour_of(theme: Theme, role: str) -> str:
    """The colour of a role of the theme."""
    colour = getattr(theme, role, None) or getattr(theme.things, role)
    return str(colour)


def paint_path(painter: QPainter, path: Path, projection: Projection, theme: Theme) -> None:
    """A line of any kind on its halo."""
    pieces = projection.segments(path.pieces())
    colour = colour_of(theme, path.role)
    stroke_path(painter, path_of(pieces), colour, path.width_px, theme.paper, _DASHES[path.stroke])


def paint_ghost(painter: QPainter, ghost: Ghost, outline: QPainterPath, theme: Theme) -> None:
    """The outline of a body."""
    dash = DASHED if ghost.stroke == "dashed" else _DASHES[ghost.stroke]
    stroke_path(painter, outline, colour_of(theme, ghost.role), 1.4, theme.paper, dash)


def ghost_outline(ghost: Ghost, projection: Projection) -> QPainterPath:
    """The outline in pixels around all the solids of a body together."""
    whole = QPainterPath()
    for solid in ghost.body:
        pixels, before = projection.pixels(solid.pose.apply(skin_of(solid.hull).points))
        if not before.all():
            continue
        try:
            ring = pixels[ConvexHull(pixels).vertices]
            # A hair wider, so that solids that only touch become one outline.
            middle = ring.mean(axis=0)
            away = np.linalg.norm(ring - middle, axis=1, keepdims=True)
            ring = middle + (ring - middle) * (1.0 + _HAIR_PX / np.maximum(away, 1.0))
        except QhullError:
            # Seen from its edge a flat thing has no outline.
            continue
        shadow = QPainterPath()
        shadow.addPolygon(QPolygonF([QPointF(x, y) for x, y in ring.tolist()]))
        shadow.closeSubpath()
        # Joining costs; the first has nothing to be joined to.
        whole = shadow if whole.isEmpty() else whole.united(shadow)
    return whole


def paint_pick(painter: QPainter, pick: PickMark, projection: Projection, theme: Theme, rooms: Rooms) -> None:
    """A cross that leaves its point free, and a small ticket with the letter and what is left over."""
    at = projection.pixel(pick.at_mm)
    if at is None:
        return
    colour = theme.accent if pick.verdict in (None, "clear") else theme.verdict(pick.verdict)
    middle = QPointF(*at)
    arms = QPainterPath()
    for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        arms.moveTo(middle + QPointF(x, y) * _CROSS_GAP_PX)
        arms.lineTo(middle + QPointF(x, y) * _CROSS_PX)
    stroke_path(painter, arms, colour, 2.0, theme.paper)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(colour))
    painter.drawEllipse(middle, 1.6, 1.6)
    box = rooms.place(cornered(QRectF(0.0, 0.0, _pick_width(pick), scaled(24)), middle, _CROSS_PX - 1.0))
    painter.setPen(pen(colour, 2.4 if pick.lit else 1.6))
    painter.setBrush(QColor(theme.wash if pick.lit else theme.paper))
    painter.drawRoundedRect(box, 4, 4)
    left = box.left() + scaled(7)
    for text, font in ((pick.letter, text_font(BODY, BOLD)), (pick.text, text_font(BODY, BOLDER))):
        room = QRectF(left, box.top(), box.right() - left, box.height())
        left += write(painter, room, text, font, theme.ink) + scaled(6)
    if pick.verdict not in (None, "clear"):
        paint_verdict(painter, square(left + scaled(1), box.center().y(), scaled(13)), pick.verdict)


def _pick_width(pick: PickMark) -> float:
    width = scaled(14) + text_width(pick.letter, text_font(BODY, BOLD))
    if pick.text:
        width += scaled(6) + text_width(pick.text, text_font(BODY, BOLDER))
    if pick.verdict not in (None, "clear"):
        width += scaled(20)
    return width + 1


def paint_tripod(
    painter: QPainter, tripod: Tripod, projection: Projection, theme: Theme, rooms: Rooms
) -> None:
    """Three axes from a point, of one length on paper, each with its word at the end."""
    start = projection.pixel(tripod.at_mm)
    scale = projection.pixels_per_mm(tripod.at_mm)
    if start is None or scale <= 0.0:
        return
    origin = np.asarray(tripod.at_mm)
    turn = tripod.pose.matrix()[:3, :3]
    for axis, word in enumerate(tripod.words):
        end = projection.pixel(origin + turn[:, axis] * (_TRIPOD_PX / scale))
        if end is None:
            continue
        stroke_line(painter, QLineF(QPointF(*start), QPointF(*end)), theme.ink, 1.6, theme.paper)
        box = rooms.take(paper_box(word, text_font(SECOND, BOLDER), QPointF(*end)))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.paper))
        painter.drawRoundedRect(box, 3, 3)
        write(painter, box, word, text_font(SECOND, BOLDER), theme.ink, CENTRE)
