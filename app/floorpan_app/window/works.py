"""The works behind the window: session, projects, papers and the page of a project, tied together.

Imported once the window is painted.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from floorpan.errors import FloorpanError
from floorpan.layout import STEPS, Step
from floorpan.project.strict_json import Json
from floorpan.units import System
from floorpan_app import messages
from floorpan_app.settings import Settings
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import Theme
from floorpan_app.window.asking import Asking
from floorpan_app.window.benchtop import Benchtop
from floorpan_app.window.keeping import Keeping
from floorpan_app.window.parts import MakeParts, Parts
from floorpan_app.window.project_flow import ProjectFlow
from floorpan_app.window.running import Running
from floorpan_app.window.session import Session

if TYPE_CHECKING:
    from floorpan_app.window.paper_to_fill import PaperToFill
    from floorpan_app.window.papers import Papers
    from floorpan_app.window.thin_copy import ThinCopy


class Works(QObject):
    """Everything a project needs.

    page_wanted(page)  : a project is on the bench
    start_wanted()     : none is
    changed()          : words or what can be done changed: title, saved, undo, facts of the status line
    moved()            : something is being dragged: only the facts of the status line changed
    """

    page_wanted = Signal(object)
    start_wanted = Signal()
    changed = Signal()
    moved = Signal()

    def __init__(self, window: QWidget, settings: Settings, asking: Asking, make_parts: MakeParts) -> None:
        super().__init__(window)
        self.session = Session(settings.system(), self)
        self.running = Running(self.session.lane, asking, self)
        self.keeping = Keeping(self.session, self.running, settings)
        self.flow = ProjectFlow(self.session, self.running, self.keeping, window)
        self.page: Benchtop | None = None
        self.parts: Parts | None = None
        self._checklist: PaperToFill | None = None
        self._tape_sheet: PaperToFill | None = None
        self._papers: Papers | None = None
        self._thin_copy: ThinCopy | None = None
        self._make_parts = make_parts
        self._window = window
        self.keeping.view_now = self._view
        self._adopted = self.session.document.adopted
        self._connect()

    def _connect(self) -> None:
        session = self.session
        desk, document = session.desk, session.document
        session.projects.opened.connect(self._opened)
        session.projects.saved_changed.connect(self.changed)
        session.projects.faulted.connect(self._tell)
        session.stopped.connect(lambda: self.running.said.emit(messages.STOPPED))
        session.judging.working.connect(self.running.working)
        session.judging.failed.connect(self.running.tell)
        session.judging.settled.connect(self._changed)
        desk.hinted.connect(self.running.said)
        desk.faulted.connect(self._tell)
        # Before the views hear of either: what the hand in the picture has to say comes after.
        document.history_changed.connect(self._deed_done)
        desk.step_changed.connect(lambda _step: self.running.said.emit(""))
        for signal in (desk.selection_changed, desk.step_changed, desk.system_changed):
            signal.connect(self._changed)
        document.layout_changed.connect(self._layout_changed)

    def papers(self) -> "Papers":
        """What writes the papers; it brings its own libraries when it is first asked for."""
        if self._papers is None:
            from floorpan_app.window.papers import Papers

            renderer = self.parts.renderer if self.parts is not None else None
            self._papers = Papers(self.session, self.running, renderer)
        return self._papers

    def thin_copy(self) -> "ThinCopy":
        """What writes a thinned copy of the scan in hand."""
        from floorpan_app.window.thin_copy import ThinCopy

        if self._thin_copy is None:
            self._thin_copy = ThinCopy(self.session, self.running)
        return self._thin_copy

    def checklist(self) -> "PaperToFill":
        """What writes the scan checklist, with a project or without one."""
        if self._checklist is None:
            from floorpan_app.window.checklist_paper import CHECKLIST
            from floorpan_app.window.paper_to_fill import PaperToFill

            ask = self.running.asking.checklist
            self._checklist = PaperToFill(CHECKLIST, self.session, self.running, ask, self.keeping.home)
        return self._checklist

    def tape_sheet(self) -> "PaperToFill":
        """What writes the tape sheet, with a project or without one."""
        if self._tape_sheet is None:
            from floorpan_app.window.paper_to_fill import PaperToFill
            from floorpan_app.window.tape_sheet_paper import TAPE_SHEET

            ask = self.running.asking.tape_sheet
            self._tape_sheet = PaperToFill(TAPE_SHEET, self.session, self.running, ask, self.keeping.home)
        return self._tape_sheet

    def escape(self) -> bool:
        """One step back out of what is being done; answers whether there was one."""
        return self.session.escape() or (self.page is not None and self.page.put_column_away())

    def has_project(self) -> bool:
        """Whether a project is on the bench."""
        return self.session.projects.project is not None

    def can_accept(self) -> bool:
        """Whether the card in hand can be accepted."""
        return self._accepting() is not None

    def accept(self) -> None:
        """Accept the step in hand, as its card does it."""
        accept = self._accepting()
        if accept is not None:
            accept()

    def show_doubts(self, id: str) -> None:
        """What a finding's give or take is made of."""
        told = self.session.doubts(id)
        if told:
            self.running.asking.read(messages.DOUBT_TITLE, told)

    def use_system(self, system: System) -> None:
        """Lengths in mm or in inches."""
        self.session.desk.use_system(system)

    def set_theme(self, theme: Theme) -> None:
        """Take another theme."""
        if self.page is not None:
            self.page.set_theme(theme)

    def may_close(self) -> bool:
        """Whether the window may close; asks where something is not saved."""
        return self.flow.may_leave()

    def shut(self, *, keep_autosave: bool = False) -> None:
        """Stop all work, give the project back, let the picture go."""
        self.keeping.hang()
        if self._papers is not None:
            self._papers.stop()
        self.session.close()
        self.session.projects.let_go(keep_autosave=keep_autosave)
        if self.page is not None:
            self.page.close_view()

    def _opened(self) -> None:
        if self.session.projects.project is None:
            self.start_wanted.emit()
            self.changed.emit()
            return
        page = self.page
        if page is None:
            parts = self._make_parts(self.session.desk, theme_in_use(), self._window)
            cards = {step: partial(self._answered, make) for step, make in parts.cards.items()}
            parts = replace(parts, cards=cards)
            page = self.page = Benchtop(self.session.desk, parts, self._window)
            page.doubt_asked.connect(self.show_doubts)
            page.column.card_changed.connect(self.changed)
            self.parts = parts
        view = self.session.projects.view()
        self.session.desk.start_over(_step(view.get("step")), _stops(view.get("state")))
        self.page_wanted.emit(page)
        page.refresh()
        picture = view.get("picture")
        page.look(picture if isinstance(picture, dict) else {})
        self.changed.emit()

    def _answered(self, make: Callable[[], QWidget]) -> QWidget:
        """A card made. It asks for what only the window does: `asked("start")`, `report_asked(PaperWishes)`."""
        card = make()
        asked, report_asked = getattr(card, "asked", None), getattr(card, "report_asked", None)
        if asked is not None:
            asked.connect(self._asked)
        if report_asked is not None:
            report_asked.connect(lambda wishes: self.papers().write(wishes))
        return card

    def _asked(self, deed: str) -> None:
        if deed == "start":
            self.flow.start_from_scan()
        elif deed == "add scan":
            self.flow.add_scan()
        elif deed == "part from file":
            self.flow.place_part()
        elif deed == "vessel from scan":
            self.flow.place_vessel()

    def _view(self) -> dict[str, Json]:
        desk = self.session.desk
        state: dict[str, Json] = dict(desk.state)
        picture = self.page.picture_view() if self.page is not None else {}
        return {"step": desk.step, "state": state, "picture": picture}

    def _accepting(self) -> Callable[[], object] | None:
        """A card that can be accepted now says so by `can_accept` and is by `accept`."""
        card = self.page.column.card() if self.page is not None else None
        can, accept = getattr(card, "can_accept", None), getattr(card, "accept", None)
        if not callable(can) or not callable(accept) or not can():
            return None
        return cast(Callable[[], object], accept)

    def _tell(self, fault: object) -> None:
        """A refusal that stands where the hand is: in the status line."""
        if isinstance(fault, FloorpanError):
            self.running.said.emit(f"{fault.what} {fault.remedy}")

    def _deed_done(self) -> None:
        """What was said of the deed before, or of one that was refused, is true no more; saving alone is none."""
        if self.session.document.adopted is not self._adopted:
            self._adopted = self.session.document.adopted
            self.running.said.emit("")

    def _changed(self, _what: object) -> None:
        self.changed.emit()

    def _layout_changed(self, _before: object, _after: object) -> None:
        (self.moved if self.session.document.previewing else self.changed).emit()


def _step(kept: Json) -> Step:
    return next((step for step in STEPS if step == kept), "scan")


def _stops(kept: Json) -> dict[str, str]:
    if not isinstance(kept, Mapping):
        return {}
    return {axis: stop for axis, stop in kept.items() if isinstance(stop, str)}
