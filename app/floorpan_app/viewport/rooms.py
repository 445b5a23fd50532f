"""Room for words: each takes the first of its places where it covers no other."""

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF

_BETWEEN_PX = 2.0


class Rooms:
    """The boxes taken so far in one picture."""

    def __init__(self, picture: QRectF, taken: Iterable[QRectF] = ()) -> None:
        self._picture = picture
        self._taken = list(taken)

    def take(self, box: QRectF) -> QRectF:
        """Take a box as it is."""
        self._taken.append(box)
        return box

    def place(self, boxes: list[QRectF]) -> QRectF:
        """Take the first of some boxes that lies in the picture and keeps clear of all taken; else the first."""
        return self.take(next((box for box in boxes if self._is_free(box)), boxes[0]))

    def _is_free(self, box: QRectF) -> bool:
        wide = box.adjusted(-_BETWEEN_PX, -_BETWEEN_PX, _BETWEEN_PX, _BETWEEN_PX)
        return self._picture.contains(box) and not any(wide.intersects(other) for other in self._taken)


def beside(box: QRectF, at: QPointF, away: float) -> list[QRectF]:
    """A box above a point, below it, to its right and to its left, its edge `away` pixels off."""
    across = QPointF(box.width() / 2 + away, 0.0)
    down = QPointF(0.0, box.height() / 2 + away)
    places = []
    for middle in (at - down, at + down, at + across, at - across):
        moved = QRectF(box)
        moved.moveCenter(middle)
        places.append(moved)
    return places


def cornered(box: QRectF, at: QPointF, away: float) -> list[QRectF]:
    """A box to the upper right of a point, the lower right, the upper left and the lower left."""
    places = []
    for x, y in ((1, -1), (1, 1), (-1, -1), (-1, 1)):
        moved = QRectF(box)
        moved.moveCenter(at + QPointF(x * (box.width() / 2 + away), y * (box.height() / 2 + away)))
        places.append(moved)
    return places
