"""A hand for the tests of the real viewport: what it sees, drags, turns the wheel."""

import numpy as np
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from floorpan_app.tools.events import Pick
from floorpan_app.viewport.canvas import Canvas
from floorpan_app.viewport.eye import Vector
from floorpan_app.viewport.view import Viewport


def canvas_of(view: Viewport) -> Canvas:
    canvas = view.findChild(Canvas)
    assert isinstance(canvas, Canvas)
    return canvas


def pixel(view: Viewport, point: Vector) -> tuple[float, float]:
    seen = view.projection().pixel(point)
    assert seen is not None
    return seen


def picked(view: Viewport, at: QPoint) -> Pick:
    pick = view.pick(at.x(), at.y())
    assert pick is not None
    return pick


def drag(view: Viewport, start: QPoint, end: QPoint, button: Qt.MouseButton, steps: int = 8) -> None:
    canvas = canvas_of(view)
    QTest.mousePress(canvas, button, Qt.KeyboardModifier.NoModifier, start)
    for step in range(1, steps + 1):
        QTest.mouseMove(canvas, start + (end - start) * step / steps)
    QTest.mouseRelease(canvas, button, Qt.KeyboardModifier.NoModifier, end)


def wheel(view: Viewport, at: QPoint, turned: int) -> None:
    place = QPointF(at)
    event = QWheelEvent(
        place,
        QPointF(view.mapToGlobal(at)),
        QPoint(),
        QPoint(0, turned),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(view, event)


def vtk_up(view: Viewport) -> np.ndarray:
    return np.array(canvas_of(view).lone_renderer().GetActiveCamera().GetViewUp())
