"""A thing in hand turned about an upright axis."""

import math

from floorpan_app.tools.events import Modifiers, ToolEvent, Vector
from floorpan_app.tools.lines_and_planes import crossing
from floorpan_app.tools.proposal import Proposal
from floorpan_app.tools.snapping import SNAP_PX

_FINE = 0.1
_STEPS = {"left": 1.0, "up": 1.0, "right": -1.0, "down": -1.0}
# Nearer to the axis than this the mouse has no angle.
_NEAREST_MM = 2.0


class Turn:
    """Turns an angle [deg] about Z through centre_mm, left turns seen from above counting up.

    snap_deg : angles taken hold of, every so many degrees, within six pixels at the mouse; 0 for none
    Alt moves a tenth and lets go; keys turn by 1 degree, Shift ten times, Alt a tenth.
    """

    def __init__(self, centre_mm: Vector, angle_deg: float = 0.0, *, snap_deg: float = 15.0) -> None:
        self._centre = centre_mm
        self._angle = angle_deg
        self._snap = snap_deg
        self._start: float | None = None
        self._level = centre_mm
        self._wished = angle_deg
        self._last: float | None = None

    @property
    def angle_deg(self) -> float:
        """The angle as proposed."""
        return self._angle

    def press(self, event: ToolEvent) -> Proposal[float] | None:
        self._start = self._wished = self._angle
        self._level = event.hit.point_mm if event.hit is not None else self._centre
        self._last = self._pointed(event)[0]
        return None

    def move(self, event: ToolEvent) -> Proposal[float] | None:
        if self._start is None or not event.held:
            return None
        here, radius = self._pointed(event)
        if here is None:
            return None
        if self._last is not None:
            step = (here - self._last + 180.0) % 360.0 - 180.0
            self._wished += step * (_FINE if event.modifiers.alt else 1.0)
        self._last = here
        self._angle = self._wished
        if self._snap > 0.0 and not event.modifiers.alt:
            nearest = round(self._wished / self._snap) * self._snap
            away_mm = math.radians(abs(nearest - self._wished)) * radius
            if away_mm <= SNAP_PX * event.sight.mm_per_pixel(self._level):
                self._angle = nearest
        return Proposal(value=self._angle)

    def release(self, event: ToolEvent) -> Proposal[float] | None:
        if self._start is None:
            return None
        start = self._start
        self.move(event)
        self._start = None
        return None if self._angle == start else Proposal(value=self._angle, kind="done")

    def key(self, name: str, modifiers: Modifiers, right: Vector = (1.0, 0.0, 0.0)) -> Proposal[float] | None:
        if name == "escape" and self._start is not None:
            self._angle, self._start = self._start, None
            return Proposal(value=self._angle, kind="back")
        if self._start is not None or name not in _STEPS:
            return None
        self._angle += _STEPS[name] * modifiers.times()
        return Proposal(value=self._angle, kind="done")

    def _pointed(self, event: ToolEvent) -> tuple[float | None, float]:
        """The angle [deg] of the mouse about the centre, and how far from it [mm]."""
        point = crossing(self._level, (0.0, 0.0, 1.0), event.sight.origin_mm, event.sight.direction)
        if point is None:
            return None, 0.0
        x, y = float(point[0]) - self._centre[0], float(point[1]) - self._centre[1]
        radius = math.hypot(x, y)
        return (math.degrees(math.atan2(y, x)), radius) if radius > _NEAREST_MM else (None, radius)
