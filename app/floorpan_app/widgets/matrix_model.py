"""The state matrix as a table model: names in the first column, then the shown columns."""

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, Qt

from floorpan_app.widgets.ledger_rows import Index
from floorpan_app.widgets.matrix_table import MatrixCell, MatrixTable, ShownColumn, worst_member

CELL_ROLE = int(Qt.ItemDataRole.UserRole) + 1
_TOP = QModelIndex()
_NAMES = 0


class MatrixModel(QAbstractTableModel):
    """Cells by row and shown column; what is spoken for a cell is its sentence with its place."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._table = MatrixTable()
        self._shown: tuple[ShownColumn, ...] = ()

    def table(self) -> MatrixTable:
        return self._table

    def shown(self) -> tuple[ShownColumn, ...]:
        return self._shown

    def set_table(self, table: MatrixTable, shown: tuple[ShownColumn, ...]) -> None:
        same = (table.groups, table.rows, shown) == (self._table.groups, self._table.rows, self._shown)
        if same:
            self._table = table
            if table.rows:
                last = self.index(self.rowCount() - 1, self.columnCount() - 1)
                self.dataChanged.emit(self.index(0, 0), last)
            return
        self.beginResetModel()
        self._table, self._shown = table, shown
        self.endResetModel()

    def column_id(self, row: int, column: int) -> str:
        """The column id that a shown cell stands for, or nothing where it does not apply."""
        if column <= _NAMES:
            return ""
        return worst_member(self._table, self._table.rows[row].id, self._shown[column - 1])

    def cell(self, row: int, column: int) -> MatrixCell | None:
        member = self.column_id(row, column)
        return self._table.cells.get((self._table.rows[row].id, member)) if member else None

    def place_of(self, row_id: str, column_id: str) -> tuple[int, int] | None:
        """Row and shown column of a cell."""
        for row, value in enumerate(self._table.rows):
            if value.id == row_id:
                for column, shown in enumerate(self._shown, 1):
                    if column_id in shown.members:
                        return row, column
        return None

    def rowCount(self, parent: Index = _TOP) -> int:
        return 0 if parent.isValid() else len(self._table.rows)

    def columnCount(self, parent: Index = _TOP) -> int:
        return 0 if parent.isValid() else 1 + len(self._shown)

    def flags(self, index: Index) -> Qt.ItemFlag:
        if not index.isValid() or self.cell(index.row(), index.column()) is None:
            return Qt.ItemFlag.ItemIsEnabled
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        row, column = index.row(), index.column()
        cell = self.cell(row, column)
        if role == CELL_ROLE:
            return cell
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self._spoken(row, column, cell)
        if role == Qt.ItemDataRole.ToolTipRole and (cell is not None or column == _NAMES):
            return self._spoken(row, column, cell)
        if role == Qt.ItemDataRole.DisplayRole:
            return self._table.rows[row].spoken() if column == _NAMES else (cell.value if cell else "")
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        told = (
            Qt.ItemDataRole.DisplayRole,
            Qt.ItemDataRole.AccessibleTextRole,
            Qt.ItemDataRole.ToolTipRole,
        )
        if role not in told:
            return None
        if orientation == Qt.Orientation.Vertical:
            return self._table.rows[section].spoken()
        return self._place(section) if section else "Pair"

    def _place(self, column: int) -> str:
        shown = self._shown[column - 1]
        return f"{self._table.groups[shown.group].word} {shown.word}"

    def _spoken(self, row: int, column: int, cell: MatrixCell | None) -> str:
        pair = self._table.rows[row].spoken()
        if column == _NAMES:
            return pair
        if cell is None:
            return f"{pair}, {self._place(column)}: does not apply"
        if cell.tell is not None:
            # The sentence says who meets whom, in which state, and whether it is old.
            return f"{self._place(column)}: {cell.tell()}"
        stale = ", from before the last change" if cell.stale else ""
        return f"{pair}, {self._place(column)}: {f'{cell.verdict} {cell.value}'.strip()}{stale}"
