"""The ring round the stock button that has the keyboard: 2 px of accent, 2 px away from it."""

from collections.abc import Iterator

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QPushButton, QToolButton, QWidget
from shiboken6 import isValid

from floorpan_app.widgets.seam import FOCUS, paint_focus

AWAY = 2.0
_MOVES = (QEvent.Type.Move, QEvent.Type.Resize, QEvent.Type.Show, QEvent.Type.Hide)
_ELSEWHERE = QEvent.Type.ParentChange


class FocusRing(QWidget):
    """One for each window. Painted pieces draw their own ring, fields have it as their border.

    It goes with what it is round wherever anything that holds it moves, scrolls, grows or hides, and is never seen
    outside what it scrolls in.
    """

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._ringed: QWidget | None = None
        # What it is round and all that holds it, up to the window.
        self._watched: tuple[QWidget, ...] = ()
        self._around = QRect()
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
        stock = isinstance(now, QPushButton | QToolButton) and now.window() is self.window()
        self._ringed = now if stock else None
        self._watch()
        self._place()

    def _watch(self) -> None:
        for widget in self._watched:
            # A button that is just going away takes the keyboard with it: it cannot be asked any more.
            if isValid(widget):
                widget.removeEventFilter(self)
        self._watched = tuple(_up_to(self._ringed, self.window()))
        for widget in self._watched:
            widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == _ELSEWHERE:
            self._watch()
            self._place()
        elif event.type() in _MOVES:
            self._place()
        return False

    def _place(self) -> None:
        ringed = self._ringed
        if ringed is None or not isValid(ringed) or not ringed.isVisible():
            self.hide()
            return
        window, reach = self.window(), round(AWAY + FOCUS)
        corner = ringed.mapTo(window, QPoint(0, 0))
        self._around = QRect(corner, ringed.size()).adjusted(-reach, -reach, reach, reach)
        seen = self._around
        for widget in self._watched:
            area = widget.parentWidget()
            if isinstance(area, QAbstractScrollArea) and area.viewport() is widget:
                seen = seen.intersected(QRect(widget.mapTo(window, QPoint(0, 0)), widget.size()))
        if seen.isEmpty():
            self.hide()
            return
        self.setGeometry(seen)
        self.raise_()
        self.show()
        # The same place may show another part of the ring.
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        paint_focus(painter, QRectF(self._around.translated(-self.pos())), 6)


def _up_to(widget: QWidget | None, window: QWidget) -> Iterator[QWidget]:
    while widget is not None and isValid(widget) and widget is not window:
        yield widget
        widget = widget.parentWidget()
