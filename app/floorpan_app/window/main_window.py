"""The bench's window. Its shell is painted before the core and the 3D library are imported."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, get_args

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QFontMetrics, QKeyEvent
from PySide6.QtOpenGLWidgets import QOpenGLWidget
from PySide6.QtWidgets import QApplication, QLabel, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from floorpan.units import System
from floorpan_app import messages
from floorpan_app.actions import MENUS, ON_THE_START_SCREEN, Actions
from floorpan_app.jobs import Job, ThreadLane
from floorpan_app.settings import Settings
from floorpan_app.theme.follow import THEME_CHOICES, ThemeChoice, ThemeFollower
from floorpan_app.theme.fonts import SECOND, scaled, text_font
from floorpan_app.theme.record import Theme
from floorpan_app.widgets.focus_ring import FocusRing
from floorpan_app.window.asking import Asking, Dialogs
from floorpan_app.window.deeds import Deed, When, late_deeds, late_whens
from floorpan_app.window.key_sheet import KeySheet
from floorpan_app.window.start import StartScreen
from floorpan_app.window.status import StatusLine
from floorpan_app.window.unforeseen import Unforeseen, ask_with_dialog
from floorpan_app.window.warming import warming

if TYPE_CHECKING:
    from floorpan_app.window.parts import MakeParts
    from floorpan_app.window.works import Works

LEAST = (900, 600)
USUAL = (1366, 768)
_UNPAINTED_MS = 400


class MainWindow(QMainWindow):
    """Start screen or a project, menus, status line. What a project needs is made by `Works` once it can be.

    ready() : the bench can be used
    """

    ready = Signal()

    def __init__(
        self,
        settings: Settings,
        follower: ThemeFollower,
        *,
        asking: Asking | None = None,
        make_parts: "MakeParts | None" = None,
    ) -> None:
        super().__init__()
        self.settings = settings
        self.follower = follower
        self.asking: Asking = asking if asking is not None else Dialogs(self)
        self.works: Works | None = None
        self.unforeseen = Unforeseen(self._keep, ask_with_dialog, self._leave_at_once)
        self._make_parts = make_parts
        self._lane = ThreadLane(self)
        self._warm = False
        self._waiting: list[Deed] = []
        self.setWindowTitle(messages.PROGRAM)
        # Not grown with the text: a large text on a small screen folds the window instead.
        self.setMinimumSize(*LEAST)
        self.resize(*USUAL)
        self.start = StartScreen()
        self.status = StatusLine()
        self.saved = QLabel()
        self._pages = QStackedWidget()
        self._pages.addWidget(self.start)
        self._lay_out()
        self.actions_ = Actions(self, self._deeds(), self._whens())
        self.actions_.fill(self.menuBar())
        self.saved.setFixedHeight(self.menuBar().sizeHint().height())
        self._connect()
        self._show_choices()
        self.show_start()

    def _lay_out(self) -> None:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._pages, 1)
        column.addWidget(self.status)
        self.setCentralWidget(page)
        # The first GL widget would make the toolkit build the shown window anew, with a flicker.
        spare = QOpenGLWidget(self)
        spare.setFixedSize(1, 1)
        spare.lower()
        self.saved.setFont(text_font(SECOND))
        self.saved.setProperty("role", "second")
        self.saved.setContentsMargins(0, 0, round(scaled(14)), 0)
        # The corner keeps the width it has when it is made: room for the longest it ever says.
        longest = QFontMetrics(self.saved.font()).horizontalAdvance(
            messages.NOT_SAVED_SINCE.format(time="00:00")
        )
        self.saved.setMinimumWidth(longest + 2 * round(scaled(14)))
        self.saved.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.menuBar().setCornerWidget(self.saved, Qt.Corner.TopRightCorner)
        FocusRing(self)
        geometry = self.settings.window()
        if geometry is not None:
            self.restoreGeometry(geometry)

    def _connect(self) -> None:
        self.start.way_chosen.connect(lambda way: self.actions_.action(_WAYS[way]).trigger())
        self.start.project_chosen.connect(self.open)
        self.start.checklist_asked.connect(self.actions_.action("checklist").trigger)
        self.start.dropped.connect(lambda path: self.do(lambda works: works.flow.open_dropped(path)))
        self.status.unit_asked.connect(self._other_unit)
        self.follower.themeChanged.connect(self._theme)

    # What the rest of the program asks for.

    def open(self, path: Path) -> None:
        """Open a project as soon as the bench is ready."""
        self.status.say(messages.OPENING_TITLE.format(name=path.name))
        self.do(lambda works: works.flow.open(path))

    def do(self, deed: Deed) -> None:
        """Do something that needs the bench: now, or as soon as it is ready."""
        if self.works is not None:
            deed(self.works)
        else:
            self._waiting.append(deed)
            # After the first paint, as `event` sees to; a window that is never painted must not wait for ever.
            QTimer.singleShot(_UNPAINTED_MS, self._begin_warming)

    def show_start(self) -> None:
        """The start screen."""
        self.start.show_recent(self.settings.recent())
        self._pages.setCurrentWidget(self.start)
        self.actions_.show_menus(ON_THE_START_SCREEN)
        self.status.say(messages.GEOMETRY_ONLY)
        self.status.show_facts("", "")
        self.saved.setText("")
        self.setWindowTitle(messages.PROGRAM)
        self.setWindowModified(False)

    def show_key_sheet(self) -> None:
        """Every key and what it does."""
        sheet = KeySheet(self)
        sheet.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        sheet.open()

    # The toolkit's own.

    def event(self, event: QEvent) -> bool:
        done = super().event(event)
        if event.type() == QEvent.Type.UpdateRequest and not self._warm:
            # The window has been painted: now there is time for what is heavy.
            QTimer.singleShot(0, self._begin_warming)
        return done

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.works is not None and self.works.escape():
            return
        super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        if self.works is not None and not self.works.may_close():
            event.ignore()
            return
        self.settings.set_window(self.saveGeometry())
        self._shut()
        event.accept()

    # Inside.

    def _begin_warming(self) -> None:
        if self._warm:
            return
        self._warm = True
        job = Job(messages.GETTING_READY, warming, self)
        job.succeeded.connect(self._set_up)
        job.failed.connect(self.unforeseen.take)
        job.ended.connect(job.deleteLater)
        self._lane.run(job)
        if self._waiting:
            self.status.follow(job)

    def _set_up(self, _warmed: object) -> None:
        """Make the works, and do what waited for them."""
        from floorpan_app.window.making import make_parts
        from floorpan_app.window.works import Works

        works = Works(self, self.settings, self.asking, self._make_parts or make_parts)
        self.works = works
        works.page_wanted.connect(self._show_page)
        works.start_wanted.connect(self.show_start)
        works.changed.connect(self._refresh)
        works.moved.connect(self._show_moving)
        works.running.said.connect(self.status.say)
        works.running.working.connect(self.status.follow)
        works.running.broken.connect(self.unforeseen.take)
        self._refresh()
        self.ready.emit()
        waiting, self._waiting = self._waiting, []
        for deed in waiting:
            deed(works)

    def _show_page(self, page: QWidget) -> None:
        if self._pages.indexOf(page) < 0:
            self._pages.addWidget(page)
        self._pages.setCurrentWidget(page)
        self.actions_.show_menus(MENUS)
        self.status.say("")

    def _refresh(self) -> None:
        """Title, saved or not, undo in words, facts, and what can be done."""
        works = self.works
        if works is None:
            return
        self.actions_.refresh()
        document, projects = works.session.document, works.session.projects
        undo, redo = document.undo_words(), document.redo_words()
        self.actions_.say("undo", messages.UNDO.format(words=undo) if undo else messages.UNDO_NOTHING)
        self.actions_.say("redo", messages.REDO.format(words=redo) if redo else messages.REDO_NOTHING)
        self.actions_.check(f"step {works.session.desk.step}")
        self.status.show_system(works.session.desk.system)
        if projects.project is None:
            return
        title = messages.WINDOW_TITLE_LOOKING if projects.project.read_only else messages.WINDOW_TITLE
        self.setWindowTitle(title.format(title=document.layout.title))
        self.setWindowModified(projects.is_unsaved())
        self.saved.setText(projects.saved_words())
        self._show_facts()

    def _show_moving(self) -> None:
        """While something is dragged; it can be put back from its first move on."""
        undo = self.actions_.action("undo")
        if not undo.isEnabled():
            undo.setEnabled(True)
        self._show_facts()

    def _show_facts(self) -> None:
        if self.works is not None:
            self.status.show_facts(*self.works.session.facts())

    def _deeds(self) -> dict[str, Callable[[], object]]:
        """What each action does, by its id."""
        deeds: dict[str, Callable[[], object]] = {
            id: partial(self.do, deed) for id, deed in late_deeds().items()
        }
        for choice in THEME_CHOICES:
            deeds[f"theme {choice}"] = partial(self._use_theme, choice)
        for system in get_args(System):
            deeds[f"unit {system}"] = partial(self._use_system, system)
        return deeds | {"quit": self.close, "keys": self.show_key_sheet, "about": self._show_about}

    def _whens(self) -> dict[str, Callable[[], bool]]:
        """What must hold for an action, by name."""

        return {name: partial(self._holds, ask) for name, ask in late_whens().items()}

    def _holds(self, ask: When) -> bool:
        """Nothing holds while no project is on the bench."""
        return self.works is not None and self.works.has_project() and ask(self.works)

    def _show_choices(self) -> None:
        self.actions_.check(f"theme {self.settings.theme()}")
        self.actions_.check(f"unit {self.settings.system()}")
        self.status.show_system(self.settings.system())

    def _use_theme(self, choice: ThemeChoice) -> None:
        self.settings.set_theme(choice)
        self.follower.set_choice(choice)

    def _use_system(self, system: System) -> None:
        self.settings.set_system(system)
        self._show_choices()
        if self.works is not None:
            self.works.use_system(system)

    def _other_unit(self) -> None:
        self._use_system("in" if self.settings.system() == "mm" else "mm")

    def _theme(self, theme: Theme) -> None:
        if self.works is not None:
            self.works.set_theme(theme)

    def _show_about(self) -> None:
        from importlib.metadata import version

        head, *rest = messages.ABOUT
        self.asking.read(messages.ABOUT_TITLE, (head.format(version=version("floorpan")), *rest))

    def _keep(self) -> bool:
        """Save beside the save; whether a project is open."""
        if self.works is None or self.works.session.projects.project is None:
            return False
        self.works.session.projects.autosave_now()
        return True

    def _leave_at_once(self) -> None:
        """Close without asking: what was not saved lies in the autosave."""
        self._shut(keep_autosave=True)
        QApplication.exit(1)

    def _shut(self, *, keep_autosave: bool = False) -> None:
        self._lane.stop_all()
        self._lane.wait()
        if self.works is not None:
            works, self.works = self.works, None
            works.shut(keep_autosave=keep_autosave)


_WAYS = {"scan": "start", "open": "open", "sample": "sample"}
