"""Roughness and double walls of a scan, told in a sentence and seen in colours on it."""

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from floorpan.geometry.double_walls import DoubleWalls, double_walls
from floorpan.geometry.noise import WIDEST_MM, roughness
from floorpan.layout import ScanRef
from floorpan.progress import Step, Work
from floorpan.scan.prepare import ScanMesh
from floorpan.units import show_length, show_number
from floorpan_app.cards import scan_words
from floorpan_app.cards.blocks import PartTitle, px, told
from floorpan_app.cards.scans import scan_in_hand
from floorpan_app.cards.spelling import show_small
from floorpan_app.desk import Desk
from floorpan_app.jobs import Job
from floorpan_app.scans_in_hand import ScanMap

# Walls farther apart than this are two walls, not one that was seen twice; common practice, no source.
WALLS_WITHIN_MM = 8.0
# Twice the roughness that is accepted ends the colours; common practice, no source: a good handheld scan has 0.2.
ACCEPTED_MM = 0.2
# Less of the scan than this is a fold or a scrap, not a pass that disagrees; common practice, no source.
LEAST_SHARE = 0.001
_PATCHES = 6000
_PATCH_REACH_MM = 25.0


@dataclass(frozen=True, slots=True, eq=False)
class _Known:
    """What was found on a prepared scan."""

    ready: ScanMesh
    walls: DoubleWalls


class MapsPart(QWidget):
    """A part of the scan's card.

    apart_changed() : how far double walls lie apart is known now
    """

    apart_changed = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._known: dict[str, _Known] = {}
        self.rough = QCheckBox(scan_words.ROUGH_MAP)
        self.walls = QCheckBox(scan_words.WALLS_MAP)
        self.rough.clicked.connect(self._show_rough)
        self.walls.clicked.connect(self._show_walls)
        self._told = told(second=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        for piece in (PartTitle(scan_words.MAPS), self.rough, self.walls, self._told):
            column.addWidget(piece)
        desk.scans.changed.connect(self._show_ticks)

    def show_scan(self, scan: ScanRef | None, ready: ScanMesh | None) -> None:
        """What is known of a scan."""
        self.setVisible(scan is not None)
        self._show_ticks()
        for box in (self.rough, self.walls):
            box.setEnabled(ready is not None)
        self._told.setText(self._walls_told(scan, ready))

    def told(self) -> str:
        """What is said of double walls."""
        return self._told.text()

    def apart_mm(self, scan: ScanRef) -> float:
        """How far the double walls of a scan lie apart, in the middle; 0 where there are none or nobody looked."""
        known, bench = self._known.get(scan.id), self._desk.judging.bench
        if known is None or not bench.is_prepared(scan) or bench.prepared(scan) is not known.ready:
            return 0.0
        return known.walls.median_mm if known.walls.share >= LEAST_SHARE else 0.0

    def _walls_told(self, scan: ScanRef | None, ready: ScanMesh | None) -> str:
        known = self._known.get(scan.id) if scan is not None else None
        if known is None or known.ready is not ready:
            return scan_words.WALLS_NOT_LOOKED
        walls, system = known.walls, self._desk.system
        if walls.share < LEAST_SHARE:
            within = show_length(WALLS_WITHIN_MM, system, digits=0, with_unit=True)
            return scan_words.NO_WALLS.format(within=within)
        return scan_words.WALLS_FOUND.format(
            share=show_number(100.0 * walls.share, 1),
            apart=show_small(walls.median_mm, system),
            worst=show_small(walls.worst_mm, system),
            unit=system,
        )

    def _show_ticks(self) -> None:
        map, scan = self._desk.scans.map, scan_in_hand(self._desk)
        here = map is not None and scan is not None and map.scan_id == scan.id
        self.rough.setChecked(here and map is not None and map.title == scan_words.ROUGH_TITLE)
        self.walls.setChecked(here and map is not None and map.title == scan_words.WALLS_TITLE)

    def _ready(self) -> tuple[ScanRef, ScanMesh] | None:
        scan, bench = scan_in_hand(self._desk), self._desk.judging.bench
        if scan is None or not bench.is_prepared(scan):
            return None
        return scan, bench.prepared(scan)

    def _show_rough(self, wanted: bool) -> None:
        held = self._ready()
        if held is None or not wanted:
            self._desk.scans.lay_map(None)
            return
        scan, ready = held

        def work() -> Work[ScanMap]:
            yield Step(0.1, scan_words.LOOKING_ROUGH)
            found = roughness(ready.mesh, patches=_PATCHES, widest_mm=WIDEST_MM)
            each = found.each_mm()
            # A rougher scan than is accepted still shows where it is roughest.
            most = float(np.percentile(each, 95.0)) if len(each) else 0.0
            return ScanMap(
                scan_id=scan.id,
                title=scan_words.ROUGH_TITLE,
                at_mm=found.places,
                value_mm=each,
                least_mm=0.0,
                greatest_mm=max(2.0 * ACCEPTED_MM, most),
                within_mm=_PATCH_REACH_MM,
                limits_mm=(ACCEPTED_MM,),
            )

        self._run(Job(scan_words.LOOKING_ROUGH, work, self), self._desk.scans.lay_map)

    def _show_walls(self, wanted: bool) -> None:
        held = self._ready()
        if held is None or not wanted:
            self._desk.scans.lay_map(None)
            return
        scan, ready = held

        def found(walls: DoubleWalls) -> None:
            self._known[scan.id] = _Known(ready, walls)
            self.show_scan(scan, ready)
            self.apart_changed.emit()
            double = np.isfinite(walls.thickness_mm)
            self._desk.scans.lay_map(
                ScanMap(
                    scan_id=scan.id,
                    title=scan_words.WALLS_TITLE,
                    at_mm=walls.points,
                    value_mm=np.where(double, walls.thickness_mm, 0.0),
                    least_mm=0.0,
                    greatest_mm=WALLS_WITHIN_MM,
                    within_mm=_PATCH_REACH_MM,
                )
            )

        def work() -> Work[DoubleWalls]:
            return double_walls(ready.mesh, within_mm=WALLS_WITHIN_MM)

        self._run(Job(scan_words.LOOKING_WALLS, work, self), found)

    def _run(self, job: Job, then: object) -> None:
        job.succeeded.connect(then)
        job.failed.connect(self._desk.judging.failed.emit)
        # What was stopped, or went wrong, leaves the tick as it was.
        job.ended.connect(self._show_ticks)
        job.ended.connect(job.deleteLater)
        self._desk.judging.threads.run(job)
        self._desk.judging.working.emit(job)
