"""From where a place is best seen: as one looks now if nothing hides it, else from the nearest way that shows it."""

import itertools
import math
from typing import Final

import numpy as np

from floorpan.frames import Vector
from floorpan_app.tools.events import Sight
from floorpan_app.viewport.eye import VIEW_ANGLE_DEG, Eye
from floorpan_app.viewport.scene import Scene

_TURNS_DEG: Final = (0.0, 25.0, -25.0, 50.0, -50.0, 80.0, -80.0, 120.0, -120.0, 160.0)
_RISES_DEG: Final = (-22.0, -38.0, -58.0, -8.0)
# A gap seen along itself shows nothing: it should take this share of its length across the sight.
_LEAST_ACROSS: Final = 0.45
_COVERED_MM: Final = 4.0
_LEAST_VIEW_MM, _MOST_VIEW_MM, _VIEW_TO_GAP = 380.0, 1300.0, 7.0
_FAR_MM: Final = 2500.0


def way_to_see(scene: Scene, eye: Eye, a_mm: Vector, b_mm: Vector) -> Vector | None:
    """The way to look (unit) that shows both ends of a gap; None where the eye's own way does."""
    if _shows(scene, eye.axes()[2], a_mm, b_mm):
        return None
    for turn, rise in itertools.product(_TURNS_DEG, _RISES_DEG):
        heading, tilt = math.radians(eye.heading_deg + turn), math.radians(rise)
        way = np.array(
            [math.cos(heading) * math.cos(tilt), math.sin(heading) * math.cos(tilt), math.sin(tilt)]
        )
        if _shows(scene, way, a_mm, b_mm):
            return float(way[0]), float(way[1]), float(way[2])
    return None


def distance_to_see(eye: Eye, a_mm: Vector, b_mm: Vector) -> float | None:
    """How far off to stand so that a gap is a fair part of the picture; None where it is so already."""
    view = min(max(_VIEW_TO_GAP * math.dist(a_mm, b_mm), _LEAST_VIEW_MM), _MOST_VIEW_MM)
    if 0.5 * view <= eye.height_mm() <= 1.6 * view:
        return None
    return view / (2.0 * math.tan(math.radians(VIEW_ANGLE_DEG / 2)))


def _shows(scene: Scene, way: np.ndarray, a_mm: Vector, b_mm: Vector) -> bool:
    gap = np.subtract(b_mm, a_mm)
    length = float(np.linalg.norm(gap))
    across = float(np.linalg.norm(gap - (gap @ way) * way))
    if length > 1.0 and across < _LEAST_ACROSS * length:
        return False
    middle = (np.asarray(a_mm) + np.asarray(b_mm)) / 2
    start = middle - _FAR_MM * way
    direction = (float(way[0]), float(way[1]), float(way[2]))
    sight = Sight(origin_mm=tuple(start.tolist()), direction=direction, forward=direction)
    met = scene.pick(sight)
    if met is None:
        return True
    return math.dist(met.point_mm, start.tolist()) > _FAR_MM - length / 2 - _COVERED_MM
