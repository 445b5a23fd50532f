"""One line of the six shapes with their words."""

from PySide6.QtCore import QRectF, QSize, QSizeF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from floorpan_app.theme.fonts import LEAST, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import VERDICTS
from floorpan_app.widgets.lettering import line_height, text_width, write
from floorpan_app.widgets.verdict_shape import paint_verdict, square

_SHAPE = 12.0
_NO_STATE = "does not apply"


class ShapeLegend(QWidget):
    """The shapes and their words, and the dot of a cell that cannot change with the state."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Shapes: " + ", ".join(VERDICTS))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        font = text_font(LEAST)
        words = sum(text_width(word, font) + scaled(_SHAPE + 5 + 18) for word in (*VERDICTS, _NO_STATE))
        return QSizeF(words, max(scaled(18), line_height(font))).toSize()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, font = theme_in_use(), QPainter(self), text_font(LEAST)
        left, side = 0.0, scaled(_SHAPE)
        for verdict in VERDICTS:
            paint_verdict(painter, square(left, self.height() / 2, side), verdict)
            left += side + scaled(5)
            rect = QRectF(left, 0, self.width() - left, self.height())
            left += write(painter, rect, verdict, font, theme.ink2) + scaled(18)
        rect = QRectF(left, 0, self.width() - left, self.height())
        write(painter, rect, f"·  {_NO_STATE}", font, theme.ink2)
