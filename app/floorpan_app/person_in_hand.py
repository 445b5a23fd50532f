"""Which of the drivers is looked at: view state, not undoable, not in the layout."""

from floorpan.driver import Person
from floorpan.layout import Layout
from floorpan_app.desk import Desk


def take_person(desk: Desk, id: str) -> None:
    """Look at one driver, or at the design driver for an empty id."""
    if id != desk.person:
        desk.person = id
        desk.person_changed.emit(id)


def person_in_hand(desk: Desk, layout: Layout) -> Person | None:
    """The driver that is looked at: the one that was taken while it drives, else the design driver."""
    taken = (one for one in layout.people if one.id == desk.person and one.role == "driver")
    return next(taken, None) or layout.driver()
