"""What every hand can be asked, and what it may reach for."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from floorpan.derive import Scene
from floorpan.items.states import State
from floorpan.layout import Thing
from floorpan_app.desk import Desk
from floorpan_app.stage.contents import Contents
from floorpan_app.stage.ground import Ground
from floorpan_app.tools.events import Modifiers, ToolEvent
from floorpan_app.viewport.marks import CropBoxMark, Dimension, Ghost, Path, PickMark, Word
from floorpan_app.viewport.view import Viewport


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """What a hand writes over the picture while it holds something.

    moved     : id of the thing that is being moved, empty for none
    told      : a few words for its tag, as how far it is from where it stood
    """

    paths: tuple[Path, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    words: tuple[Word, ...] = ()
    ghosts: tuple[Ghost, ...] = ()
    picks: tuple[PickMark, ...] = ()
    crop_box: CropBoxMark | None = None
    moved: str = ""
    told: str = ""


NOTHING_DRAWN = Drawn()


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """What a hand has about it: the desk, the picture and what is in it. `rewrite` writes the marks again."""

    desk: Desk
    view: Viewport
    ground: Ground
    contents: Contents
    scene: Callable[[], Scene]
    state: Callable[[], State]
    rewrite: Callable[[], None]

    def thing(self, id: str) -> Thing | None:
        """The placed thing of an id; None where there is none."""
        return next((thing for thing in self.desk.layout.things() if thing.id == id), None)

    def say(self, words: str) -> None:
        """Tell something in the status line."""
        self.desk.hinted.emit(words)


class Hand(Protocol):
    """One tool in hand. What it has begun can be put back; what it has proposed by keys is settled later."""

    def press(self, event: ToolEvent) -> None:
        """The left button goes down."""
        ...

    def move(self, event: ToolEvent) -> None:
        """The mouse moves."""
        ...

    def release(self, event: ToolEvent) -> None:
        """The left button comes up."""
        ...

    def key(self, name: str, modifiers: Modifiers) -> bool:
        """A key by the name the viewport gives it; whether it was used."""
        ...

    def settle(self) -> None:
        """Keep what the keys have proposed: the key is up."""
        ...

    def put_back(self) -> bool:
        """Put back what was begun; whether there was anything."""
        ...

    def drawn(self) -> Drawn:
        """What it writes over the picture."""
        ...

    def hint(self) -> str:
        """What it can do, for the status line."""
        ...
