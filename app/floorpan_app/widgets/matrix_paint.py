"""How cells and headings of the state matrix are drawn."""

import math
from collections.abc import Iterable

from PySide6.QtCore import QObject, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHeaderView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from floorpan_app.theme.fonts import BODY, LEAST, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.hatch import paint_unseen_box
from floorpan_app.widgets.ledger_rows import Index
from floorpan_app.widgets.lettering import BOLDER, CENTRE, LEFT, PLAIN, RIGHT, line_height, text_width, write
from floorpan_app.widgets.matrix_model import CELL_ROLE, MatrixModel
from floorpan_app.widgets.matrix_table import MatrixCell, MatrixRow
from floorpan_app.widgets.seam import paint_focus, paint_rule
from floorpan_app.widgets.verdict_shape import paint_verdict, square

CELL_WIDTH = 44.0
CELL_HEIGHT = 29.0
CELL_MOST = 72.0
"""How wide a cell is drawn where its column is wider, because of its word."""
CELL_GAP = 2.0
GROUP_GAP = 10.0
RIM = 2.0
"""Room kept round a cell for the ring of the one that is chosen."""
_SHAPE = 12.0
_SECOND = 0.42
_FAILING = ("hits", "short")


def cell_rect(rect: QRectF, starts_group: bool) -> QRectF:
    """The cell inside its section: gaps between cells and before groups taken off."""
    return rect.adjusted(scaled(GROUP_GAP) if starts_group else scaled(CELL_GAP), 2, -RIM, -2)


def own_rect(rect: QRectF, cell: MatrixCell | None) -> QRectF:
    """The middle of a wide cell, under its heading, so that shape and number stay side by side."""
    most = scaled(CELL_MOST)
    if cell is not None and cell.value:
        most = max(most, _cell_width(text_width(cell.value, text_font(BODY, BOLDER))))
    over = max(rect.width() - most, 0.0) / 2
    return rect.adjusted(over, 0, -over, 0)


def _cell_width(number: float) -> float:
    """What a cell with a number so wide needs, its shape and margins included."""
    return scaled(4) + scaled(_SHAPE) + 2 + number + scaled(5) + 1


def _paint_box(painter: QPainter, rect: QRectF, colour: str, *, stale: bool) -> None:
    pen = QPen(QColor(colour), 1.6 if not stale else 1.2)
    if stale:
        pen.setDashPattern([3, 2.5])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(rect.adjusted(0.8, 0.8, -0.8, -0.8), 4, 4)


def paint_cell(painter: QPainter, rect: QRectF, cell: MatrixCell | None) -> None:
    """Draw one cell into `rect`; None is a state that cannot change it."""
    theme = theme_in_use()
    if cell is None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.off))
        painter.drawEllipse(rect.center(), 1.2, 1.2)
        return
    if cell.verdict == "unseen":
        box = QRectF(rect.left() + 0.5, rect.top() + 1.5, rect.width() - 1, rect.height() - 3)
        paint_unseen_box(painter, box, theme.unseen, theme.paper)
        return
    failing = cell.verdict in _FAILING
    if failing:
        painter.fillRect(rect.adjusted(1, 1, -1, -1), QColor(theme.raised))
    if failing or cell.stale:
        _paint_box(painter, rect, theme.verdict(cell.verdict) if failing else theme.ink2, stale=cell.stale)
    side = scaled(_SHAPE)
    if cell.verdict == "pending":
        left = rect.center().x() - side / 2
        paint_verdict(painter, square(left, rect.center().y(), side), cell.verdict)
        return
    paint_verdict(painter, square(rect.left() + scaled(4), rect.center().y(), side), cell.verdict)
    font = text_font(BODY, BOLDER if failing or cell.verdict == "close" else PLAIN)
    number = rect.adjusted(scaled(4) + side + 2, 0, -scaled(5), 0)
    write(painter, number, cell.value, font, theme.ink2 if cell.stale else theme.ink, RIGHT)


class MatrixDelegate(QStyledItemDelegate):
    """Draws names in the first column and cells in the others."""

    def __init__(self, model: MatrixModel, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._model = model

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(
            round(scaled(CELL_WIDTH)), round(max(scaled(CELL_HEIGHT), line_height(text_font(BODY)) + 4))
        )

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        rect = QRectF(option.rect)
        painter.save()
        # The style washes all of a chosen section; the wash is for the cell inside it.
        painter.fillRect(rect, QColor(theme_in_use().paper))
        if index.row():
            paint_rule(painter, rect.left(), rect.right(), rect.top())
        if index.column() == 0:
            self._paint_name(painter, rect, self._model.table().rows[index.row()], index.row())
        else:
            starts = self._model.shown()[index.column() - 1].starts_group
            cell = index.data(CELL_ROLE)
            inner = own_rect(cell_rect(rect, starts), cell)
            chosen = bool(option.state & QStyle.StateFlag.State_Selected)
            if (chosen or option.state & QStyle.StateFlag.State_MouseOver) and cell is not None:
                painter.fillRect(inner, QColor(theme_in_use().wash))
            paint_cell(painter, inner, cell)
            if chosen:
                paint_focus(painter, inner.adjusted(-RIM, -RIM, RIM, RIM), 5)
        painter.restore()

    def _paint_name(self, painter: QPainter, rect: QRectF, row: MatrixRow, place: int) -> None:
        theme = theme_in_use()
        failing = any(
            (cell := self._model.cell(place, column)) is not None and cell.verdict in _FAILING
            for column in range(1, self._model.columnCount())
        )
        inner = rect.adjusted(scaled(2), 0, -scaled(6), 0)
        second = f"– {row.second}" if row.second else ""
        # Where both do not fit, what is met keeps a part of the room: the pair is no pair without it.
        kept = (
            min(text_width(second, text_font(BODY)) + scaled(6), inner.width() * _SECOND) if second else 0.0
        )
        head = inner.adjusted(0, 0, -kept, 0)
        used = write(painter, head, row.first, text_font(BODY, BOLDER if failing else PLAIN), theme.ink)
        if second:
            rest = inner.adjusted(used + scaled(6), 0, 0, 0)
            write(painter, rest, second, text_font(BODY), theme.ink2)


class MatrixHeader(QHeaderView):
    """Axis words with a line over their stops. A click on a folded axis unfolds it."""

    groupAsked = Signal(int)

    def __init__(self, model: MatrixModel, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._matrix = model
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setSectionsClickable(False)
        # Sections are measured by the table; the header's own least width would widen narrow ones.
        self.setMinimumSectionSize(8)

    def sizeHint(self) -> QSize:
        height = 2 * line_height(text_font(LEAST)) + scaled(14)
        return QSize(super().sizeHint().width(), round(height))

    def _section(self, column: int) -> QRectF:
        return QRectF(self.sectionViewportPosition(column), 0, self.sectionSize(column), self.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = theme_in_use(), QPainter(self.viewport())
        painter.fillRect(self.viewport().rect(), QColor(theme.paper))
        table, shown = self._matrix.table(), self._matrix.shown()
        axis, stop = text_font(LEAST), text_font(LEAST, BOLDER)
        half = line_height(axis) + scaled(4)
        for place, column in enumerate(shown):
            rect = cell_rect(self._section(place + 1), column.starts_group)
            low = QRectF(rect.left() - 2, half + scaled(2), rect.width() + 4, line_height(stop) + scaled(6))
            write(painter, low, column.word, stop, theme.accent if column.folded() else theme.ink, CENTRE)
            if column.starts_group:
                last = max(i for i, other in enumerate(shown) if other.group == column.group)
                right = self._section(last + 1).right()
                word = QRectF(rect.left() + scaled(2), 0, right - rect.left(), half)
                write(painter, word, table.groups[column.group].word, axis, theme.ink2, LEFT)
                painter.fillRect(QRectF(rect.left(), half, right - rect.left(), 1.5), QColor(theme.edge))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        column = self.logicalIndexAt(event.position().toPoint())
        if column > 0 and self._matrix.shown()[column - 1].folded():
            self.groupAsked.emit(self._matrix.shown()[column - 1].group)
        super().mouseReleaseEvent(event)


def column_width(word: str, starts_group: bool, values: Iterable[str] = ()) -> int:
    """The section a stop of `word` needs for its `values`, gaps included, in whole pixels."""
    gap = scaled(GROUP_GAP) if starts_group else scaled(CELL_GAP)
    bold = text_font(BODY, BOLDER)
    widest = max((text_width(value, bold) for value in values), default=0.0)
    return math.ceil(
        gap
        + RIM
        + max(scaled(CELL_WIDTH), _cell_width(widest), text_width(word, text_font(LEAST, BOLDER)) + scaled(4))
    )


def group_word_width(word: str) -> int:
    """What the columns of an axis need together for its word to stand over them unshortened."""
    return math.ceil(scaled(GROUP_GAP) + RIM + text_width(word, text_font(LEAST)) + scaled(4))
