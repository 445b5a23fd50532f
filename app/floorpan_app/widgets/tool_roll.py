"""The tool roll: the verbs of this step, side by side like tools in their pockets."""

from PySide6.QtCore import QPointF, QRectF, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from floorpan_app.theme.fonts import scaled
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.roving import make_stop, walk
from floorpan_app.widgets.seam import paint_seam
from floorpan_app.widgets.verb_button import Verb, VerbButton

_SEAM = 9.0


class ToolRoll(QWidget):
    """Verbs with dotted seams between them; at most one is in hand, and its owner says which."""

    verbChosen = Signal(str)

    def __init__(self, verbs: tuple[Verb, ...] = (), parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._buttons: list[VerbButton] = []
        self._row = QHBoxLayout(self)
        margin = round(scaled(4))
        self._row.setContentsMargins(margin, margin, margin, margin)
        self._row.setSpacing(round(scaled(_SEAM)))
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Tools of this step")
        self.set_verbs(verbs)

    def verbs(self) -> tuple[Verb, ...]:
        return tuple(button.verb for button in self._buttons)

    def set_verbs(self, verbs: tuple[Verb, ...]) -> None:
        """Show these verbs; the same ids in the same order keep the one in hand."""
        if [verb.id for verb in verbs] == [button.verb.id for button in self._buttons]:
            for button, verb in zip(self._buttons, verbs, strict=True):
                button.show_verb(verb)
            return
        for button in self._buttons:
            self._row.removeWidget(button)
            button.hide()
            button.deleteLater()
        self._buttons = [VerbButton(verb, self) for verb in verbs]
        for button in self._buttons:
            button.clicked.connect(self._say_chosen)
            self._row.addWidget(button)
        make_stop(self._buttons, self._buttons[0] if self._buttons else None)
        self.setVisible(bool(verbs))
        self.adjustSize()

    def in_hand(self) -> str:
        return next((button.verb.id for button in self._buttons if button.isChecked()), "")

    def set_in_hand(self, verb_id: str) -> None:
        """Mark the verb that is in hand; nothing puts all of them down."""
        for button in self._buttons:
            button.setChecked(button.verb.id == verb_id)

    def button(self, verb_id: str) -> VerbButton:
        return next(button for button in self._buttons if button.verb.id == verb_id)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not walk(self._buttons, event):
            super().keyPressEvent(event)

    def _say_chosen(self) -> None:
        button = self.sender()
        if isinstance(button, VerbButton):
            self.verbChosen.emit(button.verb.id)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.line), 1))
        painter.setBrush(QColor(theme.paper))
        painter.drawRoundedRect(rect.adjusted(0.5, 0.5, -0.5, -0.5), 5, 5)
        for button in self._buttons[1:]:
            x = button.x() - scaled(_SEAM) / 2
            paint_seam(painter, QPointF(x, scaled(7)), QPointF(x, rect.height() - scaled(7)))
