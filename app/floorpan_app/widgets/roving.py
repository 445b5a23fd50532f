"""One stop for the Tab key in a row of buttons; arrow keys walk inside it."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractButton

_STEPS = {Qt.Key.Key_Right: 1, Qt.Key.Key_Down: 1, Qt.Key.Key_Left: -1, Qt.Key.Key_Up: -1}
_ENDS = (Qt.Key.Key_Home, Qt.Key.Key_End)


class RowButton(QAbstractButton):
    """A button that leaves arrows, Home and End to the row it stands in.

    By itself a button answers an arrow by giving the focus to whatever comes next in the window.
    """

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in _STEPS or event.key() in _ENDS:
            event.ignore()
        else:
            super().keyPressEvent(event)


def make_stop(buttons: Sequence[QAbstractButton], stop: QAbstractButton | None) -> None:
    """Let Tab reach `stop` only; the others are reached by arrows or the mouse."""
    for button in buttons:
        policy = Qt.FocusPolicy.StrongFocus if button is stop else Qt.FocusPolicy.ClickFocus
        button.setFocusPolicy(policy)


def walk(buttons: Sequence[QAbstractButton], event: QKeyEvent) -> bool:
    """Move the focus along `buttons` for an arrow, Home or End; answers whether the key was used."""
    open_ones = [button for button in buttons if button.isEnabled() and button.isVisible()]
    holding = next((i for i, button in enumerate(open_ones) if button.hasFocus()), None)
    if holding is None:
        return False
    key = Qt.Key(event.key())
    if key in _STEPS:
        target = min(max(0, holding + _STEPS[key]), len(open_ones) - 1)
    elif key in _ENDS:
        target = 0 if key == Qt.Key.Key_Home else len(open_ones) - 1
    else:
        return False
    make_stop(buttons, open_ones[target])
    open_ones[target].setFocus(Qt.FocusReason.TabFocusReason)
    return True
