"""The hand that sets a new thing down where one clicks; its outline goes before."""

from dataclasses import replace
from typing import Final

from floorpan import edits
from floorpan.items import CupHolder
from floorpan.layout import Layout, Thing, record_of
from floorpan_app.stage import words
from floorpan_app.stage.groups import CONSOLE, CUP
from floorpan_app.stage.hands.hand import NOTHING_DRAWN, Around, Drawn
from floorpan_app.stage.new_things import new_thing
from floorpan_app.tools.events import Modifiers, ToolEvent
from floorpan_app.tools.place import Place, Spot
from floorpan_app.tools.proposal import Proposal
from floorpan_app.viewport.marks import Ghost

# What a kind may be set down on beside the scan, by the words it is shown by.
_STOOD_ON: Final = {
    "handbrake": (CONSOLE,),
    "armrest": (CONSOLE,),
    "keep-out": (CONSOLE,),
    "flap": (CONSOLE,),
    "switch": (CONSOLE,),
    "cup holder": (CONSOLE, CUP),
    "vessel": (CONSOLE, CUP),
}


class PlacingHand:
    """Sets one thing of a kind down, takes it in hand and puts itself away."""

    def __init__(self, around: Around, kind: str) -> None:
        self._around = around
        self._kind = kind
        self._level_mm = 0.0
        self._tool = self._made()
        self._ghost: Ghost | None = None

    def press(self, event: ToolEvent) -> None:
        self._tool.press(event)

    def move(self, event: ToolEvent) -> None:
        proposal = self._tool.move(self._through(event))
        before, self._ghost = self._ghost, None
        thing = self._thing(proposal)
        if thing is not None:
            record = record_of(thing)
            body = tuple(
                solid for part in record.parts(thing) for solid in record.envelope(thing, part.name, {})
            )
            self._ghost = Ghost(body=body)
        if before is not None or self._ghost is not None:
            self._around.rewrite()

    def release(self, event: ToolEvent) -> None:
        thing = self._thing(self._tool.release(self._through(event)))
        if thing is None:
            self._around.say(words.NO_AXES if self._around.ground.pose is None else words.NOT_SCANNED_THERE)
            return
        added: list[str] = []

        def add(layout: Layout) -> Layout:
            layout, id = edits.add(layout, thing)
            added.append(id)
            return layout

        desk = self._around.desk
        if desk.change(words.PLACED.format(name=thing.name), add):
            self._ghost = None
            desk.use_tool("")
            desk.select(added[-1])

    def key(self, name: str, modifiers: Modifiers) -> bool:
        return False

    def settle(self) -> None:
        """Keys propose nothing here."""

    def put_back(self) -> bool:
        return False

    def drawn(self) -> Drawn:
        return NOTHING_DRAWN if self._ghost is None else Drawn(ghosts=(self._ghost,))

    def hint(self) -> str:
        if self._kind == "vessel":
            return words.PLACE_IN_HINT
        return words.PLACE_HINT.format(kind=self._kind)

    def _made(self) -> Place:
        """The tool; what may be stood on is the scan, the console, and for a vessel its holder."""
        held = self._around.contents.held().values()
        groups = _STOOD_ON.get(self._kind, ())
        on = {figure.name for figure in held if figure.group in groups}
        return Place(self._around.ground.names() | on, self._level_mm)

    def _through(self, event: ToolEvent) -> ToolEvent:
        """A vessel goes into the well one sees through the console."""
        around = self._around
        if self._kind != "vessel" or event.hit is None or not around.contents.is_see_through(event.hit.name):
            return event
        behind = around.view.scene.pick(event.sight, without=around.contents.see_through())
        holder = around.thing(around.contents.owner_of(behind.name)) if behind is not None else None
        return replace(event, hit=behind) if isinstance(holder, CupHolder) else event

    def _thing(self, proposal: Proposal[Spot] | None) -> Thing | None:
        """The thing at a proposed spot; None where nothing can stand."""
        if proposal is None or proposal.value.on is None or self._around.ground.pose is None:
            return None
        on = self._around.thing(self._around.contents.owner_of(proposal.value.on))
        if self._kind == "cup holder" and isinstance(on, CupHolder):
            return None
        return new_thing(self._kind, self._around.desk.layout, proposal.value.point_mm, on)
