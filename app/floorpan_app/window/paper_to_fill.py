"""Writing a paper that is filled in by hand, of the project on the bench or before there is any."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from importlib.metadata import version
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QObject

from floorpan.errors import FloorpanError
from floorpan.layout import Layout
from floorpan.progress import Work
from floorpan.project.paper_place import check_paper_place
from floorpan.project.slugs import slug
from floorpan.report.pdf import PaperSize
from floorpan.units import System
from floorpan_app import messages
from floorpan_app.window.asking import fault_told
from floorpan_app.window.question import Answer, Question
from floorpan_app.window.running import Running
from floorpan_app.window.session import Session


class Writing(Protocol):
    """Writes a paper as work that can be closed."""

    def __call__(
        self, path: Path, layout: Layout | None, *, date: str, version: str, system: System, size: PaperSize
    ) -> Work[None]: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperKind:
    """What is written and what is said about it.

    writing : refuses a suffix by `check`
    name    : of the file, of the project called {name}; first_name before there is one
    written : where it is, at {path}
    """

    check: Callable[[Path], None]
    writing: Writing
    dialog: str
    name: str
    first_name: str
    doing: str
    stopped: str
    written: str


class PaperToFill(QObject):
    """Asks where the paper goes and of what size; writes it in the lane.

    ask  : puts the question: where to begin, on what paper; answers the file and the paper, or None
    home : where dialogs begin
    """

    def __init__(
        self,
        kind: PaperKind,
        session: Session,
        running: Running,
        ask: Callable[[Path, str], tuple[Path, str] | None],
        home: Callable[[], Path],
        *,
        today: Callable[[], str] = lambda: datetime.now().astimezone().date().isoformat(),
    ) -> None:
        super().__init__(running)
        self._kind = kind
        self._session = session
        self._running = running
        self._ask = ask
        self._home = home
        self._today = today

    def write(self) -> None:
        """Ask for a file, then write the paper into it."""
        project, system = self._session.projects.project, self._session.desk.system
        layout = self._session.document.adopted if project is not None else None
        asked = self._ask(self._start(), "letter" if system == "in" else "A4")
        if asked is None:
            return
        target, size = asked
        try:
            self._kind.check(target)
            if project is not None:
                check_paper_place(target, project.folder)
        except FloorpanError as fault:
            self._running.asking.choose(fault_told(fault))
            return
        paper: PaperSize = "letter" if size == "letter" else "A4"
        today, program, kind = self._today(), version("floorpan"), self._kind
        job = self._running.run(
            kind.doing,
            lambda: kind.writing(target, layout, date=today, version=program, system=system, size=paper),
            lambda _: self._written(target),
        )
        job.cancelled.connect(lambda: self._running.said.emit(kind.stopped))

    def _start(self) -> Path:
        if self._session.projects.project is None:
            return self._home() / self._kind.first_name
        return self._home() / self._kind.name.format(name=slug(self._session.document.adopted.title))

    def _written(self, target: Path) -> None:
        told = self._kind.written.format(path=target)
        question = Question(
            title=self._kind.dialog,
            what=told,
            answers=(Answer(id="show", text=messages.OPEN_FOLDER),),
            leave=messages.CLOSE,
        )
        self._running.said.emit(told)
        if self._running.asking.choose(question):
            self._running.asking.show_folder(target.parent)
