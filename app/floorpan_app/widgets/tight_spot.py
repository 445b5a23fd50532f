"""The tight spot: the worst finding as one sentence, its gap rule and its cure, in one place everywhere."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from floorpan_app.theme.fonts import BODY, LEAST, SECOND, SPOT, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import Verdict
from floorpan_app.widgets.gap_rule import GapReading, gap_rule_height, paint_gap_rule
from floorpan_app.widgets.lettering import BOLDER, line_height, text_width, write
from floorpan_app.widgets.seam import paint_focus
from floorpan_app.widgets.verdict_shape import paint_verdict, square

HEAD = "TIGHT SPOT"
EMPTY = "Nothing to compare yet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """The worst finding. `reading` is None where there is no rule to draw."""

    id: str
    verdict: Verdict
    sentence: str
    reading: GapReading | None = None
    cure: str = ""
    stale: bool = False

    def spoken(self) -> str:
        return " ".join(part for part in (f"Tight spot, {self.verdict}:", self.sentence, self.cure) if part)


_LEFT, _RIGHT = 16.0, 14.0
_BAR = 4.0
_WRAP = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap)


class TightSpot(QWidget):
    """Shows one Spot, or that there is nothing to compare yet."""

    spotChosen = Signal(str)

    def __init__(self, spot: Spot | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._spot = spot
        self._folded = False
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.set_spot(spot)

    def spot(self) -> Spot | None:
        return self._spot

    def set_spot(self, spot: Spot | None) -> None:
        """Show `spot`. Nothing is announced: call `announce` when the hand lets go."""
        self._spot = spot
        self.setAccessibleName(spot.spoken() if spot else f"Tight spot: {EMPTY}")
        self.setCursor(Qt.CursorShape.PointingHandCursor if spot else Qt.CursorShape.ArrowCursor)
        self.updateGeometry()
        self.update()

    def set_folded(self, folded: bool) -> None:
        """Fold to one line, when the column lies over the viewport."""
        self._folded = folded
        self.updateGeometry()
        self.update()

    def announce(self) -> None:
        """Have a screen reader say the spot once it is free to."""
        event = QAccessibleAnnouncementEvent(self, self.accessibleName())
        event.setPoliteness(QAccessible.AnnouncementPoliteness.Polite)
        QAccessible.updateAccessibility(event)

    def _sentence_height(self, width: float) -> float:
        font = text_font(SPOT, BOLDER)
        two_lines = 2 * QFontMetricsF(font).lineSpacing()
        if self._spot is None:
            return two_lines
        room = QRectF(0, 0, width - scaled(_LEFT + _RIGHT), 10_000)
        return max(two_lines, QFontMetricsF(font).boundingRect(room, _WRAP, self._spot.sentence).height())

    def _cure_height(self, width: float) -> float:
        font = text_font(SECOND, italic=True)
        room = QRectF(0, 0, width - scaled(_LEFT + _RIGHT), 10_000)
        cure = self._spot.cure if self._spot else ""
        return max(line_height(font), QFontMetricsF(font).boundingRect(room, _WRAP, cure).height())

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        """164 px at 100 %, more where the sentence needs it: words are never cut."""
        if self._folded:
            return round(line_height(text_font(BODY, BOLDER)) + scaled(14))
        head = scaled(8) + line_height(text_font(LEAST, BOLDER))
        body = self._sentence_height(width) + scaled(8) + gap_rule_height() + scaled(6)
        return round(max(scaled(164), head + body + self._cure_height(width) + scaled(10)))

    def sizeHint(self) -> QSize:
        width = round(scaled(344))
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        return QSize(round(scaled(240)), self.heightForWidth(max(self.width(), round(scaled(240)))))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._spot and event.button() == Qt.MouseButton.LeftButton:
            self.spotChosen.emit(self._spot.id)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self._spot and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.spotChosen.emit(self._spot.id)
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        painter.fillRect(rect, QColor(theme.raised))
        bar = theme.verdict(self._spot.verdict) if self._spot else theme.line
        painter.fillRect(QRectF(0, 0, scaled(_BAR), rect.height()), QColor(bar))
        inside = rect.adjusted(scaled(_LEFT), 0, -scaled(_RIGHT), 0)
        if self._folded:
            self._paint_line(painter, inside)
        else:
            self._paint_sheet(painter, inside)
        if self.hasFocus():
            paint_focus(painter, rect.adjusted(scaled(_BAR) + 1, 1, -1, -1))

    def _paint_line(self, painter: QPainter, inside: QRectF) -> None:
        theme = theme_in_use()
        if self._spot is None:
            write(painter, inside, EMPTY, text_font(BODY), theme.ink2)
            return
        side = scaled(14)
        paint_verdict(painter, square(inside.left(), inside.center().y(), side), self._spot.verdict)
        words = inside.adjusted(side + scaled(8), 0, 0, 0)
        write(painter, words, self._spot.sentence, text_font(BODY, BOLDER), theme.ink)

    def _paint_verdict(self, painter: QPainter, head: QRectF, spot: Spot) -> None:
        font, side = text_font(BODY, BOLDER), scaled(14)
        width = text_width(spot.verdict, font)
        colour = theme_in_use().verdict(spot.verdict)
        write(
            painter,
            QRectF(head.right() - width, head.top(), width, head.height()),
            spot.verdict,
            font,
            colour,
        )
        left = head.right() - width - scaled(7) - side
        paint_verdict(painter, square(left, head.center().y() + 1, side), spot.verdict)

    def _paint_sheet(self, painter: QPainter, inside: QRectF) -> None:
        theme, spot = theme_in_use(), self._spot
        head = QRectF(inside.left(), scaled(8), inside.width(), line_height(text_font(LEAST, BOLDER)))
        write(painter, head, HEAD, text_font(LEAST, BOLDER), theme.ink2)
        top = head.bottom()
        if spot is None:
            room = QRectF(inside.left(), top, inside.width(), line_height(text_font(SPOT)) + scaled(4))
            write(painter, room, EMPTY, text_font(SPOT), theme.ink2)
            return
        self._paint_verdict(painter, head, spot)
        height = self._sentence_height(self.width())
        painter.setFont(text_font(SPOT, BOLDER))
        painter.setPen(QColor(theme.ink2 if spot.stale else theme.ink))
        painter.drawText(QRectF(inside.left(), top, inside.width(), height), _WRAP, spot.sentence)
        top += height + scaled(8)
        if spot.reading:
            paint_gap_rule(
                painter, QRectF(inside.left(), top, inside.width(), gap_rule_height()), spot.reading
            )
        cure_height = self._cure_height(self.width())
        painter.setFont(text_font(SECOND, italic=True))
        painter.setPen(QColor(theme.ink2))
        low = QRectF(inside.left(), self.height() - cure_height - scaled(9), inside.width(), cure_height)
        painter.drawText(low, _WRAP, spot.cure)
