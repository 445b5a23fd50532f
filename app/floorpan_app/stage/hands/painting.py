"""The hand that paints on the scan: a stroke while the button is down, laid on the desk when it comes up."""

import math
from typing import Final

import numpy as np

from floorpan.frames import STILL, Vector
from floorpan_app.desk import LaidPoints
from floorpan_app.stage import words
from floorpan_app.stage.hands.hand import NOTHING_DRAWN, Around, Drawn
from floorpan_app.tools.events import Modifiers, ToolEvent
from floorpan_app.viewport.marks import Path

# Places of a stroke lie this share of the brush apart: nearer ones add nothing.
_STEP: Final = 0.4
_SIDES: Final = 32


class PaintingHand:
    """Paints where the scan is met; where it is missed the stroke goes on after the gap."""

    def __init__(self, around: Around) -> None:
        self._around = around
        self._scan_id = ""
        self._seen: list[Vector] = []
        self._over: Vector | None = None

    def press(self, event: ToolEvent) -> None:
        self._seen, self._scan_id = [], ""
        self._add(event)

    def move(self, event: ToolEvent) -> None:
        met = self._met(event)
        self._over = met[1] if met is not None else None
        if event.held:
            self._add(event)
        self._around.rewrite()

    def release(self, event: ToolEvent) -> None:
        self._add(event)
        seen, self._seen = self._seen, []
        scan = next((one for one in self._around.desk.layout.scans if one.id == self._scan_id), None)
        if scan is None or not seen:
            self._around.say(words.NOT_ON_SCAN)
            return
        own = (scan.pose or STILL).inverse().apply(np.array(seen))
        points = tuple((float(x), float(y), float(z)) for x, y, z in own)
        self._around.desk.lay_points(LaidPoints(kind="stroke", scan_id=scan.id, points_mm=points))
        self._around.desk.lay_points(None)
        self._around.rewrite()

    def key(self, name: str, modifiers: Modifiers) -> bool:
        return False

    def settle(self) -> None:
        """Keys propose nothing that must be kept."""

    def put_back(self) -> bool:
        if not self._seen:
            return False
        self._seen = []
        self._around.rewrite()
        return True

    def drawn(self) -> Drawn:
        paths = [self._ring(at) for at in self._seen]
        if self._over is not None:
            paths.append(self._ring(self._over))
        return Drawn(paths=tuple(paths)) if paths else NOTHING_DRAWN

    def hint(self) -> str:
        return words.PAINT_HINT

    def _add(self, event: ToolEvent) -> None:
        met = self._met(event)
        if met is None:
            return
        id, at = met
        if self._scan_id and id != self._scan_id:
            return
        self._scan_id = id
        if not self._seen or math.dist(at, self._seen[-1]) >= _STEP * self._around.desk.brush_mm:
            self._seen.append(at)

    def _met(self, event: ToolEvent) -> tuple[str, Vector] | None:
        """The scan and the place under the mouse."""
        if event.hit is None or event.hit.name not in self._around.ground.names():
            return None
        return event.hit.name.partition(".")[0], self._around.ground.exact(event.hit, event.sight)

    def _ring(self, at: Vector) -> Path:
        """The brush about a place, square to the sight."""
        right, up, _ = self._around.view.camera.eye.axes()
        turn = np.linspace(0.0, 2.0 * math.pi, _SIDES + 1)
        radius = self._around.desk.brush_mm
        ring = np.asarray(at) + radius * (np.cos(turn)[:, None] * right + np.sin(turn)[:, None] * up)
        return Path(points_mm=ring, role="accent", width_px=1.2)
