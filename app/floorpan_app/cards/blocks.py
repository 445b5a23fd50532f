"""What cards are laid out from: headings, sentences, buttons, lines between parts, pairs of name and value."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFont, QPainter, QPaintEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from floorpan_app.theme.fonts import BODY, PART, SECOND, scaled, text_font
from floorpan_app.theme.icons import themed_icon
from floorpan_app.theme.stylesheet import restyle
from floorpan_app.widgets.seam import paint_rule

EDGE = 16.0
GAP, SMALL_GAP, PART_GAP = 8.0, 4.0, 12.0
FIELD = 28.0
BUTTON = 32.0


def px(length: float) -> int:
    """A length at 100 % as whole pixels at the text size of the moment."""
    return round(scaled(length))


def heading(text: str, size: float = PART) -> QLabel:
    """A bold line."""
    label = QLabel(text)
    label.setFont(text_font(size, QFont.Weight.DemiBold))
    return label


def told(text: str = "", *, second: bool = False) -> QLabel:
    """A sentence that breaks into lines; a second one is smaller and quieter."""
    label = QLabel(text)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setFont(text_font(SECOND if second else BODY))
    if second:
        label.setProperty("role", "second")
    return label


def fault_line() -> QLabel:
    """What is wrong with a field, hidden while nothing is."""
    label = told(second=True)
    label.setProperty("role", "fault")
    restyle(label)
    label.hide()
    return label


def show_fault(label: QLabel, fault: str) -> None:
    """Say it, or take it away."""
    label.setText(fault)
    label.setVisible(bool(fault))


def pressed(text: str, does: Callable[[], object], *, icon: str = "", role: str = "") -> QPushButton:
    """A button; role is `accept` or `link`."""
    button = QPushButton(text)
    if icon:
        button.setIcon(themed_icon(icon, "on_accent" if role == "accept" else "ink"))
        button.setIconSize(QSize(px(18), px(18)))
    if role:
        button.setProperty("role", role)
    button.clicked.connect(lambda _=False: does())
    return button


def at_left(button: QWidget) -> QHBoxLayout:
    """A piece as wide as it wishes, at the left."""
    row = QHBoxLayout()
    row.addWidget(button)
    row.addStretch(1)
    return row


def side_by_side(*buttons: QWidget) -> QHBoxLayout:
    """Pieces of the same width in a row."""
    row = QHBoxLayout()
    row.setSpacing(px(GAP))
    for button in buttons:
        row.addWidget(button, 1)
    return row


class Rule(QWidget):
    """A thin line between parts of a card."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFixedHeight(px(SMALL_GAP) + 1)

    def paintEvent(self, event: QPaintEvent) -> None:
        paint_rule(QPainter(self), 0, self.width(), self.height() // 2)


class PartTitle(QWidget):
    """The title of a part of a card, with a quiet word at its right."""

    def __init__(self, title: str, second: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        self._second = QLabel(second)
        self._second.setFont(text_font(SECOND))
        self._second.setProperty("role", "second")
        self._title = heading(title)
        row.addWidget(self._title)
        row.addStretch(1)
        row.addWidget(self._second)

    def show_title(self, text: str) -> None:
        """Another title."""
        self._title.setText(text)

    def show_second(self, text: str) -> None:
        """Another quiet word."""
        self._second.setText(text)


# A width of nothing at which a line may break.
_BREAK = "\u200b"
_LONGEST_WORD = 18


class Facts(QWidget):
    """Names at the left, values at the right."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(px(PART_GAP))
        self._grid.setVerticalSpacing(px(3))
        self._grid.setColumnStretch(1, 1)
        self._rows: list[tuple[QLabel, QLabel]] = []

    def show_facts(self, facts: Sequence[tuple[str, str]]) -> None:
        """Show these pairs in place of those before."""
        while len(self._rows) < len(facts):
            self._add()
        for row, (name, value) in enumerate(self._rows):
            used = row < len(facts)
            name.setVisible(used)
            value.setVisible(used)
            if used:
                name.setText(facts[row][0])
                value.setText(_breakable(facts[row][1]))
        self.setVisible(bool(facts))

    def _add(self) -> None:
        name, value = QLabel(self), told()
        name.setProperty("role", "second")
        name.setFont(text_font(BODY))
        name.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        value.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignRight)
        value.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        value.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._grid.addWidget(name, len(self._rows), 0)
        self._grid.addWidget(value, len(self._rows), 1)
        self._rows.append((name, value))


def _breakable(text: str) -> str:
    """The same text with places to break in words that are wider than a card, as names of files are."""
    return " ".join(
        _BREAK.join(word[at : at + _LONGEST_WORD] for at in range(0, len(word), _LONGEST_WORD))
        if len(word) > _LONGEST_WORD
        else word
        for word in text.split(" ")
    )


def show_all(shown: bool, *widgets: QWidget) -> None:
    """Show these, or hide them."""
    for widget in widgets:
        widget.setVisible(shown)
