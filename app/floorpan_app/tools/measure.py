"""From one picked point to another: how far, and how far each way."""

import math
from dataclasses import dataclass

from floorpan_app.tools.events import Modifiers, ToolEvent, Vector
from floorpan_app.tools.proposal import Proposal


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """Two points [mm] in the car; one point so far where they are the same."""

    first_mm: Vector
    second_mm: Vector

    @property
    def step_mm(self) -> Vector:
        """How far it goes rearward, to the right and up [mm]."""
        x, y, z = (b - a for a, b in zip(self.first_mm, self.second_mm, strict=True))
        return x, y, z

    @property
    def distance_mm(self) -> float:
        """The straight distance [mm]."""
        return math.dist(self.first_mm, self.second_mm)


class Measure:
    """Two clicks measure; the next click begins again. Escape forgets the first."""

    def __init__(self) -> None:
        self._first: Vector | None = None

    def press(self, event: ToolEvent) -> Proposal[Measured] | None:
        """A point is taken when the button comes up, so that a drag may still turn the view."""
        return None

    def move(self, event: ToolEvent) -> Proposal[Measured] | None:
        if event.hit is None:
            return None
        first = event.hit.point_mm if self._first is None else self._first
        return Proposal(value=Measured(first_mm=first, second_mm=event.hit.point_mm))

    def release(self, event: ToolEvent) -> Proposal[Measured] | None:
        if event.hit is None:
            return None
        if self._first is None:
            self._first = event.hit.point_mm
            return Proposal(value=Measured(first_mm=self._first, second_mm=self._first))
        measured = Measured(first_mm=self._first, second_mm=event.hit.point_mm)
        self._first = None
        return Proposal(value=measured, kind="done")

    def key(
        self, name: str, modifiers: Modifiers, right: Vector = (1.0, 0.0, 0.0)
    ) -> Proposal[Measured] | None:
        if name != "escape" or self._first is None:
            return None
        first, self._first = self._first, None
        return Proposal(value=Measured(first_mm=first, second_mm=first), kind="back")
