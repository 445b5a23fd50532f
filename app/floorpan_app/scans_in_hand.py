"""Which of the project's scans is looked at: view state, not undoable, not in the layout."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QObject, Signal

from floorpan.geometry.mesh import Mesh
from floorpan.layout import Layout, ScanRef

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ScanMap:
    """Lengths at places of a scan, to be seen as colours on it.

    title     : what they are, for the legend
    at_mm     : (K, 3) in the scan's own coordinates; value_mm : (K,)
    least_mm, greatest_mm : ends of the colours; limits_mm : where a line is drawn between them
    within_mm : a point of the scan farther than this from every place has no value
    """

    scan_id: str
    title: str
    at_mm: Floats
    value_mm: Floats
    least_mm: float
    greatest_mm: float
    within_mm: float
    limits_mm: tuple[float, ...] = ()


class ScansInHand(QObject):
    """The scan that cards speak of, whether it is shown alone, and what is laid over it.

    changed() : another one, or other colours
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.id = ""
        self.alone = ""
        self.map: ScanMap | None = None
        self.sheet: Mesh | None = None

    def of(self, layout: Layout) -> ScanRef | None:
        """The scan in hand: the one that was taken, else the first."""
        taken = next((scan for scan in layout.scans if scan.id == self.id), None)
        return taken or (layout.scans[0] if layout.scans else None)

    def only(self, layout: Layout) -> str:
        """Id of the scan that must be looked at by itself: one shown alone, or in hand and not in the car yet."""
        scan = self.of(layout)
        ids = {one.id for one in layout.scans}
        if self.alone in ids:
            return self.alone
        # Two surfaces that lie on each other would hide each other's colours.
        if self.map is not None and self.map.scan_id in ids:
            return self.map.scan_id
        return scan.id if scan is not None and scan.pose is None else ""

    def take(self, id: str) -> None:
        """Take a scan in hand."""
        if id != self.id:
            self.id = id
            self.map = None
            self.changed.emit()

    def show_alone(self, id: str) -> None:
        """Show one scan and no other, or all of them for an empty id."""
        if id != self.alone:
            self.alone = id
            self.changed.emit()

    def lay_sheet(self, sheet: Mesh | None) -> None:
        """Lay a carpeted floor, in car axes, over the scan on the step that speaks of carpet, or take it away."""
        if sheet is not self.sheet:
            self.sheet = sheet
            self.changed.emit()

    def lay_map(self, map: ScanMap | None) -> None:
        """Lay colours over a scan, or take them away."""
        if map is not self.map:
            self.map = map
            self.changed.emit()
