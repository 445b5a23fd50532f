"""The state matrix: every pair in every state, a shape and a number a cell."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QItemSelectionModel, QModelIndex, QPoint, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from floorpan.items.states import State
from floorpan.report.only_with import Choice
from floorpan.report.tally_words import WORST_FIRST
from floorpan_app.theme.fonts import PART, SECOND, scaled, text_font
from floorpan_app.widgets.lettering import BOLDER, text_width
from floorpan_app.widgets.matrix_legend import ShapeLegend
from floorpan_app.widgets.matrix_model import MatrixModel
from floorpan_app.widgets.matrix_paint import MatrixDelegate, MatrixHeader, column_width, group_word_width
from floorpan_app.widgets.matrix_table import MatrixGroup, MatrixTable, fold_groups, shown_columns, widened
from floorpan_app.widgets.only_with import OnlyWith

TITLE = "State matrix"
SECOND_LINE = "each column: worst over everything not named"
NOW = "as the car stands now"

_NAMES_MOST, _NAMES_FAIR, _NAMES_LEAST = 220.0, 176.0, 120.0
_Action = QAbstractItemView.CursorAction
_STEPS = {
    _Action.MoveLeft: (0, -1),
    _Action.MoveRight: (0, 1),
    _Action.MoveUp: (-1, 0),
    _Action.MoveDown: (1, 0),
    _Action.MoveNext: (0, 1),
    _Action.MovePrevious: (0, -1),
}


class _MatrixView(QTableView):
    """The table. Arrow keys go from cell to cell that applies."""

    cellPicked = Signal(int, int)
    widthChanged = Signal()

    def __init__(self, model: MatrixModel, parent: QWidget) -> None:
        super().__init__(parent)
        self._matrix = model
        self.header = MatrixHeader(model, self)
        self.setModel(model)
        self.setItemDelegate(MatrixDelegate(model, self))
        self.setHorizontalHeader(self.header)
        self.verticalHeader().hide()
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QTableView.ScrollMode.ScrollPerPixel)
        self.setSelectionMode(QTableView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setMouseTracking(True)
        self.viewport().setAutoFillBackground(False)
        self.setAccessibleName(f"{TITLE}, {SECOND_LINE}")

    def moveCursor(self, action: QAbstractItemView.CursorAction, keys: Qt.KeyboardModifier) -> QModelIndex:
        if action not in _STEPS:
            return super().moveCursor(action, keys)
        current = self.currentIndex()
        row, column = (current.row(), current.column()) if current.isValid() else (-1, 0)
        down, right = _STEPS[action]
        if not current.isValid():
            row, column, down, right = 0, 0, 0, 1
        while True:
            row, column = row + down, column + right
            if not (0 <= row < self._matrix.rowCount() and 0 < column < self._matrix.columnCount()):
                return current
            if self._matrix.cell(row, column) is not None:
                return self._matrix.index(row, column)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        index = self.indexAt(event.position().toPoint())
        if event.button() == Qt.MouseButton.LeftButton and index.isValid() and index == self.currentIndex():
            self.cellPicked.emit(index.row(), index.column())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        index = self.currentIndex()
        if index.isValid() and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            shown = self._matrix.shown()[index.column() - 1]
            if shown.folded() and event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
                self.header.groupAsked.emit(shown.group)
            else:
                self.cellPicked.emit(index.row(), index.column())
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.widthChanged.emit()


class StateMatrix(QWidget):
    """Title, the table, and the shapes with their words.

    Axes that do not fit fold to their worst, the last ones first; there is no sideways scroll.
    """

    cellChosen = Signal(str, str)
    """Row id and column id; for a folded axis the column that is its worst."""
    nowChosen = Signal(bool)
    """Whether to judge as the car stands now instead of over everything not named."""

    def __init__(self, table: MatrixTable | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._table = table or MatrixTable()
        self._open_group = 0
        self._chosen = ("", "")
        self._model = MatrixModel(self)
        self._view = _MatrixView(self._model, self)
        self._now = QCheckBox(NOW, self)
        title, second = QLabel(TITLE, self), QLabel(SECOND_LINE, self)
        title.setFont(text_font(PART, BOLDER))
        second.setFont(text_font(SECOND))
        second.setProperty("role", "second")
        for label in (title, second):
            label.setToolTip(WORST_FIRST)
        self._view.setAccessibleDescription(WORST_FIRST)
        self._top = QHBoxLayout()
        self._top.setSpacing(round(scaled(16)))
        self._top.addWidget(title)
        self._top.addWidget(second)
        self._top.addStretch()
        self.only_with = OnlyWith(self)
        """What all of it is held to; chosen by whoever keeps the findings."""
        self._top.addWidget(self.only_with.button)
        self._top.addWidget(self._now)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(*(round(scaled(side)) for side in (14, 6, 14, 4)))
        layout.setSpacing(round(scaled(4)))
        layout.addLayout(self._top)
        layout.addWidget(self.only_with)
        layout.addWidget(self._view, 1)
        layout.addWidget(ShapeLegend(self))
        self._view.cellPicked.connect(self._say_chosen)
        self._view.widthChanged.connect(self._arrange)
        self._view.header.groupAsked.connect(self.open_group)
        self._now.toggled.connect(self.nowChosen)
        self._arrange()

    def table(self) -> MatrixTable:
        return self._table

    def set_table(self, table: MatrixTable) -> None:
        """Show `table`; the chosen cell stays chosen where it still is."""
        self._table = table
        self._arrange()

    def set_only(self, offered: Sequence[Choice], only: State, note: str = "") -> None:
        """Say what the table is held to, and what it can be held to."""
        self.only_with.show_only(offered, only, note)
        held = self.only_with.accessibleName()
        self._view.setAccessibleName(", ".join(part for part in (TITLE, held, SECOND_LINE) if part))

    def set_now(self, now: bool) -> None:
        """Set the switch without saying so."""
        self._now.blockSignals(True)
        self._now.setChecked(now)
        self._now.blockSignals(False)

    def add_beside_title(self, widget: QWidget) -> None:
        """Put a button, as `Lay side by side`, at the right of the title."""
        self._top.addWidget(widget)

    def chosen(self) -> tuple[str, str]:
        return self._chosen

    def set_chosen(self, row_id: str, column_id: str) -> None:
        """Mark a cell without saying so; ids that are not shown clear the mark."""
        self._chosen = (row_id, column_id)
        place = self._model.place_of(row_id, column_id)
        if place is None:
            self._view.clearSelection()
            self._view.setCurrentIndex(QModelIndex())
            return
        index = self._model.index(*place)
        self._view.selectionModel().setCurrentIndex(index, QItemSelectionModel.SelectionFlag.ClearAndSelect)
        self._view.scrollTo(index)

    def open_group(self, group: int) -> None:
        """Keep axis number `group` unfolded for as long as it fits at all."""
        self._open_group = group
        self._arrange()

    def folded_groups(self) -> tuple[str, ...]:
        """The words of the axes that are folded now."""
        return tuple(self._table.groups[c.group].word for c in self._model.shown() if c.folded())

    def view(self) -> QTableView:
        """The table, for focus and for tests."""
        return self._view

    def cell_centre(self, row_id: str, column_id: str) -> QPoint:
        """Where a cell is, in the coordinates of the table's viewport."""
        place = self._model.place_of(row_id, column_id)
        return self._view.visualRect(self._model.index(*place)).center() if place else QPoint(-1, -1)

    def _names_width(self) -> float:
        rows = self._table.rows
        widths = [text_width(f"{row.first}  – {row.second}", text_font(weight=BOLDER)) for row in rows]
        return min(max([*widths, scaled(_NAMES_LEAST)]) + scaled(14), scaled(_NAMES_MOST))

    def _arrange(self) -> None:
        groups, room = self._table.groups, float(self._view.viewport().width())
        values = _values(self._table)
        wide = [_open_width(group, values) for group in groups]
        narrow = [min(_folded_width(group, values), width) for group, width in zip(groups, wide, strict=True)]
        names = self._names_width()
        folded: set[int] = set()
        # Names give way to numbers, but not further than they can be told apart; only the open axis has it all.
        for least in (_NAMES_FAIR, _NAMES_LEAST):
            if sum(wide) + names > room:
                names = max(min(scaled(least), names), min(names, room - sum(wide)))
            folded = fold_groups(wide, narrow, room - names, self._open_group)
            if self._open_group not in folded:
                break
        if folded:
            used = sum(narrow[i] if i in folded else wide[i] for i in range(len(groups)))
            names = max(names, min(self._names_width(), room - used))
        # A name may be shortened before the word over an axis is: rows are told in full to whoever points at them.
        heads = [group_word_width(group.word) for group in groups]
        taken = [narrow[i] if i in folded else wide[i] for i in range(len(groups))]
        lacks = sum(max(head - width, 0.0) for head, width in zip(heads, taken, strict=True))
        names = min(names, max(min(scaled(_NAMES_FAIR), names), room - sum(taken) - lacks))
        self._model.set_table(self._table, shown_columns(groups, folded))
        self._view.setColumnWidth(0, int(names))
        widths = []
        for shown in self._model.shown():
            said = [value for member in shown.members for value in values.get(member, ())]
            widths.append(column_width(shown.word, shown.starts_group, said))
        for column, width in enumerate(widened(widths, self._model.shown(), heads, room - int(names)), 1):
            self._view.setColumnWidth(column, width)
        self._view.verticalHeader().setDefaultSectionSize(
            self._view.sizeHintForRow(0) if self._table.rows else 29
        )
        if self._chosen != ("", ""):
            self.set_chosen(*self._chosen)

    def _say_chosen(self, row: int, column: int) -> None:
        column_id = self._model.column_id(row, column)
        if column_id:
            self._chosen = (self._table.rows[row].id, column_id)
            self.cellChosen.emit(*self._chosen)


def _values(table: MatrixTable) -> dict[str, set[str]]:
    """What the cells of each column say."""
    values: dict[str, set[str]] = {}
    for (_, column), cell in table.cells.items():
        values.setdefault(column, set()).add(cell.value)
    return values


def _open_width(group: MatrixGroup, values: Mapping[str, set[str]]) -> float:
    return sum(
        column_width(column.word, place == 0, values.get(column.id, ()))
        for place, column in enumerate(group.columns)
    )


def _folded_width(group: MatrixGroup, values: Mapping[str, set[str]]) -> float:
    said = [value for column in group.columns for value in values.get(column.id, ())]
    return column_width(f"worst of {len(group.columns)}", True, said)
