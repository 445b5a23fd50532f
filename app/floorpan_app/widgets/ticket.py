"""The ticket: one value with the shape of its verdict, its give or take, and the part it belongs to."""

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QRectF, QSize, QSizeF, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QEnterEvent, QFont, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QWidget

from floorpan_app.theme.fonts import SECOND, SPOT, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import Verdict
from floorpan_app.widgets.lettering import BOLD, PLAIN, line_height, text_width, write
from floorpan_app.widgets.seam import paint_focus
from floorpan_app.widgets.verdict_shape import paint_verdict, square

WORSE_MS = 400
"""How long a ticket keeps its doubled border after its verdict got worse."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TicketText:
    """What a ticket says. `value` and `give_or_take` come ready written, as `−6` and `± 2`.

    `sentence` is what is spoken in its place; `doing` is the second word of an unseen one, underlined.
    """

    id: str
    verdict: Verdict
    value: str = ""
    give_or_take: str = ""
    part: str = ""
    doing: str = ""
    stale: bool = False
    sentence: str = ""


_SHAPE = 14.0
_PAD = 9.0
_GAP = 7.0


def _runs(ticket: TicketText) -> list[tuple[str, str]]:
    """The words after the shape, each with its manner: value, second or doing."""
    value = ticket.value or ("unseen" if ticket.verdict == "unseen" else "")
    runs = [
        (value, "value"),
        (ticket.give_or_take, "second"),
        (ticket.part, "second"),
        (ticket.doing, "doing"),
    ]
    return [(text, manner) for text, manner in runs if text]


def _font(manner: str) -> QFont:
    font = text_font(SPOT, BOLD) if manner == "value" else text_font(SECOND, PLAIN)
    font.setUnderline(manner == "doing")
    return font


def ticket_size(ticket: TicketText) -> QSizeF:
    """The room a ticket takes, in logical pixels."""
    words = sum(scaled(_GAP) + text_width(text, _font(manner)) for text, manner in _runs(ticket))
    height = max(scaled(28), line_height(_font("value")) + scaled(6))
    return QSizeF(scaled(2 * _PAD + _SHAPE) + words + 1, height)


def paint_ticket(
    painter: QPainter, rect: QRectF, ticket: TicketText, *, lit: bool = False, doubled: bool = False
) -> None:
    """Draw `ticket` into `rect`. Lit, it stands on the wash; doubled, its border is twice as heavy."""
    theme = theme_in_use()
    colour = theme.verdict(ticket.verdict)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    width = 3.2 if doubled else 1.6
    pen = QPen(QColor(colour), width)
    if ticket.stale:
        pen.setDashPattern([5 / width, 3 / width])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    painter.setBrush(QColor(theme.wash if lit else theme.paper))
    painter.drawRoundedRect(rect.adjusted(width / 2, width / 2, -width / 2, -width / 2), 4, 4)
    side, left = scaled(_SHAPE), rect.left() + scaled(_PAD)
    paint_verdict(painter, square(left, rect.center().y(), side), ticket.verdict)
    left += side
    for text, manner in _runs(ticket):
        left += scaled(_GAP)
        ink = theme.ink if manner == "value" and not ticket.stale else theme.ink2
        if manner == "doing":
            ink = theme.accent
        room = QRectF(left, rect.top(), rect.right() - left - scaled(_PAD) + 2, rect.height())
        left += write(painter, room, text, _font(manner), ink)
    painter.restore()


def on_offer(ticket: TicketText, rect: QRectF, x: float) -> bool:
    """Whether a place across a ticket lies on what it offers to do."""
    wide = text_width(ticket.doing, _font("doing")) + scaled(_PAD + _GAP / 2)
    return bool(ticket.doing) and rect.right() - wide <= x <= rect.right()


class Ticket(QAbstractButton):
    """A ticket that can be pointed at and chosen."""

    ticketChosen = Signal(str)
    ticketPointed = Signal(str)
    """The id under the mouse, or nothing once it left."""
    doingAsked = Signal(str)
    """The underlined second word was clicked."""

    def __init__(self, ticket: TicketText, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._ticket = ticket
        self._lit = False
        self._doubled = False
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(WORSE_MS)
        self._settle.timeout.connect(self._back_to_plain)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.clicked.connect(self._say_chosen)
        self.set_ticket(ticket)

    def ticket(self) -> TicketText:
        return self._ticket

    def set_ticket(self, ticket: TicketText, *, got_worse: bool = False) -> None:
        """Show `ticket`; when its verdict got worse, its border doubles for a moment, once."""
        self._ticket = ticket
        self.setAccessibleName(ticket.sentence or " ".join(text for text, _ in _runs(ticket)))
        if got_worse:
            self._doubled = True
            self._settle.start()
        self.resize(self.sizeHint())
        self.updateGeometry()
        self.update()

    def is_lit(self) -> bool:
        return self._lit

    def set_lit(self, lit: bool) -> None:
        """Light it up together with its row in the ledger."""
        self._lit = lit
        self.update()

    def _back_to_plain(self) -> None:
        self._doubled = False
        self.update()

    def _say_chosen(self) -> None:
        self.ticketChosen.emit(self._ticket.id)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self.isDown() and on_offer(self._ticket, QRectF(self.rect()), event.position().x()):
            self.setDown(False)
            self.doingAsked.emit(self._ticket.id)
        else:
            super().mouseReleaseEvent(event)

    def enterEvent(self, event: QEnterEvent) -> None:
        self.ticketPointed.emit(self._ticket.id)
        super().enterEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        self.ticketPointed.emit("")
        super().leaveEvent(event)

    def sizeHint(self) -> QSize:
        size = ticket_size(self._ticket)
        return QSize(round(size.width()), round(size.height()))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, rect = QPainter(self), QRectF(self.rect())
        paint_ticket(painter, rect, self._ticket, lit=self._lit, doubled=self._doubled)
        if self.hasFocus():
            paint_focus(painter, rect, 4)
