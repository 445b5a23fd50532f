"""Keeping the project on the bench: save, copy, versions, where it lies, and how it hangs on the start screen."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import QObject, QStandardPaths, Signal

from floorpan.errors import FloorpanError
from floorpan.project.slugs import slug
from floorpan.project.starting import ENDING
from floorpan.project.strict_json import Json
from floorpan.report.rows import tight_spot
from floorpan.report.sentences import sentence
from floorpan_app import messages
from floorpan_app.project_copy import copying
from floorpan_app.settings import RecentProject, Settings
from floorpan_app.standing import standing
from floorpan_app.window.asking import fault_told
from floorpan_app.window.outline import outline_of
from floorpan_app.window.question import Answer, Question
from floorpan_app.window.running import Running
from floorpan_app.window.session import Session


class Keeping(QObject):
    """Saves, copies and hangs up.

    copy_wanted(Path) : a copy was made and is to be opened
    """

    copy_wanted = Signal(object)

    def __init__(self, session: Session, running: Running, settings: Settings) -> None:
        super().__init__(running)
        self._session = session
        self._projects = session.projects
        self._running = running
        self._asking = running.asking
        self._settings = settings
        self.view_now: Callable[[], dict[str, Json]] = dict

    def save(self) -> bool:
        """Save the project; answers whether it is saved."""
        try:
            self._projects.save()
        except FloorpanError as fault:
            self._asking.choose(fault_told(fault))
            return False
        self.hang()
        self._running.said.emit(messages.SAVED_HINT.format(title=self._session.document.adopted.title))
        return True

    def save_copy(self) -> None:
        """Write a copy under another name, and offer to open it."""
        project = self._projects.project
        name = self._asking.line(*messages.COPY_NAME, self._session.document.adopted.title) if project else ""
        parent = self._asking.folder(messages.COPY_DIALOG, self.home()) if name else None
        if project is None or parent is None:
            return
        folder, layout = parent / f"{slug(name)}{ENDING}", self._session.document.adopted
        self._running.run(messages.COPYING, lambda: copying(project, layout, folder, name), self._copied)

    def save_version(self) -> None:
        """Keep this layout under a name."""
        name, over = "", False
        while True:
            name = self._asking.line(*messages.VERSION_NAME, name) if not over else name
            if not name:
                return
            try:
                self._projects.save_version(name, over=over)
            except FloorpanError as fault:
                answers: tuple[Answer, ...] = (Answer(id="name", text=messages.ANOTHER_NAME),)
                if fault.code == "version-kept":
                    answers = (Answer(id="over", text=messages.REPLACE_IT), *answers)
                told = self._asking.choose(
                    Question(
                        title=messages.VERSION_NAME[0], what=fault.what, remedy=fault.remedy, answers=answers
                    )
                )
                if not told:
                    return
                over = told == "over"
            else:
                self._running.said.emit(messages.VERSION_KEPT.format(name=name))
                return

    def back_to_version(self) -> None:
        """Take up a kept layout, as one entry that can be undone."""
        kept = [one for one in self._projects.versions() if not one.fault]
        title, remedy = messages.VERSION_BACK
        if not kept:
            what, remedy = messages.NO_VERSIONS
            self._asking.choose(Question(title=title, what=what, remedy=remedy, leave=messages.CLOSE))
            return
        answers = tuple(Answer(id=one.path.name, text=one.name) for one in reversed(kept))
        chosen = self._asking.choose(Question(title=title, what=title, remedy=remedy, answers=answers))
        for one in kept:
            if one.path.name == chosen:
                try:
                    layout = self._projects.version(one)
                except FloorpanError as fault:
                    self._asking.choose(fault_told(fault))
                else:
                    self._session.document.change(messages.VERSION_TAKEN.format(name=one.name), layout)

    def show_where(self) -> None:
        """Where the project lies."""
        project = self._projects.project
        if project is None:
            return
        answers = (Answer(id="show", text=messages.SHOW_FOLDER),)
        what, path = messages.WHERE[0], str(project.folder)
        question = Question(title=what, what=what, remedy=path, answers=answers, leave=messages.CLOSE)
        if self._asking.choose(question):
            self._asking.show_folder(project.folder)

    def hang(self) -> None:
        """Hang the project on the start screen, with its worst sentence, and keep how it is looked at."""
        project, judging = self._projects.project, self._session.judging
        if project is None:
            return
        self._projects.keep_view(self.view_now())
        layout = self._session.document.adopted
        worst = tight_spot(judging.findings) if judging.fresh else None
        when = datetime.now(UTC).isoformat(timespec="minutes")
        outline = outline_of(layout, judging.bench, standing(layout, self._session.desk.state))
        self._settings.hang(
            RecentProject(
                folder=project.folder,
                title=layout.title,
                when=when,
                verdict=worst.verdict if worst is not None else None,
                sentence=sentence(worst, layout, self._session.desk.system) if worst is not None else "",
                outline=outline,
            )
        )

    def _copied(self, folder: Path) -> None:
        what, remedy = messages.COPIED
        question = Question(
            title=messages.COPY_NAME[0],
            what=what.format(path=folder),
            remedy=remedy,
            answers=(Answer(id="open", text=messages.OPEN_COPY),),
            leave=messages.STAY,
        )
        if self._asking.choose(question):
            self.copy_wanted.emit(folder)

    def home(self) -> Path:
        """Where a file dialog begins: beside the open project, else among the documents."""
        if self._projects.project is not None:
            return self._projects.project.folder.parent
        recent = self._settings.recent()
        if recent:
            return recent[0].folder.parent
        kept = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        return Path(kept) if kept and Path(kept).is_dir() else Path.home()
