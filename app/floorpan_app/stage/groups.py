"""What can be shown or hidden: the words under *Showing*, step by step."""

from typing import Final

from floorpan.console import Envelope
from floorpan.items import (
    Armrest,
    Buckle,
    Control,
    CupHolder,
    DashEdge,
    Door,
    Flap,
    Handbrake,
    KeepOut,
    MeshPart,
    Seat,
    Shifter,
    Vessel,
    Wheel,
)
from floorpan.layout import Layout, Step, Thing
from floorpan_app.widgets.words import Word

SCAN, UNSEEN, SEATS, DRIVER, CONTROLS, CUP, CONSOLE, PLACED, PICKS, GAPS, REACH = (
    "scan",
    "unseen",
    "seats",
    "driver",
    "controls",
    "cup",
    "console",
    "placed",
    "picks",
    "gaps",
    "reach",
)
WORDS: Final = {
    SCAN: "scan",
    UNSEEN: "unseen",
    SEATS: "seats",
    DRIVER: "driver",
    CONTROLS: "controls",
    CUP: "cup",
    CONSOLE: "console",
    PLACED: "what is placed",
    PICKS: "picks",
    GAPS: "gaps",
    REACH: "reach",
}
_FITTED = (SCAN, UNSEEN, SEATS, DRIVER, CONTROLS, CUP, CONSOLE, GAPS)
_WORDS_OF: Final[dict[Step, tuple[str, ...]]] = {
    "scan": (SCAN, UNSEEN, PLACED),
    "axes": (SCAN, UNSEEN, PICKS, PLACED),
    "floor": (SCAN, UNSEEN, SEATS, CONSOLE, GAPS),
    "driver": (SCAN, SEATS, DRIVER, REACH, CONTROLS, CONSOLE, GAPS),
}
# On these steps the scan is looked at by itself, until somebody asks for the rest.
SCAN_STEPS: Final[tuple[Step, ...]] = ("scan", "axes")
_OF_MESH: Final = {"seat": SEATS, "vessel": CUP, "console shell": CONSOLE}
_STANDS_IN: Final = {SEATS: SEATS, DRIVER: DRIVER, CONTROLS: CONTROLS, CUP: CUP, CONSOLE: CONSOLE}


def group_of(thing: Thing) -> str:
    """The word a placed thing is shown and hidden by."""
    if isinstance(thing, Seat):
        return SEATS
    if isinstance(thing, Flap | DashEdge | Door):
        return CONTROLS
    if isinstance(thing, Shifter | Handbrake | Buckle | Armrest | Wheel | KeepOut | Control):
        return CONTROLS
    if isinstance(thing, CupHolder | Vessel):
        return CUP
    if isinstance(thing, MeshPart):
        return _OF_MESH.get(thing.counts_as, CONTROLS)
    assert isinstance(thing, Envelope)
    return CONSOLE


class Showing:
    """Which groups are shown; a word put away in one step stays away in the next."""

    def __init__(self) -> None:
        self._hidden: set[str] = set()
        self._wanted: set[str] = set()

    def words(self, step: Step, layout: Layout) -> tuple[Word, ...]:
        """The words of a step, of what is there."""
        there = {group_of(thing) for thing in layout.things()}
        if layout.driver() is not None:
            there |= {DRIVER, REACH}
        needs = {SEATS, DRIVER, REACH, CONTROLS, CUP, CONSOLE}
        ids = [id for id in _WORDS_OF.get(step, _FITTED) if id not in needs or id in there]
        if PLACED in ids and not there:
            ids.remove(PLACED)
        return tuple(Word(id=id, word=WORDS[id], on=self.is_on(id, step)) for id in ids)

    def show(self, id: str, on: bool) -> None:
        """Show or hide a group."""
        self._hidden.discard(id)
        self._wanted.discard(id)
        (self._wanted if on else self._hidden).add(id)

    def is_on(self, id: str, step: Step) -> bool:
        """Whether a group is shown in a step."""
        if step in SCAN_STEPS and (id == PLACED or id in _STANDS_IN):
            return PLACED in self._wanted
        return id not in self._hidden

    def is_bare(self, step: Step) -> bool:
        """Whether the scan is looked at by itself."""
        return step in SCAN_STEPS and PLACED not in self._wanted
