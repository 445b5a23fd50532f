"""One verb: an icon with its word; in hand it stands on the wash with an accent border."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from floorpan_app.theme.fonts import BODY, scaled, text_font
from floorpan_app.theme.icons import paint_icon
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.lettering import line_height, text_width, write
from floorpan_app.widgets.roving import RowButton
from floorpan_app.widgets.seam import paint_focus

_ICON = 18.0
_PAD = 8.0
_GAP = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Verb:
    """What can be done. `key` is the shortcut as written in the hint."""

    id: str
    word: str
    icon: str
    key: str = ""
    enabled: bool = True


class VerbButton(RowButton):
    """A button for one verb, painted."""

    def __init__(self, verb: Verb, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.verb = verb
        self.setCheckable(True)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.show_verb(verb)

    def show_verb(self, verb: Verb) -> None:
        self.verb = verb
        self.setText(verb.word)
        self.setAccessibleName(verb.word)
        self.setToolTip(f"{verb.word} ({verb.key})" if verb.key else "")
        self.setEnabled(verb.enabled)
        self.updateGeometry()
        self.update()

    def nextCheckState(self) -> None:
        """Whether a verb stays in hand is for its owner to say, not for the click."""

    def sizeHint(self) -> QSize:
        font = text_font(BODY)
        width = scaled(2 * _PAD + _ICON + _GAP) + text_width(self.verb.word, font)
        return QSizeF(width + 1, max(scaled(30), line_height(font) + scaled(8))).toSize()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.isChecked() or self.isDown() or (self.underMouse() and self.isEnabled()):
            pen = QPen(QColor(theme.accent), 1.4) if self.isChecked() else QPen(Qt.PenStyle.NoPen)
            painter.setPen(pen)
            painter.setBrush(QColor(theme.wash))
            painter.drawRoundedRect(rect.adjusted(0.7, 0.7, -0.7, -0.7), 4, 4)
        if not self.isEnabled():
            pen = QPen(QColor(theme.off), 1, Qt.PenStyle.CustomDashLine)
            pen.setDashPattern([3, 3])
            painter.setPen(pen)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(rect.adjusted(0.5, 0.5, -0.5, -0.5), 4, 4)
        ink = theme.ink if self.isEnabled() else theme.off
        side, left = scaled(_ICON), scaled(_PAD)
        paint_icon(painter, QRectF(left, (rect.height() - side) / 2, side, side), self.verb.icon, ink)
        left += side + scaled(_GAP)
        words = QRectF(left, 0, rect.width() - left - 2, rect.height())
        write(painter, words, self.verb.word, text_font(BODY), ink)
        if self.hasFocus():
            paint_focus(painter, rect)
