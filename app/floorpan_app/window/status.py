"""The status line: what the thing in hand can do, long work with Stop, unit, give or take of the scan, its place."""

import math
import time
from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from floorpan.progress import Step
from floorpan.units import System
from floorpan_app import messages
from floorpan_app.jobs import Job
from floorpan_app.theme.fonts import SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.progress_strip import ProgressStrip, Work

# A time left is told once there is something to tell it from.
_TELL_AFTER_S = 10.0


class _Line(QLabel):
    """One line that gives way: shortened with dots, whole in its tip."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._whole = ""
        self.setFont(text_font(SECOND))
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def whole(self) -> str:
        return self._whole

    def say(self, text: str) -> None:
        self._whole = text
        self._fit()

    def _fit(self) -> None:
        shown = self.fontMetrics().elidedText(self._whole, Qt.TextElideMode.ElideRight, self.width())
        self.setText(shown)
        self.setToolTip(self._whole if shown != self._whole else "")
        self.setAccessibleName(self._whole)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._fit()


class StatusLine(QWidget):
    """One line under everything.

    unit_asked() : lengths in the other unit
    """

    unit_asked = Signal()

    def __init__(self, parent: QWidget | None = None, *, clock: Callable[[], float] = time.monotonic) -> None:
        super().__init__(parent)
        self._clock = clock
        self._jobs: list[Job] = []
        self._began: dict[int, float] = {}
        self._hint = _Line(self)
        self.progress = ProgressStrip(self)
        self.unit = QPushButton("mm", self)
        self.unit.setProperty("role", "link")
        self._good, self._place = QLabel(self), QLabel(self)
        for label in (self._good, self._place):
            label.setFont(text_font(SECOND))
            label.setProperty("role", "second")
            label.setTextFormat(Qt.TextFormat.PlainText)
        row = QHBoxLayout(self)
        row.setContentsMargins(round(scaled(14)), 1, round(scaled(14)), 0)
        row.setSpacing(round(scaled(16)))
        row.addWidget(self._hint, 1)
        for widget in (self.progress, self.unit, self._good, self._place):
            row.addWidget(widget)
        self.unit.clicked.connect(self.unit_asked)
        self.progress.stopAsked.connect(self.stop)
        self.setAccessibleName(messages.AREAS["status"])
        self.show_system("mm")

    def say(self, text: str) -> None:
        """A hint for the thing in hand, or what was just done."""
        self._hint.say(text)

    def hint(self) -> str:
        """What it says."""
        return self._hint.whole()

    def show_system(self, system: System) -> None:
        """Which unit lengths are in."""
        self.unit.setText(system)
        self.unit.setAccessibleName(messages.UNIT_NAMES[system])

    def show_facts(self, good: str, place: str) -> None:
        """What every gap carries for the scan, and where the thing in hand stands."""
        self._good.setText(good)
        self._good.setVisible(bool(good))
        self._place.setText(place)
        self._place.setVisible(bool(place))

    def facts(self) -> tuple[str, str]:
        """Give or take of the scan, place of the thing in hand."""
        return self._good.text(), self._place.text()

    def follow(self, job: Job) -> None:
        """Show a job until it ends; of several the newest, with their number."""
        if job.over:
            return
        self._jobs.append(job)
        self._began[id(job)] = self._clock()
        job.progressed.connect(lambda step, job=job: self._tell(job, step))
        job.ended.connect(lambda job=job: self._over(job))
        self._show(Work(doing=job.name, done=None, others=len(self._jobs) - 1))

    def stop(self) -> None:
        """Ask the work that is shown to stop."""
        if self._jobs:
            self._jobs[-1].cancel()

    def _tell(self, job: Job, step: Step) -> None:
        if self._jobs and job is self._jobs[-1]:
            left = self._left(self._clock() - self._began[id(job)], step.done)
            others = len(self._jobs) - 1
            self._show(Work(doing=step.doing or job.name, done=step.done, left=left, others=others))

    def _left(self, gone_s: float, done: float) -> str:
        if gone_s < _TELL_AFTER_S or done <= 0.0:
            return ""
        left_s = gone_s * (1.0 - done) / done
        if left_s < 90.0:
            return messages.TIME_LEFT_S.format(n=math.ceil(left_s / 5.0) * 5)
        return messages.TIME_LEFT_MIN.format(n=math.ceil(left_s / 60.0))

    def _over(self, job: Job) -> None:
        if job in self._jobs:
            self._jobs.remove(job)
            self._began.pop(id(job))
        if not self._jobs:
            self._show(None)
        else:
            self._show(Work(doing=self._jobs[-1].name, done=None, others=len(self._jobs) - 1))

    def _show(self, work: Work | None) -> None:
        self.progress.set_work(work)

    def paintEvent(self, event: QPaintEvent) -> None:
        QPainter(self).fillRect(0, 0, self.width(), 1, QColor(theme_in_use().line))
