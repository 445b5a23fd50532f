"""What the window does about projects: it asks, runs the work, and tells how it ended."""

from dataclasses import replace
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from floorpan import edits
from floorpan.errors import ProjectDamaged, ProjectLocked, ProjectNewer, ProjectProblem
from floorpan.items import MeshPart, Place
from floorpan.layout import Layout, ScanRef
from floorpan.progress import Work
from floorpan.project.folder import BACKUP, PROJECT, Project
from floorpan.project.starting import ENDING
from floorpan.sample.write import write_sample
from floorpan_app import messages
from floorpan_app.cards.setting_down import floor_middle, set_down_thing
from floorpan_app.projects import Opened, opening_locked
from floorpan_app.stage.new_things import unused_name
from floorpan_app.window.finding_scan import finding_again
from floorpan_app.window.keeping import Keeping
from floorpan_app.window.part_start import PartStart
from floorpan_app.window.question import Answer, Question
from floorpan_app.window.running import Running
from floorpan_app.window.scan_start import ScanStart
from floorpan_app.window.session import Session
from floorpan_app.window.vessel_start import VesselStart, set_down_vessel


class ProjectFlow(QObject):
    """Starts, opens and leaves projects."""

    def __init__(self, session: Session, running: Running, keeping: Keeping, window: QWidget) -> None:
        super().__init__(running)
        self._session = session
        self._projects = session.projects
        self._running = running
        self._asking = running.asking
        self._keeping = keeping
        self._window = window
        # The layout whose changes were given up on purpose: nobody is asked twice about it.
        self._given_up: Layout | None = None
        self.scan_start: ScanStart | None = None
        self.part_start: PartStart | None = None
        self.vessel_start: VesselStart | None = None
        keeping.copy_wanted.connect(self.open)

    # Beginning.

    def start_from_scan(self, source: Path | None = None) -> None:
        """A scan file, its unit, a place for the project: then the bench."""
        if not self.may_leave():
            return
        chosen = source if source is not None else self._asking.scan_file(self._keeping.home())
        if chosen is None:
            return
        dialog = ScanStart(self._session.lane, self._asking, self._keeping.home(), self._window)
        dialog.made.connect(self.open)
        dialog.failed.connect(self._running.broken)
        dialog.finished.connect(self._scan_start_over)
        self.scan_start = dialog
        dialog.open()
        dialog.read(chosen)

    def add_scan(self, source: Path | None = None) -> None:
        """One scan more for the project on the bench: its file, its unit; joining comes on its card."""
        project = self._projects.project
        if project is None or project.read_only:
            return
        chosen = source if source is not None else self._asking.scan_file(self._keeping.home())
        if chosen is None:
            return
        home = self._keeping.home()
        dialog = ScanStart(self._session.lane, self._asking, home, self._window, into=project)
        dialog.added.connect(self._added)
        dialog.failed.connect(self._running.broken)
        dialog.finished.connect(self._scan_start_over)
        self.scan_start = dialog
        dialog.open()
        dialog.read(chosen)

    def _added(self, project: Project, scan: ScanRef) -> None:
        here = self._projects.project
        if here is None or here.folder != project.folder:
            return
        self._projects.follow(replace(project, layout=here.layout, saved=here.saved))
        desk = self._session.desk
        if desk.change(messages.ADD_ENTRY, lambda layout: edits.add_scan(layout, scan)):
            desk.go_to("scan")
            desk.scans.take(desk.layout.scans[-1].id)

    def place_part(self, source: Path | None = None) -> None:
        """A part out of a mesh file: its unit, what it stands for, then it stands on the middle of the floor."""
        project = self._projects.project
        if project is None or project.read_only or floor_middle(self._session.desk) is None:
            return
        chosen = source if source is not None else self._asking.scan_file(self._keeping.home())
        if chosen is None:
            return
        dialog = PartStart(self._session.lane, self._asking, project, self._window)
        dialog.added.connect(self._part_added)
        dialog.failed.connect(self._running.broken)
        dialog.finished.connect(self._part_start_over)
        self.part_start = dialog
        dialog.open()
        dialog.read(chosen)

    def _part_added(self, project: Project, part: MeshPart) -> None:
        here, desk = self._projects.project, self._session.desk
        if here is None or here.folder != project.folder:
            return
        at = floor_middle(desk)
        self._projects.follow(replace(project, layout=here.layout, saved=here.saved))
        if at is not None:
            x, y, z = at
            name = unused_name(part.name, desk.layout)
            desk.go_to("controls")
            set_down_thing(desk, replace(part, name=name, place=Place(x_mm=x, y_mm=y, z_mm=z)))

    def place_vessel(self, source: Path | None = None) -> None:
        """A vessel from a scan of it: its unit, its outline, then it stands in a cup holder, or on the floor."""
        if floor_middle(self._session.desk) is None:
            return
        chosen = source if source is not None else self._asking.scan_file(self._keeping.home())
        if chosen is None:
            return
        dialog = VesselStart(self._session.lane, self._asking, self._session.desk.system, self._window)
        dialog.found.connect(partial(set_down_vessel, self._session.desk))
        dialog.failed.connect(self._running.broken)
        dialog.finished.connect(self._vessel_start_over)
        self.vessel_start = dialog
        dialog.open()
        dialog.read(chosen)

    def open_asked(self) -> None:
        """Ask which project, and open it."""
        folder = self._asking.project(self._keeping.home())
        if folder is not None:
            self.open(folder)

    def open_dropped(self, path: Path) -> None:
        """A dropped folder or project.json is a project, any other file a scan."""
        if path.is_dir() or path.name in (PROJECT, BACKUP):
            self.open(path)
        else:
            self.start_from_scan(path)

    def open(
        self, path: Path, *, take_stale: bool = False, read_only: bool = False, from_backup: bool = False
    ) -> None:
        """Open a project folder or its project.json."""
        here = self._projects.project
        if here is not None and here.folder in (path.absolute(), path.absolute().parent):
            self._running.said.emit(messages.ON_THE_BENCH.format(title=here.layout.title))
            return
        if not self.may_leave():
            return

        def start() -> Work[Opened]:
            return opening_locked(path, take_stale=take_stale, read_only=read_only, from_backup=from_backup)

        self._running.run(messages.OPENING, start, self._opened, lambda fault: self._not_opened(path, fault))

    def open_sample(self) -> None:
        """Open the sample car; where it is not written yet, ask where to keep it."""
        known = self._keeping.home() / f"{messages.SAMPLE_FOLDER}{ENDING}"
        if (known / PROJECT).is_file():
            self.open(known)
            return
        parent = self._asking.folder(messages.SAMPLE_DIALOG, self._keeping.home())
        if parent is None or not self.may_leave():
            return
        folder = parent / f"{messages.SAMPLE_FOLDER}{ENDING}"
        if (folder / PROJECT).is_file():
            self.open(folder)
            return
        self._running.run(messages.MAKING_SAMPLE, lambda: write_sample(folder), self._open_made)

    # Leaving.

    def close_project(self) -> None:
        """Back to the start screen."""
        if self._projects.project is not None and self.may_leave():
            self._keeping.hang()
            self._projects.clear()

    def may_leave(self) -> bool:
        """Save what is not saved, on the builder's word; False keeps the project on the bench."""
        adopted = self._session.document.adopted
        if not self._projects.is_unsaved() or adopted is self._given_up:
            return True
        what, remedy = messages.ASK_SAVE
        question = Question(
            title=messages.PROGRAM,
            what=what.format(title=adopted.title),
            remedy=remedy,
            answers=(
                Answer(id="save", text=messages.SAVE),
                Answer(id="leave", text=messages.LEAVE_CHANGES),
            ),
        )
        answer = self._asking.choose(question)
        if answer == "save":
            return self._keeping.save()
        if answer == "leave":
            self._given_up = adopted
        return answer == "leave"

    # Endings.

    def _opened(self, opened: Opened) -> None:
        if not self.may_leave():
            if opened.held is not None:
                opened.held.release()
            return
        use_left = self._asked_left(opened)
        self._keeping.hang()
        self._given_up = None
        self._projects.take(opened, use_left=use_left)
        self._keeping.hang()
        for note in opened.project.notes:
            if note.sha256:
                self._missing(note.sha256, note.what)
            else:
                self._running.said.emit(f"{note.what} {note.remedy}")

    def _asked_left(self, opened: Opened) -> bool:
        if opened.left_fault is not None:
            fault = opened.left_fault
            self._asking.choose(
                Question(
                    title=messages.LEFT_OVER_TITLE,
                    what=fault.what,
                    remedy=messages.LEFT_OVER_DAMAGED,
                    leave=messages.CLOSE,
                )
            )
        if opened.left is None:
            return False
        what, remedy = messages.LEFT_OVER
        time = f"{opened.left.saved.astimezone():%H:%M}"
        question = Question(
            title=messages.LEFT_OVER_TITLE,
            what=what.format(time=time),
            remedy=remedy,
            answers=(Answer(id="use", text=messages.USE_WORK),),
            leave=messages.KEEP_SAVE,
        )
        return self._asking.choose(question) == "use"

    def _not_opened(self, path: Path, fault: object) -> None:
        if not isinstance(fault, ProjectProblem):
            self._running.tell(fault)
            return
        folder = path if path.is_dir() else path.parent
        answers: list[Answer] = []
        if isinstance(fault, ProjectLocked):
            if fault.facts.get("stale"):
                answers.append(Answer(id="take", text=messages.TAKE_OVER))
            answers.append(Answer(id="look", text=messages.LOOK_ONLY))
        elif isinstance(fault, ProjectDamaged | ProjectNewer):
            if (folder / BACKUP).is_file() and path.name != BACKUP:
                answers.append(Answer(id="backup", text=messages.OPEN_BACKUP))
            answers.append(Answer(id="show", text=messages.SHOW_FOLDER))
        question = Question(
            title=messages.OPEN_DIALOG,
            what=fault.what,
            remedy=fault.remedy,
            answers=tuple(answers),
            leave=messages.CANCEL if answers else messages.CLOSE,
        )
        answer = self._asking.choose(question)
        if answer == "show":
            self._asking.show_folder(folder)
        elif answer:
            self.open(
                path, take_stale=answer == "take", read_only=answer == "look", from_backup=answer == "backup"
            )

    def _missing(self, sha256: str, what: str) -> None:
        """A scan that cannot be read: find it, or go on without it."""
        project = self._projects.project
        if project is None or sha256 not in project.missing:
            return
        answers = () if project.read_only else (Answer(id="find", text=messages.FIND_SCAN),)
        question = Question(
            title=project.layout.title,
            what=what,
            remedy=messages.MISSING_REMEDY,
            answers=answers,
            leave=messages.GO_ON_WITHOUT,
        )
        if self._asking.choose(question) != "find":
            return
        source = self._asking.scan_file(self._keeping.home())
        if source is None:
            self._missing(sha256, what)
            return

        def again(fault: object) -> None:
            self._running.tell(fault)
            self._missing(sha256, what)

        def start() -> Work[Project]:
            return finding_again(project, sha256, source)

        self._running.run(messages.IMPORTING, start, self._projects.follow, again)

    def _open_made(self, folder: Path) -> None:
        self.open(folder)

    def _part_start_over(self, _result: int) -> None:
        if self.part_start is not None:
            self.part_start.deleteLater()
            self.part_start = None

    def _vessel_start_over(self, _result: int) -> None:
        if self.vessel_start is not None:
            self.vessel_start.deleteLater()
            self.vessel_start = None

    def _scan_start_over(self, _result: int) -> None:
        if self.scan_start is not None:
            self.scan_start.deleteLater()
            self.scan_start = None
