"""The sketch of how the field in hand is taped, with its sentence: figure, landmarks, and the marked length."""

import math

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from floorpan.driver.measuring import SKETCHED, WIDE_OVER_HIGH, sentences, sketch
from floorpan.driver.sketch import Angle, At, Dimension, Loop, Path, Sketch, Tone
from floorpan_app.theme.fonts import BODY, SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import Theme
from floorpan_app.widgets.lettering import BOLDER, line_height, write

_WIDE = 300.0
_ARROW_LONG, _ARROW_BROAD = 9.0, 5.5
_SHORT = 3.2 * _ARROW_LONG
_APART = 6.0
_DOT = 3.2


class _Pen:
    """Places millimetres of a sketch on a rectangle, and paints them."""

    def __init__(self, painter: QPainter, held: Sketch, rect: QRectF) -> None:
        self._painter = painter
        self._rect = rect
        self._corner = (held.least[0], held.greatest[1])
        self._scale = rect.width() / (held.greatest[0] - held.least[0])

    def at(self, point: At) -> QPointF:
        x = self._rect.left() + (point[0] - self._corner[0]) * self._scale
        return QPointF(x, self._rect.top() + (self._corner[1] - point[1]) * self._scale)

    def stroke(self, path: Path, colour: str, width: float, *, halo: str = "") -> None:
        corners = QPolygonF([self.at(point) for point in path])
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        for ink, wide in ((halo, width + 3.0), (colour, width)) if halo else ((colour, width),):
            self._painter.setPen(
                QPen(
                    QColor(ink),
                    wide,
                    Qt.PenStyle.SolidLine,
                    Qt.PenCapStyle.FlatCap,
                    Qt.PenJoinStyle.RoundJoin,
                )
            )
            self._painter.drawPolyline(corners)

    def fill(self, rings: tuple[Path, ...], colour: str) -> None:
        path = QPainterPath()
        for ring in rings:
            path.addPolygon(QPolygonF([self.at(point) for point in ring]))
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.fillPath(path, QColor(colour))

    def dot(self, point: At, ink: str, ground: str) -> None:
        self._painter.setPen(QPen(QColor(ground), 1.6))
        self._painter.setBrush(QColor(ink))
        self._painter.drawEllipse(self.at(point), scaled(_DOT) + 0.8, scaled(_DOT) + 0.8)

    def ring(self, point: At, ink: str, ground: str) -> None:
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        for colour, width in ((ground, 4.6), (ink, 1.6)):
            self._painter.setPen(QPen(QColor(colour), width))
            self._painter.drawEllipse(self.at(point), scaled(10), scaled(10))

    def arrow(self, tip: QPointF, towards: QPointF, ink: str) -> None:
        """A slim head at a tip, pointing the way from `towards` to it."""
        across, down = tip.x() - towards.x(), tip.y() - towards.y()
        long = math.hypot(across, down) or 1.0
        unit = QPointF(across / long, down / long)
        back = tip - unit * scaled(_ARROW_LONG)
        half = QPointF(-unit.y(), unit.x()) * (scaled(_ARROW_BROAD) / 2.0)
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(QColor(ink))
        self._painter.drawPolygon(QPolygonF([tip, back + half, back - half]))


def _mixed(one: str, other: str, share: float) -> str:
    """A colour between two of the record's own."""
    first, second, rest = QColor(one), QColor(other), 1.0 - share
    return QColor.fromRgbF(
        first.redF() * rest + second.redF() * share,
        first.greenF() * rest + second.greenF() * share,
        first.blueF() * rest + second.blueF() * share,
    ).name()


def _fill_of(tone: Tone, theme: Theme) -> str:
    things, ground = theme.things, theme.raised
    return {
        "body": _mixed(things.driver, ground, 0.62),
        "limb": _mixed(things.driver, ground, 0.3),
        "far": _mixed(things.driver, ground, 0.8),
        "seat": _mixed(things.seat, ground, 0.55),
        "steel": things.steel,
        "add": theme.wash,
    }[tone]


def paint_sketch(painter: QPainter, rect: QRectF, held: Sketch) -> None:
    """Draw a sketch into a rectangle of its own shape, on a raised ground."""
    theme = theme_in_use()
    painter.save()
    painter.setClipRect(rect)
    painter.fillRect(rect, QColor(theme.raised))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    pen = _Pen(painter, held, rect)
    for path in held.lines:
        pen.stroke(path, theme.edge, 1.2)
    for solid in held.solids:
        pen.fill(solid.rings, _fill_of(solid.tone, theme))
        for edge in solid.edges:
            pen.stroke(edge, theme.ink2, 1.2)
    if isinstance(held.mark, Dimension):
        _paint_dimension(pen, held.mark)
    elif isinstance(held.mark, Angle):
        _paint_angle(pen, held.mark)
    elif isinstance(held.mark, Loop):
        pen.stroke(held.mark.path, theme.accent, 2.2, halo=theme.raised)
    for point in held.dots:
        if held.mark is None:
            pen.ring(point, theme.accent, theme.raised)
        pen.dot(point, theme.accent, theme.raised)
    painter.restore()


def _paint_dimension(pen: _Pen, mark: Dimension) -> None:
    theme = theme_in_use()
    ends = mark.ends()
    for point, end in zip((mark.one, mark.other), ends, strict=True):
        if math.dist(point, end) > 0.5:
            pen.stroke((point, end), theme.accent, 1.0, halo=theme.raised)
    one, other = (pen.at(end) for end in ends)
    long = math.hypot(other.x() - one.x(), other.y() - one.y())
    if long < scaled(_SHORT):
        _paint_short(pen, ends, long)
        return
    pen.stroke(ends, theme.accent, 1.8, halo=theme.raised)
    pen.arrow(one, other, theme.accent)
    pen.arrow(other, one, theme.accent)


def _paint_short(pen: _Pen, ends: tuple[At, At], long: float) -> None:
    """Arrows from outside where there is no room between the ends."""
    theme = theme_in_use()
    share = scaled(2.2 * _ARROW_LONG) / max(long, 1.0)
    for here, there in (ends, ends[::-1]):
        tail = tuple(a + (a - b) * share for a, b in zip(here, there, strict=True))
        pen.stroke((here, (tail[0], tail[1])), theme.accent, 1.8, halo=theme.raised)
        pen.arrow(pen.at(here), pen.at((tail[0], tail[1])), theme.accent)


def _paint_angle(pen: _Pen, mark: Angle) -> None:
    theme = theme_in_use()
    for point in (mark.one, mark.other):
        pen.stroke((mark.at, point), theme.accent, 1.2, halo=theme.raised)
    arc = mark.arc()
    pen.stroke(arc, theme.accent, 1.8, halo=theme.raised)
    if math.dist(arc[0], arc[-1]) > 0.0:
        pen.arrow(pen.at(arc[0]), pen.at(arc[2]), theme.accent)
        pen.arrow(pen.at(arc[-1]), pen.at(arc[-3]), theme.accent)


class MeasureSketch(QWidget):
    """Shows how one field is taped; nothing while none is in hand, and its place is kept.

    Its label, its sentence and what is to be seen are read aloud.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._key = ""
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def key(self) -> str:
        """What is shown; empty while nothing is."""
        return self._key

    def show_key(self, key: str) -> None:
        """Show how a key is taped; a key without a sketch shows nothing."""
        self._key = key if key in SKETCHED else ""
        held = sketch(self._key) if self._key else None
        self.setAccessibleName(held.label if held else "")
        self.setAccessibleDescription(f"{held.how} {held.says}" if held else "")
        self.update()

    def picture_rect(self) -> QRectF:
        """Where the picture stands."""
        wide = min(self.width() - 2.0, scaled(_WIDE) * 1.4)
        return QRectF(1.0, 1.0, wide, wide / WIDE_OVER_HIGH)

    def _words(self, wide: float) -> float:
        """How high the longest sentence stands [px], so that the place never changes."""
        metrics, room = QFontMetricsF(text_font(SECOND)), QRectF(0, 0, wide, 10_000.0)
        wrap = int(Qt.TextFlag.TextWordWrap)
        return max(metrics.boundingRect(room, wrap, told).height() for told in sentences())

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        wide = min(width - 2.0, scaled(_WIDE) * 1.4)
        words = line_height(text_font(BODY, BOLDER)) + self._words(width - 2.0)
        return math.ceil(wide / WIDE_OVER_HIGH + scaled(_APART) + words + 2.0)

    def sizeHint(self) -> QSize:
        wide = round(scaled(_WIDE))
        return QSize(wide, self.heightForWidth(wide))

    def minimumSizeHint(self) -> QSize:
        return QSizeF(scaled(200.0), self.heightForWidth(round(scaled(200.0)))).toSize()

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self._key:
            return
        theme, painter, held = theme_in_use(), QPainter(self), sketch(self._key)
        picture = self.picture_rect()
        paint_sketch(painter, picture, held)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(QPen(QColor(theme.line), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(picture)
        top = picture.bottom() + scaled(_APART)
        high = line_height(text_font(BODY, BOLDER))
        write(
            painter,
            QRectF(1.0, top, self.width() - 2.0, high),
            held.label,
            text_font(BODY, BOLDER),
            theme.ink,
        )
        painter.setFont(text_font(SECOND))
        painter.setPen(QColor(theme.ink2))
        room = QRectF(1.0, top + high, self.width() - 2.0, self.height() - top - high)
        painter.drawText(room, int(Qt.TextFlag.TextWordWrap), held.how)
