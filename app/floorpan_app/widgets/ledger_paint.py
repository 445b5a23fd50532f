"""How a row of the ledger is drawn, and which part of it lies under the mouse."""

from typing import Literal

from PySide6.QtCore import QObject, QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from floorpan_app.theme.fonts import BODY, PART, SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.ledger_rows import ROW_ROLE, Index, LedgerRow
from floorpan_app.widgets.lettering import BOLD, BOLDER, PLAIN, RIGHT, line_height, text_width, write
from floorpan_app.widgets.seam import paint_focus, paint_rule
from floorpan_app.widgets.verdict_shape import paint_stale, paint_verdict, square

RowPart = Literal["row", "give or take", "doing"]

_LEFT = 16.0
_SHAPE = 14.0
_TEXT = 38.0
_RIGHT = 14.0
_BAR = 3.0


def row_height() -> float:
    """46 px at 100 %, more where two lines of text need it."""
    lines = line_height(text_font(BODY)) + line_height(text_font(SECOND))
    return max(scaled(46), lines + scaled(8))


class _Lines:
    """The rectangles of one row."""

    def __init__(self, rect: QRectF, row: LedgerRow) -> None:
        big, small = line_height(text_font(BODY)), line_height(text_font(SECOND))
        top = rect.top() + (rect.height() - big - small) / 2
        right = rect.right() - scaled(_RIGHT)
        text = rect.left() + scaled(_TEXT)
        value = text_width(row.value or row.verdict, text_font(PART, BOLD)) + (scaled(18) if row.stale else 0)
        tail = row.doing or row.give_or_take
        tail_width = text_width(tail, text_font(SECOND)) + 1
        self.value = QRectF(right - value, top, value, big)
        self.title = QRectF(text, top, self.value.left() - scaled(8) - text, big)
        self.tail = QRectF(right - tail_width, top + big, tail_width, small)
        self.second = QRectF(text, top + big, self.tail.left() - scaled(8) - text, small)


def part_at(rect: QRectF, row: LedgerRow, place: QPointF) -> RowPart:
    """What of a row lies at `place`."""
    if (row.doing or row.give_or_take) and _Lines(rect, row).tail.adjusted(-4, -2, 4, 4).contains(place):
        return "doing" if row.doing else "give or take"
    return "row"


def _paint_words(painter: QPainter, rect: QRectF, row: LedgerRow, right_of_rows: float) -> None:
    theme, lines = theme_in_use(), _Lines(rect, row)
    heavy = row.verdict in ("hits", "short")
    write(painter, lines.title, row.title, text_font(BODY, BOLDER if heavy else PLAIN), theme.ink)
    write(painter, lines.second, row.second, text_font(SECOND), theme.ink2)
    ink = theme.ink2 if row.stale else theme.ink
    write(painter, lines.value, row.value or row.verdict, text_font(PART, BOLD), ink, RIGHT)
    if row.stale:
        paint_stale(painter, square(lines.value.left(), lines.value.center().y(), scaled(14)))
    if row.doing:
        font = text_font(SECOND)
        font.setUnderline(True)
        write(painter, lines.tail, row.doing, font, theme.accent, RIGHT)
    else:
        write(painter, lines.tail, row.give_or_take, text_font(SECOND), theme.ink2, RIGHT)


class LedgerDelegate(QStyledItemDelegate):
    """Draws rows: shape, title and value, then what is wanted and the give or take."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.lit_id = ""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(round(scaled(200)), round(row_height()))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row: LedgerRow = index.data(ROW_ROLE)
        theme, rect = theme_in_use(), QRectF(option.rect)
        state = option.state
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        hovered = bool(state & QStyle.StateFlag.State_MouseOver)
        painter.save()
        if chosen or hovered or row.id == self.lit_id:
            painter.fillRect(rect, QColor(theme.wash))
        if chosen:
            painter.fillRect(
                QRectF(rect.left(), rect.top(), scaled(_BAR), rect.height()), QColor(theme.accent)
            )
        if index.row():
            paint_rule(painter, rect.left() + scaled(12), rect.right() - scaled(12), rect.top())
        first = rect.top() + (rect.height() - line_height(text_font(SECOND))) / 2
        paint_verdict(painter, square(rect.left() + scaled(_LEFT), first, scaled(_SHAPE)), row.verdict)
        _paint_words(painter, rect, row, rect.right())
        if state & QStyle.StateFlag.State_HasFocus and state & QStyle.StateFlag.State_KeyboardFocusChange:
            paint_focus(painter, rect.adjusted(scaled(_BAR) + 1, 1, -1, -1))
        painter.restore()
