"""A line of text that hands itself on when somebody has settled on it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from floorpan_app.theme.stylesheet import restyle


class LineField(QLineEdit):
    """Enter and leaving the field hand the text on, Escape brings the last one back.

    textChosen(text)    : somebody settled on another text
    faultChanged(fault) : what is wrong with it, or nothing; the text stays
    """

    textChosen = Signal(str)
    faultChanged = Signal(str)

    def __init__(self, name: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._held = ""
        self._fault = ""
        self.setAccessibleName(name)
        self.editingFinished.connect(self._settle)

    def show_text(self, text: str) -> None:
        """Show a text without saying so; an earlier fault is gone."""
        self._held = text
        if text != self.text():
            self.setText(text)
        self.setCursorPosition(0)
        self.set_fault("")

    def held(self) -> str:
        """The last text that was shown or handed on."""
        return self._held

    def fault(self) -> str:
        """What is wrong with the typed text, or nothing."""
        return self._fault

    def set_fault(self, fault: str) -> None:
        """Say what is wrong with the typed text, or take it away."""
        if fault == self._fault:
            return
        self._fault = fault
        self.setAccessibleDescription(fault)
        self.setProperty("fault", bool(fault))
        restyle(self)
        self.faultChanged.emit(fault)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and (self.text() != self._held or self._fault):
            self.show_text(self._held)
            return
        super().keyPressEvent(event)

    def _settle(self) -> None:
        if self.text() != self._held:
            self.textChosen.emit(self.text())
