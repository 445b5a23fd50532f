"""The hand that turns the thing in hand about the upright line through its place."""

from dataclasses import dataclass

from floorpan import edits
from floorpan.errors import FloorpanError
from floorpan.layout import Layout
from floorpan.units import show_number
from floorpan_app.stage import words
from floorpan_app.stage.hands.hand import NOTHING_DRAWN, Around, Drawn
from floorpan_app.stage.hands.moving import clicked, is_put_back
from floorpan_app.tools.events import Modifiers, ToolEvent
from floorpan_app.tools.proposal import Proposal
from floorpan_app.tools.turn import Turn
from floorpan_app.viewport.marks import Ghost


@dataclass(slots=True)
class _Turning:
    id: str
    name: str
    stood_deg: float
    turn: Turn
    ghost: Ghost
    by_keys: bool
    angle_deg: float
    begun_on: Layout


class TurningHand:
    """Drags and keys turn what is selected; a click elsewhere chooses another thing."""

    def __init__(self, around: Around) -> None:
        self._around = around
        self._turning: _Turning | None = None
        # Whether the button went down on the thing in hand: then letting go chooses nothing.
        self._on_thing = False

    def press(self, event: ToolEvent) -> None:
        self.settle()
        selected = self._around.desk.selection
        self._on_thing = event.hit is not None and event.hit.name in self._around.contents.names_of(selected)
        if not self._on_thing:
            return
        turning = self._take(by_keys=False)
        if turning is not None:
            turning.turn.press(event)
            self._turning = turning

    def move(self, event: ToolEvent) -> None:
        turning = self._under_way()
        if turning is not None and not turning.by_keys:
            self._propose(turning, turning.turn.move(event))

    def release(self, event: ToolEvent) -> None:
        turning, self._turning = self._under_way(), None
        if turning is None:
            if not self._on_thing:
                self._around.desk.select(clicked(self._around, event))
            return
        done = turning.turn.release(event)
        if done is not None:
            self._keep(turning, done.value)
        else:
            self._around.desk.document.drop_preview()
        self._around.rewrite()

    def key(self, name: str, modifiers: Modifiers) -> bool:
        if not self._around.desk.selection or name in ("escape", "enter"):
            return False
        if self._under_way() is None:
            self._turning = self._take(by_keys=True)
        turning = self._turning
        if turning is not None and turning.by_keys:
            self._propose(turning, turning.turn.key(name, modifiers))
        return True

    def settle(self) -> None:
        turning = self._under_way()
        if turning is not None and turning.by_keys:
            self._turning = None
            if turning.angle_deg != turning.stood_deg:
                self._keep(turning, turning.angle_deg)
            self._around.rewrite()

    def put_back(self) -> bool:
        if self._under_way() is None:
            return False
        self._turning = None
        self._around.desk.document.drop_preview()
        self._around.rewrite()
        return True

    def drawn(self) -> Drawn:
        turning = self._under_way()
        if turning is None:
            return NOTHING_DRAWN
        by = turning.angle_deg - turning.stood_deg
        told = words.TURNED_BY.format(n=show_number(abs(by))) if abs(by) >= 0.05 else ""
        return Drawn(ghosts=(turning.ghost,) if told else (), moved=turning.id, told=told)

    def hint(self) -> str:
        return words.TURN_HINT

    def _under_way(self) -> _Turning | None:
        """What is being turned; nothing once it was put back from elsewhere."""
        turning, document = self._turning, self._around.desk.document
        if turning is not None:
            gone = turning.angle_deg != turning.stood_deg
            if is_put_back(document, turning.begun_on, gone=gone):
                self._turning = None
        return self._turning

    def _take(self, *, by_keys: bool) -> _Turning | None:
        around = self._around
        thing = around.thing(around.desk.selection)
        if thing is None:
            return None
        try:
            edits.turn(around.desk.layout, thing.id, 0.0)
        except FloorpanError as fault:
            around.say(f"{fault.what} {fault.remedy}")
            return None
        at = (thing.place.x_mm, thing.place.y_mm, thing.place.z_mm)
        stood = thing.place.turn_deg
        ghost = Ghost(body=around.scene().body(thing.id, around.state()))
        adopted = around.desk.document.adopted
        return _Turning(thing.id, thing.name, stood, Turn(at, stood), ghost, by_keys, stood, adopted)

    def _propose(self, turning: _Turning, proposal: Proposal[float] | None) -> None:
        if proposal is None:
            return
        angle = round(proposal.value, 1)
        id, by, before = turning.id, angle - turning.stood_deg, turning.angle_deg
        # Told before the preview is, so that one writing of the marks shows both.
        turning.angle_deg = angle
        if not self._around.desk.preview(lambda layout: edits.turn(layout, id, by)):
            turning.angle_deg = before

    def _keep(self, turning: _Turning, angle_deg: float) -> None:
        id, by = turning.id, round(angle_deg, 1) - turning.stood_deg

        def turned(layout: Layout) -> Layout:
            return edits.turn(layout, id, by)

        self._around.desk.change(words.TURNED.format(name=turning.name), turned)
