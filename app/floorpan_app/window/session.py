"""Everything behind the window once it is ready: document, judging, desk, project, and what moves between findings.

It is imported after the first paint: it brings the whole core with it.
"""

from PySide6.QtCore import QObject, Qt, Signal

from floorpan import edits
from floorpan.layout import Layout, Step, Thing
from floorpan.report.cautions import scan_doubt_text
from floorpan.report.naming import place_text
from floorpan.units import System
from floorpan_app import messages
from floorpan_app.desk import Desk
from floorpan_app.document import Document
from floorpan_app.jobs import Job, ThreadLane
from floorpan_app.judging import Judging
from floorpan_app.projects import Projects
from floorpan_app.window.shown import sum_of, told_of


class Session(QObject):
    """One window's document with all that watches it. `lane` reads and writes files beside the judging.

    stopped() : judging was stopped by hand, and nothing follows it
    """

    stopped = Signal()

    def __init__(self, system: System, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.document = Document(Layout(), self)
        self.judging = Judging(self.document, {}, self)
        self.desk = Desk(self.document, self.judging, self)
        self.desk.use_system(system)
        self.projects = Projects(self.document, self.judging, self)
        self.lane = ThreadLane(self)
        self.judging.working.connect(self._follow)

    def close(self) -> None:
        """Stop all work."""
        self.lane.stop_all()
        self.judging.close()
        self.lane.wait()

    def has_floor(self) -> bool:
        """Whether a scan stands in car axes, so that something can be placed on it."""
        return any(scan.pose is not None for scan in self.desk.layout.scans)

    def scan_is_set(self) -> bool:
        """Whether the scan in hand stands in car axes."""
        scan = self.desk.scans.of(self.desk.layout)
        return scan is not None and scan.pose is not None

    def remove_selected(self) -> None:
        """Take out the thing in hand."""
        thing = self._in_hand()
        if thing is None:
            return
        words, id = messages.TAKE_OUT.format(name=thing.name), thing.id
        if self.desk.change(words, lambda layout: edits.remove(layout, id)):
            self.desk.select("")

    def place(self, kind: str) -> None:
        """Take the tool in hand that places a thing of a kind, in the step it belongs to."""
        step: Step = _STEP_OF.get(kind, "controls")
        self.desk.go_to(step)
        self.desk.use_tool(f"place {kind}")

    def walk_findings(self, step: int) -> None:
        """The next finding that is not clear, worst first; the one before with -1."""
        told = told_of(self.judging.findings, "not clear")
        ids = [one.finding.id for one in told]
        if not ids:
            self.desk.hinted.emit(messages.ALL_CLEAR)
            return
        here = self.desk.finding
        at = ids.index(here) + step if here in ids else 0 if step > 0 else -1
        self.desk.choose_finding(ids[at % len(ids)])

    def escape(self) -> bool:
        """Put it back, then leave the tool, then let go of the thing in hand; answers whether there was any."""
        if self.document.previewing:
            self.document.drop_preview()
        elif self.desk.tool:
            self.desk.use_tool("")
        elif self.desk.selection:
            self.desk.select("")
        else:
            return False
        return True

    def facts(self) -> tuple[str, str]:
        """For the status line: what every gap carries for the scan, and where the thing in hand stands."""
        layout, system = self.desk.layout, self.desk.system
        doubt = scan_doubt_text(layout, system)
        good = messages.SCAN_GOOD.format(u=doubt) if doubt else ""
        thing = self._in_hand()
        if thing is None or not self.has_floor():
            return good, ""
        at = (thing.place.x_mm, thing.place.y_mm, thing.place.z_mm)
        return good, messages.IN_HAND.format(name=thing.name, place=place_text(at, layout, system))

    def _follow(self, job: Job) -> None:
        # Queued: a newer change takes an older judging's place, and is asked for just after this.
        job.cancelled.connect(self._was_stopped, Qt.ConnectionType.QueuedConnection)

    def _was_stopped(self) -> None:
        if not self.judging.fresh and not self.judging.is_at_it():
            self.stopped.emit()

    def _in_hand(self) -> Thing | None:
        return next((thing for thing in self.desk.layout.things() if thing.id == self.desk.selection), None)

    def doubts(self, id: str) -> tuple[str, ...]:
        """What a finding's give or take is made of."""
        found = next((finding for finding in self.judging.findings if finding.id == id), None)
        return sum_of(found, self.desk.system) if found is not None else ()


_STEP_OF: dict[str, Step] = {
    "seat": "driver",
    "shifter": "controls",
    "handbrake": "controls",
    "buckle": "controls",
    "armrest": "controls",
    "wheel": "controls",
    "keep-out": "controls",
    "flap": "controls",
    "dash edge": "controls",
    "door": "controls",
    "switch": "controls",
    "cup holder": "cup",
    "vessel": "cup",
    "console": "console",
}
