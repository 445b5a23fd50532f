"""Writing the fit report: only from findings that are all fresh, in slices and in the lane, with a word at the end."""

from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import datetime
from importlib.metadata import version
from pathlib import Path

from PySide6.QtCore import QObject

from floorpan.errors import FloorpanError
from floorpan.progress import Step, Work, part
from floorpan.project.paper_place import check_paper_place
from floorpan.project.slugs import slug
from floorpan.report.documents import PICTURED, check_suffix, writing
from floorpan.report.facts import ReportFacts
from floorpan.report.gathering import gathering
from floorpan.report.pictures import VIEWS
from floorpan.report.words import DRAWING, VIEW_TITLES
from floorpan_app import messages
from floorpan_app.jobs import Job, SliceLane
from floorpan_app.paper_wishes import PaperWishes
from floorpan_app.standing import standing
from floorpan_app.window.asking import fault_told
from floorpan_app.window.parts import MakeRenderer
from floorpan_app.window.question import Answer, Question
from floorpan_app.window.running import Running
from floorpan_app.window.session import Session

_PICTURE = (1400, 800)


class Papers(QObject):
    """Asks where the report goes, waits until nothing is stale, writes it.

    What shares memory with the live view (the facts, the pictures) is done in slices of the window's own thread, the
    laying out and writing in the lane.
    """

    def __init__(
        self,
        session: Session,
        running: Running,
        renderer: MakeRenderer | None = None,
        *,
        today: Callable[[], str] = lambda: datetime.now().astimezone().date().isoformat(),
    ) -> None:
        super().__init__(running)
        self._session = session
        self._running = running
        self._today = today
        self._slices = SliceLane(self)
        self._waiting: Path | None = None
        self._wishes = PaperWishes()
        self._renderer = renderer
        session.judging.settled.connect(self._settled)
        session.judging.failed.connect(self._not_settled)
        session.stopped.connect(self._stopped)

    def write(self, wishes: PaperWishes | None = None) -> None:
        """Ask for a file, then write the report into it as wished, once every finding is fresh."""
        project = self._session.projects.project
        if project is None:
            return
        name = messages.PAPER_NAME.format(name=slug(self._session.document.adopted.title))
        target = self._running.asking.paper(project.folder.parent / name)
        if target is None:
            return
        try:
            check_suffix(target)
            check_paper_place(target, project.folder)
        except FloorpanError as fault:
            self._running.asking.choose(fault_told(fault))
            return
        self._waiting, self._wishes = target, wishes or PaperWishes()
        self._running.said.emit(messages.PAPER_WAITS)
        if self._session.judging.fresh:
            self._settled(None)
        else:
            self._session.judging.again()

    def is_waiting(self) -> bool:
        """Whether a report waits for fresh findings."""
        return self._waiting is not None

    def stop(self) -> None:
        """Give up what is waiting or being gathered."""
        self._waiting = None
        self._slices.stop()

    def _stopped(self) -> None:
        self._not_settled(None)

    def _not_settled(self, _fault: object) -> None:
        if self._waiting is not None:
            self._waiting = None
            what, remedy = messages.PAPER_NO_FINDINGS
            self._running.asking.choose(
                Question(title=messages.PAPER_DIALOG, what=what, remedy=remedy, leave=messages.CLOSE)
            )

    def _settled(self, _findings: object) -> None:
        target, self._waiting = self._waiting, None
        if target is None:
            return
        if self._renderer is None or target.suffix.lower() not in PICTURED:
            self._gather(target, None)
            return
        # Trying whether pictures can be drawn runs a child process: not in the window's thread.
        make = self._renderer
        self._running.run(
            messages.PAPER_TRYING,
            lambda: _trying(make),
            lambda can: self._gather(target, make if can else None),
        )

    def _gather(self, target: Path, make: MakeRenderer | None) -> None:
        layout = self._session.document.adopted
        findings = self._session.judging.findings
        if not self._session.judging.fresh:
            # It changed while pictures were tried: wait again.
            self._waiting = target
            return
        wishes = self._wishes
        system = wishes.system or self._session.desk.system
        job = Job(messages.PAPER_WRITING, lambda: self._facts(make), self)

        def write(facts: ReportFacts) -> None:
            writes = self._running.run(
                messages.PAPER_WRITING,
                lambda: writing(target, layout, findings, facts, system=system, size=wishes.size),
                lambda _: self._written(target),
            )
            writes.cancelled.connect(self._was_not_written)

        job.succeeded.connect(write)
        job.failed.connect(self._running.tell)
        job.cancelled.connect(self._was_not_written)
        job.ended.connect(job.deleteLater)
        self._slices.run(job)
        self._running.working.emit(job)

    def _facts(self, make: MakeRenderer | None) -> Work[ReportFacts]:
        session = self._session
        layout = session.document.adopted
        state = standing(layout, session.desk.state)
        facts = yield from part(
            gathering(
                layout,
                session.judging.bench,
                date=self._today(),
                version=version("floorpan"),
                edition=self._wishes.edition,
                shown=state,
            ),
            0.0,
            0.3,
        )
        if make is None:
            return facts
        renderer = make.make(layout, session.judging.bench, state)
        pictures = []
        with closing(renderer):
            for number, view in enumerate(VIEWS):
                title = VIEW_TITLES[view]
                yield Step(0.3 + 0.7 * number / len(VIEWS), DRAWING.format(view=title.lower()))
                pictures.append((title, renderer.picture(view, *_PICTURE)))
        return replace(facts, pictures=tuple(pictures))

    def _was_not_written(self) -> None:
        self._running.said.emit(messages.PAPER_STOPPED)

    def _written(self, target: Path) -> None:
        what, remedy = messages.PAPER_WRITTEN
        question = Question(
            title=messages.PAPER_DIALOG,
            what=what.format(path=target),
            remedy=remedy if target.suffix.lower() == ".pdf" else "",
            answers=(Answer(id="show", text=messages.OPEN_FOLDER),),
            leave=messages.CLOSE,
        )
        self._running.said.emit(what.format(path=target))
        if self._running.asking.choose(question):
            self._running.asking.show_folder(target.parent)


def _trying(make: MakeRenderer) -> Work[bool]:
    yield Step(0.0, messages.PAPER_TRYING)
    return make.available()
