"""What every card, tool and view is handed: the document, the findings, and what is only being looked at.

Selection, shown state, shown unit and step in hand are view state: not undoable, not in the layout.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QObject, Signal

from floorpan.checks import Finding
from floorpan.errors import FloorpanError
from floorpan.frames import Vector
from floorpan.items.states import NOTHING_MOVES, State, state_of
from floorpan.layout import Layout, Step
from floorpan.report.only_with import holding
from floorpan.report.rows import Pair, pair_of
from floorpan.scan.outlines import Outline
from floorpan.units import System
from floorpan_app.document import Document
from floorpan_app.judging import Judging
from floorpan_app.knob_in_hand import KnobInHand
from floorpan_app.scans_in_hand import ScansInHand


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidPoints:
    """Places that were pointed at on a scan, in its own coordinates, and what for."""

    kind: str
    scan_id: str
    points_mm: tuple[Vector, ...]


class Desk(QObject):
    """The shared ground of the window's parts.

    step_changed(step)       : another step is in hand
    selection_changed(id)    : another thing (or finding's subject) is in hand, "" for none
    state_changed(state)     : the car is shown in another state
    person_changed(id)       : another driver is looked at, "" for the design driver
    system_changed(system)   : lengths are shown in mm or in inches
    finding_chosen(id)       : a finding was chosen in the ledger, the matrix or a ticket, "" for none
    finding_pointed(id)      : the mouse is on a finding's row or ticket, "" once it left: both light up
    tool_changed(name)       : another tool is in hand, "" for none
    faulted(FloorpanError)   : an edit was refused; nothing changed
    hinted(text)             : what the thing in hand can do, for the status line
    listing_changed()        : in the Check step the ledger lists other findings, or the matrix holds to a state
    points_changed(points)   : places were pointed at on a scan, or None: they were taken, or pointed at anew
    outline_changed(outline) : an outline was closed on a scan, or None: it was taken, or drawn on
    """

    step_changed = Signal(str)
    selection_changed = Signal(str)
    state_changed = Signal(object)
    person_changed = Signal(str)
    system_changed = Signal(str)
    finding_chosen = Signal(str)
    finding_pointed = Signal(str)
    tool_changed = Signal(str)
    faulted = Signal(object)
    hinted = Signal(str)
    listing_changed = Signal()
    points_changed = Signal(object)
    outline_changed = Signal(object)

    def __init__(self, document: Document, judging: Judging, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.judging = judging
        self.step: Step = "scan"
        self.selection = ""
        self.person = ""
        self.finding = ""
        self.tool = ""
        self.system: System = "mm"
        self.listed_verdict = ""
        self.listed_pair: Pair | None = None
        self.only_with: State = NOTHING_MOVES
        self.outline: Outline | None = None
        self.points: LaidPoints | None = None
        # How far a brush on the scan reaches.
        self.brush_mm = 25.0
        self.scans = ScansInHand(self)
        self.knob = KnobInHand(self)
        self._stops: dict[str, str] = {}
        # The core has no clock; the date of an acceptance is handed to it from here.
        self.today: Callable[[], str] = lambda: date.today().isoformat()

    @property
    def layout(self) -> Layout:
        """What is shown."""
        return self.document.layout

    def change(self, words: str, edit: Callable[[Layout], Layout]) -> bool:
        """Try an edit on the adopted layout; a refusal is told by `faulted` and changes nothing."""
        try:
            layout = edit(self.document.adopted)
        except FloorpanError as fault:
            self.document.drop_preview()
            self.faulted.emit(fault)
            return False
        self.document.change(words, layout)
        return True

    def preview(self, edit: Callable[[Layout], Layout]) -> bool:
        """Show what an edit would do; a refusal leaves the last preview and says why in the status line."""
        try:
            layout = edit(self.document.adopted)
        except FloorpanError as fault:
            self.hinted.emit(f"{fault.what} {fault.remedy}")
            return False
        self.document.preview(layout)
        return True

    def go_to(self, step: Step) -> None:
        """Take a step in hand; the tool of the one before is put away."""
        if step != self.step:
            self.use_tool("")
            self.step = step
            self.step_changed.emit(step)

    def select(self, id: str) -> None:
        """Take a thing in hand."""
        if id != self.selection:
            self.selection = id
            self.selection_changed.emit(id)

    def use_tool(self, name: str) -> None:
        """Take a tool in hand, or put it away."""
        if name != self.tool:
            self.tool = name
            self.tool_changed.emit(name)

    def lay_outline(self, outline: Outline | None) -> None:
        """Lay down an outline that was drawn on the scan in the picture, in that scan's own coordinates."""
        if outline != self.outline:
            self.outline = outline
            self.outline_changed.emit(outline)

    def lay_points(self, points: LaidPoints | None) -> None:
        """Lay down places that were pointed at on a scan; the card asks what more it needs to know."""
        if points != self.points:
            self.points = points
            self.points_changed.emit(points)

    def choose_finding(self, id: str) -> None:
        """Light a finding everywhere; the car goes into its state, with the driver it is about in the seat."""
        self.finding = id
        for finding in self.judging.findings:
            if finding.id == id:
                self._look_at_driver_of(finding)
                self.show_stops(dict(finding.state))
        self.finding_chosen.emit(id)

    def _look_at_driver_of(self, finding: Finding) -> None:
        about = {subject.partition(".")[0] for subject in finding.subjects}
        drivers = [
            person.id for person in self.layout.people if person.role == "driver" and person.id in about
        ]
        design = self.layout.driver()
        if drivers and (self.person or (design.id if design else "")) not in drivers:
            self.person = "" if design is not None and drivers[0] == design.id else drivers[0]
            self.person_changed.emit(self.person)

    def list_only(
        self, verdict: str = "", pair: Pair | None = None, only_with: State = NOTHING_MOVES
    ) -> None:
        """In the Check step list only findings with this verdict, of this pair, in this state of some axes.

        "", None and nothing for every one. The state matrix is held to the same state, in every step.
        """
        if (verdict, pair, only_with) != (self.listed_verdict, self.listed_pair, self.only_with):
            self.listed_verdict, self.listed_pair, self.only_with = verdict, pair, only_with
            self.listing_changed.emit()

    def listed(self, findings: Sequence[Finding]) -> tuple[Finding, ...]:
        """Those of the findings that the ledger lists in the step in hand."""
        if self.step != "check":
            return tuple(findings)
        return tuple(
            finding
            for finding in holding(findings, self.only_with)
            if self.listed_verdict in ("", finding.verdict) and self.listed_pair in (None, pair_of(finding))
        )

    def show_stops(self, stops: dict[str, str]) -> None:
        """Put some axes at stops, the others as they are; a leg shows its far end."""
        ends = {axis: stop.rpartition("-")[2] for axis, stop in stops.items()}
        merged = {**self._stops, **ends}
        if merged != self._stops:
            self._stops = merged
            self.state_changed.emit(self.state)

    def start_over(self, step: Step, stops: dict[str, str]) -> None:
        """Another project: nothing is in hand, and the car stands as told."""
        self.use_tool("")
        self.select("")
        self.person = ""
        self.person_changed.emit("")
        self.scans.take("")
        self.scans.show_alone("")
        self.scans.lay_map(None)
        self.scans.lay_sheet(None)
        self.knob.lay(None)
        self.finding = ""
        self.list_only()
        self._stops = dict(stops)
        self.step = step
        self.step_changed.emit(step)
        self.state_changed.emit(self.state)

    @property
    def state(self) -> State:
        """The state the car is shown in; axes that nobody set are left to rest."""
        return state_of(self._stops)

    def use_system(self, system: System) -> None:
        """Show lengths in mm or inches."""
        if system != self.system:
            self.system = system
            self.system_changed.emit(system)
