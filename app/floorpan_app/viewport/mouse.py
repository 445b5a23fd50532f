"""The hand on the viewport: what a press, a drag, a wheel step mean.

A left drag on bench or scan turns the view, a right or middle drag slides it, the wheel zooms to the mouse. What
begins on a grip or on the thing in hand goes to the tool instead, and so does a left click that does not move; while
the hand draws, every left press.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, Protocol

from PySide6.QtCore import QPointF, Qt

from floorpan_app.tools.events import Modifiers, Pick, Sight, ToolEvent
from floorpan_app.viewport.camera import Camera
from floorpan_app.viewport.eye import Vector
from floorpan_app.viewport.overlay import Target

CLICK_PX = 4.0
_DEG_PER_PX = 0.32
_WHEEL_SHARE = 0.84
_WHEEL_NOTCH = 120.0
_CLOSER = 0.5


class Sees(Protocol):
    """What the hand asks of the viewport."""

    def sight(self, x: float, y: float) -> Sight:
        """The ray through a pixel."""
        ...

    def pick(self, x: float, y: float, *, without_hand: bool = False) -> Pick | None:
        """The nearest thing at a pixel."""
        ...

    def point_under(self, x: float, y: float) -> Vector:
        """A point in the car at a pixel, also where nothing is."""
        ...

    def target(self, x: float, y: float) -> Target | None:
        """A grip or ticket at a pixel."""
        ...

    def in_hand(self) -> frozenset[str]:
        """The names of the thing in hand."""
        ...

    def draws(self) -> bool:
        """Whether the hand draws: every left press is the tool's."""
        ...


@dataclass(slots=True)
class _Gesture:
    kind: Literal["tool", "look", "turn", "slide", "ticket"]
    start: QPointF
    last: QPointF
    at_mm: Vector
    id: str | None = None


class Mouse:
    """Turns mouse events into camera moves and tool events."""

    def __init__(
        self,
        view: Sees,
        camera: Camera,
        tell: Callable[[Literal["pressed", "moved", "released"], ToolEvent], None],
        chose_ticket: Callable[[Target], None],
    ) -> None:
        self._view = view
        self._camera = camera
        self._tell = tell
        self._chose_ticket = chose_ticket
        self._gesture: _Gesture | None = None

    @property
    def holds_tool(self) -> bool:
        """Whether a tool is being dragged."""
        return self._gesture is not None and self._gesture.kind == "tool"

    def press(self, at: QPointF, button: Qt.MouseButton, modifiers: Modifiers) -> None:
        """A button goes down; a second button while one is down is no matter."""
        if self._gesture is not None:
            return
        under = self._view.point_under(at.x(), at.y())
        if button in (Qt.MouseButton.RightButton, Qt.MouseButton.MiddleButton):
            self._begin("slide", at, under)
            return
        if button != Qt.MouseButton.LeftButton:
            return
        target = self._view.target(at.x(), at.y())
        if target is not None and target.kind == "ticket":
            self._begin("ticket", at, under, target.id)
            return
        pick = self._view.pick(at.x(), at.y())
        in_hand = pick is not None and pick.name in self._view.in_hand()
        if target is not None or in_hand or self._view.draws():
            self._begin("tool", at, under, target.id if target is not None else None)
            self._tell("pressed", self._event(at, modifiers, hit=pick))
            return
        self._begin("look", at, under)

    def move(self, at: QPointF, modifiers: Modifiers) -> None:
        """The mouse moves, with or without a button."""
        gesture = self._gesture
        if gesture is None:
            hit = self._view.pick(at.x(), at.y())
            self._tell("moved", self._event(at, modifiers, hit=hit, held=False))
            return
        step = at - gesture.last
        if gesture.kind == "look" and math.hypot(*_pair(at - gesture.start)) > CLICK_PX:
            gesture.kind = "turn"
            step = at - gesture.start
        if gesture.kind in ("look", "ticket"):
            return
        gesture.last = at
        if gesture.kind == "turn":
            self._camera.turn(gesture.at_mm, -step.x() * _DEG_PER_PX, -step.y() * _DEG_PER_PX)
        elif gesture.kind == "slide":
            wide = self._view.sight(at.x(), at.y()).mm_per_pixel(gesture.at_mm)
            self._camera.slide(-step.x() * wide, step.y() * wide)
        else:
            self._tell("moved", self._event(at, modifiers, hit=self._beneath(at)))

    def release(self, at: QPointF, modifiers: Modifiers) -> None:
        """The button comes up."""
        gesture, self._gesture = self._gesture, None
        if gesture is None:
            return
        if gesture.kind == "ticket":
            target = self._view.target(at.x(), at.y())
            if target is not None and target.kind == "ticket" and target.id == gesture.id:
                self._chose_ticket(target)
        elif gesture.kind == "tool":
            self._tell("released", self._event(at, modifiers, hit=self._beneath(at), grip=gesture.id))
        elif gesture.kind == "look":
            event = self._event(at, modifiers, hit=self._view.pick(at.x(), at.y()))
            self._tell("pressed", event)
            self._tell("released", event)

    def double_click(self, at: QPointF, *, animate: bool) -> None:
        """Go to the point under the mouse."""
        pick = self._view.pick(at.x(), at.y())
        if pick is not None:
            distance = self._camera.eye.distance_mm * _CLOSER
            self._camera.turn_to(pick.point_mm, distance_mm=distance, animate=animate)

    def wheel(self, at: QPointF, turned: float, modifiers: Modifiers) -> None:
        """Zoom to the mouse; `turned` in eighths of a degree, as mice tell it."""
        share = _WHEEL_SHARE ** (turned / _WHEEL_NOTCH * (0.25 if modifiers.alt else 1.0))
        self._camera.zoom(self._view.point_under(at.x(), at.y()), share)

    def drop(self) -> None:
        """Forget a drag, as when the window loses the mouse."""
        self._gesture = None

    def _begin(
        self,
        kind: Literal["tool", "look", "slide", "ticket"],
        at: QPointF,
        under: Vector,
        id: str | None = None,
    ) -> None:
        self._gesture = _Gesture(kind, at, at, under, id)

    def _beneath(self, at: QPointF) -> Pick | None:
        """What lies under the mouse behind the thing in hand."""
        return self._view.pick(at.x(), at.y(), without_hand=True)

    def _event(
        self,
        at: QPointF,
        modifiers: Modifiers,
        *,
        hit: Pick | None,
        held: bool = True,
        grip: str | None = None,
    ) -> ToolEvent:
        if self._gesture is not None and self._gesture.kind == "tool":
            grip = self._gesture.id
        return ToolEvent(
            x_px=at.x(),
            y_px=at.y(),
            sight=self._view.sight(at.x(), at.y()),
            hit=hit,
            modifiers=modifiers,
            grip=grip,
            held=held,
        )


def _pair(point: QPointF) -> tuple[float, float]:
    return point.x(), point.y()
