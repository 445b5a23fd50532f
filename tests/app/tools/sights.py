"""Rays and events made by hand, for the tools' tests."""

import numpy as np

from floorpan_app.tools.events import NONE_HELD, Modifiers, Pick, Sight, ToolEvent, Vector


def sight(origin: Vector, towards: Vector, *, pixel_mm: float = 1.0) -> Sight:
    """A ray from a point to another, a pixel being pixel_mm wide all along."""
    way = np.subtract(towards, origin)
    x, y, z = (float(value) for value in way / np.linalg.norm(way))
    return Sight(origin_mm=origin, direction=(x, y, z), forward=(x, y, z), pixel_mm=pixel_mm)


def at(
    point: Vector,
    *,
    eye: Vector = (300.0, -900.0, 700.0),
    hit: str | None = None,
    modifiers: Modifiers = NONE_HELD,
    grip: str | None = None,
    held: bool = True,
    pixel_mm: float = 1.0,
) -> ToolEvent:
    """The mouse on a point of the car, seen from an eye; on a thing called `hit` where one is named."""
    pick = None if hit is None else Pick(name=hit, point_mm=point, normal=(0.0, 0.0, 1.0), cell=0)
    ray = sight(eye, point, pixel_mm=pixel_mm)
    return ToolEvent(x_px=0.0, y_px=0.0, sight=ray, hit=pick, modifiers=modifiers, grip=grip, held=held)
