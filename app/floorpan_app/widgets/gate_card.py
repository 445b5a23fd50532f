"""The gate card: the shift pattern with a verdict at every gear; a click puts the lever there."""

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from floorpan_app.theme.fonts import BODY, SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import Verdict
from floorpan_app.widgets.gate_pattern import Gear, gate_lines, next_gear, place_gears
from floorpan_app.widgets.lettering import BOLD, BOLDER, LEFT, RIGHT, line_height, text_width, write
from floorpan_app.widgets.roving import RowButton, make_stop
from floorpan_app.widgets.verdict_shape import paint_verdict, square

_SHAPE = 14.0
_RING = 15.0
_PITCH = 56.0
_WIDE_PITCH = 92.0
_SIDE_BY_SIDE = 80.0
_LIST = 116.0
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class _GearMark(RowButton):
    """One gear: its shape, its letter and, without a list, its gap beside or below the letter."""

    def __init__(self, gear: Gear, parent: QWidget) -> None:
        super().__init__(parent)
        self.gear = gear
        self.in_hand = False
        self.with_value = False
        self.stacked = False
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)

    def show_gear(self, *, in_hand: bool, with_value: bool, stacked: bool) -> None:
        self.in_hand, self.with_value, self.stacked = in_hand, with_value, stacked
        gear = self.gear
        said = gear.sentence or f"{gear.verdict} {gear.value} {gear.part}".strip()
        self.setAccessibleName(f"Gear {gear.gear}, {'in hand, ' if in_hand else ''}{said}")
        self.setToolTip(gear.sentence)
        self.resize(round(self._words_left() + self._words_width() + 3), round(scaled(2 * _RING + 7)))
        self.update()

    def middle(self) -> QPointF:
        """The middle of the shape, in the mark's own coordinates."""
        return QPointF(scaled(_RING + 3), self.height() / 2)

    def _words_left(self) -> float:
        return scaled(_RING + 3) + scaled(_RING + 5 if self.in_hand else 12)

    def _words_width(self) -> float:
        letter = text_width(self.gear.gear, text_font(BODY, BOLDER))
        value = text_width(self.gear.value, text_font(SECOND, BOLDER)) if self.with_value else 0.0
        return max(letter, value) if self.stacked else letter + scaled(5) + value

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, middle = theme_in_use(), QPainter(self), self.middle()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ring = scaled(_RING)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.paper))
        painter.drawEllipse(middle, scaled(11), scaled(11))
        if self.in_hand or self.underMouse():
            painter.setBrush(QColor(theme.wash))
            if self.in_hand:
                painter.setPen(QPen(QColor(theme.accent), 2))
            painter.drawEllipse(middle, ring, ring)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(theme.accent), 2))
            reach = ring + 2.5 if self.in_hand else scaled(11)
            painter.drawEllipse(middle, reach, reach)
        if self.gear.stale:
            self._paint_stale(painter)
        side = scaled(_SHAPE)
        paint_verdict(painter, square(middle.x() - side / 2, middle.y(), side), self.gear.verdict)
        self._paint_words(painter)

    def _paint_stale(self, painter: QPainter) -> None:
        """A dashed ring, as round every ticket that tells how it was before the move."""
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(theme_in_use().ink2), 1.2, Qt.PenStyle.DashLine))
        painter.drawEllipse(self.middle(), scaled(10), scaled(10))

    def _paint_words(self, painter: QPainter) -> None:
        theme, left = theme_in_use(), self._words_left()
        letter, small = text_font(BODY, BOLDER), text_font(SECOND)
        if _gap_verdict(self.gear) in ("hits", "short"):
            small.setWeight(BOLDER)
        if not float(self.gear.row).is_integer():
            # A gear in neutral is written across the slot.
            words = QRectF(
                left - scaled(2), self.height() / 3, self.width() - left + scaled(2), self.height() / 3
            )
            painter.fillRect(words, QColor(theme.paper))
        ink = theme.ink2 if self.gear.gap_stale else theme.ink
        room = self.width() - left
        if self.stacked and self.with_value and self.gear.value:
            height = line_height(letter)
            top = (self.height() - height - line_height(small)) / 2 + scaled(1)
            write(painter, QRectF(left, top, room, height), self.gear.gear, letter, theme.ink)
            low = QRectF(left, top + height - scaled(1), room, line_height(small))
            write(painter, low, self.gear.value, small, ink)
            return
        left += write(
            painter, QRectF(left, 0, room, self.height()), self.gear.gear, letter, theme.ink
        ) + scaled(5)
        if self.with_value:
            write(painter, QRectF(left, 0, self.width() - left, self.height()), self.gear.value, small, ink)


class GateCard(QWidget):
    """The pattern, the gear in hand ringed, and beside it a list of the gaps where there is room."""

    gearChosen = Signal(str)

    def __init__(
        self, gears: tuple[Gear, ...] = (), in_hand: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._marks: list[_GearMark] = []
        self._in_hand = in_hand
        self._may_list = True
        self.setAccessibleName("Gears, smallest gap in each")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.set_gears(gears)

    def gears(self) -> tuple[Gear, ...]:
        return tuple(mark.gear for mark in self._marks)

    def in_hand(self) -> str:
        return self._in_hand

    def set_gears(self, gears: tuple[Gear, ...]) -> None:
        """Show a pattern; the same gears in the same order keep the keyboard where it is."""
        if [gear.gear for gear in gears] != [mark.gear.gear for mark in self._marks]:
            for mark in self._marks:
                mark.deleteLater()
            self._marks = [_GearMark(gear, self) for gear in gears]
            for mark in self._marks:
                mark.clicked.connect(self._say_chosen)
                mark.show()
        for mark, gear in zip(self._marks, gears, strict=True):
            mark.gear = gear
        self._arrange()

    def set_in_hand(self, gear: str) -> None:
        self._in_hand = gear
        self._arrange()

    def set_listing(self, may_list: bool) -> None:
        """Allow the list beside the pattern; without it every gap stands beside its gear."""
        self._may_list = may_list
        self._arrange()

    def is_listing(self) -> bool:
        """Whether the list is shown: it is allowed and there is room for it."""
        return self._may_list and self._pattern_width(_PITCH) + self._least_list() <= self.width()

    def _value_width(self) -> float:
        widths = [text_width(mark.gear.value, text_font(BODY, BOLD)) for mark in self._marks]
        return max([scaled(32), *(width + 1 for width in widths)])

    def _least_list(self) -> float:
        """Gear, shape and value of every row, and room for a short part."""
        return scaled(_LIST - 32) + self._value_width()

    def _list_width(self) -> float:
        """As much as its longest row needs, where the pattern leaves that."""
        parts = [text_width(mark.gear.part, text_font(SECOND)) for mark in self._marks]
        wished = scaled(44) + self._value_width() + max([0.0, *parts]) + 1
        return max(self._least_list(), min(wished, self.width() - self._pattern_width(_PITCH)))

    def _columns(self) -> float:
        columns = [mark.gear.column for mark in self._marks] or [0.0]
        return max(columns) - min(columns)

    def _pattern_width(self, pitch: float) -> float:
        return scaled(2 * _RING + 6) + self._columns() * scaled(pitch) + scaled(30)

    def _pattern_rect(self) -> QRectF:
        left, top = scaled(_RING + 3), self._head() + scaled(_RING + 5)
        if self.is_listing():
            pitch = scaled(_PITCH)
        else:
            room = self.width() - left - scaled(70)
            pitch = min(scaled(_WIDE_PITCH), room / max(1.0, self._columns()))
        return QRectF(left, top, self._columns() * pitch, self._pattern_height())

    def _pattern_height(self) -> float:
        rows = [mark.gear.row for mark in self._marks] or [0.0]
        span = max(rows) - min(rows)
        return scaled(34) * span if self._columns() == 0 else scaled(72)

    def _head(self) -> float:
        return line_height(text_font(BODY, BOLDER)) + scaled(4)

    def _places(self) -> dict[str, QPointF]:
        return place_gears(self.gears(), self._pattern_rect()) if self._marks else {}

    def _arrange(self) -> None:
        places, with_value = self._places(), not self.is_listing()
        pitch = self._pattern_rect().width() / max(1.0, self._columns())
        stacked = self._columns() > 0 and pitch < scaled(_SIDE_BY_SIDE)
        for mark in self._marks:
            in_hand = mark.gear.gear == self._in_hand
            mark.show_gear(in_hand=in_hand, with_value=with_value, stacked=stacked)
            mark.move((places[mark.gear.gear] - mark.middle()).toPoint())
        if not any(mark.hasFocus() for mark in self._marks):
            held = next((mark for mark in self._marks if mark.in_hand), None)
            make_stop(self._marks, held or (self._marks[0] if self._marks else None))
        self.updateGeometry()
        self.update()

    def _say_chosen(self) -> None:
        mark = self.sender()
        if isinstance(mark, _GearMark):
            self.gearChosen.emit(mark.gear.gear)

    def sizeHint(self) -> QSize:
        height = self._head() + scaled(2 * _RING + 10) + self._pattern_height()
        rows = line_height(text_font(BODY)) * len(self._marks) + self._head() + scaled(4)
        listed = max(height, rows) if self._may_list else height
        return QSizeF(self._pattern_width(_PITCH) + self._least_list(), listed).toSize()

    def minimumSizeHint(self) -> QSize:
        return QSize(round(self._pattern_width(_PITCH)), self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        holding = next((mark for mark in self._marks if mark.hasFocus()), None)
        step = _ARROWS.get(Qt.Key(event.key()))
        if holding is None or step is None:
            super().keyPressEvent(event)
            return
        target = next_gear(self._places(), holding.gear.gear, *step)
        mark = next(mark for mark in self._marks if mark.gear.gear == target)
        make_stop(self._marks, mark)
        mark.setFocus(Qt.FocusReason.TabFocusReason)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = theme_in_use(), QPainter(self)
        head = QRectF(0, 0, self.width(), line_height(text_font(BODY, BOLDER)))
        write(painter, head, "Gears", text_font(BODY, BOLDER), theme.ink)
        write(painter, head, "smallest gap in each", text_font(SECOND), theme.ink2, RIGHT)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.edge), 2, Qt.PenStyle.SolidLine, Qt.PenCapStyle.SquareCap))
        painter.drawLines([_snapped(line) for line in gate_lines(self.gears(), self._places())])
        if self.is_listing():
            self._paint_list(painter)

    def _paint_list(self, painter: QPainter) -> None:
        theme = theme_in_use()
        left, wide = self.width() - self._list_width(), self._value_width()
        height = line_height(text_font(BODY))
        top = self._head() + scaled(4)
        for mark in self._marks:
            gear = mark.gear
            write(
                painter, QRectF(left, top, scaled(20), height), gear.gear, text_font(BODY, BOLDER), theme.ink
            )
            side = scaled(12)
            paint_verdict(painter, square(left + scaled(20), top + height / 2, side), _gap_verdict(gear))
            value = QRectF(left + scaled(36), top, wide, height)
            ink = theme.ink2 if gear.gap_stale else theme.ink
            write(painter, value, gear.value, text_font(BODY, BOLD), ink, RIGHT)
            words = left + scaled(44) + wide
            part = QRectF(words, top, self.width() - words, height)
            write(painter, part, gear.part, text_font(SECOND), theme.ink2, LEFT)
            top += height


def _gap_verdict(gear: Gear) -> Verdict:
    """What stands beside a gap is about that gap."""
    return gear.gap_verdict or gear.verdict


def _snapped(line: QLineF) -> QLineF:
    """The line with its ends on whole pixels, where a stroke of 2 px is crisp."""
    return QLineF(round(line.x1()), round(line.y1()), round(line.x2()), round(line.y2()))
