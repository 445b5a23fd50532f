"""A stage as the window makes it, without the window, and a hand that clicks, drags and types."""

import time

import numpy as np
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from floorpan.frames import Vector
from floorpan.layout import Layout
from floorpan.scan import RawScan
from floorpan_app.desk import Desk
from floorpan_app.document import Document
from floorpan_app.judging import Judging
from floorpan_app.stage import groups
from floorpan_app.stage.stage import Stage
from floorpan_app.theme.record import Theme
from floorpan_app.viewport.canvas import Canvas
from floorpan_app.viewport.eye import Eye
from floorpan_app.viewport.marks import Marks
from floorpan_app.viewport.view import Viewport

NOTHING = Qt.KeyboardModifier.NoModifier
LEFT = Qt.MouseButton.LeftButton
PATIENCE_S = 60.0


class Bench:
    """Document, judging, desk, viewport and stage."""

    def __init__(self, theme: Theme, size: tuple[int, int]) -> None:
        self.document = Document(Layout())
        self.judging = Judging(self.document, {})
        self.desk = Desk(self.document, self.judging)
        self.hints: list[str] = []
        self.desk.hinted.connect(self.hints.append)
        self._size = size
        self.view = Viewport(theme)
        self.view.set_animated(False)
        self.stage = Stage(self.view, self.desk)

    def open(self, layout: Layout, store: dict[str, RawScan]) -> None:
        """Put a project on the stage as if it were the first, and wait until it is judged and drawn."""
        # Nobody looks meanwhile, and pictures take their time here.
        self.view.setUpdatesEnabled(False)
        self.view.resize(*self._size)
        self.judging.use(store)
        self.document.replace_all(layout)
        self.desk.use_system("mm")
        self.desk.start_over("controls", {})
        for word in (*groups.WORDS,):
            self.stage.show(word, word != groups.PLACED)
        self.stage.keys.letters = True
        self.view.setFocus()
        self.view.camera.see_from("free")
        self.settle()
        self.view.setUpdatesEnabled(True)
        self.hints.clear()

    def rest(self) -> None:
        """Let nothing run on until the next project is opened."""
        self.stage.stop()
        self.judging.close()
        self.view.camera.stop()
        self.view.overlay.stop()
        self.view._pace.stop()

    @property
    def layout(self) -> Layout:
        return self.document.layout

    @property
    def marks(self) -> Marks:
        return self.view.overlay.marks()

    def canvas(self) -> Canvas:
        canvas = self.view.findChild(Canvas)
        assert isinstance(canvas, Canvas)
        return canvas

    def settle(self) -> None:
        """Until everything is judged and drawn."""
        until = time.monotonic() + PATIENCE_S
        while not self.judging.fresh or self.stage.ground.is_waiting():
            QApplication.processEvents()
            time.sleep(0.002)
            assert time.monotonic() < until, "not judged and drawn in time"
        QApplication.processEvents()

    def look(self, target: Vector, heading: float, rise: float, distance: float = 2000.0) -> None:
        self.view.camera.look(Eye(target_mm=target, heading_deg=heading, rise_deg=rise, distance_mm=distance))
        QApplication.processEvents()

    def at(self, point: Vector) -> QPoint:
        """The pixel of a point."""
        seen = self.view.projection().pixel(point)
        assert seen is not None
        return QPoint(round(seen[0]), round(seen[1]))

    def click(self, at: QPoint) -> None:
        QTest.mouseClick(self.canvas(), LEFT, NOTHING, at)
        QApplication.processEvents()

    def press(self, at: QPoint) -> None:
        QTest.mousePress(self.canvas(), LEFT, NOTHING, at)

    def glide(self, start: QPoint, end: QPoint, steps: int = 8) -> None:
        for step in range(1, steps + 1):
            QTest.mouseMove(self.canvas(), start + (end - start) * step / steps)
            QApplication.processEvents()

    def release(self, at: QPoint) -> None:
        QTest.mouseRelease(self.canvas(), LEFT, NOTHING, at)
        QApplication.processEvents()

    def drag(self, start: QPoint, end: QPoint) -> None:
        self.press(start)
        self.glide(start, end)
        self.release(end)

    def key(self, key: Qt.Key, held: Qt.KeyboardModifier = NOTHING) -> None:
        QTest.keyClick(self.view, key, held)
        QApplication.processEvents()

    def on_level(self, at: QPoint, z_mm: float) -> np.ndarray:
        """Where the sight through a pixel crosses a level: plain geometry, nobody's tool."""
        sight = self.view.sight(at.x(), at.y())
        origin, way = np.array(sight.origin_mm), np.array(sight.direction)
        return np.asarray(origin + (z_mm - origin[2]) / way[2] * way)

    def place(self, id: str) -> np.ndarray:
        at = self.layout.thing(id).place
        return np.array([at.x_mm, at.y_mm, at.z_mm])

    def entries(self) -> int:
        """How many entries the history holds."""
        count = 0
        while self.document.undo_words():
            self.document.undo()
            count += 1
        for _ in range(count):
            self.document.redo()
        return count

    def close(self) -> None:
        self.stage.stop()
        self.judging.close()
        self.view.close()
        self.view.deleteLater()
        QApplication.processEvents()
