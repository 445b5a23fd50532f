"""Which hand is in the viewport: by the tool on the desk, and what Esc and a click mean to it."""

from PySide6.QtCore import QObject

from floorpan import edits
from floorpan.layout import Layout
from floorpan_app.stage import words
from floorpan_app.stage.hands.cropping import CroppingHand
from floorpan_app.stage.hands.hand import Around, Drawn, Hand
from floorpan_app.stage.hands.measuring import MeasuringHand
from floorpan_app.stage.hands.moving import MovingHand
from floorpan_app.stage.hands.outlining import OutliningHand
from floorpan_app.stage.hands.painting import PaintingHand
from floorpan_app.stage.hands.picking import PickingHand
from floorpan_app.stage.hands.placing import PlacingHand
from floorpan_app.stage.hands.pointing import PointingHand
from floorpan_app.stage.hands.turning import TurningHand
from floorpan_app.stage.verbs import BRUSH, CROP, LOCK, MEASURE, MIRROR, OUTLINE, PICK, PLACE, POINT, TURN
from floorpan_app.tools.events import Modifiers, ToolEvent


class Holding(QObject):
    """Hands the viewport's events to the tool in hand, and takes up another when the desk does."""

    def __init__(self, around: Around, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._around = around
        self._hand: Hand = MovingHand(around)
        self._adopted = around.desk.document.adopted
        view, desk = around.view, around.desk
        view.pressed.connect(self._press)
        view.moved.connect(self._move)
        view.released.connect(self._release)
        desk.tool_changed.connect(self._take_up)
        desk.selection_changed.connect(self._other_thing)
        desk.step_changed.connect(self._say_hint)
        desk.document.history_changed.connect(self._deed_done)

    @property
    def hand(self) -> Hand:
        """The hand in the viewport."""
        return self._hand

    def drawn(self) -> Drawn:
        """What the hand writes over the picture."""
        return self._hand.drawn()

    def key(self, name: str, modifiers: Modifiers) -> bool:
        """A key for the tool in hand; whether it was used."""
        return self._hand.key(name, modifiers)

    def settle(self) -> None:
        """The key is up: what it proposed is kept."""
        self._hand.settle()

    def escape(self) -> bool:
        """Put it back, then leave the tool, then let go of the thing in hand; whether there was any."""
        desk = self._around.desk
        if self._hand.put_back():
            self._say_hint()
            return True
        if desk.tool:
            desk.use_tool("")
        elif desk.selection:
            desk.select("")
        else:
            return False
        return True

    def do_at_once(self, verb: str) -> None:
        """Mirror or lock the thing in hand."""
        desk = self._around.desk
        thing = self._around.thing(desk.selection)
        if thing is None:
            return
        self._hand.settle()
        id, held = thing.id, thing.locked

        def mirrored(layout: Layout) -> Layout:
            return edits.mirror(layout, id)

        def locked(layout: Layout) -> Layout:
            return edits.lock(layout, id, not held)

        if verb == MIRROR:
            desk.change(words.MIRRORED.format(name=thing.name), mirrored)
        else:
            told = words.UNLOCKED if held else words.LOCKED
            desk.change(told.format(name=thing.name), locked)

    def _take_up(self, tool: str) -> None:
        self._hand.settle()
        self._hand.put_back()
        if tool in (MIRROR, LOCK):
            self.do_at_once(tool)
            self._around.desk.use_tool("")
            return
        self._hand = self._made(tool)
        self._say_hint()

    def _made(self, tool: str) -> Hand:
        around = self._around
        if tool == CROP:
            return CroppingHand(around)
        if tool == OUTLINE:
            return OutliningHand(around)
        if tool == BRUSH:
            return PaintingHand(around)
        if tool == TURN:
            return TurningHand(around)
        if tool == MEASURE:
            return MeasuringHand(around)
        if tool.startswith(PICK):
            return PickingHand(around, tool.removeprefix(PICK))
        if tool.startswith(POINT):
            return PointingHand(around, tool.removeprefix(POINT))
        if tool.startswith(PLACE):
            return PlacingHand(around, tool.removeprefix(PLACE))
        return MovingHand(around)

    def _other_thing(self, _id: str) -> None:
        self._hand.settle()
        self._say_hint()

    def _deed_done(self) -> None:
        """What was said of the deed before goes, and what the hand can do is said again."""
        adopted = self._around.desk.document.adopted
        if adopted is not self._adopted:
            self._adopted = adopted
            self._say_hint()

    def _say_hint(self, _step: str = "") -> None:
        self._around.say(self._hand.hint())

    def _press(self, event: ToolEvent) -> None:
        self._hand.press(event)

    def _move(self, event: ToolEvent) -> None:
        self._hand.move(event)

    def _release(self, event: ToolEvent) -> None:
        self._hand.release(event)
