"""Every action of the bench as one table; the menus and the sheet of keys are made from it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar, QWidget

from floorpan_app.messages import STEP_WORDS

MENUS = ("Project", "Edit", "See", "Place", "Check", "Papers", "Help")
ON_THE_START_SCREEN = ("Project", "See", "Help")

_Std = QKeySequence.StandardKey
Keys = QKeySequence.StandardKey | str


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One action: where it stands, what it says, when it can be done.

    menu : one of MENUS; sub : of a menu inside it, "" for none
    keys : key sequences, the platform's own where it has one; several do the same
    when : name of what must hold, "" for always
    pick : actions with the same word are a choice of one
    part : a line parts it from an action with another number
    """

    id: str
    menu: str
    text: str
    keys: tuple[Keys, ...] = ()
    when: str = ""
    sub: str = ""
    pick: str = ""
    part: int = 0


def _steps() -> tuple[Act, ...]:
    return tuple(
        Act(
            id=f"step {step}",
            menu="See",
            sub="Step in hand",
            text=word,
            keys=(f"Ctrl+{number % 10}",),
            when="project",
            pick="step",
        )
        for number, (step, word) in enumerate(STEP_WORDS.items(), 1)
    )


ACTS: tuple[Act, ...] = (
    Act(id="start", menu="Project", text="Start from a scan\u2026", keys=(_Std.New,)),
    Act(id="add scan", menu="Project", text="Add a scan\u2026", when="writable"),
    Act(id="open", menu="Project", text="Open a project\u2026", keys=(_Std.Open,)),
    Act(id="sample", menu="Project", text="Open the sample car"),
    Act(id="save", menu="Project", text="Save", keys=(_Std.Save,), when="to save", part=1),
    Act(id="copy", menu="Project", text="Save a copy\u2026", keys=("Ctrl+Shift+S",), when="project", part=1),
    Act(id="version", menu="Project", text="Save a version\u2026", when="writable", part=2),
    Act(id="version back", menu="Project", text="Go back to a version\u2026", when="writable", part=2),
    Act(id="where", menu="Project", text="Where is it kept", when="project", part=3),
    Act(id="close", menu="Project", text="Close the project", keys=(_Std.Close,), when="project", part=4),
    Act(id="quit", menu="Project", text="Leave floorpan", keys=(_Std.Quit, "Ctrl+Q"), part=4),
    Act(id="undo", menu="Edit", text="Undo", keys=(_Std.Undo,), when="undo"),
    Act(id="redo", menu="Edit", text="Do again", keys=(_Std.Redo, "Ctrl+Y"), when="redo"),
    Act(
        id="remove",
        menu="Edit",
        text="Take out the thing in hand",
        keys=(_Std.Delete,),
        when="selection",
        part=1,
    ),
    *_steps(),
    Act(id="drawer", menu="See", text="State matrix", keys=("F8",), when="project", part=1),
    Act(id="drawer side", menu="See", text="Station or matrix", keys=("F9",), when="project", part=1),
    Act(id="next area", menu="See", text="Next area", keys=("F6",), when="project", part=2),
    Act(id="area before", menu="See", text="The area before", keys=("Shift+F6",), when="project", part=2),
    Act(id="unit mm", menu="See", sub="Lengths", text="mm", pick="unit", part=3),
    Act(id="unit in", menu="See", sub="Lengths", text="inches", pick="unit", part=3),
    Act(id="theme system", menu="See", sub="Colours", text="As the system", pick="theme", part=3),
    Act(id="theme light", menu="See", sub="Colours", text="Light", pick="theme", part=3),
    Act(id="theme dark", menu="See", sub="Colours", text="Dark", pick="theme", part=3),
    Act(id="theme contrast", menu="See", sub="Colours", text="More contrast", pick="theme", part=3),
    Act(id="place seat", menu="Place", text="Seat", when="floor"),
    Act(id="place shifter", menu="Place", text="Shifter", when="floor"),
    Act(id="place handbrake", menu="Place", text="Handbrake", when="floor"),
    Act(id="place buckle", menu="Place", text="Belt buckle", when="floor"),
    Act(id="place armrest", menu="Place", text="Armrest", when="floor"),
    Act(id="place wheel", menu="Place", text="Steering wheel", when="floor"),
    Act(id="place keep-out", menu="Place", text="Keep-out or no-drill disc", when="floor"),
    Act(id="place flap", menu="Place", text="Flap or lid", when="floor"),
    Act(id="place dash edge", menu="Place", text="Dash lower edge", when="floor"),
    Act(id="place door", menu="Place", text="Door", when="floor"),
    Act(id="place switch", menu="Place", text="Switch or button", when="floor"),
    Act(id="place cup holder", menu="Place", text="Cup holder", when="floor"),
    Act(id="place vessel", menu="Place", text="Vessel", when="floor"),
    Act(id="place console", menu="Place", text="Console", when="floor"),
    Act(
        id="vessel from scan",
        menu="Place",
        text="Vessel from a scan of it\u2026",
        when="writable floor",
        part=1,
    ),
    Act(id="part from file", menu="Place", text="A mesh from a file\u2026", when="writable floor", part=1),
    Act(id="next finding", menu="Check", text="Next that is not clear", keys=("F7",), when="findings"),
    Act(id="finding before", menu="Check", text="The one before", keys=("Shift+F7",), when="findings"),
    Act(
        id="accept",
        menu="Check",
        text="Accept the step",
        keys=("Ctrl+Return", "Ctrl+Enter"),
        when="acceptable",
        part=1,
    ),
    Act(id="judge", menu="Check", text="Work it out again", when="project", part=1),
    Act(id="checklist", menu="Papers", text="Write the scan checklist\u2026"),
    Act(id="tape sheet", menu="Papers", text="Write the tape sheet\u2026"),
    Act(id="report", menu="Papers", text="Write the fit report\u2026", keys=(_Std.Print,), when="project"),
    Act(
        id="thin copy", menu="Papers", text="Write a thinned copy of the scan\u2026", when="set scan", part=1
    ),
    Act(id="keys", menu="Help", text="Keys", keys=(_Std.HelpContents, "F1")),
    Act(id="about", menu="Help", text="About floorpan"),
)


class Actions:
    """The table as live actions of a window.

    deeds : what each action does, by its id; whens : what must hold, by name
    """

    def __init__(
        self,
        window: QWidget,
        deeds: Mapping[str, Callable[[], object]],
        whens: Mapping[str, Callable[[], bool]],
    ) -> None:
        self._whens = whens
        self._made: dict[str, QAction] = {}
        self._menus: dict[str, QMenu] = {}
        groups: dict[str, QActionGroup] = {}
        for act in ACTS:
            action = QAction(act.text, window)
            action.setShortcuts([QKeySequence(keys) for keys in act.keys])
            action.setMenuRole(QAction.MenuRole.NoRole)
            action.triggered.connect(_runner(deeds[act.id]))
            if act.pick:
                action.setCheckable(True)
                group = groups.setdefault(act.pick, QActionGroup(window))
                group.addAction(action)
            window.addAction(action)
            self._made[act.id] = action
        self.refresh()

    def fill(self, bar: QMenuBar) -> None:
        """Make the menus."""
        for title in MENUS:
            menu = self._menus[title] = bar.addMenu(title)
            menu.aboutToShow.connect(self.refresh)
            subs: dict[str, QMenu] = {}
            last = 0
            for act in (act for act in ACTS if act.menu == title):
                if act.part != last:
                    menu.addSeparator()
                    last = act.part
                place = menu
                if act.sub:
                    place = subs[act.sub] if act.sub in subs else menu.addMenu(act.sub)
                    subs[act.sub] = place
                place.addAction(self._made[act.id])

    def show_menus(self, titles: tuple[str, ...]) -> None:
        """Show these menus only."""
        for title, menu in self._menus.items():
            menu.menuAction().setVisible(title in titles)

    def refresh(self) -> None:
        """Let each action say whether it can be done now."""
        holds = {name: ask() for name, ask in self._whens.items()}
        for act in ACTS:
            self._made[act.id].setEnabled(holds[act.when] if act.when else True)

    def say(self, id: str, text: str) -> None:
        """Give an action other words."""
        self._made[id].setText(text)

    def check(self, id: str) -> None:
        """Mark the one of a choice that holds."""
        self._made[id].setChecked(True)

    def action(self, id: str) -> QAction:
        """The live action, for a test or a button."""
        return self._made[id]


def _runner(deed: Callable[[], object]) -> Callable[[bool], None]:
    def run(_checked: bool) -> None:
        deed()

    return run


def key_sheet() -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
    """Every menu with its keys and what they do, for the sheet of keys."""
    sheet = []
    for title in MENUS:
        rows = tuple((_shown(act.keys[0]), act.text) for act in ACTS if act.menu == title and act.keys)
        if rows:
            sheet.append((title, rows))
    return tuple(sheet)


def _shown(keys: Keys) -> str:
    return QKeySequence(keys).toString(QKeySequence.SequenceFormat.NativeText)
