"""A thing in hand: along the floor, along one axis, or by keys; one entry in the history when it is let go."""

from collections.abc import Callable
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from floorpan_app.tools.events import Modifiers, ToolEvent, Vector
from floorpan_app.tools.lines_and_planes import crossing, nearest_along, triple
from floorpan_app.tools.proposal import Proposal
from floorpan_app.tools.snapping import AXES, Axis, Snap, SnapLine, snapped

Floats = NDArray[np.float64]
Way = Literal["floor", "x", "y", "z"]
Height = Callable[[float, float], float | None]
Limit = Callable[[Vector], tuple[Vector, str]]

_UP = (0.0, 0.0, 1.0)
_FINE = 0.1
# The sine of the angle under which the floor counts as seen from its edge.
_EDGE_ON = 0.05


def unlimited(place_mm: Vector) -> tuple[Vector, str]:
    """A limit that stops nothing."""
    return place_mm, ""


class Drag:
    """Moves a place [mm] in the car.

    way    : `floor` keeps to the level of the point that was grabbed, or one of the axes by name; in a view from
             the side `floor` is the axis that lies across
    snaps  : lines taken hold of within six pixels; Alt moves a tenth and lets go of lines
    height : how high the floor is at x, y [mm], None where it was not seen; a thing that stands on it keeps touch
    limit  : where the place may be at most, and why it stopped there
    Arrows move 1 mm on the floor along the car axis nearest to the arrow, page up and down 1 mm in height;
    Shift is ten times, Alt a tenth.
    """

    def __init__(
        self,
        place_mm: Vector,
        *,
        way: Way = "floor",
        snaps: tuple[Snap, ...] = (),
        height: Height | None = None,
        limit: Limit = unlimited,
    ) -> None:
        self._place = place_mm
        self._way: Way = way
        self._snaps = snaps
        self._height = height
        self._limit = limit
        self._start: Vector | None = None
        self._grabbed: Vector = place_mm
        self._wished = np.asarray(place_mm, dtype=float)
        self._last: Floats | None = None

    @property
    def place_mm(self) -> Vector:
        """Where the thing is proposed to be."""
        return self._place

    def go(self, way: Way) -> None:
        """Move another way from now on, as when an axis is named."""
        self._way = way
        self._last = None

    def press(self, event: ToolEvent) -> Proposal[Vector] | None:
        self._start = self._place
        self._wished = np.asarray(self._place, dtype=float)
        self._grabbed = event.hit.point_mm if event.hit is not None else self._place
        self._last = self._under(event)
        return None

    def move(self, event: ToolEvent) -> Proposal[Vector] | None:
        if self._start is None or not event.held:
            return None
        here = self._under(event)
        if here is None:
            return None
        if self._last is not None:
            self._wished = self._wished + (here - self._last) * (_FINE if event.modifiers.alt else 1.0)
        self._last = here
        place = triple(self._wished)
        caught: tuple[SnapLine, ...] = ()
        if not event.modifiers.alt:
            place, caught = self._snapped(place, event)
        return self._proposed(place, caught, done=False)

    def release(self, event: ToolEvent) -> Proposal[Vector] | None:
        if self._start is None:
            return None
        start, moved = self._start, self.move(event)
        self._start = None
        if self._place == start:
            return None
        caught, reason = (moved.caught, moved.reason) if moved is not None else ((), "")
        return Proposal(value=self._place, kind="done", caught=caught, reason=reason)

    def key(
        self, name: str, modifiers: Modifiers, right: Vector = (1.0, 0.0, 0.0)
    ) -> Proposal[Vector] | None:
        if name == "escape" and self._start is not None:
            self._place, self._start = self._start, None
            return Proposal(value=self._place, kind="back")
        step = key_step(name, right)
        if step is None or self._start is not None:
            return None
        place = np.asarray(self._place) + modifiers.times() * step
        return self._proposed(triple(place), (), done=True, keep_touch=step[2] == 0.0)

    def _under(self, event: ToolEvent) -> Floats | None:
        """What the mouse points at on the plane or axis through the point that was grabbed."""
        sight = event.sight
        axis = np.zeros(3)
        if self._way != "floor":
            axis[AXES.index(self._way)] = 1.0
        elif abs(sight.direction[2]) > _EDGE_ON:
            return crossing(self._grabbed, _UP, sight.origin_mm, sight.direction)
        else:
            # Seen from the side the floor is a line: only the axis that lies across the sight is left.
            axis[0 if abs(sight.direction[1]) >= abs(sight.direction[0]) else 1] = 1.0
        along = nearest_along(self._grabbed, axis, sight.origin_mm, sight.direction)
        return None if along is None else np.asarray(self._grabbed) + along * axis

    def _snapped(self, place: Vector, event: ToolEvent) -> tuple[Vector, tuple[SnapLine, ...]]:
        axes: tuple[Axis, ...] = ("x", "y") if self._way == "floor" else (self._way,)
        return snapped(place, self._snaps, event.sight.mm_per_pixel(self._grabbed), axes)

    def _proposed(
        self, place: Vector, caught: tuple[SnapLine, ...], *, done: bool, keep_touch: bool = True
    ) -> Proposal[Vector]:
        if self._height is not None and keep_touch and self._way != "z":
            floor = self._height(place[0], place[1])
            place = (place[0], place[1], self._place[2] if floor is None else floor)
        self._place, reason = self._limit(place)
        return Proposal(value=self._place, kind="done" if done else "preview", caught=caught, reason=reason)


def key_step(name: str, right: Vector) -> Floats | None:
    """The step of 1 mm a key stands for; right and left along the car axis nearest to the eye's right hand."""
    if name in ("page up", "page down"):
        return np.array([0.0, 0.0, 1.0 if name == "page up" else -1.0])
    across = np.zeros(3)
    axis = 0 if abs(right[0]) >= abs(right[1]) else 1
    across[axis] = 1.0 if right[axis] >= 0.0 else -1.0
    away = np.cross(_UP, across)
    steps = {"right": across, "left": -across, "up": away, "down": -away}
    return steps.get(name)
