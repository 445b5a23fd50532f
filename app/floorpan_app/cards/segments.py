"""A few words of which one holds, as buttons in a row."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QWidget

from floorpan_app.cards.blocks import px
from floorpan_app.widgets.roving import make_stop, walk


class _Word(QPushButton):
    """One word; arrows go to the row it stands in."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        parent = self.parentWidget()
        if isinstance(parent, Segments) and parent.took_key(event):
            return
        super().keyPressEvent(event)


class Segments(QWidget):
    """Words as (key, word). `chosen` tells the key that somebody pressed."""

    chosen = Signal(str)

    def __init__(self, choices: Sequence[tuple[str, str]], name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self._keys = [key for key, _ in choices]
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(px(4))
        group = QButtonGroup(self)
        self.buttons: list[QPushButton] = []
        for key, word in choices:
            button = _Word(word)
            button.setCheckable(True)
            button.setProperty("role", "segment")
            button.setAccessibleName(f"{name}: {word}")
            button.clicked.connect(lambda _=False, key=key: self._press(key))
            group.addButton(button)
            row.addWidget(button, 1)
            self.buttons.append(button)
        self.show_key(self._keys[0])

    def key(self) -> str:
        """The key of the word that holds."""
        return next(
            (key for key, button in zip(self._keys, self.buttons, strict=True) if button.isChecked()), ""
        )

    def show_key(self, key: str) -> None:
        """Let another word hold, without saying so."""
        for other, button in zip(self._keys, self.buttons, strict=True):
            if other == key:
                button.setChecked(True)
                make_stop(self.buttons, button)

    def took_key(self, event: QKeyEvent) -> bool:
        """Walk along the words by the arrow keys."""
        return walk(self.buttons, event)

    def _press(self, key: str) -> None:
        self.show_key(key)
        self.chosen.emit(key)
