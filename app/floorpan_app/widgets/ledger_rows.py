"""The rows of the ledger: what one says, and the model that holds them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from floorpan_app.theme.record import Verdict

Index = QModelIndex | QPersistentModelIndex

ROW_ROLE = int(Qt.ItemDataRole.UserRole) + 1
_TOP = QModelIndex()


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerRow:
    """One finding. Value and give or take come ready written; without a value the verdict's word stands in.

    `doing` is an underlined offer on the second line, such as `Measure a point there`; `sentence` is spoken.
    """

    id: str
    verdict: Verdict
    title: str
    second: str = ""
    value: str = ""
    give_or_take: str = ""
    stale: bool = False
    doing: str = ""
    sentence: str = ""

    def spoken(self) -> str:
        if self.sentence:
            return self.sentence
        value = f"{self.verdict} {self.value}" if self.value else self.verdict
        take = f"give or take {self.give_or_take.lstrip('±+ ')}" if self.give_or_take else ""
        stale = "from before the last change" if self.stale else ""
        return ", ".join(part for part in (self.title, value, take, stale, self.second) if part)


def keep_places(shown: Sequence[LedgerRow], wanted: Sequence[LedgerRow]) -> tuple[LedgerRow, ...]:
    """`wanted`, but every row that is shown already stays where it is.

    A shown row that is wanted no more stays too, marked stale; new rows come last.
    """
    fresh = {row.id: row for row in wanted}
    kept = [fresh.pop(row.id) if row.id in fresh else replace(row, stale=True) for row in shown]
    return (*kept, *fresh.values())


class LedgerModel(QAbstractListModel):
    """Rows for a list view; the text spoken for a row is its whole sentence."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[LedgerRow, ...] = ()

    def rows(self) -> tuple[LedgerRow, ...]:
        return self._rows

    def set_rows(self, rows: tuple[LedgerRow, ...]) -> None:
        if [row.id for row in rows] == [row.id for row in self._rows]:
            before, self._rows = self._rows, rows
            for place, (old, new) in enumerate(zip(before, rows, strict=True)):
                if old != new:
                    self.dataChanged.emit(self.index(place), self.index(place))
            return
        self.beginResetModel()
        self._rows = rows
        self.endResetModel()

    def place_of(self, row_id: str) -> int:
        """The place of a row, -1 where there is none of that id."""
        return next((place for place, row in enumerate(self._rows) if row.id == row_id), -1)

    def rowCount(self, parent: Index = _TOP) -> int:
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        row = self._rows[index.row()]
        if role == ROW_ROLE:
            return row
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return row.title
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return row.spoken()
        return None
