"""A short list in a card: a shape or a letter, a name, a quiet word, a value with its give or take."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from floorpan_app.theme.fonts import BODY, SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import Verdict
from floorpan_app.widgets.lettering import BOLD, BOLDER, LEFT, RIGHT, line_height, text_width, write
from floorpan_app.widgets.roving import RowButton, make_stop, walk
from floorpan_app.widgets.seam import paint_focus, paint_rule
from floorpan_app.widgets.verdict_shape import paint_verdict, square

_PAD = 8.0
_SHAPE = 14.0
_BAR = 3.0
_LETTER = 22.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row. `second` takes a line of its own, `tail` stands before the value; `spoken` is the whole sentence."""

    id: str
    title: str
    letter: str = ""
    mark: Verdict | None = None
    second: str = ""
    tail: str = ""
    value: str = ""
    trust: str = ""
    spoken: str = ""


class RowMark(RowButton):
    """One row, painted."""

    def __init__(self, row: Row, parent: QWidget) -> None:
        super().__init__(parent)
        self.row = row
        self.first = False
        self.setCheckable(True)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_row(self, row: Row, *, first: bool) -> None:
        self.row, self.first = row, first
        said = row.spoken or ", ".join(
            part for part in (row.letter, row.title, row.tail, row.second, row.value, row.trust) if part
        )
        self.setAccessibleName(said)
        self.setToolTip(said)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        lines = line_height(text_font(BODY)) + (line_height(text_font(SECOND)) if self.row.second else 0.0)
        return QSizeF(scaled(200), max(scaled(28), lines + scaled(10))).toSize()

    def minimumSizeHint(self) -> QSize:
        return QSize(0, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        if self.isChecked() or self.underMouse():
            painter.fillRect(rect, QColor(theme.wash))
        if self.isChecked():
            painter.fillRect(QRectF(0, 0, scaled(_BAR), rect.height()), QColor(theme.accent))
        if not self.first:
            paint_rule(painter, 0, rect.width(), 0)
        inside = rect.adjusted(scaled(_PAD), 0, -scaled(_PAD), 0)
        if self.row.second:
            low = line_height(text_font(SECOND))
            top = (rect.height() - line_height(text_font(BODY)) - low) / 2
            line = QRectF(inside.left(), top, inside.width(), line_height(text_font(BODY)))
            left = self._paint_line(painter, line)
            room = QRectF(left, line.bottom(), inside.right() - left, low)
            write(painter, room, self.row.second, text_font(SECOND), theme.ink2)
        else:
            self._paint_line(painter, inside)
        if self.hasFocus():
            paint_focus(painter, rect.adjusted(1, 1, -1, -1))

    def _paint_line(self, painter: QPainter, line: QRectF) -> float:
        """The first line; answers where its words begin."""
        theme, row = theme_in_use(), self.row
        heavy = row.mark in ("hits", "short")
        left, right = line.left(), line.right()
        if row.letter:
            write(painter, line, row.letter, text_font(BODY, BOLDER), theme.ink)
            left += max(scaled(_LETTER), text_width(row.letter, text_font(BODY, BOLDER)) + scaled(8))
        elif row.mark:
            paint_verdict(painter, square(left, line.center().y() + 1, scaled(_SHAPE)), row.mark)
            left += scaled(_SHAPE + 8)
        if row.trust:
            room = QRectF(line.left(), line.top(), right - line.left(), line.height())
            right -= write(painter, room, row.trust, text_font(SECOND), theme.ink2, RIGHT) + scaled(5)
        if row.value:
            room = QRectF(line.left(), line.top(), right - line.left(), line.height())
            right -= write(painter, room, row.value, text_font(BODY, BOLD), theme.ink, RIGHT) + scaled(8)
        if row.letter and row.mark:
            right -= scaled(_SHAPE)
            paint_verdict(painter, square(right, line.center().y() + 1, scaled(_SHAPE)), row.mark)
            right -= scaled(8)
        return self._paint_names(painter, line, left, right, heavy=heavy)

    def _paint_names(
        self, painter: QPainter, line: QRectF, left: float, right: float, *, heavy: bool
    ) -> float:
        theme, row = theme_in_use(), self.row
        font = text_font(BODY, BOLDER) if heavy else text_font(BODY)
        if row.tail:
            # The name goes first; the quiet word takes what is left.
            spare = right - left - text_width(row.title, font) - scaled(10)
            width = min(text_width(row.tail, text_font(SECOND)) + 1, max(spare, (right - left) * 0.3))
            room = QRectF(right - width, line.top(), width, line.height())
            write(painter, room, row.tail, text_font(SECOND), theme.ink2, RIGHT)
            right -= width + scaled(8)
        write(
            painter, QRectF(left, line.top(), right - left, line.height()), row.title, font, theme.ink, LEFT
        )
        return left


class Rows(QWidget):
    """Rows of which one may be chosen. One stop for the Tab key; arrows walk.

    row_chosen(id) : somebody pressed a row
    """

    row_chosen = Signal(str)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._marks: list[RowMark] = []
        self._chosen = ""
        self.hide()

    def rows(self) -> tuple[Row, ...]:
        """The rows as they are shown."""
        return tuple(mark.row for mark in self._marks if not mark.isHidden())

    def chosen(self) -> str:
        """The id of the chosen row, "" for none."""
        return self._chosen

    def mark_of(self, row: Row) -> RowMark:
        """What a row is painted by."""
        return RowMark(row, self)

    def show_rows(self, rows: Sequence[Row], chosen: str = "") -> None:
        """Show these rows; the same number of them keeps the keyboard where it is."""
        while len(self._marks) < len(rows):
            mark = self.mark_of(rows[len(self._marks)])
            mark.clicked.connect(lambda _=False, mark=mark: self._press(mark))
            self._column.addWidget(mark)
            self._marks.append(mark)
        self._chosen = chosen if any(row.id == chosen for row in rows) else ""
        for place, mark in enumerate(self._marks):
            mark.setVisible(place < len(rows))
            if place < len(rows):
                mark.show_row(rows[place], first=place == 0)
                mark.setChecked(rows[place].id == self._chosen)
        self.setVisible(bool(rows))
        shown = self._marks[: len(rows)]
        if not any(mark.hasFocus() for mark in shown):
            held = next((mark for mark in shown if mark.isChecked()), shown[0] if shown else None)
            make_stop(self._marks, held)

    def press(self, id: str) -> None:
        """Choose a row as the mouse does."""
        for mark in self._marks:
            if mark.row.id == id and not mark.isHidden():
                self._press(mark)
                return

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not walk(self._marks, event):
            super().keyPressEvent(event)

    def _press(self, mark: RowMark) -> None:
        self._chosen = mark.row.id
        for other in self._marks:
            other.setChecked(other is mark)
        make_stop(self._marks, mark)
        self.row_chosen.emit(mark.row.id)
