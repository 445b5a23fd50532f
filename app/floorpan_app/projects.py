"""The project behind the document: opened, saved, kept as versions, autosaved. It asks nobody anything.

What takes long is work for a lane; what the disk refuses is raised to the caller.
"""

import contextlib
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from floorpan.errors import FloorpanError, NotSaved
from floorpan.layout import Layout
from floorpan.progress import Work
from floorpan.project.folder import BACKUP, PROJECT, Project, opening, save
from floorpan.project.lock import ProjectLock, lock
from floorpan.project.recovery import Autosave, autosave, clean_close, newer_autosave
from floorpan.project.store import ProjectStore
from floorpan.project.strict_json import Json
from floorpan.project.versions import Version, open_version, save_version, versions
from floorpan.project.view import read_view, write_view
from floorpan_app import messages
from floorpan_app.document import Document
from floorpan_app.judging import Judging

AUTOSAVE_MS = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A project read from disk, not on the bench yet.

    held      : its lock, None where it is only looked at
    left      : newer work that was never saved; left_fault : why that cannot be read
    is_backup : whether it is the save before the last, which only a save would make the last
    """

    project: Project
    held: ProjectLock | None
    left: Autosave | None = None
    left_fault: FloorpanError | None = None
    is_backup: bool = False


def opening_locked(
    path: Path, *, take_stale: bool = False, read_only: bool = False, from_backup: bool = False
) -> Work[Opened]:
    """Lock a project and read it; the lock is let go of where reading fails or is stopped.

    Locked first, so that no other window saves in between; a folder without a project gets no lock.
    Raises ProjectLocked and what `opening` raises.
    """
    folder = path if path.is_dir() else path.parent
    is_project = any((folder / name).is_file() for name in (PROJECT, BACKUP))
    held = lock(folder, take_stale=take_stale) if is_project and not read_only else None
    try:
        project = yield from opening(path, from_backup=from_backup, read_only=read_only)
        left, fault = _left_over(project)
    except BaseException:
        if held is not None:
            held.release()
        raise
    is_backup = from_backup or path.name == BACKUP
    return Opened(project=project, held=held, left=left, left_fault=fault, is_backup=is_backup)


def _left_over(project: Project) -> tuple[Autosave | None, FloorpanError | None]:
    if project.read_only:
        return None, None
    try:
        return newer_autosave(project), None
    except FloorpanError as fault:
        return None, fault


class Projects(QObject):
    """Holds the open project, its lock, its scans and its autosave.

    opened()               : another project is on the bench, or none
    saved_changed()        : saved, or changed since
    faulted(FloorpanError) : an autosave failed; nothing else is lost
    """

    opened = Signal()
    saved_changed = Signal()
    faulted = Signal(object)

    def __init__(
        self,
        document: Document,
        judging: Judging,
        parent: QObject | None = None,
        *,
        clock: Callable[[], datetime] = lambda: datetime.now(UTC),
    ) -> None:
        super().__init__(parent)
        self.document = document
        self.judging = judging
        self.project: Project | None = None
        self.store: ProjectStore | None = None
        self._clock = clock
        self._lock: ProjectLock | None = None
        self._unsaved_since: datetime | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(AUTOSAVE_MS)
        self._timer.timeout.connect(self._autosave)
        document.history_changed.connect(self._changed)

    def take(self, opened: Opened, *, use_left: bool = False) -> None:
        """Put an opened project on the bench in place of the one there; use_left takes up the work that was left."""
        self.let_go()
        left = opened.left if use_left else None
        project = left.project if left is not None else opened.project
        self.project, self._lock = project, opened.held
        self.store = ProjectStore(project)
        self.judging.use(self.store)
        self.document.replace_all(project.layout)
        if opened.is_backup:
            # The save before the last is not what project.json holds.
            self.document.mark_saved(replace(project.layout))
        if left is not None:
            self.document.change(messages.USED_WORK, left.layout)
        self.opened.emit()

    def save(self) -> None:
        """Write the adopted layout. Raises NotSaved; the last save is then untouched."""
        if self.project is None:
            return
        layout = self.document.adopted
        self.project = save(self.project, layout, now=self._clock())
        self._timer.stop()
        self.document.mark_saved(layout)

    def save_version(self, name: str, *, over: bool = False) -> None:
        """Keep the adopted layout under a name of its own. Raises BadValue, NotSaved."""
        if self.project is not None:
            save_version(self.project, self.document.adopted, name, now=self._clock(), replace=over)

    def versions(self) -> tuple[Version, ...]:
        """What is kept, oldest first."""
        return versions(self.project) if self.project is not None else ()

    def version(self, kept: Version) -> Layout:
        """The layout of a kept version. Raises ProjectProblem and its kin."""
        if self.project is None:
            raise NotSaved("no-project", "No project is open.", "Open one in the Project menu.")
        return open_version(self.project, kept.path)

    def saved_words(self) -> str:
        """When it was saved, or since when it is not."""
        if self.project is None:
            return ""
        if self.project.read_only:
            return messages.LOOKING_ONLY
        if self.document.saved or self._unsaved_since is None:
            return messages.SAVED.format(time=self._shown(self.project.saved))
        return messages.NOT_SAVED_SINCE.format(time=self._shown(self._unsaved_since))

    def is_unsaved(self) -> bool:
        """Whether closing would lose something."""
        return self.project is not None and not self.project.read_only and not self.document.saved

    def is_looked_at(self) -> bool:
        """Whether the project was opened to look only."""
        return self.project is not None and self.project.read_only

    def follow(self, project: Project) -> None:
        """The same project after an import: a scan more, or one that was missing."""
        found = self.project is not None and self.project.missing != project.missing
        self.project = project
        if self.store is not None:
            self.store.follow(project)
            # What was made ready of the other scans stays ready where nothing was missing.
            if found:
                self.judging.use(self.store)

    def view(self) -> dict[str, Json]:
        """How the project was last looked at."""
        return read_view(self.project) if self.project is not None else {}

    def keep_view(self, view: dict[str, Json]) -> None:
        """Keep how it is looked at."""
        if self.project is not None:
            # A view may be lost without harm: a full disk is told when the layout is saved.
            with contextlib.suppress(NotSaved):
                write_view(self.project, view)

    def autosave_now(self) -> None:
        """Write what is on the bench beside the save. Raises NotSaved."""
        if self.project is not None and self.is_unsaved():
            autosave(self.project, self.document.adopted, now=self._clock())

    def let_go(self, *, keep_autosave: bool = False) -> None:
        """Take the project off the bench: the autosave goes unless it is the only place, the lock is given back."""
        self._timer.stop()
        project, held = self.project, self._lock
        self.project = self.store = self._lock = self._unsaved_since = None
        try:
            if project is not None and not keep_autosave:
                clean_close(project)
        except NotSaved as fault:
            self.faulted.emit(fault)
        finally:
            if held is not None:
                held.release()

    def clear(self) -> None:
        """Leave the bench without a project."""
        self.let_go()
        self.judging.use({})
        self.document.replace_all(Layout())
        self.opened.emit()

    def _shown(self, time: datetime) -> str:
        there, now = time.astimezone(), self._clock().astimezone()
        return f"{there:%H:%M}" if there.date() == now.date() else f"{there:%Y-%m-%d %H:%M}"

    def _changed(self) -> None:
        if not self.is_unsaved():
            self._unsaved_since = None
            self._timer.stop()
        elif not self._timer.isActive():
            self._unsaved_since = self._unsaved_since or self._clock()
            self._timer.start()
        self.saved_changed.emit()

    def _autosave(self) -> None:
        try:
            self.autosave_now()
        except FloorpanError as fault:
            self.faulted.emit(fault)
