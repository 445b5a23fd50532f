"""From a scan of a vessel to a vessel: read it, settle its unit, find its outline, look at it, set it down."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QDialog, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from floorpan.errors import FloorpanError
from floorpan.items import CupHolder, Place, Vessel
from floorpan.items.vessel_from_mesh import RoundVessel, vessel_from_mesh, water_kg
from floorpan.progress import Work, part
from floorpan.project.starting import shown_name
from floorpan.scan.quality import in_mm
from floorpan.scan.read import RawScan, read_scan
from floorpan.scan.vessel_unit import vessel_unit
from floorpan.units import System
from floorpan_app import messages
from floorpan_app.cards.setting_down import floor_middle, set_down_thing
from floorpan_app.desk import Desk
from floorpan_app.jobs import Job, ThreadLane
from floorpan_app.stage.new_things import unused_name
from floorpan_app.theme.fonts import scaled
from floorpan_app.window import vessel_words as said
from floorpan_app.window.asking import Asking
from floorpan_app.window.question import sheet
from floorpan_app.window.scan_pages import FaultPage, UnitPage, WaitPage
from floorpan_app.window.vessel_page import FoundPage

Sides = tuple[float, float, float]

_LONGEST_NAME = 60


class VesselStart(QDialog):
    """One dialog for the whole way. Nothing of the file is kept but the outline.

    found(vessel)     : the vessel for the layout, not yet in a holder
    failed(exception) : something nobody foresaw
    """

    found = Signal(object)
    failed = Signal(object)

    def __init__(
        self, lane: ThreadLane, asking: Asking, system: System, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._lane, self._asking, self._system = lane, asking, system
        self._job: Job | None = None
        self._source = Path()
        self._scan: RawScan | None = None
        self.setWindowTitle(said.DIALOG)
        self.setMinimumSize(round(scaled(560)), round(scaled(420)))
        self.wait, self.fault = WaitPage(self), FaultPage(self)
        self.unit, self.outline = UnitPage(self), FoundPage(self)
        self.unit.head.setText(said.QUESTION)
        self.pages = QStackedWidget(self)
        for page in (self.wait, self.fault, self.unit, self.outline):
            self.pages.addWidget(page)
        layout: QVBoxLayout = sheet(self)
        layout.addWidget(self.pages)
        self.wait.stop.clicked.connect(self._stop)
        self.unit.take.clicked.connect(self._find)
        self.outline.take.clicked.connect(self._take)
        for again in (self.fault.again, self.unit.again, self.outline.again):
            again.clicked.connect(self.read_another)
        for leave in (self.fault.leave, self.unit.leave, self.outline.leave):
            leave.clicked.connect(self.reject)

    def read(self, source: Path) -> None:
        """Read a scan of a vessel."""
        self._source = source
        told = messages.READING_SCAN.format(name=source.name)
        self._run(told, Job(told, lambda: _reading(source), self), self._was_read)

    def read_another(self) -> None:
        """Ask for another file; the one at hand stays where nothing is chosen."""
        source = self._asking.scan_file(self._source.parent)
        if source is not None:
            self.read(source)

    def reject(self) -> None:
        self._stop()
        super().reject()

    def _was_read(self, told: tuple[RawScan, Sides]) -> None:
        self._scan, sides = told
        self.unit.show_scan(self._source.name, self._scan, sides)
        self.unit.take.setText(messages.NEXT)
        self._show(self.unit, self.unit.take)

    def _find(self) -> None:
        scan, unit = self._scan, self.unit.chosen()
        if scan is not None:
            told = said.FINDING.format(name=self._source.name)
            self._run(told, Job(told, lambda: vessel_from_mesh(in_mm(scan, unit)), self), self._was_found)

    def _was_found(self, vessel: RoundVessel) -> None:
        self.outline.show_found(vessel, self._system)
        self._show(self.outline, self.outline.take)

    def _take(self) -> None:
        found = self.outline.found
        if found is not None:
            self.accept()
            name = shown_name(self._source.stem)[:_LONGEST_NAME]
            self.found.emit(
                Vessel(id="new", name=name, profile=found.profile, full_kg=water_kg(found.profile))
            )

    def _broke_off(self, fault: object) -> None:
        if isinstance(fault, FloorpanError):
            self.fault.show_fault(self._source.name, fault)
            self._show(self.fault, self.fault.again)
        else:
            self.reject()
            self.failed.emit(fault)

    def _run(self, told: str, job: Job, done: Callable[..., None]) -> None:
        self.wait.say(told)
        self._show(self.wait, self.wait.stop)
        self._job = job
        job.progressed.connect(self.wait.show_step)
        job.succeeded.connect(done)
        job.failed.connect(self._broke_off)
        job.cancelled.connect(self._was_stopped)
        job.ended.connect(job.deleteLater)
        self._lane.run(job)

    def _was_stopped(self) -> None:
        self._job = None
        if self.isVisible():
            self.reject()

    def _stop(self) -> None:
        if self._job is not None:
            self._job.cancel()

    def _show(self, page: QWidget, first: QPushButton) -> None:
        self.pages.setCurrentWidget(page)
        first.setFocus()
        first.setDefault(True)


def _reading(source: Path) -> Work[tuple[RawScan, Sides]]:
    """A file, its unit proposed as a vessel's, and the sizes of its three sides in its unit, longest first."""
    scan = yield from part(read_scan(source), 0.0, 1.0)
    x, y, z = (float(side) for side in sorted(np.ptp(scan.mesh.bounds, axis=0), reverse=True))
    if scan.unit_written is None:
        scan = replace(scan, proposal=vessel_unit(x))
    return scan, (x, y, z)


def set_down_vessel(desk: Desk, vessel: Vessel) -> None:
    """Stand a new vessel in the cup holder in hand, else in the first; without one on the middle of the floor."""
    holders = desk.layout.of(CupHolder)
    at = floor_middle(desk)
    if not holders and at is None:
        return
    holder = next((one for one in holders if one.id == desk.selection), holders[0] if holders else None)
    x, y, z = at if at is not None else (0.0, 0.0, 0.0)
    placed = replace(
        vessel,
        name=unused_name(vessel.name, desk.layout),
        place=Place(x_mm=x, y_mm=y, z_mm=z),
        stands_in=holder.id if holder is not None else "",
    )
    desk.go_to("cup")
    id = set_down_thing(desk, placed)
    if id and holder is not None:
        # The others that share the well are shown taken out.
        shared = (one.id for one in desk.layout.of(Vessel) if one.stands_in == holder.id)
        desk.show_stops({f"{one}.place": "in" if one == id else "out" for one in shared})
