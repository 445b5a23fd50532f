"""How the car is looked at: fixed views, free turning, going to a point."""

from collections.abc import Callable
from dataclasses import replace
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QEasingCurve, QObject, QVariantAnimation, Signal

from floorpan_app.viewport.eye import Eye, Vector, between, framed, nearer, slid, towards, turned

Floats = NDArray[np.float64]

SeenFrom = Literal["driver", "passenger", "above", "front", "rear", "free"]
SEEN_FROM: tuple[SeenFrom, ...] = get_args(SeenFrom)
Side = Literal["left", "right"]

TURN_MS = 250

# Heading and rise in degrees with the driver at the left: front is at the left of the picture, and from above the
# driver's side is at the bottom, as if one stood beside the car.
_FIXED: dict[SeenFrom, tuple[float, float]] = {
    "driver": (90.0, 0.0),
    "passenger": (-90.0, 0.0),
    "above": (90.0, -90.0),
    "front": (0.0, 0.0),
    "rear": (180.0, 0.0),
}
_FREE = (118.0, -26.0)
# What to show while there is nothing: about a cabin.
_EMPTY = np.array([[x, y, z] for x in (0.0, 1600.0) for y in (-700.0, 700.0) for z in (-100.0, 900.0)])


class Camera(QObject):
    """The eye and its ways. `changed` follows every change."""

    changed = Signal()

    def __init__(self, outermost: Callable[[], Floats | None], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._outermost = outermost
        self._eye = Eye(heading_deg=_FREE[0], rise_deg=_FREE[1])
        self._seen_from: SeenFrom = "free"
        self._driver_side: Side = "left"
        self._width_to_height = 1.5
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
        self._seen_from = seen_from
        self._set(eye)

    def see_from(self, seen_from: SeenFrom) -> None:
        """Take a fixed view of the whole car, or the free one."""
        heading, rise = _FIXED.get(seen_from, _FREE)
        if self._driver_side == "right" and seen_from in ("driver", "passenger", "above"):
            heading = -heading
        if self._driver_side == "right" and seen_from == "free":
            heading = -heading
        parallel = seen_from != "free"
        self.look(self._whole(Eye(heading_deg=heading, rise_deg=rise, parallel=parallel)), seen_from)

    def see_whole_car(self) -> None:
        """The whole car from where one looks now."""
        self.look(self._whole(self._eye), self._seen_from)

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
        self._seen_from = seen_from
        self._walk.start()

    def stop(self) -> None:
        """Stand still."""
        self._walk.stop()

    def _step(self, share: float) -> None:
        self._set(between(*self._ends, share))

    def _whole(self, eye: Eye) -> Eye:
        points = self._outermost()
        return framed(eye, _EMPTY if points is None else points, self._width_to_height)

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
