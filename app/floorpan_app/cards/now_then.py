"""Figures in two columns, now and then; what differs stands out."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from floorpan.report.lever_told import NowThen
from floorpan_app.cards import lever_words as said
from floorpan_app.cards.blocks import px
from floorpan_app.theme.fonts import BODY, SECOND, text_font
from floorpan_app.widgets.lettering import BOLDER


class NowThenTable(QWidget):
    """Names at the left, then what is and what will be."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(px(10))
        self._grid.setVerticalSpacing(px(3))
        self._grid.setColumnStretch(0, 1)
        for column, title in enumerate(("", said.NOW, said.THEN)):
            head = self._cell(0, column)
            head.setText(title)
            head.setProperty("role", "second")
        self._rows: list[tuple[QLabel, QLabel, QLabel]] = []

    def show_rows(self, rows: Sequence[NowThen]) -> None:
        """Show these in place of those before."""
        while len(self._rows) < len(rows):
            place = len(self._rows) + 1
            self._rows.append((self._cell(place, 0), self._cell(place, 1), self._cell(place, 2)))
        for place, labels in enumerate(self._rows):
            for label in labels:
                label.setVisible(place < len(rows))
            if place < len(rows):
                self._show_row(labels, rows[place])

    def texts(self) -> list[tuple[str, str, str]]:
        """What stands in the rows that are shown."""
        return [(a.text(), b.text(), c.text()) for a, b, c in self._rows if not a.isHidden()]

    def _show_row(self, labels: tuple[QLabel, QLabel, QLabel], row: NowThen) -> None:
        for label, text in zip(labels, (row.what, row.is_now, row.will_be), strict=True):
            label.setText(text)
        differs = row.is_now != row.will_be
        labels[2].setFont(text_font(SECOND, BOLDER) if differs else text_font(SECOND))
        labels[2].setAccessibleName(said.SPOKEN.format(what=row.what, now=row.is_now, then=row.will_be))

    def _cell(self, row: int, column: int) -> QLabel:
        label = QLabel(self)
        label.setFont(text_font(SECOND if column or not row else BODY))
        side = Qt.AlignmentFlag.AlignRight if column else Qt.AlignmentFlag.AlignLeft
        self._grid.addWidget(label, row, column, side)
        return label
