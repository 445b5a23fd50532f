"""A list of choices that a turned wheel passes by: it scrolls the card, never a value."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox, QWidget


class QuietCombo(QComboBox):
    """Choices as (key, words). `picked` tells the key that somebody chose, never one that was only shown."""

    picked = Signal(str)

    def __init__(
        self, choices: Sequence[tuple[str, str]] = (), name: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(4)
        self.setAccessibleName(name)
        self._choices: tuple[tuple[str, str], ...] = ()
        self.offer(choices)
        self.activated.connect(lambda _: self.picked.emit(self.key()))

    def offer(self, choices: Sequence[tuple[str, str]]) -> None:
        """Take other choices; the one that is shown stays where it is still among them."""
        if tuple(choices) == self._choices:
            return
        held = self.key()
        self._choices = tuple(choices)
        self.clear()
        for key, words in choices:
            self.addItem(words, key)
        self.show_key(held)

    def key(self) -> str:
        """The key of what is shown."""
        data = self.currentData()
        return data if isinstance(data, str) else ""

    def show_key(self, key: str) -> None:
        """Show a choice without saying so; a key that is not among them shows the first."""
        self.setCurrentIndex(max(self.findData(key), 0))

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
