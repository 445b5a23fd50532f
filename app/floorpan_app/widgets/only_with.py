"""What the state matrix is held to: a menu of axes, and what was chosen as words that can be taken off again."""

from collections.abc import Sequence

from PySide6.QtCore import QPoint, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import QAction, QActionGroup, QColor, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QLabel, QMenu, QPushButton, QSizePolicy, QWidget

from floorpan.items.states import NOTHING_MOVES, State
from floorpan.report.only_with import Choice, Stop, only_words, with_stop
from floorpan_app.theme.fonts import BODY, SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.lettering import line_height, text_width, write
from floorpan_app.widgets.roving import RowButton, make_stop, walk
from floorpan_app.widgets.seam import paint_focus

ASK = "Only with\u2026"
ASK_TOLD = "Hold the matrix to a state: in reverse, handbrake up"
ANY = "any"
HELD = "Only"
TAKE_OFF = "Only {word}. Take it off"
TAKE_ALL_OFF = "Take all off"
AXIS_AT = "{axis}: {word}"
_PAD = 9.0
_CROSS = 8.0
_LEAST = 64.0


class _Held(RowButton):
    """One word that is held to; a press takes it off."""

    def __init__(self, stop: Stop, parent: QWidget) -> None:
        super().__init__(parent)
        self.stop = stop
        self.setText(stop.words)
        said = TAKE_OFF.format(word=stop.words)
        self.setAccessibleName(said)
        self.setToolTip(said)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        width = text_width(self.text(), text_font(BODY)) + scaled(2 * _PAD + _CROSS + 8) + 2
        return QSizeF(width, max(scaled(28), line_height(text_font(BODY)) + scaled(6))).toSize()

    def minimumSizeHint(self) -> QSize:
        hint = self.sizeHint()
        return QSize(min(hint.width(), round(scaled(_LEAST))), hint.height())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        taken = (Qt.Key.Key_Delete, Qt.Key.Key_Backspace, Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if event.key() in taken:
            self.click()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.accent), 1.4))
        painter.setBrush(QColor(theme.wash))
        painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), 4, 4)
        side = scaled(_CROSS)
        right = rect.right() - scaled(_PAD)
        word = QRectF(scaled(_PAD), 0, right - side - scaled(_PAD + 7), rect.height())
        write(painter, word, self.text(), text_font(BODY), theme.ink)
        low = rect.center().y() - side / 2 + 1
        painter.setPen(QPen(QColor(theme.ink if self.underMouse() else theme.ink2), 1.6))
        painter.drawLine(QPoint(round(right - side), round(low)), QPoint(round(right), round(low + side)))
        painter.drawLine(QPoint(round(right - side), round(low + side)), QPoint(round(right), round(low)))
        if self.hasFocus():
            paint_focus(painter, rect, 5)


class OnlyWith(QWidget):
    """The words that are held to, in a row that is there while there are any; `button` asks for more.

    onlyChanged(state) : another state of some axes is to be held to
    """

    onlyChanged = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._offered: tuple[Choice, ...] = ()
        self._only: State = NOTHING_MOVES
        self.button = QPushButton(ASK, parent)
        self.button.setAccessibleDescription(ASK_TOLD)
        self.button.setToolTip(ASK_TOLD)
        self.menu = QMenu(self)
        self._held: list[_Held] = []
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(round(scaled(8)))
        head = QLabel(HELD, self)
        self.note = QLabel(self)
        for label in (head, self.note):
            label.setFont(text_font(SECOND))
            label.setProperty("role", "second")
        self._all_off = QPushButton(TAKE_ALL_OFF, self)
        self._all_off.setProperty("role", "link")
        self._row.addWidget(head)
        self._row.addWidget(self.note)
        self._row.addStretch(1)
        self._row.addWidget(self._all_off)
        self.button.clicked.connect(self._ask)
        self._all_off.clicked.connect(lambda _=False: self._hold(NOTHING_MOVES))
        self.show_only((), NOTHING_MOVES)

    def only(self) -> State:
        """What is held to."""
        return self._only

    def held(self) -> tuple[str, ...]:
        """What is held to, in words as they stand."""
        return tuple(one.text() for one in self._held)

    def show_only(self, offered: Sequence[Choice], only: State, note: str = "") -> None:
        """Show what can be held to and what is; nothing is said."""
        self._offered = tuple(offered)
        self.button.setEnabled(bool(offered))
        self.note.setText(note)
        stops = [stop for one in offered for stop in one.stops if (stop.axis, stop.stop) in only]
        if [one.stop for one in self._held] != stops:
            self._fill(stops)
        self._only = only
        self._all_off.setVisible(len(self._held) > 1)
        self.setVisible(bool(self._held))
        self.setAccessibleName(f"{HELD} {', '.join(only_words(offered, only))}" if self._held else "")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not walk(self._held, event):
            super().keyPressEvent(event)

    def _fill(self, stops: Sequence[Stop]) -> None:
        focused = next((place for place, one in enumerate(self._held) if one.hasFocus()), None)
        if focused is not None and not stops:
            self.button.setFocus()
        old, self._held = self._held, [_Held(stop, self) for stop in stops]
        for place, one in enumerate(self._held):
            one.clicked.connect(lambda _=False, stop=one.stop: self._hold(self._without(stop)))
            self._row.insertWidget(1 + place, one)
            one.show()
        make_stop(self._held, self._held[0] if self._held else None)
        if focused is not None and self._held:
            stays = self._held[min(focused, len(self._held) - 1)]
            make_stop(self._held, stays)
            stays.setFocus()
        for one in old:
            self._row.removeWidget(one)
            one.hide()
            one.deleteLater()

    def _without(self, stop: Stop) -> State:
        return with_stop(self._only, stop.axis, "")

    def _hold(self, only: State) -> None:
        if only != self._only:
            self.onlyChanged.emit(only)

    def _ask(self) -> None:
        """Open the menu below its button, one line an axis with what it is held to."""
        self.menu.clear()
        for choice in self._offered:
            self._add_axis(choice)
        self.menu.popup(self.button.mapToGlobal(QPoint(0, self.button.height())))

    def _add_axis(self, choice: Choice) -> None:
        at = dict(self._only).get(choice.axis, "")
        word = next((stop.short or stop.words for stop in choice.stops if stop.stop == at), ANY)
        lower = QMenu(AXIS_AT.format(axis=choice.title, word=word), self.menu)
        group = QActionGroup(lower)
        for stop, told in (("", ANY), *((one.stop, one.short or one.words) for one in choice.stops)):
            action = QAction(told, lower)
            action.setCheckable(True)
            action.setChecked(stop == at)
            action.setActionGroup(group)
            action.triggered.connect(
                lambda _=False, axis=choice.axis, stop=stop: self._hold(with_stop(self._only, axis, stop))
            )
            lower.addAction(action)
        self.menu.addMenu(lower)
