"""Long work of the window: run in the lane beside the judging, shown in the status line, ended in one place."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, Signal

from floorpan.errors import FloorpanError
from floorpan.progress import Work
from floorpan_app.jobs import Job, ThreadLane
from floorpan_app.window.asking import Asking, fault_told


class Running(QObject):
    """Runs work and tells refusals.

    working(job)      : for the status line
    broken(exception) : something nobody foresaw
    said(text)        : for the status line
    """

    working = Signal(object)
    broken = Signal(object)
    said = Signal(str)

    def __init__(self, lane: ThreadLane, asking: Asking, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.lane = lane
        self.asking = asking

    def run(
        self,
        name: str,
        start: Callable[[], Work[Any]],
        done: Callable[[Any], None],
        failed: Callable[[object], None] | None = None,
    ) -> Job:
        """Run work in the lane; a refusal is told in a dialog unless `failed` does better."""
        job = Job(name, start, self)
        job.succeeded.connect(done)
        job.failed.connect(failed if failed is not None else self.tell)
        job.ended.connect(job.deleteLater)
        self.lane.run(job)
        self.working.emit(job)
        return job

    def tell(self, fault: object) -> None:
        """A refusal in a dialog; anything else is for the window's last resort."""
        if isinstance(fault, FloorpanError):
            self.asking.choose(fault_told(fault))
        else:
            self.broken.emit(fault)
