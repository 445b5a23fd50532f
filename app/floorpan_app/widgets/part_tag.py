"""The part tag: tied to the thing in hand by a string, with its name, its place and what can be done to it."""

from dataclasses import dataclass, replace

from PySide6.QtCore import QPoint, QPointF, QRectF, QSize, QSizeF, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPainterPath, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from floorpan_app.theme.fonts import PART, SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.lettering import BOLDER, line_height, text_width, write
from floorpan_app.widgets.roving import make_stop, walk
from floorpan_app.widgets.verb_button import Verb, VerbButton

DRAG, TURN, MIRROR, LOCK = "drag", "turn", "mirror", "lock"
TAG_VERBS = (
    Verb(id=DRAG, word="Drag", icon="drag", key="D"),
    Verb(id=TURN, word="Turn", icon="turn", key="T"),
    Verb(id=MIRROR, word="Mirror", icon="mirror", key="M"),
    Verb(id=LOCK, word="Lock", icon="lock", key="L"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TagText:
    """What a tag says. `place` is one line, as `640 rear, 30 passenger side, 212 up`."""

    name: str
    place: str = ""
    locked: bool = False


_LEFT = 28.0
_RIGHT = 12.0
_TOP = 8.0
_BITE = 14.0


def _verbs_for(locked: bool) -> tuple[Verb, ...]:
    """A locked thing can only be unlocked."""
    if not locked:
        return TAG_VERBS
    held = [replace(verb, enabled=False) for verb in TAG_VERBS if verb.id != LOCK]
    return (*held, replace(TAG_VERBS[-1], word="Unlock", icon="unlock"))


class PartTag(QWidget):
    """Name, place and verbs of the thing in hand."""

    verbChosen = Signal(str)

    def __init__(self, text: TagText | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._text = text or TagText(name="")
        self._buttons = [VerbButton(verb, self) for verb in TAG_VERBS]
        for button in self._buttons:
            button.clicked.connect(self._say_chosen)
        make_stop(self._buttons, self._buttons[0])
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.set_text(self._text)

    def text(self) -> TagText:
        return self._text

    def set_text(self, text: TagText) -> None:
        self._text = text
        self.setAccessibleName(f"{text.name}, {text.place}" if text.place else text.name)
        for button, verb in zip(self._buttons, _verbs_for(text.locked), strict=True):
            button.show_verb(verb)
        self.resize(self.sizeHint())
        self._arrange()
        self.update()

    def in_hand(self) -> str:
        return next((button.verb.id for button in self._buttons if button.isChecked()), "")

    def set_in_hand(self, verb_id: str) -> None:
        """Mark the verb that is in hand; nothing puts all of them down."""
        for button in self._buttons:
            button.setChecked(button.verb.id == verb_id)

    def button(self, verb_id: str) -> VerbButton:
        return next(button for button in self._buttons if button.verb.id == verb_id)

    def tie_point(self) -> QPoint:
        """Where the string is tied, in the parent's coordinates."""
        return self.pos() + self._eyelet().toPoint()

    def _eyelet(self) -> QPointF:
        return QPointF(scaled(_LEFT) / 2, self.height() / 2)

    def _lines(self) -> float:
        return line_height(text_font(PART, BOLDER)) + line_height(text_font(SECOND))

    def sizeHint(self) -> QSize:
        hints = [button.sizeHint() for button in self._buttons]
        verbs = sum(hint.width() for hint in hints) + scaled(2) * (len(hints) - 1)
        words = max(
            text_width(self._text.name, text_font(PART, BOLDER)),
            text_width(self._text.place, text_font(SECOND)),
        )
        width = scaled(_LEFT + _RIGHT) + max(words + scaled(2), verbs)
        height = scaled(_TOP) + self._lines() + scaled(5) + hints[0].height() + scaled(_TOP)
        return QSizeF(width, height).toSize()

    def _arrange(self) -> None:
        left, top = scaled(_LEFT) - scaled(6), scaled(_TOP) + self._lines() + scaled(5)
        for button in self._buttons:
            hint = button.sizeHint()
            button.setGeometry(round(left), round(top), hint.width(), hint.height())
            left += hint.width() + scaled(2)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not walk(self._buttons, event):
            super().keyPressEvent(event)

    def _say_chosen(self) -> None:
        button = self.sender()
        if isinstance(button, VerbButton):
            self.verbChosen.emit(button.verb.id)

    def _outline(self) -> QPainterPath:
        rect, bite = QRectF(self.rect()).adjusted(1, 1, -1, -1), scaled(_BITE)
        path = QPainterPath(QPointF(rect.left() + bite, rect.top()))
        for x, y in (
            (rect.right(), rect.top()),
            (rect.right(), rect.bottom()),
            (rect.left() + bite, rect.bottom()),
            (rect.left(), rect.bottom() - bite),
            (rect.left(), rect.top() + bite),
        ):
            path.lineTo(x, y)
        path.closeSubpath()
        return path

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = theme_in_use(), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.accent), 2))
        painter.setBrush(QColor(theme.paper))
        painter.drawPath(self._outline())
        painter.setBrush(QColor(theme.raised))
        painter.drawEllipse(self._eyelet(), scaled(4), scaled(4))
        left, top = scaled(_LEFT), scaled(_TOP)
        room = self.width() - left - scaled(_RIGHT)
        name, place = text_font(PART, BOLDER), text_font(SECOND)
        write(painter, QRectF(left, top, room, line_height(name)), self._text.name, name, theme.ink)
        low = QRectF(left, top + line_height(name), room, line_height(place))
        write(painter, low, self._text.place, place, theme.ink2)
