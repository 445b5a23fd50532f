"""The hand that picks points on the scan for the axes; they are kept in the scan's own coordinates."""

import itertools
import string
from collections.abc import Iterator
from typing import Final, cast

import numpy as np

from floorpan import edits
from floorpan.frames import STILL, Vector
from floorpan.layout import Layout, ScanRef
from floorpan.scan.axes import AxisPick, Role
from floorpan_app.stage import words
from floorpan_app.stage.hands.hand import NOTHING_DRAWN, Around, Drawn
from floorpan_app.tools.events import Modifiers, Pick, ToolEvent
from floorpan_app.tools.pick_point import PickPoint
from floorpan_app.viewport.marks import PickMark

# Of these there is one: a new one takes its place.
_LONE: Final = ("origin", "front", "above")


class PickingHand:
    """Picks points of one role; a pair takes two clicks, the left one first."""

    def __init__(self, around: Around, role: str) -> None:
        self._around = around
        self._role = role
        self._first: tuple[str, Vector, Vector] | None = None

    def press(self, event: ToolEvent) -> None:
        """A pick is taken when the button comes up."""

    def move(self, event: ToolEvent) -> None:
        """The cross under the mouse is the mouse itself."""

    def release(self, event: ToolEvent) -> None:
        names = self._around.ground.names()
        proposal = PickPoint(names).release(event)
        if proposal is None:
            self._around.say(words.NOT_ON_SCAN)
            return
        scan = self._scan(proposal.value)
        seen = self._around.ground.exact(proposal.value, event.sight)
        at = _vector((scan.pose or STILL).inverse().apply(np.array(seen)))
        if self._role == "pair":
            self._pick_of_pair(scan, at, seen)
        else:
            self._pick(scan, at)

    def key(self, name: str, modifiers: Modifiers) -> bool:
        return False

    def settle(self) -> None:
        """Keys propose nothing here."""

    def put_back(self) -> bool:
        if self._first is None:
            return False
        self._first = None
        self._around.say(self.hint())
        self._around.rewrite()
        return True

    def drawn(self) -> Drawn:
        if self._first is None:
            return NOTHING_DRAWN
        letter, _, seen = self._first
        return Drawn(picks=(PickMark(letter=letter, at_mm=seen, lit=True),))

    def hint(self) -> str:
        role = "pair second" if self._role == "pair" and self._first is not None else self._role
        return words.PICK_HINTS.get(role, words.PICK_HINTS["point"])

    def _scan(self, pick: Pick) -> ScanRef:
        """The scan whose axes a pick counts for: of a joined one, the scan that carries it."""
        layout = self._around.desk.layout
        scan = layout.scan(pick.name.partition(".")[0])
        return scan if scan.joined is None or scan.pose is None else layout.scan(scan.joined.onto)

    def _pick(self, scan: ScanRef, at: Vector) -> None:
        role = cast(Role, "level" if self._role == "point" else self._role)
        gone = [pick for pick in scan.picks if role in _LONE and pick.role == role]
        letter = gone[0].id if gone else next(letters(scan))
        kept = tuple(pick for pick in scan.picks if pick not in gone)
        self._keep(
            words.PICKED.format(letter=letter), scan, (*kept, AxisPick(id=letter, at_mm=at, role=role))
        )

    def _pick_of_pair(self, scan: ScanRef, at: Vector, seen: Vector) -> None:
        if self._first is None:
            self._first = (next(letters(scan)), at, seen)
            self._around.say(self.hint())
            self._around.rewrite()
            return
        first, first_at, _ = self._first
        second = next(letter for letter in letters(scan) if letter != first)
        self._first = None
        pair = (
            AxisPick(id=first, at_mm=first_at, role="pair", side="left", partner=second),
            AxisPick(id=second, at_mm=at, role="pair", side="right", partner=first),
        )
        self._keep(words.PICKED_PAIR.format(first=first, second=second), scan, (*scan.picks, *pair))
        self._around.say(self.hint())

    def _keep(self, told: str, scan: ScanRef, picks: tuple[AxisPick, ...]) -> None:
        id = scan.id

        def picked(layout: Layout) -> Layout:
            return edits.set_picks(layout, id, picks)

        self._around.desk.change(told, picked)


def letters(scan: ScanRef) -> Iterator[str]:
    """Letters that no pick of a scan carries yet: A to Z, then AA and on."""
    taken = {pick.id for pick in scan.picks}
    for length in itertools.count(1):
        for made in itertools.product(string.ascii_uppercase, repeat=length):
            letter = "".join(made)
            if letter not in taken:
                yield letter


def _vector(values: object) -> Vector:
    x, y, z = (float(value) for value in np.asarray(values))
    return x, y, z
