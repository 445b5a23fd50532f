"""The sheet of keys, printed from the table of actions."""

from PySide6.QtWidgets import QDialog, QFrame, QGridLayout, QLabel, QPushButton, QScrollArea, QWidget

from floorpan_app import messages
from floorpan_app.actions import key_sheet
from floorpan_app.theme.fonts import PART, scaled, text_font
from floorpan_app.widgets.lettering import BOLDER
from floorpan_app.window.question import button_row, sheet


class KeySheet(QDialog):
    """Every key and what it does, by menu; then those of the picture and of lists."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(messages.KEYS_TITLE)
        self.setMinimumSize(round(scaled(520)), round(scaled(480)))
        inside = QWidget(self)
        self.grid = QGridLayout(inside)
        self.grid.setHorizontalSpacing(round(scaled(24)))
        self.grid.setVerticalSpacing(round(scaled(4)))
        self.grid.setColumnStretch(1, 1)
        for title, rows in sheet_rows():
            self._add(title, rows)
        area = QScrollArea(self)
        area.setWidget(inside)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        close = QPushButton(messages.CLOSE, self)
        close.clicked.connect(self.accept)
        layout = sheet(self)
        layout.addWidget(area, 1)
        layout.addLayout(button_row([close]))

    def _add(self, title: str, rows: tuple[tuple[str, str], ...]) -> None:
        head = QLabel(title, self)
        head.setFont(text_font(PART, BOLDER))
        head.setContentsMargins(0, round(scaled(10)), 0, 0)
        at = self.grid.rowCount()
        self.grid.addWidget(head, at, 0, 1, 2)
        for keys, does in rows:
            at += 1
            self.grid.addWidget(QLabel(keys, self), at, 0)
            self.grid.addWidget(QLabel(does, self), at, 1)


def sheet_rows() -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
    """What the sheet says."""
    return (
        *key_sheet(),
        (messages.KEYS_IN_VIEW, messages.VIEW_KEYS),
        (messages.KEYS_IN_LISTS, messages.LIST_KEYS),
    )
