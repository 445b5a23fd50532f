"""Words over the viewport: seen from where, and what is shown. Words instead of a gadget."""

from dataclasses import dataclass, replace

from PySide6.QtCore import QPoint, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QCheckBox, QHBoxLayout, QRadioButton, QSizePolicy, QWidget

from floorpan_app.theme.fonts import BODY, SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.lettering import BOLDER, PLAIN, line_height, text_width, write
from floorpan_app.widgets.seam import paint_focus

BAR_HEIGHT = 34.0
GROUND_OPACITY = 0.84
_EYELET = 9.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """One word to choose or to switch."""

    id: str
    word: str
    on: bool = False


class _RadioWord(QRadioButton):
    """A word of which one is chosen; the chosen one is bold and underlined."""

    def sizeHint(self) -> QSize:
        font = text_font(BODY, BOLDER)
        return QSizeF(text_width(self.text(), font) + scaled(10), scaled(28)).toSize()

    def hitButton(self, pos: QPoint) -> bool:
        return True

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        chosen = self.isChecked()
        font = text_font(BODY, BOLDER if chosen else PLAIN)
        ink = theme.ink if self.isEnabled() else theme.off
        inner = rect.adjusted(scaled(5), 0, -scaled(3), 0)
        used = write(painter, inner, self.text(), font, ink)
        if chosen or self.underMouse():
            y = rect.center().y() + line_height(font) / 2 + 1
            bar = QRectF(inner.left(), y, used, 2 if chosen else 1)
            painter.fillRect(bar, QColor(theme.accent if chosen else theme.edge))
        if self.hasFocus():
            paint_focus(painter, rect)


class _EyeletWord(QCheckBox):
    """A word that is on or off: its eyelet is filled or open."""

    def sizeHint(self) -> QSize:
        words = scaled(_EYELET + 5) + text_width(self.text(), text_font(BODY))
        return QSizeF(words + scaled(10), scaled(28)).toSize()

    def hitButton(self, pos: QPoint) -> bool:
        return True

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        ink = theme.ink if self.isEnabled() else theme.off
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        side, left = scaled(_EYELET), scaled(5)
        eyelet = QRectF(left, rect.center().y() - side / 2 + 1, side, side).adjusted(0.8, 0.8, -0.8, -0.8)
        painter.setPen(QPen(QColor(ink), 1.6))
        painter.setBrush(QColor(ink) if self.isChecked() else Qt.BrushStyle.NoBrush)
        painter.drawEllipse(eyelet)
        left += side + scaled(5)
        inner = QRectF(left, 0, rect.width() - left, rect.height())
        # What is off stays readable: its eyelet tells it, not its colour.
        used = write(painter, inner, self.text(), text_font(BODY), ink if self.isChecked() else theme.ink2)
        if self.underMouse():
            y = rect.center().y() + line_height(text_font(BODY)) / 2 + 1
            painter.fillRect(QRectF(left, y, used, 1), QColor(theme.edge))
        if self.hasFocus():
            paint_focus(painter, rect)


class _Label(QWidget):
    """The quiet words before a row of words."""

    def __init__(self, text: str, parent: QWidget) -> None:
        super().__init__(parent)
        self._text = text

    def sizeHint(self) -> QSize:
        return QSizeF(text_width(self._text, text_font(SECOND)) + scaled(6), scaled(28)).toSize()

    def paintEvent(self, event: QPaintEvent) -> None:
        write(QPainter(self), QRectF(self.rect()), self._text, text_font(SECOND), theme_in_use().ink2)


class _WordRow(QWidget):
    """A label and its words on a piece of bench colour that lets the picture through a little."""

    def __init__(self, label: str, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.row = QHBoxLayout(self)
        self.row.setContentsMargins(round(scaled(14)), 0, round(scaled(10)), 0)
        self.row.setSpacing(round(scaled(4)))
        self.row.addWidget(_Label(label, self))
        self.setAccessibleName(label)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), round(scaled(BAR_HEIGHT)))

    def paintEvent(self, event: QPaintEvent) -> None:
        ground = QColor(theme_in_use().bench)
        ground.setAlphaF(GROUND_OPACITY)
        QPainter(self).fillRect(self.rect(), ground)


def _drop(buttons: dict[str, QAbstractButton]) -> None:
    for button in buttons.values():
        button.hide()
        button.deleteLater()
    buttons.clear()


class SeenFrom(_WordRow):
    """Where the view looks from: one word of several."""

    wordChosen = Signal(str)

    def __init__(self, words: tuple[Word, ...] = (), parent: QWidget | None = None) -> None:
        super().__init__("Seen from", parent)
        self._buttons: dict[str, QAbstractButton] = {}
        self.set_words(words)

    def set_words(self, words: tuple[Word, ...]) -> None:
        _drop(self._buttons)
        for word in words:
            button = _RadioWord(word.word, self)
            button.setAccessibleName(f"Seen from {word.word}")
            button.setChecked(word.on)
            button.setCursor(Qt.CursorShape.PointingHandCursor)
            button.clicked.connect(self._say_chosen)
            self.row.addWidget(button)
            self._buttons[word.id] = button

    def chosen(self) -> str:
        return next((word_id for word_id, button in self._buttons.items() if button.isChecked()), "")

    def set_chosen(self, word_id: str) -> None:
        """Mark a word without saying so."""
        self._buttons[word_id].setChecked(True)

    def button(self, word_id: str) -> QAbstractButton:
        return self._buttons[word_id]

    def _say_chosen(self) -> None:
        self.wordChosen.emit(self.chosen())


class Showing(_WordRow):
    """What is shown: each word on or off."""

    showingChanged = Signal(str, bool)

    def __init__(self, words: tuple[Word, ...] = (), parent: QWidget | None = None) -> None:
        super().__init__("Showing", parent)
        self._buttons: dict[str, QAbstractButton] = {}
        self._words: tuple[Word, ...] = ()
        self.set_words(words)

    def set_words(self, words: tuple[Word, ...]) -> None:
        _drop(self._buttons)
        self._words = words
        for word in words:
            button = _EyeletWord(word.word, self)
            button.setChecked(word.on)
            button.setCursor(Qt.CursorShape.PointingHandCursor)
            button.clicked.connect(self._say_changed)
            self.row.addWidget(button)
            self._buttons[word.id] = button

    def words(self) -> tuple[Word, ...]:
        """The words as they are switched now."""
        return tuple(replace(word, on=self._buttons[word.id].isChecked()) for word in self._words)

    def set_on(self, word_id: str, on: bool) -> None:
        """Switch a word without saying so."""
        self._buttons[word_id].setChecked(on)

    def button(self, word_id: str) -> QAbstractButton:
        return self._buttons[word_id]

    def _say_changed(self) -> None:
        sender = self.sender()
        for word_id, button in self._buttons.items():
            if button is sender:
                self.showingChanged.emit(word_id, button.isChecked())
