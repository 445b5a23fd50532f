"""What a tool answers, and what every tool can be asked."""

from dataclasses import dataclass
from typing import Generic, Literal, Protocol, TypeVar

from floorpan_app.tools.events import Modifiers, ToolEvent, Vector
from floorpan_app.tools.snapping import SnapLine

Value = TypeVar("Value", covariant=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal(Generic[Value]):
    """A value the tool proposes.

    kind   : `preview` while the hand still moves, `done` for one entry in the history, `back` puts back what was
    caught : the lines it snapped to, shown for as long as it holds
    reason : why it went no farther, for the status line
    """

    value: Value
    kind: Literal["preview", "done", "back"] = "preview"
    caught: tuple[SnapLine, ...] = ()
    reason: str = ""


class Tool(Protocol[Value]):
    """Press, move and release of the left button, and keys; None where there is nothing to propose."""

    def press(self, event: ToolEvent) -> Proposal[Value] | None:
        """The button goes down."""
        ...

    def move(self, event: ToolEvent) -> Proposal[Value] | None:
        """The mouse moves; `event.held` says whether the button is down."""
        ...

    def release(self, event: ToolEvent) -> Proposal[Value] | None:
        """The button comes up."""
        ...

    def key(self, name: str, modifiers: Modifiers, right: Vector = (1.0, 0.0, 0.0)) -> Proposal[Value] | None:
        """A key by the name the viewport gives it; `right` is where the right hand of the eye is in the car."""
        ...
