"""How the car is looked at: fixed views, free turning, going to a point."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QEasingCurve, QObject, QVariantAnimation, Signal

from floorpan_app.viewport.eye import Eye, Vector, between, nearer, slid, towards, turned
from floorpan_app.viewport.views import SeenFrom, Side, view_of, whole

Floats = NDArray[np.float64]

TURN_MS = 250


class Camera(QObject):
    """The eye and its ways. `changed` follows every change."""

    changed = Signal()

    def __init__(self, outermost: Callable[[], Floats | None], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._outermost = outermost
        self._seen_from: SeenFrom = "free"
        self._as_told = True
        self._driver_side: Side = "left"
        self._width_to_height = 1.5
        self._eye = view_of("free", "left", None, self._width_to_height)
        self._walk = QVariantAnimation(self)
        self._walk.setDuration(TURN_MS)
        self._walk.setStartValue(0.0)
        self._walk.setEndValue(1.0)
        self._walk.setEasingCurve(QEasingCurve.Type.InOutQuad)
        self._ends = (self._eye, self._eye)
        self._walk.valueChanged.connect(self._step)

    @property
    def eye(self) -> Eye:
        """Where the car is looked at from."""
        return self._eye

    @property
    def seen_from(self) -> SeenFrom:
        """Which of the words under *Seen from* holds."""
        return self._seen_from

    @property
    def as_told(self) -> bool:
        """Whether the whole car is looked at as a word told it, and no hand has turned or moved the view since."""
        return self._as_told

    def set_driver_side(self, side: Side) -> None:
        """Which side the fixed views call the driver's."""
        self._driver_side = side
        if self._seen_from != "free":
            self.see_from(self._seen_from)

    def set_shape(self, width_to_height: float) -> None:
        """The picture's shape."""
        self._width_to_height = width_to_height

    def look(self, eye: Eye, seen_from: SeenFrom = "free") -> None:
        """Look from an eye at once, as when a project is opened again."""
        self._walk.stop()
        self._as_told = False
        self._seen_from = seen_from
        self._set(eye)

    def see_from(self, seen_from: SeenFrom) -> None:
        """Take a fixed view of the whole car, or the free one."""
        self.look(view_of(seen_from, self._driver_side, self._outermost(), self._width_to_height), seen_from)
        self._as_told = True

    def see_whole_car(self) -> None:
        """The whole car from where one looks now."""
        self.look(whole(self._eye, self._outermost(), self._width_to_height), self._seen_from)

    def see_all(self, points_mm: Floats) -> None:
        """Look the same way, with these points (N, 3) [mm] in the picture."""
        self.look(whole(self._eye, points_mm, self._width_to_height), self._seen_from)

    def see_parallel(self) -> None:
        """Look the same way along parallel lines; what is at the target keeps its size."""
        if not self._eye.parallel:
            self.look(replace(self._eye, parallel=True))

    def turn(self, about_mm: Vector, heading_deg: float, rise_deg: float) -> None:
        """Turn about a point. A fixed view becomes the free one, the point's size and place kept."""
        eye = self._freed(about_mm)
        self.look(turned(eye, about_mm, heading_deg, rise_deg))

    def slide(self, right_mm: float, up_mm: float) -> None:
        """Move across the line of sight."""
        self.look(slid(self._eye, right_mm, up_mm), self._seen_from)

    def zoom(self, point_mm: Vector, share: float) -> None:
        """Zoom about a point, which keeps its place in the picture; share under 1 goes nearer."""
        self.look(nearer(self._eye, point_mm, share), self._seen_from)

    def turn_to(
        self,
        point_mm: Vector,
        direction: Vector | None = None,
        *,
        distance_mm: float | None = None,
        animate: bool = True,
    ) -> None:
        """Bring a point to the middle, in 250 ms or at once; with a direction (unit, the way one looks) turn there."""
        eye = self._eye if direction is None else self._freed(point_mm)
        seen_from = self._seen_from if direction is None else "free"
        goal = towards(eye, point_mm, direction, distance_mm)
        self._walk.stop()
        if not animate:
            self.look(goal, seen_from)
            return
        self._ends = (eye, goal)
        self._as_told = False
        self._seen_from = seen_from
        self._walk.start()

    def stop(self) -> None:
        """Stand still."""
        self._walk.stop()

    def _step(self, share: float) -> None:
        self._set(between(*self._ends, share))

    def _freed(self, about_mm: Vector) -> Eye:
        """In perspective, at the distance at which what is at the point keeps its size."""
        eye = self._eye
        if not eye.parallel:
            return eye
        forward = eye.axes()[2]
        deeper = float((np.asarray(about_mm) - np.asarray(eye.target_mm)) @ forward)
        target = np.asarray(eye.target_mm) + deeper * forward
        x, y, z = (float(value) for value in target)
        return replace(eye, target_mm=(x, y, z), parallel=False)

    def _set(self, eye: Eye) -> None:
        self._eye = eye
        self.changed.emit()
