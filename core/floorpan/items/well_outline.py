"""The inside of a well as the outline that its section through the axis shows.

One half is enough, the other is its mirror image. Heights count from the bottom of the well.
"""

import itertools
from dataclasses import dataclass

from floorpan.items.cup_holder import CupHolder

Line = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class WellOutline:
    """The wall and, where there is one, the ring above it.

    wall : (height, inside radius) from the bottom to the mouth [mm]; neither ever falls
    ring : (height, inside radius) of a thin ring over the mouth [mm], None where there is none
    """

    wall: Line
    ring: tuple[float, float] | None = None

    @property
    def mouth(self) -> tuple[float, float]:
        """(height, radius) of the mouth [mm]."""
        return self.wall[-1]

    @property
    def top_mm(self) -> float:
        """Height of the highest edge that can hold a vessel."""
        return self.mouth[0] if self.ring is None else max(self.mouth[0], self.ring[0])

    def corners(self) -> Line:
        """The edges that a vessel's side can lean on: every ledge, the mouth, the ring."""
        turns = [a for a, b in itertools.pairwise(self.wall) if b[0] == a[0] and b[1] > a[1]]
        bends = [b for a, b, c in _threes(self.wall) if _stands_out(a, b, c)]
        ring = () if self.ring is None else (self.ring,)
        return tuple(dict.fromkeys((*turns, *bends, self.mouth, *ring)))


def _threes(line: Line) -> list[Line]:
    return [line[index : index + 3] for index in range(len(line) - 2)]


def _stands_out(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> bool:
    """Whether the wall turns away from the axis at b on the way up."""
    if b[0] == a[0]:
        return False
    return (c[1] - b[1]) * (b[0] - a[0]) > (b[1] - a[1]) * (c[0] - b[0])


def well_outline(holder: CupHolder) -> WellOutline:
    """The outline of a holder: straight, tapered or with a lower step, and its upper ring.

    A wall that narrows towards the mouth counts as wide as the mouth: nothing wider gets by.
    """
    mouth = holder.mouth_mm / 2
    base = min(holder.base_mm / 2, mouth)
    depth = holder.depth_mm
    wall: Line = ((0.0, base), (depth, mouth))
    if holder.step_mm > 0.0 and 0.0 < holder.step_depth_mm < depth:
        ledge = holder.step_depth_mm
        at_ledge = base + (mouth - base) * ledge / depth
        step = min(holder.step_mm / 2, base)
        wall = ((0.0, step), (ledge, step), (ledge, at_ledge), (depth, mouth))
    ring = (depth + holder.ring_over_mm, holder.ring_mm / 2) if holder.ring_mm > 0.0 else None
    return WellOutline(wall, ring)
