"""From a mesh file to a part: read it, settle its unit and what it stands for, copy it into the project."""

from dataclasses import replace
from pathlib import Path

import numpy as np
from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFormLayout,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from floorpan.errors import FloorpanError
from floorpan.items import MeshPart
from floorpan.items.mesh_part import COUNTS_AS, CountsAs
from floorpan.progress import Work, part
from floorpan.project.folder import Project
from floorpan.project.part_import import importing_part, looked_at
from floorpan.scan.part_unit import part_unit
from floorpan.scan.read import RawScan, read_scan
from floorpan_app import messages
from floorpan_app.jobs import Job, ThreadLane
from floorpan_app.theme.fonts import scaled
from floorpan_app.window.asking import Asking
from floorpan_app.window.question import plain, sheet
from floorpan_app.window.scan_pages import FaultPage, UnitPage, WaitPage

Sides = tuple[float, float, float]


class PartPage(UnitPage):
    """Which unit, what it stands for, and what people should know of the mesh."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.head.setText(messages.PART_QUESTION)
        self.stands_for = QComboBox(self)
        self.stands_for.setAccessibleName(messages.PART_STANDS_FOR)
        self.stands_for.addItems([word.capitalize() for word in COUNTS_AS])
        self.stands_for.setCurrentIndex(COUNTS_AS.index("other"))
        self.stands_for.currentIndexChanged.connect(self._propose)
        self._scan: RawScan | None = None
        self._name, self._sides = "", (0.0, 0.0, 0.0)
        self._said = False
        for choice in self.choices.values():
            choice.clicked.connect(self._say_unit)
        self.known = plain("", self)
        self.fault = plain("", self, role="fault")
        form = QFormLayout()
        form.addRow(messages.PART_STANDS_FOR, self.stands_for)
        # What was read and left out comes below, then the buttons.
        at = self.column.indexOf(self.read)
        self.column.insertLayout(at, form)
        self.column.insertWidget(self.column.indexOf(self.left_out) + 1, self.known)
        self.column.insertWidget(self.column.indexOf(self.known) + 1, self.fault)
        self.take.setText(messages.PLACE_IT)

    def show_part(self, name: str, scan: RawScan, sides: Sides, known: tuple[str, ...]) -> None:
        """The file's sides, the proposal, and what is known of its mesh."""
        self._scan, self._name, self._sides, self._said = scan, name, sides, False
        self._propose()
        self.known.setText(" ".join(known))
        self.known.setVisible(bool(known))
        self.say_fault("")

    def counts_as(self) -> CountsAs:
        """What it stands for."""
        return COUNTS_AS[self.stands_for.currentIndex()]

    def _propose(self, _index: int = 0) -> None:
        """Propose a unit by what it stands for; one that is written or was said stays."""
        scan = self._scan
        if scan is None:
            return
        said = self.chosen() if self._said else ""
        if scan.unit_written is None:
            scan = replace(scan, proposal=part_unit(max(self._sides), self.counts_as()))
        self.show_scan(self._name, scan, self._sides)
        if said:
            self.choices[said].setChecked(True)
        self.left_out.hide()
        self.take.setText(messages.PLACE_IT)

    def _say_unit(self) -> None:
        self._said = True

    def say_fault(self, text: str) -> None:
        """Why it cannot be placed so."""
        self.fault.setText(text)
        self.fault.setVisible(bool(text))


class PartStart(QDialog):
    """One dialog for the whole way. Nothing is written before the last button.

    added(project, part) : the file is in the project that was told, and this is the part for its layout
    failed(exception)    : something nobody foresaw
    """

    added = Signal(object, object)
    failed = Signal(object)

    def __init__(
        self, lane: ThreadLane, asking: Asking, project: Project, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._lane, self._asking, self._project = lane, asking, project
        self._job: Job | None = None
        self._source = Path()
        self.setWindowTitle(messages.PART_DIALOG)
        self.setMinimumSize(round(scaled(560)), round(scaled(420)))
        self.wait, self.fault, self.part = WaitPage(self), FaultPage(self), PartPage(self)
        self.pages = QStackedWidget(self)
        for page in (self.wait, self.fault, self.part):
            self.pages.addWidget(page)
        layout: QVBoxLayout = sheet(self)
        layout.addWidget(self.pages)
        self.wait.stop.clicked.connect(self._stop)
        self.part.take.clicked.connect(self._add)
        for again in (self.fault.again, self.part.again):
            again.clicked.connect(self.read_another)
        for leave in (self.fault.leave, self.part.leave):
            leave.clicked.connect(self.reject)

    def read(self, source: Path) -> None:
        """Read a mesh file."""
        self._source = source
        self._begin(messages.READING_SCAN.format(name=source.name))
        job = Job(messages.READING_SCAN.format(name=source.name), lambda: _reading(source), self)
        job.succeeded.connect(self._was_read)
        job.failed.connect(self._not_read)
        self._run(job)

    def read_another(self) -> None:
        """Ask for another file; the one at hand stays where nothing is chosen."""
        source = self._asking.scan_file(self._source.parent)
        if source is not None:
            self.read(source)

    def reject(self) -> None:
        self._stop()
        super().reject()

    def _was_read(self, told: tuple[RawScan, Sides, tuple[str, ...]]) -> None:
        self.part.show_part(self._source.name, *told)
        self._show(self.part, self.part.take)

    def _add(self) -> None:
        project, source, unit = self._project, self._source, self.part.chosen()
        counts_as = self.part.counts_as()
        self._begin(messages.ADDING_SCAN.format(name=source.name))
        job = Job(messages.PART_DIALOG, lambda: importing_part(project, source, unit, counts_as), self)
        job.succeeded.connect(self._is_added)
        job.failed.connect(self._not_added)
        self._run(job)

    def _is_added(self, done: tuple[Project, MeshPart]) -> None:
        self.accept()
        self.added.emit(*done)

    def _not_read(self, fault: object) -> None:
        if isinstance(fault, FloorpanError):
            self.fault.show_fault(self._source.name, fault)
            self._show(self.fault, self.fault.again)
        else:
            self._broken(fault)

    def _not_added(self, fault: object) -> None:
        if isinstance(fault, FloorpanError):
            self.part.say_fault(f"{fault.what} {fault.remedy}")
            self._show(self.part, self.part.take)
        else:
            self._broken(fault)

    def _broken(self, fault: object) -> None:
        self.reject()
        self.failed.emit(fault)

    def _begin(self, told: str) -> None:
        self.wait.say(told)
        self._show(self.wait, self.wait.stop)

    def _run(self, job: Job) -> None:
        self._job = job
        job.progressed.connect(self.wait.show_step)
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


def _reading(source: Path) -> Work[tuple[RawScan, Sides, tuple[str, ...]]]:
    """A file, the sizes of its three sides in its unit, longest first, and what to know of its mesh."""
    scan = yield from part(read_scan(source), 0.0, 0.7)
    x, y, z = (float(side) for side in sorted(np.ptp(scan.mesh.bounds, axis=0), reverse=True))
    # Where a unit is written the proposal is that one.
    unit = scan.proposal.unit if scan.unit_written is not None else part_unit(x).unit
    known = yield from part(looked_at(scan, unit), 0.7, 1.0)
    return scan, (x, y, z), known
