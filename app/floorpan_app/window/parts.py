"""What the bench is put together from: the picture of the car, what fills it, the tools and the cards.

The window knows them by these faces only, so that a test can hand in plain ones.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from PySide6.QtWidgets import QWidget

from floorpan.checks import Finding
from floorpan.derive import Bench
from floorpan.items.states import State
from floorpan.layout import Layout, Step
from floorpan.project.strict_json import Json
from floorpan_app.desk import Desk
from floorpan_app.theme.record import Theme
from floorpan_app.widgets.verb_button import Verb
from floorpan_app.widgets.words import Word

if TYPE_CHECKING:
    from floorpan.report.pictures import Renderer


class Picture(Protocol):
    """The viewport, as far as the window is concerned."""

    def widget(self) -> QWidget:
        """What is laid out."""

    def set_theme(self, theme: Theme) -> None:
        """Take another theme."""

    def set_insets(self, top: float, bottom: float) -> None:
        """How much of the upper and lower edge other pieces cover."""

    def on_camera(self, told: Callable[[], None]) -> None:
        """Call back whenever the camera moved."""

    def on_ticket(self, clicked: Callable[[str], None], pointed: Callable[[str], None]) -> None:
        """Call back with the id of a ticket that was clicked or pointed at."""

    def seen_from(self) -> str:
        """Which of the words under *Seen from* holds."""

    def view(self) -> dict[str, Json]:
        """How one looks, as it is kept in the project."""

    def look(self, view: Mapping[str, Json]) -> None:
        """Look so again; what does not fit is left out."""

    def close(self) -> None:
        """Let the picture go, before the window goes."""


class Filling(Protocol):
    """What puts the car into the picture."""

    def showing(self) -> tuple[Word, ...]:
        """What can be shown or hidden in the step in hand."""

    def show(self, word: str, on: bool) -> None:
        """Show or hide it."""

    def see_from(self, word: str) -> None:
        """Look from one of the words under *Seen from*."""

    def turn_to(self, finding: Finding) -> None:
        """Turn the view to a finding's place."""

    def stop(self) -> None:
        """Make nothing more, before the picture goes."""


class MakeRenderer(Protocol):
    """Draws the car for the report, off the screen."""

    def available(self) -> bool:
        """Whether that can be done here; may take a second, and may be asked in another thread."""

    def make(self, layout: Layout, bench: Bench, state: State) -> "Renderer":
        """A renderer of a layout in a state; it is asked for pictures in the window's thread."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """Everything the bench needs that is not the window's own.

    verbs    : of a step, for the tool roll
    cards    : what makes the card of a step, called when it is first taken in hand
    renderer : None where reports get drawings only
    """

    picture: Picture
    filling: Filling
    verbs: Callable[[Step], tuple[Verb, ...]]
    cards: Mapping[str, Callable[[], QWidget]]
    renderer: MakeRenderer | None = None


MakeParts = Callable[[Desk, Theme, QWidget], Parts]
