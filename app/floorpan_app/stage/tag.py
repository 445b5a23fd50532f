"""The part tag of the thing in hand, tied to it by a string."""

from typing import Final

import numpy as np
from PySide6.QtCore import QObject, QPointF, QRectF, Signal
from PySide6.QtGui import QMouseEvent

from floorpan.frames import Vector
from floorpan.geometry.solids import Body
from floorpan_app.viewport.marks import Tether
from floorpan_app.viewport.view import Viewport
from floorpan_app.widgets.part_tag import PartTag, TagText

_OFF_PX: Final = (70.0, 64.0)
_MARGIN_PX: Final = 8.0
_CLEAR_PX: Final = 10.0


class _Tag(PartTag):
    """A tag that keeps the mouse to itself: what lies behind it is not clicked through it."""

    def mousePressEvent(self, event: QMouseEvent) -> None:
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        event.accept()


class Tag(QObject):
    """Shows a tag beside a thing; it stays where it hangs until the eye or the thing comes in its way.

    verb_chosen(id) : a verb on the tag
    """

    verb_chosen = Signal(str)

    def __init__(self, view: Viewport, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._tag = _Tag(parent=view)
        self._tag.hide()
        self._tag.verbChosen.connect(self.verb_chosen)
        self._id = ""
        self._at: Vector = (0.0, 0.0, 0.0)

    @property
    def widget(self) -> PartTag:
        """The tag itself."""
        return self._tag

    def show(self, id: str, text: TagText, verb: str, bodies: tuple[Body, ...]) -> None:
        """Tie a tag to the thing of an id, which has these bodies; `verb` is in hand."""
        if text != self._tag.text():
            self._tag.set_text(text)
        self._tag.set_in_hand(verb)
        self._at = _middle(bodies)
        if id != self._id or self._is_in_the_way(bodies):
            self._hang(bodies)
        self._id = id
        self._tag.show()
        self._tag.raise_()

    def hide(self) -> None:
        """Take the tag away."""
        self._id = ""
        self._tag.hide()

    def loosen(self) -> None:
        """The eye moved: hang it anew at the next chance."""
        self._id = ""

    def tether(self) -> Tether | None:
        """The string; None where no tag is shown."""
        if self._tag.isHidden():
            return None
        knot, room = self._tag.tie_point(), self._tag.geometry()
        return Tether(
            at_mm=self._at,
            to_px=(float(knot.x()), float(knot.y())),
            room_px=(float(room.x()), float(room.y()), float(room.width()), float(room.height())),
        )

    def _is_in_the_way(self, bodies: tuple[Body, ...]) -> bool:
        """Whether the tag hangs over the middle of its thing, or out of the picture."""
        at = self._view.projection().pixel(self._at)
        room = QRectF(self._tag.geometry())
        outside = not QRectF(self._view.rect()).contains(room)
        return outside or (at is not None and room.adjusted(-12, -12, 12, 12).contains(QPointF(*at)))

    def _hang(self, bodies: tuple[Body, ...]) -> None:
        """Beside the thing: to the lower right where there is room, else wherever it hides least of it."""
        at = self._view.projection().pixel(self._at)
        if at is None:
            return
        size, insets = self._tag.sizeHint(), self._view.overlay.insets
        picture = QRectF(self._view.rect()).adjusted(
            _MARGIN_PX, insets.top + _MARGIN_PX, -_MARGIN_PX, -insets.bottom - _MARGIN_PX
        )
        thing = _seen_box(bodies, self._view)
        rooms = []
        for right, down in ((1, 1), (-1, 1), (1, -1), (-1, -1)):
            left = at[0] + _OFF_PX[0] if right > 0 else at[0] - _OFF_PX[0] - size.width()
            top = at[1] + _OFF_PX[1] if down > 0 else at[1] - _OFF_PX[1] - size.height()
            beside = max(left, thing.right() + _CLEAR_PX) if right > 0 else left
            beside = min(beside, thing.left() - _CLEAR_PX - size.width()) if right < 0 else beside
            rooms.append(_pushed(QRectF(beside, top, size.width(), size.height()), picture))
        best = min(rooms, key=lambda room: _shared(room, thing))
        self._tag.move(round(best.left()), round(best.top()))


def _middle(bodies: tuple[Body, ...]) -> Vector:
    boxes = np.array([solid.box() for body in bodies for solid in body])
    x, y, z = (float(v) for v in (boxes[:, 0].min(axis=0) + boxes[:, 1].max(axis=0)) / 2)
    return x, y, z


def _seen_box(bodies: tuple[Body, ...], view: Viewport) -> QRectF:
    """The box in pixels around a thing as it is seen."""
    corners = np.concatenate([solid.points() for body in bodies for solid in body])
    pixels, before = view.projection().pixels(corners)
    if not before.any():
        return QRectF()
    low, high = pixels[before].min(axis=0), pixels[before].max(axis=0)
    return QRectF(QPointF(*low.tolist()), QPointF(*high.tolist()))


def _pushed(room: QRectF, picture: QRectF) -> QRectF:
    """A room pushed into the picture."""
    moved = QRectF(room)
    moved.moveLeft(max(min(room.left(), picture.right() - room.width()), picture.left()))
    moved.moveTop(max(min(room.top(), picture.bottom() - room.height()), picture.top()))
    return moved


def _shared(one: QRectF, other: QRectF) -> float:
    both = one.intersected(other)
    return max(both.width(), 0.0) * max(both.height(), 0.0)
