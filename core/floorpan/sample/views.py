"""Where the simulated scanner is held and what it sees from there."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.sample.blocks import Blocks, Places
from floorpan.sample.shapes import Floats, Triple
from floorpan.sample.surface import Surface

# Over both gaps between tunnel and seats, low into each footwell, over each cushion, through both doors.
VIEWPOINTS_MM: tuple[Triple, ...] = (
    (340.0, -120.0, 520.0),
    (340.0, 135.0, 520.0),
    (600.0, -115.0, 500.0),
    (600.0, 125.0, 500.0),
    (890.0, 10.0, 620.0),
    (140.0, 15.0, 480.0),
    (150.0, -240.0, 300.0),
    (120.0, -490.0, 290.0),
    (140.0, 260.0, 300.0),
    (120.0, 500.0, 330.0),
    (470.0, -366.0, 640.0),
    (470.0, 366.0, 640.0),
    (190.0, -640.0, 520.0),
    (190.0, 640.0, 520.0),
    (600.0, -645.0, 430.0),
    (600.0, 645.0, 430.0),
)

_LEAST_COSINE = float(np.cos(np.radians(80.0)))
_FARTHEST_MM = 620.0
# A ray leaves the surface by so much, and meets the car when it comes nearer than the second.
_OFF_MM = 2.0
_TOUCH_MM = 0.5


@dataclass(frozen=True, slots=True)
class Sight:
    """Which viewpoint sees each point best, -1 for none, and which would if nothing stood between; both (N,)."""

    view: Places
    would: Places

    @property
    def seen(self) -> NDArray[np.bool_]:
        return np.asarray(self.view >= 0)


def look(surface: Surface, blocks: Blocks, viewpoints_mm: Floats) -> Sight:
    """See every point of the surface from viewpoints (V, 3) in mm, no flatter than 80 degrees off its normal.

    For each point the viewpoints are asked in the order of how squarely and nearly they look at it.
    """
    worth = np.stack([_worth(surface, eye) for eye in viewpoints_mm])
    order = np.argsort(-worth, axis=0, kind="stable")
    view = np.full(len(surface.points), -1, dtype=np.int64)
    for rank in range(len(viewpoints_mm)):
        asked = np.flatnonzero((view < 0) & (np.take_along_axis(worth, order[rank][None], axis=0)[0] > 0.0))
        eye = viewpoints_mm[order[rank][asked]]
        start = surface.points[asked] + _OFF_MM * surface.normals[asked]
        free = _free(start, eye, blocks)
        view[asked[free]] = order[rank][asked[free]]
    return Sight(view, order[0])


def _worth(surface: Surface, eye: Floats) -> Floats:
    """Cosine over distance for each point, zero where the view is too flat."""
    toward = eye - surface.points
    distance = np.sqrt(toward[:, 0] ** 2 + toward[:, 1] ** 2 + toward[:, 2] ** 2)
    facing = (
        toward[:, 0] * surface.normals[:, 0]
        + toward[:, 1] * surface.normals[:, 1]
        + toward[:, 2] * surface.normals[:, 2]
    )
    cosine = facing / distance
    return np.asarray(np.where((cosine > _LEAST_COSINE) & (distance < _FARTHEST_MM), cosine / distance, 0.0))


def _free(start: Floats, end: Floats, blocks: Blocks) -> NDArray[np.bool_]:
    """Whether the way from each start (N, 3) to its end meets nothing: sphere tracing, after J. C. Hart, 1996.

    Far from the car a step comes from the block's centre, near it from the exact distance.
    """
    way = end - start
    length = np.sqrt(way[:, 0] ** 2 + way[:, 1] ** 2 + way[:, 2] ** 2)
    way = way / length[:, None]
    gone = np.zeros(len(start))
    free = np.ones(len(start), dtype=np.bool_)
    left = np.arange(len(start))
    while len(left):
        at = start[left] + gone[left, None] * way[left]
        flat = blocks.holding(at)
        off = at - blocks.centres(flat)
        step = blocks.away_mm[flat] - np.sqrt(off[:, 0] ** 2 + off[:, 1] ** 2 + off[:, 2] ** 2)
        close = np.flatnonzero(step < blocks.margin_mm)
        step[close] = blocks.near(at[close], flat[close])[0]
        stopped = step < _TOUCH_MM
        free[left[stopped]] = False
        gone[left] += np.maximum(step, _OFF_MM)
        left = left[~stopped & (gone[left] < length[left])]
    return free
