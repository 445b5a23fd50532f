"""From a scan file to a project: read it, settle its unit, say where the project is kept, make it."""

from pathlib import Path

import numpy as np
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QDialog, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from floorpan.errors import FloorpanError
from floorpan.layout import ScanRef
from floorpan.progress import Step, Work
from floorpan.project.folder import Project
from floorpan.project.starting import importing, start_project
from floorpan.scan.read import RawScan, read_scan
from floorpan_app import messages
from floorpan_app.jobs import Job, ThreadLane
from floorpan_app.theme.fonts import scaled
from floorpan_app.window.asking import Asking
from floorpan_app.window.question import sheet
from floorpan_app.window.scan_pages import FaultPage, KeepPage, UnitPage, WaitPage


class ScanStart(QDialog):
    """One dialog for the whole way. Nothing is written before the last button.

    made(folder)      : the project is there
    added(project, scan) : the file is in the project that was told, and this is the scan for its layout
    failed(exception) : something nobody foresaw
    """

    made = Signal(object)
    added = Signal(object, object)
    failed = Signal(object)

    def __init__(
        self,
        lane: ThreadLane,
        asking: Asking,
        home: Path,
        parent: QWidget | None = None,
        *,
        into: Project | None = None,
    ) -> None:
        super().__init__(parent)
        self._into = into
        self._lane = lane
        self._asking = asking
        self._job: Job | None = None
        self._source = home
        self._unit = ""
        self.setWindowTitle(messages.SCAN_DIALOG if into is None else messages.ADD_DIALOG)
        self.setMinimumSize(round(scaled(560)), round(scaled(360)))
        self.wait, self.fault = WaitPage(self), FaultPage(self)
        self.unit, self.keep = UnitPage(self), KeepPage(home, self)
        self.pages = QStackedWidget(self)
        for page in (self.wait, self.fault, self.unit, self.keep):
            self.pages.addWidget(page)
        layout: QVBoxLayout = sheet(self)
        layout.addWidget(self.pages)
        self._connect()

    def _connect(self) -> None:
        self.wait.stop.clicked.connect(self._stop)
        self.fault.again.clicked.connect(self.read_another)
        self.unit.again.clicked.connect(self.read_another)
        self.unit.take.clicked.connect(self._to_keep)
        self.keep.back.clicked.connect(lambda: self._show(self.unit, self.unit.take))
        self.keep.change.clicked.connect(self._other_folder)
        self.keep.make.clicked.connect(self._make)
        for leave in (self.fault.leave, self.unit.leave, self.keep.leave):
            leave.clicked.connect(self.reject)

    def read(self, source: Path) -> None:
        """Read a scan file."""
        self._source = source
        self.wait.say(messages.READING_SCAN.format(name=source.name))
        self._show(self.wait, self.wait.stop)
        job = Job(messages.READING_SCAN.format(name=source.name), lambda: _reading(source), self)
        job.succeeded.connect(self._was_read)
        self._run(job)

    def read_another(self) -> None:
        """Ask for another file; the one at hand stays where nothing is chosen."""
        source = self._asking.scan_file(self._source.parent)
        if source is not None:
            self.read(source)

    def reject(self) -> None:
        self._stop_job()
        super().reject()

    def _was_read(self, told: object) -> None:
        if isinstance(told, tuple):
            scan, sides = told
            self.unit.show_scan(self._source.name, scan, sides)
            self._show(self.unit, self.unit.take)

    def _to_keep(self) -> None:
        self._unit = self.unit.chosen()
        if self._into is not None:
            self._add(self._into)
            return
        self.keep.suggest(self._source.stem)
        self._show(self.keep, self.keep.name)
        self.keep.name.selectAll()

    def _other_folder(self) -> None:
        folder = self._asking.folder(messages.KEEP_DIALOG, self.keep.parent_folder)
        if folder is not None:
            self.keep.use_parent(folder)

    def _make(self) -> None:
        folder, source, unit, title = self.keep.folder(), self._source, self._unit, self.keep.title()
        self.wait.say(messages.MAKING_PROJECT)
        self._show(self.wait, self.wait.stop)

        def work() -> Work[Project]:
            return start_project(folder, source, unit, title=title)

        job = Job(messages.MAKING_PROJECT, work, self)
        job.succeeded.connect(lambda _: self._is_made(folder))
        self._run(job, making=True)

    def _add(self, project: Project) -> None:
        source, unit = self._source, self._unit
        self.wait.say(messages.ADDING_SCAN.format(name=source.name))
        self._show(self.wait, self.wait.stop)
        # What it shows is asked on its card; until then it is only looked at.
        job = Job(messages.ADDING_SCAN, lambda: importing(project, source, unit, role="other"), self)
        job.succeeded.connect(self._is_added)
        self._run(job)

    def _is_added(self, done: tuple[Project, ScanRef]) -> None:
        self.accept()
        self.added.emit(*done)

    def _is_made(self, folder: Path) -> None:
        self.accept()
        self.made.emit(folder)

    def _run(self, job: Job, *, making: bool = False) -> None:
        self._stop_job()
        self._job = job
        job.progressed.connect(self._progress)
        job.failed.connect(lambda fault: self._broke_off(fault, making))
        job.cancelled.connect(lambda: self._was_stopped(making))
        job.ended.connect(job.deleteLater)
        self._lane.run(job)

    def _progress(self, step: Step) -> None:
        self.wait.show_step(step)

    def _broke_off(self, fault: object, making: bool) -> None:
        self._job = None
        if not isinstance(fault, FloorpanError):
            self.reject()
            self.failed.emit(fault)
        elif making:
            self.keep.say_fault(f"{fault.what} {fault.remedy}")
            self._show(self.keep, self.keep.name)
        else:
            self.fault.show_fault(self._source.name, fault)
            self._show(self.fault, self.fault.again)

    def _was_stopped(self, making: bool) -> None:
        self._job = None
        if not self.isVisible():
            return
        if making:
            self._show(self.keep, self.keep.make)
        else:
            self.reject()

    def _stop(self) -> None:
        if self._job is not None:
            self._job.cancel()

    def _stop_job(self) -> None:
        self._stop()
        self._job = None

    def _show(self, page: QWidget, first: QWidget) -> None:
        self.pages.setCurrentWidget(page)
        first.setFocus()
        if isinstance(first, QPushButton):
            first.setDefault(True)


def _reading(source: Path) -> Work[tuple[RawScan, tuple[float, float, float]]]:
    """A scan and the sizes of its three sides in file units, longest first."""
    scan = yield from read_scan(source)
    x, y, z = (float(side) for side in sorted(np.ptp(scan.mesh.bounds, axis=0), reverse=True))
    return scan, (x, y, z)
