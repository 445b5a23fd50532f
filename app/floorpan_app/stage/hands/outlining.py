"""The hand that draws an outline on the scan; closed, it lies on the desk until the card has taken it."""

from typing import Final

import numpy as np

from floorpan.errors import FloorpanError
from floorpan.frames import STILL
from floorpan.layout import ScanRef
from floorpan.scan.outlines import Outline
from floorpan_app.stage import words
from floorpan_app.stage.hands.hand import NOTHING_DRAWN, Around, Drawn
from floorpan_app.tools.events import Modifiers, ToolEvent
from floorpan_app.tools.outline import DrawnOutline
from floorpan_app.tools.outline import Outline as OutlineTool
from floorpan_app.tools.proposal import Proposal
from floorpan_app.viewport.marks import Path, Stroke

_WIDE_PX: Final = 2.0


class OutliningHand:
    """Draws along the line of sight; the view is parallel meanwhile, so that what is seen inside is inside."""

    def __init__(self, around: Around) -> None:
        self._around = around
        self._tool = OutlineTool()
        self._shown: DrawnOutline | None = None

    def press(self, event: ToolEvent) -> None:
        self._around.desk.lay_outline(None)
        self._take(self._tool.press(event))

    def move(self, event: ToolEvent) -> None:
        self._take(self._tool.move(event))

    def release(self, event: ToolEvent) -> None:
        self._take(self._tool.release(event))

    def key(self, name: str, modifiers: Modifiers) -> bool:
        if name == "escape":
            return False
        proposal = self._tool.key(name, modifiers)
        self._take(proposal)
        return proposal is not None

    def settle(self) -> None:
        """Keys propose nothing that must be kept."""

    def put_back(self) -> bool:
        proposal = self._tool.key("escape", Modifiers())
        if proposal is None:
            return False
        self._around.desk.lay_outline(None)
        self._take(proposal)
        return True

    def drawn(self) -> Drawn:
        shown = self._shown
        if shown is None or len(shown.corners) < 1:
            return NOTHING_DRAWN
        points = shown.points_mm(self._tool.depth_mm)
        if len(points) == 1:
            points = np.vstack([points, points])
        stroke: Stroke = "solid" if shown.closed else "dashed"
        return Drawn(paths=(Path(points_mm=points, role="accent", stroke=stroke, width_px=_WIDE_PX),))

    def hint(self) -> str:
        return words.OUTLINE_HINT

    def _take(self, proposal: Proposal[DrawnOutline] | None) -> None:
        if proposal is None:
            return
        self._shown = proposal.value
        if proposal.kind == "done":
            self._close(proposal.value)
        self._around.rewrite()

    def _close(self, drawn: DrawnOutline) -> None:
        """Hand it on in the scan's own coordinates; one that crosses itself is drawn again."""
        scan = self._scan()
        if scan is None:
            return
        try:
            outline = Outline(
                frame=(scan.pose or STILL).inverse().after(drawn.frame), corners_mm=drawn.corners, keep=True
            )
        except FloorpanError as fault:
            self._tool = OutlineTool()
            self._shown = None
            self._around.say(f"{fault.what} {fault.remedy}")
            return
        self._around.desk.lay_outline(outline)
        self._around.say(words.OUTLINE_CLOSED)

    def _scan(self) -> ScanRef | None:
        id = self._around.ground.scan_id
        return next((scan for scan in self._around.desk.layout.scans if scan.id == id), None)
