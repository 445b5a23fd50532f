"""Writing the scan checklist: one page, of the project on the bench or before there is any."""

from collections.abc import Callable
from datetime import datetime
from importlib.metadata import version
from pathlib import Path

from PySide6.QtCore import QObject

from floorpan.errors import FloorpanError
from floorpan.project.paper_place import check_paper_place
from floorpan.project.slugs import slug
from floorpan.report.documents import check_checklist_suffix, writing_checklist
from floorpan.report.pdf import PaperSize
from floorpan_app import messages
from floorpan_app.window.asking import fault_told
from floorpan_app.window.question import Answer, Question
from floorpan_app.window.running import Running
from floorpan_app.window.session import Session


class ChecklistPaper(QObject):
    """Asks where the checklist goes and on what paper; writes it in the lane.

    home : where dialogs begin
    """

    def __init__(
        self,
        session: Session,
        running: Running,
        home: Callable[[], Path],
        *,
        today: Callable[[], str] = lambda: datetime.now().astimezone().date().isoformat(),
    ) -> None:
        super().__init__(running)
        self._session = session
        self._running = running
        self._home = home
        self._today = today

    def write(self) -> None:
        """Ask for a file, then write the page into it."""
        project, system = self._session.projects.project, self._session.desk.system
        layout = self._session.document.adopted if project is not None else None
        asked = self._running.asking.checklist(self._start(), "letter" if system == "in" else "A4")
        if asked is None:
            return
        target, size = asked
        try:
            check_checklist_suffix(target)
            if project is not None:
                check_paper_place(target, project.folder)
        except FloorpanError as fault:
            self._running.asking.choose(fault_told(fault))
            return
        paper: PaperSize = "letter" if size == "letter" else "A4"
        today, program = self._today(), version("floorpan")
        job = self._running.run(
            messages.CHECKLIST_WRITING,
            lambda: writing_checklist(target, layout, date=today, version=program, system=system, size=paper),
            lambda _: self._written(target),
        )
        job.cancelled.connect(lambda: self._running.said.emit(messages.CHECKLIST_STOPPED))

    def _start(self) -> Path:
        if self._session.projects.project is None:
            return self._home() / messages.CHECKLIST_FIRST_NAME
        name = messages.CHECKLIST_NAME.format(name=slug(self._session.document.adopted.title))
        return self._home() / name

    def _written(self, target: Path) -> None:
        told = messages.CHECKLIST_WRITTEN.format(path=target)
        question = Question(
            title=messages.CHECKLIST_DIALOG,
            what=told,
            answers=(Answer(id="show", text=messages.OPEN_FOLDER),),
            leave=messages.CLOSE,
        )
        self._running.said.emit(told)
        if self._running.asking.choose(question):
            self._running.asking.show_folder(target.parent)
