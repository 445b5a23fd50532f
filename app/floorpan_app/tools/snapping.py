"""Lines that a moved thing takes hold of when it comes near: within six pixels, never by a jump beyond."""

from dataclasses import dataclass
from typing import Literal

from floorpan_app.tools.events import Vector

SNAP_PX = 6.0

Axis = Literal["x", "y", "z"]
AXES: tuple[Axis, ...] = ("x", "y", "z")


@dataclass(frozen=True, slots=True, kw_only=True)
class SnapLine:
    """A place on an axis [mm], with a word for it, as `centre plane`."""

    axis: Axis
    at_mm: float
    word: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Multiples:
    """Every step_mm along an axis from nought, as stations every 50 mm."""

    axis: Axis
    step_mm: float
    word: str = ""

    def nearest(self, value_mm: float) -> SnapLine:
        """The multiple nearest to a value."""
        return SnapLine(axis=self.axis, at_mm=round(value_mm / self.step_mm) * self.step_mm, word=self.word)


Snap = SnapLine | Multiples


def snapped(
    place_mm: Vector, snaps: tuple[Snap, ...], mm_per_pixel: float, axes: tuple[Axis, ...] = AXES
) -> tuple[Vector, tuple[SnapLine, ...]]:
    """A place moved onto the nearest line of each of the free axes that is within reach, and those lines.

    Of two lines equally near the one named first holds.
    """
    place = list(place_mm)
    caught = []
    for axis in axes:
        number = AXES.index(axis)
        lines = [
            snap if isinstance(snap, SnapLine) else snap.nearest(place[number])
            for snap in snaps
            if snap.axis == axis
        ]
        best = min(lines, key=lambda line: abs(line.at_mm - place_mm[AXES.index(line.axis)]), default=None)
        if best is not None and abs(best.at_mm - place[number]) <= SNAP_PX * mm_per_pixel:
            place[number] = best.at_mm
            caught.append(best)
    return (place[0], place[1], place[2]), tuple(caught)
