"""The hand that chooses things and moves them: on the floor with the mouse, along car axes with the keys."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from floorpan import edits
from floorpan.console import Envelope
from floorpan.errors import FloorpanError
from floorpan.frames import Vector
from floorpan.geometry.solids import Body
from floorpan.items import Vessel
from floorpan.layout import Layout, Thing
from floorpan_app.document import Document
from floorpan_app.stage import words
from floorpan_app.stage.hands.hand import NOTHING_DRAWN, Around, Drawn
from floorpan_app.stage.places import shifted_words
from floorpan_app.tools.drag import Drag, Way
from floorpan_app.tools.events import Modifiers, Pick, ToolEvent
from floorpan_app.tools.proposal import Proposal
from floorpan_app.tools.snapping import SnapLine
from floorpan_app.viewport.marks import Ghost, Path, Word
from floorpan_app.well_mates import chosen_in, left_out

_SNAPS: Final = (SnapLine(axis="y", at_mm=0.0, word=words.CENTRE_PLANE),)
_SNAP_LINE_MM: Final = 900.0
_STEP_MM: Final = 0.1


@dataclass(slots=True)
class _Moving:
    """A thing on its way: where it stood, and what it looked like there."""

    id: str
    name: str
    stood: Vector
    drag: Drag
    ghosts: tuple[Ghost, ...]
    by_keys: bool
    place: Vector
    begun_on: Layout
    way: Way = "floor"
    caught: tuple[SnapLine, ...] = ()


class MovingHand:
    """Chooses what is clicked; drags what is selected. A vessel in a well takes its holder along."""

    def __init__(self, around: Around) -> None:
        self._around = around
        self._moving: _Moving | None = None
        # Whether the button went down on the thing in hand: then letting go chooses nothing.
        self._on_thing = False

    def press(self, event: ToolEvent) -> None:
        self.settle()
        selected = self._around.desk.selection
        self._on_thing = event.hit is not None and event.hit.name in self._around.contents.names_of(selected)
        if not self._on_thing:
            return
        moving = self._take(selected, by_keys=False)
        if moving is not None:
            moving.drag.press(event)
            self._moving = moving

    def move(self, event: ToolEvent) -> None:
        moving = self._under_way()
        if moving is None or moving.by_keys:
            return
        # Held, Shift turns the drag upright; without it the thing keeps its height.
        way: Way = "z" if event.modifiers.shift else "floor"
        if way != moving.way:
            moving.way = way
            moving.drag.go(way)
        self._propose(moving, moving.drag.move(event))

    def release(self, event: ToolEvent) -> None:
        moving, self._moving = self._under_way(), None
        if moving is None:
            if not self._on_thing:
                self._choose(event)
            return
        done = moving.drag.release(event)
        if done is not None and _settled(moving, done.value) != moving.stood:
            self._keep(moving, _settled(moving, done.value))
        else:
            self._around.desk.document.drop_preview()
        self._around.rewrite()

    def key(self, name: str, modifiers: Modifiers) -> bool:
        selected = self._around.desk.selection
        if not selected or name in ("escape", "enter"):
            return False
        moving = self._under_way()
        if moving is not None and not moving.by_keys:
            return True
        if moving is None or moving.id != self._mover(selected):
            self.settle()
            moving = self._moving = self._take(selected, by_keys=True)
        if moving is None:
            return True
        right = moving_right(self._around)
        self._propose(moving, moving.drag.key(name, modifiers, right))
        return True

    def settle(self) -> None:
        moving = self._under_way()
        if moving is not None and moving.by_keys:
            self._moving = None
            if moving.place != moving.stood:
                self._keep(moving, moving.place)
            self._around.rewrite()

    def put_back(self) -> bool:
        if self._under_way() is None:
            return False
        self._moving = None
        self._around.desk.document.drop_preview()
        self._around.rewrite()
        return True

    def drawn(self) -> Drawn:
        moving = self._under_way()
        if moving is None:
            return NOTHING_DRAWN
        layout, system = self._around.desk.layout, self._around.desk.system
        step: Vector = tuple(now - then for now, then in zip(moving.place, moving.stood, strict=True))  # type: ignore[assignment]
        caught = [line for line in moving.caught if line.axis == "y"]
        x, _, z = moving.place
        ends = [[x + way * _SNAP_LINE_MM, line.at_mm, z] for line in caught for way in (-1.0, 1.0)]
        return Drawn(
            ghosts=moving.ghosts if moving.place != moving.stood else (),
            paths=(Path(points_mm=np.array(ends), role="accent", stroke="centre"),) if ends else (),
            words=tuple(
                Word(text=line.word, at_mm=(x - _SNAP_LINE_MM / 3, line.at_mm, z), away_px=(-40.0, -30.0))
                for line in caught
            ),
            moved=moving.id,
            told=shifted_words(step, layout, system),
        )

    def hint(self) -> str:
        thing = self._around.thing(self._around.desk.selection)
        if thing is None:
            return ""
        return words.LOCKED_HINT.format(name=thing.name) if thing.locked else words.DRAG_HINT

    # Inside.

    def _under_way(self) -> _Moving | None:
        """What is on its way; nothing once it was put back from elsewhere, as undo and redo do."""
        moving, document = self._moving, self._around.desk.document
        if moving is not None and is_put_back(document, moving.begun_on, gone=moving.place != moving.stood):
            self._moving = None
        return self._moving

    def _choose(self, event: ToolEvent) -> None:
        """Take what was clicked in hand; nothing where it was no thing."""
        around = self._around
        around.desk.select(clicked(around, event))

    def _mover(self, id: str) -> str:
        """What moves when a thing is moved: a vessel in a well goes with its holder."""
        thing = self._around.thing(id)
        return thing.stands_in if isinstance(thing, Vessel) and thing.stands_in else id

    def _take(self, id: str, *, by_keys: bool) -> _Moving | None:
        around = self._around
        thing = around.thing(self._mover(id))
        if thing is None:
            return None
        try:
            # Whether it may move at all is for the edits to say.
            edits.shift(around.desk.layout, thing.id, (0.0, 0.0, 0.0))
        except FloorpanError as fault:
            around.say(f"{fault.what} {fault.remedy}")
            return None
        at = (thing.place.x_mm, thing.place.y_mm, thing.place.z_mm)
        ghosts = tuple(Ghost(body=body) for body in self._bodies(thing))
        drag = Drag(at, snaps=_SNAPS)
        adopted = around.desk.document.adopted
        return _Moving(thing.id, thing.name, at, drag, ghosts, by_keys, at, adopted)

    def _bodies(self, thing: Thing) -> list[Body]:
        """The thing and the vessels that are drawn in it, each as one body, where they stand."""
        scene, state = self._around.scene(), self._around.state()
        unseen = left_out(scene.layout, state, chosen_in(self._around.desk))
        along = [v.id for v in scene.layout.of(Vessel) if v.stands_in == thing.id and v.id not in unseen]
        return [scene.body(id, state) for id in (thing.id, *along)]

    def _propose(self, moving: _Moving, proposal: Proposal[Vector] | None) -> None:
        if proposal is None:
            return
        place = _settled(moving, proposal.value)
        if place == moving.place:
            return
        id, before = moving.id, (moving.place, moving.caught)
        # Told before the preview is, so that one writing of the marks shows both.
        moving.place, moving.caught = place, proposal.caught
        if not self._around.desk.preview(lambda layout: _moved(layout, id, place)):
            moving.place, moving.caught = before
        if proposal.reason:
            self._around.say(proposal.reason)

    def _keep(self, moving: _Moving, place: Vector) -> None:
        id, told = moving.id, words.MOVED.format(name=moving.name)
        self._around.desk.change(told, lambda layout: _moved(layout, id, place))


def is_put_back(document: Document, begun_on: Layout, *, gone: bool) -> bool:
    """Whether what a hand shows was taken from it: another layout was adopted meanwhile, or nothing is tried any more.

    gone : whether the hand has anything to show
    """
    return document.adopted is not begun_on or (gone and not document.previewing)


def clicked(around: Around, event: ToolEvent) -> str:
    """The thing a click was on, empty for none; through a see-through console what stands in it is chosen first."""
    pick = event.hit
    passed: frozenset[str] = frozenset()
    first = ""
    while pick is not None:
        owner = around.contents.owner_of(pick.name)
        thing = around.thing(owner)
        if thing is None:
            break
        if not (isinstance(thing, Envelope) and around.contents.is_see_through(pick.name)):
            return owner
        first = first or owner
        passed |= {pick.name}
        pick = _behind(around, event, passed)
    return first


def moving_right(around: Around) -> Vector:
    """Where the right hand of the eye is in the car."""
    x, y, z = (float(value) for value in around.view.camera.eye.axes()[0])
    return x, y, z


def _behind(around: Around, event: ToolEvent, passed: frozenset[str]) -> Pick | None:
    return around.view.scene.pick(event.sight, without=passed)


def _moved(layout: Layout, id: str, place: Vector) -> Layout:
    return edits.move(layout, id, x_mm=place[0], y_mm=place[1], z_mm=place[2])


def _settled(moving: _Moving, wished: Vector) -> Vector:
    """To tenths of a millimetre, nobody sets a thing down finer; a way that was not gone stays as it was."""
    x, y, z = (
        stood if abs(value - stood) < _STEP_MM / 2 else round(round(value / _STEP_MM) * _STEP_MM, 4)
        for value, stood in zip(wished, moving.stood, strict=True)
    )
    return x, y, z
