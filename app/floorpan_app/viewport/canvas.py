"""The drawing toolkit's window in our window: one renderer, one render per paint.

No mouse or key ever reaches the toolkit: events pass on to the viewport that holds it.
"""

import time
from collections.abc import Callable

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid
from vtkmodules.vtkRenderingCore import vtkRenderer

from floorpan_app.viewport.drawing_widget import DrawingWidget


class Canvas(DrawingWidget):  # type: ignore[misc]
    """The one-render window. `before` and `after` are called around the making of every picture."""

    def __init__(self, parent: QWidget, before: Callable[[], None], after: Callable[[float], None]) -> None:
        self._before: Callable[[], None] | None = before
        self._after: Callable[[float], None] | None = after
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._renderer = vtkRenderer()
        window = self.GetRenderWindow()
        window.SetMultiSamples(0)
        window.AddRenderer(self._renderer)
        self._Iren.SetInteractorStyle(None)
        # A render is a paint: asked for anywhere else it would cost a second picture per mouse step.
        self._Iren.EnableRenderOff()
        self._Iren.Initialize()

    def lone_renderer(self) -> vtkRenderer:
        """The one renderer in the window."""
        return self._renderer

    def paintGL(self) -> None:
        interactor = self._Iren
        if self._before is not None:
            self._before()
        began = time.perf_counter()
        interactor.EnableRenderOn()
        try:
            super().paintGL()
        finally:
            interactor.EnableRenderOff()
        if self._after is not None:
            self._after(time.perf_counter() - began)

    def close(self) -> bool:
        self._before = self._after = None
        # The widget connects this to its parent's end, and may have ended before it.
        return bool(super().close()) if isValid(self) else True

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
