"""The hand that points at places of the scan for what the card then asks about: a length, an edge, a probe."""

from typing import Final

import numpy as np

from floorpan.frames import STILL, Vector
from floorpan.layout import ScanRef
from floorpan.units import show_length
from floorpan_app.desk import LaidPoints
from floorpan_app.stage import words
from floorpan_app.stage.hands.hand import NOTHING_DRAWN, Around, Drawn
from floorpan_app.tools.events import Modifiers, ToolEvent
from floorpan_app.tools.pick_point import PickPoint
from floorpan_app.viewport.marks import Dimension, Path, PickMark

# How many places each kind takes, fewest and most.
PLACES: Final = {
    "length": (2, 2),
    "straight edge": (3, 60),
    "probe": (1, 1),
    "island": (1, 1),
    "hole": (1, 1),
    "target": (1, 1),
    "tunnel line": (2, 60),
    "dash line": (2, 60),
}
# The card does something with these at once and asks nothing more about them.
_TAKEN_AT_ONCE: Final = frozenset({"island", "hole", "target"})


class PointingHand:
    """Clicks on the scan; as many as the kind takes, or Enter, lay them on the desk in the scan's own coordinates."""

    def __init__(self, around: Around, kind: str) -> None:
        self._around = around
        self._kind = kind
        self._least, self._most = PLACES[kind]
        self._scan_id = ""
        self._points: list[Vector] = []
        self._laid = False

    def press(self, event: ToolEvent) -> None:
        """A place is taken when the button comes up, so that a drag may still turn the view."""

    def move(self, event: ToolEvent) -> None:
        """The cross under the mouse is the mouse itself."""

    def release(self, event: ToolEvent) -> None:
        proposal = PickPoint(self._around.ground.names()).release(event)
        if proposal is None:
            self._around.say(words.NOT_ON_SCAN)
            return
        scan = self._around.desk.layout.scan(proposal.value.name.partition(".")[0])
        seen = self._around.ground.exact(proposal.value, event.sight)
        if self._laid or scan.id != self._scan_id:
            self._begin_again(scan.id)
        x, y, z = (float(value) for value in (scan.pose or STILL).inverse().apply(np.array(seen)))
        self._points.append((x, y, z))
        if len(self._points) == self._most:
            self._lay()
        else:
            self._around.say(self.hint())
        self._around.rewrite()

    def key(self, name: str, modifiers: Modifiers) -> bool:
        if name != "enter" or self._laid or len(self._points) < self._least:
            return False
        self._lay()
        self._around.rewrite()
        return True

    def settle(self) -> None:
        """Keys propose nothing that must be kept."""

    def put_back(self) -> bool:
        if not self._points:
            return False
        if self._laid:
            self._begin_again(self._scan_id)
        else:
            self._points.pop()
        self._around.say(self.hint())
        self._around.rewrite()
        return True

    def drawn(self) -> Drawn:
        points = self._seen()
        # What the card has taken is the card's to show.
        if not points or (self._laid and self._around.desk.points is None):
            return NOTHING_DRAWN
        picks = tuple(
            PickMark(letter=str(number), at_mm=at, lit=not self._laid) for number, at in enumerate(points, 1)
        )
        if self._kind == "length" and len(points) == 2:
            far = float(np.linalg.norm(np.subtract(points[0], points[1])))
            text = show_length(far, self._around.desk.system)
            return Drawn(picks=picks, dimensions=(Dimension(a_mm=points[0], b_mm=points[1], text=text),))
        paths = (Path(points_mm=np.array(points), role="accent"),) if len(points) > 1 else ()
        return Drawn(picks=picks, paths=paths)

    def hint(self) -> str:
        begun = "on" if self._points and not self._laid else "first"
        return words.POINT_HINTS[self._kind, begun]

    def _lay(self) -> None:
        self._laid = True
        self._around.desk.lay_points(
            LaidPoints(kind=self._kind, scan_id=self._scan_id, points_mm=tuple(self._points))
        )
        self._around.say(words.POINTS_TAKEN if self._kind in _TAKEN_AT_ONCE else words.POINTS_LAID)

    def _begin_again(self, scan_id: str) -> None:
        self._points, self._laid, self._scan_id = [], False, scan_id
        self._around.desk.lay_points(None)

    def _seen(self) -> list[Vector]:
        """Where the places are in the picture."""
        scan = self._scan()
        if scan is None or not self._points:
            return []
        moved = (scan.pose or STILL).apply(np.array(self._points))
        return [(float(x), float(y), float(z)) for x, y, z in moved]

    def _scan(self) -> ScanRef | None:
        return next((scan for scan in self._around.desk.layout.scans if scan.id == self._scan_id), None)
