"""A click on the floor sets a thing down; until then its ghost follows the mouse."""

from dataclasses import dataclass

from floorpan_app.tools.events import Modifiers, ToolEvent, Vector
from floorpan_app.tools.lines_and_planes import crossing, triple
from floorpan_app.tools.proposal import Proposal
from floorpan_app.tools.snapping import Snap, snapped


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a thing is to stand: a point [mm], what it stands on, None where nothing was seen there."""

    point_mm: Vector
    on: str | None


class Place:
    """Proposes spots on what may be stood on; beside it, on a level plane, so that the ghost never jumps away.

    names    : what may be stood on
    level_mm : height of the plane where the mouse meets nothing
    snaps    : lines taken hold of within six pixels; Alt lets go
    """

    def __init__(self, names: frozenset[str], level_mm: float = 0.0, snaps: tuple[Snap, ...] = ()) -> None:
        self._names = names
        self._level_mm = level_mm
        self._snaps = snaps

    def press(self, event: ToolEvent) -> Proposal[Spot] | None:
        """It is set down when the button comes up, so that a drag may still turn the view."""
        return None

    def move(self, event: ToolEvent) -> Proposal[Spot] | None:
        return self._spot(event)

    def release(self, event: ToolEvent) -> Proposal[Spot] | None:
        proposed = self._spot(event)
        if proposed is None:
            return None
        return Proposal(value=proposed.value, kind="done", caught=proposed.caught)

    def key(self, name: str, modifiers: Modifiers, right: Vector = (1.0, 0.0, 0.0)) -> Proposal[Spot] | None:
        return None

    def _spot(self, event: ToolEvent) -> Proposal[Spot] | None:
        on = event.hit.name if event.hit is not None and event.hit.name in self._names else None
        if event.hit is not None and on is not None:
            point = event.hit.point_mm
        else:
            level = (0.0, 0.0, self._level_mm)
            crossed = crossing(level, (0.0, 0.0, 1.0), event.sight.origin_mm, event.sight.direction)
            if crossed is None:
                return None
            point = triple(crossed)
        if event.modifiers.alt:
            return Proposal(value=Spot(point_mm=point, on=on))
        point, caught = snapped(point, self._snaps, event.sight.mm_per_pixel(point), ("x", "y"))
        return Proposal(value=Spot(point_mm=point, on=on), caught=caught)
