"""An outline drawn on the picture: clicked corner by corner, or in one stroke; along parallel lines of sight."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import Pose
from floorpan.geometry.thin_line import thin_line
from floorpan_app.tools.events import Modifiers, ToolEvent, Vector
from floorpan_app.tools.proposal import Proposal

Floats = NDArray[np.float64]
Corner = tuple[float, float]

_CLICK_PX = 4.0
_CLOSES_PX = 9.0
# A stroke is thinned to what the hand meant; the eye cannot tell the rest.
_STROKE_PX = 1.0
_FEWEST = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnOutline:
    """An outline as it stands.

    frame   : from its coordinates into the picture's; z is the line of sight
    corners : where it turns, in the frame's x and y [mm]
    closed  : whether it goes back to its first corner
    """

    frame: Pose
    corners: tuple[Corner, ...]
    closed: bool = False

    def points_mm(self, depth_mm: float = 0.0) -> Floats:
        """Its corners (N, 3) [mm], this far along the line of sight; the first once more where it is closed."""
        corners = (*self.corners, self.corners[0]) if self.closed and self.corners else self.corners
        flat = np.array([(*corner, depth_mm) for corner in corners], dtype=float).reshape(-1, 3)
        return self.frame.apply(flat)


class Outline:
    """Clicks set corners, a held button draws; the first corner, or Enter, closes. Another view begins again."""

    def __init__(self) -> None:
        self._frame: Pose | None = None
        self._corners: list[Corner] = []
        self._closed = False
        self._start: Corner | None = None
        self._stroke = 0
        self._depth = 0.0

    @property
    def depth_mm(self) -> float:
        """How far along the line of sight the hand last met the scan [mm]."""
        return self._depth

    def press(self, event: ToolEvent) -> Proposal[DrawnOutline] | None:
        """A corner, or the beginning of a stroke."""
        frame = frame_along(event.sight.forward)
        if self._closed or self._frame != frame:
            self._corners, self._closed = [], False
        self._frame = frame
        at = self._at(event)
        if event.hit is not None:
            self._depth = float(frame.inverse().apply(np.array([event.hit.point_mm]))[0, 2])
        self._start = at
        self._stroke = len(self._corners)
        if not self._closes(event, at):
            self._corners.append(at)
        return self._proposal()

    def move(self, event: ToolEvent) -> Proposal[DrawnOutline] | None:
        """A held button draws on; a bare mouse shows the side that would come next."""
        if self._frame is None or self._closed or not self._corners:
            return None
        at = self._at(event)
        if not event.held:
            return self._proposal(at)
        wide = event.sight.pixel_mm
        if np.hypot(*np.subtract(at, self._corners[-1])) > _CLICK_PX * wide / 2:
            self._corners.append(at)
        return self._proposal()

    def release(self, event: ToolEvent) -> Proposal[DrawnOutline] | None:
        """The end of a stroke closes it; a click adds a corner, or closes on the first one."""
        if self._frame is None or self._closed or self._start is None:
            return None
        at, wide, start = self._at(event), event.sight.pixel_mm, self._start
        self._start = None
        drawn = len(self._corners) - self._stroke > 1
        if drawn:
            self._corners[self._stroke :] = _line(
                thin_line(np.array(self._corners[self._stroke :]), _STROKE_PX * wide)
            )
        elif np.hypot(*np.subtract(at, start)) > _CLICK_PX * wide:
            return self._proposal()
        closes = self._closes(event, at) and (drawn or len(self._corners) == self._stroke)
        if closes and len(self._corners) >= _FEWEST:
            return self._close()
        return self._proposal()

    def key(
        self, name: str, modifiers: Modifiers, right: Vector = (1.0, 0.0, 0.0)
    ) -> Proposal[DrawnOutline] | None:
        """Enter closes, Escape takes the last corner back."""
        if self._frame is None or not self._corners:
            return None
        if name == "enter" and not self._closed and len(self._corners) >= _FEWEST:
            return self._close()
        if name == "escape":
            if self._closed:
                self._closed = False
            else:
                self._corners.pop()
            return self._proposal(kind_back=True)
        return None

    def _close(self) -> Proposal[DrawnOutline]:
        self._closed = True
        assert self._frame is not None
        return Proposal(
            value=DrawnOutline(frame=self._frame, corners=tuple(self._corners), closed=True), kind="done"
        )

    def _proposal(
        self, further: Corner | None = None, *, kind_back: bool = False
    ) -> Proposal[DrawnOutline] | None:
        assert self._frame is not None
        corners = (*self._corners, further) if further is not None else tuple(self._corners)
        value = DrawnOutline(frame=self._frame, corners=corners, closed=self._closed)
        return Proposal(value=value, kind="back" if kind_back else "preview")

    def _closes(self, event: ToolEvent, at: Corner) -> bool:
        """Whether the mouse is back on the first corner."""
        if len(self._corners) < _FEWEST:
            return False
        return bool(np.hypot(*np.subtract(at, self._corners[0])) <= _CLOSES_PX * event.sight.pixel_mm)

    def _at(self, event: ToolEvent) -> Corner:
        assert self._frame is not None
        x, y, _ = self._frame.inverse().apply(np.array([event.sight.origin_mm]))[0]
        return float(x), float(y)


def frame_along(forward: Vector) -> Pose:
    """A right-handed frame whose z goes along a line of sight (unit)."""
    z = np.asarray(forward, dtype=float)
    aside = np.eye(3)[int(np.abs(z).argmin())]
    x = np.cross(aside, z)
    x /= np.linalg.norm(x)
    return Pose.from_matrix(np.column_stack([x, np.cross(z, x), z, np.zeros(3)]))


def _line(points: Floats) -> list[Corner]:
    return [(float(x), float(y)) for x, y in points]
