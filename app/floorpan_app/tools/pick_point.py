"""A click on the scan picks a point."""

from floorpan_app.tools.events import Modifiers, Pick, ToolEvent, Vector
from floorpan_app.tools.proposal import Proposal


class PickPoint:
    """Proposes what the mouse is on while it moves, and takes it at a click. `names` limits what can be picked."""

    def __init__(self, names: frozenset[str] | None = None) -> None:
        self._names = names

    def press(self, event: ToolEvent) -> Proposal[Pick] | None:
        """A pick is taken when the button comes up, so that a drag may still turn the view."""
        return None

    def move(self, event: ToolEvent) -> Proposal[Pick] | None:
        hit = self._taken(event)
        return None if hit is None else Proposal(value=hit)

    def release(self, event: ToolEvent) -> Proposal[Pick] | None:
        hit = self._taken(event)
        return None if hit is None else Proposal(value=hit, kind="done")

    def key(self, name: str, modifiers: Modifiers, right: Vector = (1.0, 0.0, 0.0)) -> Proposal[Pick] | None:
        return None

    def _taken(self, event: ToolEvent) -> Pick | None:
        if event.hit is None or (self._names is not None and event.hit.name not in self._names):
            return None
        return event.hit
