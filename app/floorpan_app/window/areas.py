"""The areas of the window, one key apart."""

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget


class Areas:
    """Knows where each area takes the keyboard, in the order of the work: strip, picture, spot, card, ledger, drawer.

    An area that is not shown is passed over.
    """

    def __init__(self, entries: Mapping[str, QWidget]) -> None:
        self._entries = dict(entries)

    def walk(self, step: int) -> str:
        """Give the keyboard to the next area, or with -1 to the one before; answers its name."""
        names = [name for name, entry in self._entries.items() if entry.isVisible()]
        if not names:
            return ""
        here = self.held()
        at = (names.index(here) + step) % len(names) if here in names else 0 if step > 0 else -1
        self._enter(names[at])
        return names[at]

    def held(self) -> str:
        """The area that has the keyboard, "" for none."""
        focus = QApplication.focusWidget()
        for name, entry in self._entries.items():
            if focus is not None and (focus is entry or entry.isAncestorOf(focus)):
                return name
        return ""

    def _enter(self, name: str) -> None:
        entry = self._entries[name]
        reason = Qt.FocusReason.ShortcutFocusReason
        if entry.focusPolicy() & Qt.FocusPolicy.TabFocus:
            entry.setFocus(reason)
            return
        for inside in _in_tab_order(entry):
            if inside.isVisible() and inside.isEnabled() and inside.focusPolicy() & Qt.FocusPolicy.TabFocus:
                inside.setFocus(reason)
                return


def _in_tab_order(entry: QWidget) -> list[QWidget]:
    """Everything inside, in the order of the Tab key."""
    found: list[QWidget] = []
    widget = entry.nextInFocusChain()
    while widget is not None and widget is not entry:
        if entry.isAncestorOf(widget):
            found.append(widget)
        widget = widget.nextInFocusChain()
    return found
