"""The foot of a card: the acceptance of its step, always in sight."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from floorpan_app.cards import words
from floorpan_app.cards.blocks import EDGE, pressed, px, told
from floorpan_app.widgets.seam import paint_rule


class Foot(QWidget):
    """Accept, accept as it is with a reason, look again, open again.

    accepted(reason) : somebody signs the step off; the reason is empty where all of it is clear
    opened_again()   : somebody takes the acceptance back
    """

    accepted = Signal(str)
    opened_again = Signal()

    def __init__(self, step_word: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._word = step_word
        self._asks = ""
        self.said = told(second=True)
        self.why = told(words.WHY, second=True)
        self.reason = QLineEdit()
        self.reason.setAccessibleName(words.WHY)
        self.reason.setMaxLength(400)
        self.reason.textChanged.connect(lambda _: self._buttons())
        self.reason.returnPressed.connect(self.press)
        self.left = pressed(words.OPEN_AGAIN, self._left)
        self.accept = pressed("", self.press, icon="accept", role="accept")
        row = QHBoxLayout()
        row.setSpacing(px(8))
        row.addWidget(self.left)
        row.addStretch(1)
        row.addWidget(self.accept)
        column = QVBoxLayout(self)
        column.setContentsMargins(px(EDGE), px(10), px(EDGE - 2), px(12))
        column.setSpacing(px(8))
        for widget in (self.said, self.why, self.reason):
            column.addWidget(widget)
        column.addLayout(row)
        self._marked = "open"
        self._lacks = ""
        self._asking = False

    def show_state(self, mark: str, said: str, asks: str, lacks: str) -> None:
        """Follow the step.

        mark  : accepted, accepted as it is, look again, open
        said  : date and reason of the acceptance there is, "" for none
        asks  : what is not clear, "" where all is: then no reason is asked for
        lacks : what is missing before there is anything to accept, "" for nothing
        """
        self._marked, self._asks, self._lacks = mark, asks, lacks
        if self.is_accepted() or not asks or lacks:
            self._asking = False
        text = said if mark != "open" else lacks
        self.said.setText(text)
        self.said.setVisible(bool(text))
        self._buttons()

    def is_accepted(self) -> bool:
        """Whether the step stands accepted as it is now."""
        return self._marked in ("accepted", "accepted as it is")

    def is_asking(self) -> bool:
        """Whether the line for the reason is open."""
        return self._asking

    def press(self) -> None:
        """Accept: at once where all is clear, else with the reason, which is asked for first."""
        if self.is_accepted() or self._lacks:
            return
        if not self._asks:
            self.accepted.emit("")
        elif not self._asking:
            self._asking = True
            self._buttons()
            self.reason.setFocus(Qt.FocusReason.OtherFocusReason)
        elif self.reason.text().strip():
            reason = self.reason.text().strip()
            self._asking = False
            self.reason.clear()
            self.accepted.emit(reason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._asking:
            self._left()
            return
        super().keyPressEvent(event)

    def _left(self) -> None:
        if self._asking:
            self._asking = False
            self._buttons()
            self.accept.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.opened_again.emit()

    def _buttons(self) -> None:
        self.why.setVisible(self._asking)
        self.reason.setVisible(self._asking)
        self.left.setText(words.LEAVE_OPEN if self._asking else words.OPEN_AGAIN)
        self.left.setVisible(self._asking or self._marked != "open")
        self.accept.setVisible(not self.is_accepted())
        if self._asking:
            self.accept.setText(words.ACCEPT_AS_IT_IS)
        elif self._asks and not self._lacks:
            self.accept.setText(words.ACCEPT_WITH.format(what=self._asks))
        else:
            self.accept.setText(words.ACCEPT.format(step=self._word))
        self.accept.setEnabled(not self._lacks and (not self._asking or bool(self.reason.text().strip())))

    def paintEvent(self, event: QPaintEvent) -> None:
        paint_rule(QPainter(self), px(EDGE), self.width() - px(EDGE - 2), 0)
