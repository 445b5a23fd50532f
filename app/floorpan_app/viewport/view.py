"""The viewport: the picture, what is written over it, and the hand on it."""

from typing import Literal

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QBuffer, QByteArray, QEvent, QIODevice, QPointF, Qt, Signal
from PySide6.QtGui import (
    QCloseEvent,
    QFocusEvent,
    QImage,
    QImageWriter,
    QInputEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from floorpan_app.theme.record import Theme
from floorpan_app.tools.events import Modifiers, Pick, Sight, ToolEvent
from floorpan_app.viewport.aim import aim
from floorpan_app.viewport.camera import Camera
from floorpan_app.viewport.canvas import Canvas
from floorpan_app.viewport.colours import colours_of
from floorpan_app.viewport.eye import Vector
from floorpan_app.viewport.kept import Kept
from floorpan_app.viewport.keys import TOOL_KEYS, camera_key
from floorpan_app.viewport.lamps import set_lamps
from floorpan_app.viewport.mouse import Mouse
from floorpan_app.viewport.overlay import Overlay, Target
from floorpan_app.viewport.pace import Pace
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.scene import Scene
from floorpan_app.viewport.surfaces import rgb

Floats = NDArray[np.float64]

# A point this far behind a surface is covered by it.
_COVERED_MM = 2.0


class Viewport(QWidget):
    """The picture of the car. Content goes to `scene`, writing to `overlay`, looking to `camera`.

    The application shares GL contexts (AA_ShareOpenGLContexts) before it is made, or a viewport that moves to
    another window loses its picture.
    """

    pressed = Signal(ToolEvent)
    moved = Signal(ToolEvent)
    released = Signal(ToolEvent)
    key_pressed = Signal(str, Modifiers)
    """A key for the thing in hand: arrows, page up, page down, escape, enter."""
    ticket_clicked = Signal(str)
    offer_clicked = Signal(str)
    """The id of the ticket whose offer was taken."""
    ticket_pointed = Signal(str)
    """The id of the ticket under the mouse, or nothing once it left."""
    camera_changed = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self._hand: frozenset[str] = frozenset()
        self._through: frozenset[str] = frozenset()
        self._pointed = ""
        self._draws = False
        self._animated = True
        self._pace = Pace(self)
        self._canvas: Canvas | None = Canvas(self, self._before_picture, self._pace.took)
        renderer = self._canvas.lone_renderer()
        set_lamps(renderer)
        # Plain blending: sorting what is see-through costs a picture and a half where drawing is slow.
        renderer.SetUseOIT(False)
        self.scene = Scene(renderer, colours_of(theme), self._content_moved, self.devicePixelRatioF())
        self.camera = Camera(self.scene.outermost, self)
        self._kept = Kept(renderer, self.scene)
        self._last_projection: Projection | None = None
        self.overlay = Overlay(self, theme, self._covered)
        self.overlay.raise_()
        self._mouse = Mouse(self, self.camera, self._tell, self._ticket)
        self.camera.changed.connect(self._eye_moved)
        self._pace.stilled.connect(self._draw)
        self._paint_ground(theme)

    # What the application sets.

    def set_theme(self, theme: Theme) -> None:
        """Take another theme."""
        self._paint_ground(theme)
        self.scene.recolour(colours_of(theme))
        self.overlay.set_theme(theme)

    def set_in_hand(self, names: frozenset[str], through: frozenset[str] = frozenset()) -> None:
        """What a drag moves instead of turning the view, and who gets the arrow keys.

        through : what is see-through, so that the thing in hand is met behind it
        """
        self._hand, self._through = names, through

    def set_drawing(self, drawing: bool) -> None:
        """Whether the hand draws: a left drag is a stroke then and turns nothing."""
        self._draws = drawing

    def set_animated(self, animated: bool) -> None:
        """Whether the camera may glide; not where the system asks for less motion."""
        self._animated = animated

    def turn_to(
        self, point_mm: Vector, direction: Vector | None = None, distance_mm: float | None = None
    ) -> None:
        """Bring a point to the middle of the picture, turn so as to look along a direction, go as near as told."""
        self.camera.turn_to(point_mm, direction, distance_mm=distance_mm, animate=self._animated)

    def screenshot(self) -> QImage:
        """The picture with everything written over it, in device pixels; nothing once it is closed."""
        if self._canvas is None:
            return QImage()
        self._pace.be_still()
        image: QImage = self._canvas.grabFramebuffer()
        image.setDevicePixelRatio(self.devicePixelRatioF())
        painter = QPainter(image)
        self.overlay.paint(painter)
        painter.end()
        return image

    def screenshot_png(self) -> bytes:
        """The same as the bytes of a PNG file."""
        held = QByteArray()
        buffer = QBuffer(held)
        buffer.open(QIODevice.OpenModeFlag.WriteOnly)
        QImageWriter(buffer, QByteArray(b"PNG")).write(self.screenshot())
        return bytes(held.data())

    # What lies where.

    def projection(self) -> Projection:
        """How the car lies in the picture now."""
        return Projection(
            eye=self.camera.eye, width=float(max(self.width(), 1)), height=float(max(self.height(), 1))
        )

    def sight(self, x: float, y: float) -> Sight:
        """The ray through a pixel, from the upper left corner, in logical pixels."""
        return self.projection().sight(x, y)

    def pick(self, x: float, y: float, *, without_hand: bool = False) -> Pick | None:
        """The nearest thing at a pixel; without the thing in hand where asked."""
        sight = self.sight(x, y)
        pick = self.scene.pick(sight, without=self._hand if without_hand else frozenset())
        if pick is not None and pick.name in self._through and not without_hand:
            behind = self.scene.pick(sight, without=self._through)
            return behind if behind is not None and behind.name in self._hand else pick
        return pick

    def point_under(self, x: float, y: float) -> Vector:
        """A point of the car at a pixel: on what is there, else as deep as the middle of the view."""
        pick = self.pick(x, y)
        if pick is not None:
            return pick.point_mm
        sight, eye = self.sight(x, y), self.camera.eye
        forward = eye.axes()[2]
        start, aim = np.asarray(sight.origin_mm), np.asarray(sight.direction)
        along = float((np.asarray(eye.target_mm) - start) @ forward) / float(aim @ forward)
        px, py, pz = (float(value) for value in start + along * aim)
        return px, py, pz

    def target(self, x: float, y: float) -> Target | None:
        """The grip or ticket at a pixel."""
        return self.overlay.target(x, y)

    def in_hand(self) -> frozenset[str]:
        """The names of the thing in hand."""
        return self._hand

    def draws(self) -> bool:
        """Whether the hand draws."""
        return self._draws

    # The picture.

    def _paint_ground(self, theme: Theme) -> None:
        if self._canvas is not None:
            self._canvas.lone_renderer().SetBackground(*rgb(theme.bench))
        self._draw()

    def _before_picture(self) -> None:
        if self._canvas is None:
            return
        renderer, projection = self._canvas.lone_renderer(), self.projection()
        renderer.SetUseFXAA(self._pace.smooth)
        self._kept.end()
        aim(renderer, self.scene, projection, coarse=self._pace.coarse)
        touched, last, self._last_projection = self.scene.touched(), self._last_projection, projection
        if not self._pace.coarse or projection != last:
            self._kept.forget()
        elif self._kept.is_of(projection, touched):
            self._kept.begin()
        elif touched:
            self._kept.take(projection, touched | self.scene.names(see_through=True))

    def _content_moved(self) -> None:
        self._pace.moved()
        self._draw()

    def _draw(self) -> None:
        if self._canvas is not None:
            self._canvas.update()

    def _eye_moved(self) -> None:
        self.overlay.project(self.projection(), fixed=self.camera.seen_from != "free")
        self._content_moved()
        self.camera_changed.emit()

    def _covered(self, points_mm: Floats) -> NDArray[np.bool_]:
        """Which points (N, 3) [mm] lie behind a surface."""
        projection = self.projection()
        pixels, before = projection.pixels(points_mm)
        covered = np.zeros(len(points_mm), dtype=bool)
        for number in np.flatnonzero(before):
            sight = projection.sight(*pixels[number].tolist())
            pick = self.scene.pick(sight)
            if pick is not None:
                deeper = np.asarray(points_mm[number]) - np.asarray(pick.point_mm)
                covered[number] = float(deeper @ np.asarray(sight.direction)) > _COVERED_MM
        return covered

    # The hand.

    def _tell(self, what: Literal["pressed", "moved", "released"], event: ToolEvent) -> None:
        {"pressed": self.pressed, "moved": self.moved, "released": self.released}[what].emit(event)

    def _point_at(self, at: QPointF) -> None:
        """Show what the mouse is on."""
        target = self.overlay.target(at.x(), at.y())
        shape = Qt.CursorShape.ArrowCursor
        if target is not None:
            is_grip = target.kind == "grip"
            shape = Qt.CursorShape.SizeAllCursor if is_grip else Qt.CursorShape.PointingHandCursor
        if self.cursor().shape() != shape:
            self.setCursor(shape)
        pointed = target.id if target is not None and target.kind == "ticket" else ""
        if pointed != self._pointed:
            self._pointed = pointed
            self.ticket_pointed.emit(pointed)

    def _ticket(self, target: Target) -> None:
        (self.offer_clicked if target.offer else self.ticket_clicked).emit(target.id)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._mouse.press(event.position(), event.button(), held(event))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if event.buttons() == Qt.MouseButton.NoButton:
            self._point_at(event.position())
        self._mouse.move(event.position(), held(event))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._mouse.release(event.position(), held(event))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self._mouse.double_click(event.position(), animate=self._animated)

    def wheelEvent(self, event: QWheelEvent) -> None:
        turned = event.angleDelta().y() or event.angleDelta().x()
        if turned:
            self._mouse.wheel(event.position(), turned, held(event))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        name = TOOL_KEYS.get(event.key())
        if name is not None and (self._hand or self._mouse.holds_tool or name in ("escape", "enter")):
            self.key_pressed.emit(name, held(event))
        elif not camera_key(self.camera, event.key(), held(event)):
            event.ignore()

    def leaveEvent(self, event: QEvent) -> None:
        self._point_at(QPointF(-1e6, -1e6))

    def focusInEvent(self, event: QFocusEvent) -> None:
        by_key = event.reason() in (
            Qt.FocusReason.TabFocusReason,
            Qt.FocusReason.BacktabFocusReason,
            Qt.FocusReason.ShortcutFocusReason,
        )
        self.overlay.set_focused(by_key)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.overlay.set_focused(False)

    def resizeEvent(self, event: QResizeEvent) -> None:
        if self._canvas is not None:
            self._canvas.setGeometry(self.rect())
        self.overlay.setGeometry(self.rect())
        self.camera.set_shape(max(self.width(), 1) / max(self.height(), 1))
        self._eye_moved()

    def closeEvent(self, event: QCloseEvent) -> None:
        canvas, self._canvas = self._canvas, None
        self.camera.stop()
        self.overlay.stop()
        self._kept.drop()
        self.scene.close()
        self._pace.stop()
        if canvas is not None:
            canvas.close()
            canvas.deleteLater()
        super().closeEvent(event)


def held(event: QInputEvent) -> Modifiers:
    """The keys held during an event."""
    keys = event.modifiers()
    return Modifiers(
        shift=bool(keys & Qt.KeyboardModifier.ShiftModifier),
        alt=bool(keys & Qt.KeyboardModifier.AltModifier),
        control=bool(keys & Qt.KeyboardModifier.ControlModifier),
    )
