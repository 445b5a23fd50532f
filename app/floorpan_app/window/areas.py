"""The areas of the window, one key apart."""

from collections.abc import Mapping, Sequence
from itertools import pairwise

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
        for inside in _inside(entry):
            if inside.isVisible() and inside.isEnabled() and inside.focusPolicy() & Qt.FocusPolicy.TabFocus:
                inside.setFocus(reason)
                return


def order_tabs(pieces: Sequence[QWidget]) -> None:
    """Let the Tab key go from piece to piece in this order; inside each in the order its parts were made.

    The toolkit puts whatever is made later at the very end, so this is said again after new words or fields.
    """
    chain = [widget for piece in pieces for widget in (piece, *_inside(piece))]
    # What takes no keyboard, or hands it on, has no place that the toolkit would set.
    stops = [one for one in chain if one.focusPolicy() != Qt.FocusPolicy.NoFocus and not one.focusProxy()]
    for before, after in pairwise(stops):
        QWidget.setTabOrder(before, after)


def _inside(entry: QWidget) -> list[QWidget]:
    """Everything inside, in the order it was made.

    Not by walking the toolkit's own chain of focus: the binding then takes each widget for a part of the one before,
    and forgets both together.
    """
    window = entry.window()
    # The list of a choice is a window of its own.
    return [inside for inside in entry.findChildren(QWidget) if inside.window() is window]
