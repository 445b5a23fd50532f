"""Dialogs of our own: a question with named answers, a line of text, and something to read."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from floorpan_app import messages
from floorpan_app.theme.fonts import BODY, PART, scaled, text_font
from floorpan_app.widgets.focus_ring import FocusRing
from floorpan_app.widgets.lettering import BOLDER

_WIDTH = 440.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A named answer; the id is what the caller gets."""

    id: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What happened, what can be done, and the answers; `leave` is said by the button that does nothing."""

    title: str
    what: str
    remedy: str = ""
    answers: tuple[Answer, ...] = ()
    leave: str = messages.CANCEL


def sheet(dialog: QDialog) -> QVBoxLayout:
    """The outer layout of a dialog, with the window's own margins and a ring for the keyboard."""
    layout = QVBoxLayout(dialog)
    layout.setContentsMargins(*(round(scaled(side)) for side in (24, 20, 24, 16)))
    layout.setSpacing(round(scaled(12)))
    FocusRing(dialog)
    return layout


def plain(text: str, parent: QWidget, *, role: str = "", px: float = BODY, bold: bool = False) -> QLabel:
    """Words that wrap; a name somebody typed never turns into formatting."""
    label = QLabel(text, parent)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    label.setFont(text_font(px, BOLDER) if bold else text_font(px))
    if role:
        label.setProperty("role", role)
    return label


def button_row(buttons: Sequence[QPushButton]) -> QHBoxLayout:
    """Buttons at the right; the first is the one that Enter takes."""
    row = QHBoxLayout()
    row.setSpacing(round(scaled(8)))
    row.addStretch()
    # The usual answer stands at the right end, the one that does nothing at its left.
    for button in reversed(buttons):
        row.addWidget(button)
    for button in buttons:
        button.setAutoDefault(False)
    if buttons:
        buttons[0].setDefault(True)
        buttons[0].setFocus()
    return row


class QuestionDialog(QDialog):
    """One question. `answer` is the chosen id, "" where it was put away."""

    def __init__(self, question: Question, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.answer = ""
        self.setWindowTitle(question.title)
        self.setMinimumWidth(round(scaled(_WIDTH)))
        layout = sheet(self)
        layout.addWidget(plain(question.what, self, px=PART, bold=True))
        if question.remedy:
            layout.addWidget(plain(question.remedy, self))
        layout.addSpacing(round(scaled(8)))
        self.buttons = {one.id: QPushButton(one.text, self) for one in question.answers}
        leave = QPushButton(question.leave, self)
        leave.clicked.connect(self.reject)
        for id, button in self.buttons.items():
            button.clicked.connect(lambda _=False, id=id: self._take(id))
        layout.addLayout(button_row([*self.buttons.values(), leave]))
        self.setAccessibleName(f"{question.what} {question.remedy}".strip())

    def _take(self, id: str) -> None:
        self.answer = id
        self.accept()


class LineDialog(QDialog):
    """One line of text."""

    def __init__(self, title: str, label: str, start: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setMinimumWidth(round(scaled(_WIDTH)))
        layout = sheet(self)
        words = plain(label, self)
        self.field = QLineEdit(start, self)
        self.field.selectAll()
        words.setBuddy(self.field)
        self.field.setAccessibleName(label)
        layout.addWidget(words)
        layout.addWidget(self.field)
        layout.addSpacing(round(scaled(8)))
        self.take, leave = QPushButton(messages.NEXT, self), QPushButton(messages.CANCEL, self)
        self.take.clicked.connect(self.accept)
        leave.clicked.connect(self.reject)
        layout.addLayout(button_row([self.take, leave]))
        self.field.textChanged.connect(self._look)
        self._look(start)
        self.field.setFocus()

    def _look(self, text: str) -> None:
        self.take.setEnabled(bool(text.strip()))


class ReadDialog(QDialog):
    """Something to read; the first paragraph is the head."""

    def __init__(self, title: str, paragraphs: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setMinimumWidth(round(scaled(_WIDTH)))
        layout = sheet(self)
        for number, text in enumerate(paragraphs):
            label = plain(text, self, px=PART if number == 0 else BODY, bold=number == 0)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            layout.addWidget(label)
        layout.addSpacing(round(scaled(8)))
        close = QPushButton(messages.CLOSE, self)
        close.clicked.connect(self.accept)
        layout.addLayout(button_row([close]))
        self.setAccessibleName(" ".join(paragraphs))
