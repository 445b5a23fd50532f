"""What the actions do that need a project's works, and what must hold for them, by the names of the table."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, cast

from floorpan_app.messages import STEP_WORDS

if TYPE_CHECKING:
    from floorpan.layout import Step
    from floorpan_app.window.works import Works

Deed = Callable[["Works"], object]
When = Callable[["Works"], bool]

PLACED = (
    "seat",
    "shifter",
    "handbrake",
    "buckle",
    "armrest",
    "wheel",
    "keep-out",
    "flap",
    "dash edge",
    "door",
    "switch",
    "cup holder",
    "vessel",
    "console",
)


def late_deeds() -> dict[str, Deed]:
    """Deeds by the id of their action."""
    deeds: dict[str, Deed] = {
        "start": lambda works: works.flow.start_from_scan(),
        "add scan": lambda works: works.flow.add_scan(),
        "vessel from scan": lambda works: works.flow.place_vessel(),
        "part from file": lambda works: works.flow.place_part(),
        "open": lambda works: works.flow.open_asked(),
        "sample": lambda works: works.flow.open_sample(),
        "save": lambda works: works.keeping.save(),
        "copy": lambda works: works.keeping.save_copy(),
        "version": lambda works: works.keeping.save_version(),
        "version back": lambda works: works.keeping.back_to_version(),
        "where": lambda works: works.keeping.show_where(),
        "close": lambda works: works.flow.close_project(),
        "undo": _undo,
        "redo": lambda works: works.session.document.redo(),
        "remove": lambda works: works.session.remove_selected(),
        "drawer": _toggle_drawer,
        "drawer side": _swap_drawer,
        "next area": partial(_walk_areas, step=1),
        "area before": partial(_walk_areas, step=-1),
        "next finding": lambda works: works.session.walk_findings(1),
        "finding before": lambda works: works.session.walk_findings(-1),
        "accept": lambda works: works.accept(),
        "judge": lambda works: works.session.judging.again(),
        "checklist": lambda works: works.checklist().write(),
        "tape sheet": lambda works: works.tape_sheet().write(),
        "report": lambda works: works.papers().write(),
        "thin copy": lambda works: works.thin_copy().write(),
    }
    deeds |= {f"step {step}": partial(_go_to, step=step) for step in STEP_WORDS}
    return deeds | {f"place {kind}": partial(_place, kind=kind) for kind in PLACED}


def late_whens() -> dict[str, When]:
    """What must hold while a project is on the bench."""
    return {
        "project": lambda works: True,
        "writable": lambda works: not works.session.projects.is_looked_at(),
        "to save": lambda works: works.session.projects.is_unsaved(),
        # In a drag it puts that drag back, also where nothing was done before.
        "undo": lambda works: bool(works.session.document.undo_words()) or works.session.document.previewing,
        "redo": lambda works: bool(works.session.document.redo_words()),
        "selection": lambda works: bool(works.session.desk.selection),
        "floor": lambda works: works.session.has_floor(),
        "writable floor": lambda works: (
            works.session.has_floor() and not works.session.projects.is_looked_at()
        ),
        "set scan": lambda works: works.session.scan_is_set(),
        "findings": lambda works: bool(works.session.judging.findings),
        "acceptable": lambda works: works.can_accept(),
    }


def _undo(works: "Works") -> None:
    """While something is dragged it is put back, and what was done before stays."""
    document = works.session.document
    if document.previewing:
        document.drop_preview()
    else:
        document.undo()


def _toggle_drawer(works: "Works") -> None:
    if works.page is not None:
        works.page.toggle_drawer()


def _swap_drawer(works: "Works") -> None:
    if works.page is not None:
        works.page.swap_drawer()


def _walk_areas(works: "Works", *, step: int) -> None:
    if works.page is not None:
        works.page.walk(step)


def _go_to(works: "Works", *, step: str) -> None:
    works.session.desk.go_to(cast("Step", step))


def _place(works: "Works", *, kind: str) -> None:
    works.session.place(kind)
