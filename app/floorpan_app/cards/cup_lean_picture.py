"""The section of a well with a vessel in it: upright and at its free tilt, with the room at each height."""

import itertools
import math

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from floorpan.items import CupHolder
from floorpan.items.cup_holder import GRIPS
from floorpan.items.entering import Room
from floorpan.units import System, show_length
from floorpan_app.cards import cup_words as said
from floorpan_app.cards.cup_lean import LeanDrawn, Outline
from floorpan_app.cards.cup_told import lean_text, room_text
from floorpan_app.theme.fonts import LEAST, SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.lettering import BOLD, BOLDER, RIGHT, line_height, write

_HIGH, _WIDE = 218.0, 300.0
_LEFT, _TEXTS = 62.0, 104.0
_MARGIN = 8.0


class _Scale:
    """Places millimetres of the section in a rectangle, the well's axis in its middle."""

    def __init__(self, rect: QRectF, low: float, high: float, half: float) -> None:
        self.px_per_mm = min(rect.height() / (high - low), rect.width() / (2.0 * half))
        self._x = rect.center().x()
        self._bottom = rect.center().y() + (high - low) * self.px_per_mm / 2.0
        self._low = low

    def at(self, x_mm: float, z_mm: float) -> QPointF:
        return QPointF(self._x + x_mm * self.px_per_mm, self._bottom - (z_mm - self._low) * self.px_per_mm)

    def polygon(self, outline: Outline) -> QPolygonF:
        return QPolygonF([self.at(x, z) for x, z in outline])


class LeanPicture(QWidget):
    """Draws one vessel in one well; the well alone where none stands in it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._held: tuple[CupHolder, LeanDrawn | None] | None = None
        self._system: System = "mm"
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_lean(self, holder: CupHolder, drawn: LeanDrawn | None, system: System, spoken: str) -> None:
        """Show a vessel in a well; spoken is what is seen, in words."""
        self._held, self._system = (holder, drawn), system
        self.setAccessibleName(spoken)
        self.setToolTip(spoken)
        self.update()

    def drawn(self) -> LeanDrawn | None:
        """What is drawn in the well."""
        return None if self._held is None else self._held[1]

    def labels(self) -> list[str]:
        """The words in the picture, top to bottom on the right, then at the left."""
        held = self.drawn()
        if held is None:
            return []
        rooms = [self._room_label(room) for room in reversed(held.rooms)]
        deep = (show_length(held.fit.deep_mm, self._system), said.DEEP) if held.fit.enters else ()
        return [lean_text(held.fit), *rooms, *deep]

    def sizeHint(self) -> QSize:
        return QSizeF(scaled(_WIDE), scaled(_HIGH)).toSize()

    def minimumSizeHint(self) -> QSize:
        return QSizeF(scaled(220.0), scaled(_HIGH)).toSize()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._held is None or self._held[1] is None:
            return
        holder, drawn = self._held
        assert drawn is not None
        theme, painter = theme_in_use(), QPainter(self)
        frame = QRectF(self.rect()).adjusted(0, 0, -1, -1)
        painter.fillRect(frame, QColor(theme.raised))
        painter.setPen(QPen(QColor(theme.line), 1))
        painter.drawRect(frame)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect = frame.adjusted(scaled(_LEFT), scaled(_MARGIN), -scaled(_TEXTS), -scaled(_MARGIN))
        scale = _scale_of(holder, drawn, rect)
        _paint_well(painter, scale, holder, drawn)
        _paint_vessel(painter, scale, drawn)
        _paint_grip(painter, scale, holder, drawn)
        self._paint_rooms(painter, scale, drawn, frame)
        self._paint_depth(painter, scale, drawn)

    def _room_label(self, room: Room) -> str:
        height = show_length(room.height_mm, self._system)
        return said.ROOM_AT.format(room=room_text(room, self._system, with_unit=False), height=height)

    def _paint_rooms(self, painter: QPainter, scale: _Scale, drawn: LeanDrawn, frame: QRectF) -> None:
        """The room at each height beside it, pushed apart where two would touch; what it leans on top."""
        theme, font = theme_in_use(), text_font(SECOND)
        high = line_height(font)
        left = frame.right() - scaled(_TEXTS) + scaled(8)
        top = QRectF(left, frame.top() + scaled(6), scaled(_TEXTS) - scaled(12), high)
        _write_lines(painter, top, lean_text(drawn.fit))
        spots = [scale.at(_wall_at(drawn, room.height_mm), room.height_mm) for room in drawn.rooms]
        # Under what it leans, which takes two lines, and the head of this list.
        ends = frame.bottom() - scaled(6), top.bottom() + 2 * high
        tops = stacked([spot.y() - high / 2 for spot in spots], high, *ends)
        for room, spot, y in zip(drawn.rooms, spots, tops, strict=True):
            line = QRectF(left, y, scaled(_TEXTS) - scaled(12), high)
            tightest = room == drawn.tightest
            painter.setPen(QPen(QColor(theme.accent if tightest else theme.edge), 1.6 if tightest else 1.0))
            painter.drawLine(QLineF(spot, QPointF(left - scaled(4), line.center().y())))
            face = text_font(SECOND, BOLD) if tightest else font
            write(painter, line, self._room_label(room), face, theme.ink if tightest else theme.ink2)
        if drawn.rooms:
            head = QRectF(left, tops[-1] - high, scaled(_TEXTS) - scaled(12), high)
            write(painter, head, said.ROOM_HEAD, text_font(LEAST), theme.ink2)

    def _paint_depth(self, painter: QPainter, scale: _Scale, drawn: LeanDrawn) -> None:
        """How deep it sits, at the left."""
        if not drawn.fit.enters:
            return
        theme = theme_in_use()
        mouth, radius = drawn.well.mouth
        low = scale.at(-radius, mouth - drawn.fit.sits_mm)
        high = scale.at(-radius, mouth - drawn.fit.sits_mm + drawn.fit.deep_mm)
        x = scaled(_LEFT) - scaled(8)
        painter.setPen(QPen(QColor(theme.ink), 1.4))
        painter.drawLine(QLineF(x, low.y(), x, high.y()))
        for end in (low, high):
            painter.drawLine(QLineF(x - scaled(4), end.y(), x + scaled(4), end.y()))
        number, line = show_length(drawn.fit.deep_mm, self._system), line_height(text_font(SECOND))
        room = QRectF(scaled(4), (low.y() + high.y()) / 2 - line, x - scaled(12), line)
        write(painter, room, number, text_font(SECOND, BOLDER), theme.ink, RIGHT)
        write(painter, room.translated(0, line), said.DEEP, text_font(SECOND), theme.ink2, RIGHT)


def stacked(wished: list[float], high: float, bottom: float, top: float = 0.0) -> list[float]:
    """Tops of lines so high near where they are wished, from low to high: apart, over bottom and under top."""
    tops: list[float] = []
    for wish in wished:
        tops.append(min(wish, (tops[-1] if tops else bottom) - high))
    least = top
    for place in reversed(range(len(tops))):
        tops[place] = max(tops[place], least)
        least = tops[place] + high
    return tops


def _write_lines(painter: QPainter, rect: QRectF, text: str) -> None:
    """A few words over as many lines as they need, in the ink of what leans."""
    painter.setFont(text_font(SECOND, BOLDER))
    painter.setPen(QColor(theme_in_use().accent))
    room = QRectF(rect.left(), rect.top(), rect.width(), rect.height() * 3)
    painter.drawText(room, int(Qt.TextFlag.TextWordWrap), text)


def _scale_of(holder: CupHolder, drawn: LeanDrawn, rect: QRectF) -> _Scale:
    points = (*drawn.upright, *drawn.leaning)
    outside = _outside(holder, drawn)
    half = max(outside, *(abs(x) for x, _ in points))
    high = max(drawn.well.top_mm + holder.wall_mm, *(z for _, z in points))
    return _Scale(rect, -holder.wall_mm, high, half)


def _outside(holder: CupHolder, drawn: LeanDrawn) -> float:
    ring = drawn.well.ring[1] if drawn.well.ring is not None else 0.0
    return max(drawn.well.mouth[1], ring) + holder.wall_mm


def _wall_at(drawn: LeanDrawn, height_mm: float) -> float:
    """Radius of the well, or of its ring, at a height."""
    if drawn.well.ring is not None and height_mm > drawn.well.mouth[0]:
        return drawn.well.ring[1]
    walls = drawn.well.wall
    for (low, inner), (high, outer) in itertools.pairwise(walls):
        if low <= height_mm <= high and high > low:
            return inner + (outer - inner) * (height_mm - low) / (high - low)
    return drawn.well.mouth[1]


def _paint_well(painter: QPainter, scale: _Scale, holder: CupHolder, drawn: LeanDrawn) -> None:
    """Bottom and wall cut, and the ring over them."""
    theme, wall = theme_in_use(), holder.wall_mm
    inside = [(radius, height) for height, radius in drawn.well.wall]
    outer = drawn.well.mouth[1] + wall
    foot = (inside[0][0] if len(inside) == 2 else drawn.well.mouth[1]) + wall
    mouth = drawn.well.mouth[0]
    right = [*inside, (outer, mouth), (foot, -wall)]
    cut = tuple(right) + tuple((-x, z) for x, z in reversed(right))
    painter.setPen(QPen(QColor(theme.ink2), 1.0))
    painter.setBrush(QColor(theme.things.well))
    path = QPainterPath()
    path.addPolygon(scale.polygon(cut))
    path.closeSubpath()
    painter.drawPath(path)
    if drawn.well.ring is not None:
        height, radius = drawn.well.ring
        for side in (-1.0, 1.0):
            a, b = (
                scale.at(side * radius, height + wall / 2),
                scale.at(side * (radius + wall), height - wall / 2),
            )
            painter.drawRect(QRectF(a, b).normalized())


def _paint_grip(painter: QPainter, scale: _Scale, holder: CupHolder, drawn: LeanDrawn) -> None:
    """Fingers as leaves that lean inwards, a rubber ring as a bead, as they are with nothing in."""
    if holder.grip == GRIPS[0] or holder.grip_reach_mm <= 0.0:
        return
    theme = theme_in_use()
    painter.setPen(QPen(QColor(theme.raised), 0.8))
    mouth, radius = drawn.well.mouth
    reach = holder.grip_reach_mm
    painter.setBrush(QColor(theme.ink2))
    for side in (-1.0, 1.0):
        tip = scale.at(side * (radius - reach), mouth)
        if holder.grip == "rubber ring":
            size = reach * scale.px_per_mm
            painter.drawEllipse(QPointF(scale.at(side * (radius - reach / 2), mouth)), size / 2, size)
            continue
        low = scale.at(side * radius, mouth - min(18.0, drawn.well.mouth[0] / 2))
        high = scale.at(side * radius, mouth)
        painter.drawPolygon(QPolygonF([low, tip, high]))


def _paint_vessel(painter: QPainter, scale: _Scale, drawn: LeanDrawn) -> None:
    """Upright in its own colour; at its free tilt dashed, with both axes dotted."""
    theme = theme_in_use()
    fill = QColor(theme.things.vessel)
    fill.setAlphaF(0.55)
    painter.setPen(QPen(QColor(theme.things.vessel), 1.4))
    painter.setBrush(fill)
    painter.drawPolygon(scale.polygon(drawn.upright))
    top = max(z for _, z in drawn.upright)
    base = min(z for _, z in drawn.upright)
    dots = QPen(QColor(theme.ink), 1.2, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
    dots.setDashPattern([1.2, 2.2])
    painter.setPen(dots)
    painter.drawLine(QLineF(scale.at(0.0, base), scale.at(0.0, top)))
    if not drawn.leaning:
        return
    painter.drawLine(QLineF(scale.at(*drawn.axis[0]), scale.at(*drawn.axis[1])))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for colour, width in ((theme.raised, 3.4), (theme.accent, 1.4)):
        pen = QPen(QColor(colour), width, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([3.0 * 1.4 / width, 3.0 * 1.4 / width])
        painter.setPen(pen)
        painter.drawPolygon(scale.polygon(drawn.leaning))


def shown_tilt_deg(drawn: LeanDrawn) -> float:
    """How far the drawn axis leans [deg]; 0 where none is drawn."""
    if not drawn.axis:
        return 0.0
    (x, z), (top_x, top_z) = drawn.axis
    return math.degrees(math.atan2(top_x - x, top_z - z))
