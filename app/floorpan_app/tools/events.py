"""What a tool is told: where the mouse is as a ray through the car, and what it meets."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Modifiers:
    """Keys held. Shift is ten times, Alt is fine."""

    shift: bool = False
    alt: bool = False
    control: bool = False

    def times(self) -> float:
        """What a step is multiplied by: 10, 1 or 0.1."""
        return (10.0 if self.shift else 1.0) * (0.1 if self.alt else 1.0)


NONE_HELD = Modifiers()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pick:
    """The nearest surface under the mouse.

    name      : of the thing it belongs to
    point_mm  : where the ray meets it
    normal    : unit, of the triangle, turned towards the eye
    cell      : number of the triangle in the mesh it was shown as
    """

    name: str
    point_mm: Vector
    normal: Vector
    cell: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """The ray through a pixel, and how wide a pixel is along it.

    origin_mm      : where the ray starts
    direction      : unit
    forward        : unit, the way the eye looks, which is the way through the middle of the picture
    pixel_mm       : width of a pixel at the origin [mm]
    pixel_growth   : how much wider it gets for each mm forward; 0 in parallel views
    """

    origin_mm: Vector
    direction: Vector
    forward: Vector
    pixel_mm: float = 0.0
    pixel_growth: float = 0.0

    def mm_per_pixel(self, at_mm: Vector | Floats) -> float:
        """Width of a pixel at a point [mm]."""
        away = np.asarray(at_mm, dtype=float) - np.asarray(self.origin_mm)
        deep = float(away @ np.asarray(self.forward))
        return self.pixel_mm + self.pixel_growth * max(deep, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolEvent:
    """A press, move or release of the left mouse button in the viewport.

    x_px, y_px : from the viewport's upper left corner, in logical pixels
    sight      : the ray through that pixel, in car axes
    hit        : the nearest thing that can be picked, None where there is none
    grip       : the name of the grip it began on, None where it began on none
    held       : whether the button is down; False for a move of the bare mouse
    """

    x_px: float
    y_px: float
    sight: Sight
    hit: Pick | None = None
    modifiers: Modifiers = NONE_HELD
    grip: str | None = None
    held: bool = True
