"""The drawing toolkit's window in our window, cured of everything it does of its own accord.

It renders once per paint (left alone it renders twice per mouse step), and no mouse or key ever reaches its stock
styles: events pass on to the viewport that holds it.
"""

import time
from collections.abc import Callable

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QWidget
from pyvistaqt import QtInteractor
from vtkmodules.vtkRenderingCore import vtkRenderer


class Canvas(QtInteractor):
    """The one-render window. `before` and `after` are called around the making of every picture."""

    def __init__(self, parent: QWidget, before: Callable[[], None], after: Callable[[float], None]) -> None:
        self._before: Callable[[], None] | None = before
        self._after: Callable[[float], None] | None = after
        super().__init__(parent, multi_samples=0, auto_update=False, lighting="none", off_screen=False)
        self.setAcceptDrops(False)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._quiet()

    def _quiet(self) -> None:
        """Take away stock styles, keys and observers, and every render that is not a paint."""
        self.iren.remove_observers()
        self.iren.interactor.SetInteractorStyle(None)
        self.iren.interactor.RemoveObservers("KeyPressEvent")
        self.iren.interactor.RemoveObservers("CharEvent")
        self.iren.interactor.EnableRenderOff()
        self.suppress_rendering = True

    def lone_renderer(self) -> vtkRenderer:
        """The one renderer in the window."""
        renderer: vtkRenderer = self.renderer
        return renderer

    def paintGL(self) -> None:
        interactor = self._Iren
        if self._before is not None:
            self._before()
        began = time.perf_counter()
        interactor.EnableRenderOn()
        try:
            super().paintGL()  # type: ignore[no-untyped-call]
        finally:
            interactor.EnableRenderOff()
        if self._after is not None:
            self._after(time.perf_counter() - began)

    def close(self) -> None:  # type: ignore[override]
        self._before = self._after = None
        super().close()

    # Events: to the viewport, untouched.

    def mousePressEvent(self, event: QMouseEvent) -> None:
        event.ignore()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        event.ignore()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        event.ignore()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        event.ignore()

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        event.ignore()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        event.ignore()

    def enterEvent(self, event: QEvent) -> None:
        event.ignore()

    def leaveEvent(self, event: QEvent) -> None:
        event.ignore()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        event.ignore()

    def dropEvent(self, event: QDropEvent) -> None:
        event.ignore()
