"""The ring round the stock button that has the keyboard: 2 px of accent, 2 px away from it."""

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QApplication, QPushButton, QToolButton, QWidget
from shiboken6 import isValid

from floorpan_app.widgets.seam import FOCUS, paint_focus

AWAY = 2.0
_MOVES = (QEvent.Type.Move, QEvent.Type.Resize, QEvent.Type.Show, QEvent.Type.Hide)


class FocusRing(QWidget):
    """One for each window. Painted pieces draw their own ring, fields have it as their border."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._ringed: QWidget | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.hide()
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._follow)

    def ringed(self) -> QWidget | None:
        """What the ring is round now."""
        return self._ringed

    def _follow(self, before: QWidget | None, now: QWidget | None) -> None:
        # A button that is just going away takes the keyboard with it: it cannot be asked any more.
        if self._ringed is not None and isValid(self._ringed):
            self._ringed.removeEventFilter(self)
        stock = isinstance(now, QPushButton | QToolButton) and now.window() is self.window()
        self._ringed = now if stock else None
        if self._ringed is not None:
            self._ringed.installEventFilter(self)
        self._place()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._ringed and event.type() in _MOVES:
            self._place()
        return False

    def _place(self) -> None:
        ringed = self._ringed
        if ringed is None or not isValid(ringed) or not ringed.isVisible():
            self.hide()
            return
        reach = round(AWAY + FOCUS)
        corner = ringed.mapTo(self.window(), QPoint(0, 0))
        self.setGeometry(QRect(corner, ringed.size()).adjusted(-reach, -reach, reach, reach))
        self.raise_()
        self.show()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        paint_focus(painter, QRectF(self.rect()), 6)
