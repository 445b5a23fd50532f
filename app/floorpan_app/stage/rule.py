"""The steel rule that lies beside the thing in hand in the free view."""

from typing import Final

import numpy as np

from floorpan.geometry.solids import Body
from floorpan.units import System
from floorpan_app.viewport.marks import SteelRule
from floorpan_app.viewport.scene import height_of
from floorpan_app.viewport.view import Viewport

_BESIDE_MM: Final = 45.0
_OVER_FLOOR_MM: Final = 2.0
_RULES: Final[dict[System, tuple[float, float, str]]] = {
    "mm": (200.0, 10.0, "200 mm"),
    "in": (203.2, 12.7, "8 in"),
}


def steel_rule(view: Viewport, floor: str, bodies: tuple[Body, ...], system: System) -> SteelRule | None:
    """A rule along the car, on the floor on the eye's side of some bodies; None where no floor was seen there."""
    boxes = np.array([solid.box() for body in bodies for solid in body])
    low, high = boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)
    length, step, text = _RULES[system]
    away = view.camera.eye.position() - (low + high) / 2
    near = -1.0 if away[1] < 0.0 else 1.0
    y = float(low[1] if near < 0.0 else high[1]) + near * _BESIDE_MM
    x = float((low[0] + high[0] - length) / 2)
    height = height_of(view.scene, floor, x + length / 2, y)
    if height is None:
        return None
    # Read from the eye's side: from its left to its right, the marks on the far edge.
    rightward = 1.0 if view.camera.eye.axes()[0][0] > 0.0 else -1.0
    start = x if rightward > 0.0 else x + length
    return SteelRule(
        at_mm=(start, y, height + _OVER_FLOOR_MM),
        along=(rightward, 0.0, 0.0),
        across=(0.0, -near, 0.0),
        text=text,
        length_mm=length,
        step_mm=step,
    )
