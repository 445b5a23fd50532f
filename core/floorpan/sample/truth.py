"""The true least gap between a convex body and the car, to a stated bound.

The distance to a solid changes by no more than the way gone, and that to a convex solid is a convex function. Both
bound it from below over a simplex from a few values, so that halving simplices closes in on the least value.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from floorpan.errors import BadValue
from floorpan.sample.between import BodyGap, gap_between
from floorpan.sample.car import Car
from floorpan.sample.hulls import simplices
from floorpan.sample.shapes import Floats, Shape, Triple

__all__ = ["TOLERANCE_MM", "BodyGap", "CarGap", "gap_between", "gap_to_car"]

TOLERANCE_MM = 0.005
_MOST_CELLS = 400_000
_STEP_MM = 1e-4
_GOOD_PART = 0.125


@dataclass(frozen=True, slots=True, kw_only=True)
class CarGap:
    """The least gap of a body to the car.

    gap_mm : negative is the depth of the deepest point of the body, its radius included, in one solid
    at_mm : the point of the undilated hull where it is; on_car_mm : the nearest point of the solid's surface
    label : of that solid; within_mm : the true least gap is no more than this below gap_mm
    """

    gap_mm: float
    at_mm: Triple
    on_car_mm: Triple
    label: str
    within_mm: float


def gap_to_car(
    hull_points: Floats, radius_mm: float, car: Car, *, exclude: Sequence[str] = (), only: Sequence[str] = ()
) -> CarGap:
    """The least gap between the hull of points (k, 3), k up to 150, dilated by a radius, and the car.

    Parameters
    ----------
    exclude, only : labels of solids left out, or the only ones taken
    """
    chosen = car.labelled(only, exclude)
    if not chosen.shapes:
        raise BadValue(
            "no-solid", "No solid of the car is left to measure to.", "Exclude fewer labels, or name others."
        )
    cells = simplices(hull_points)
    middle = cells.reshape(-1, 3).mean(axis=0)
    reach = float(np.sqrt(np.sum(np.square(cells.reshape(-1, 3) - middle), axis=1)).max())
    at_middle = [float(shape.distance(middle[None])[0]) for shape in chosen.shapes]
    search = _Search(value=np.inf, at=middle, solid=0, slack=TOLERANCE_MM)
    for solid in np.argsort(at_middle, kind="stable"):
        if at_middle[solid] - reach < search.value - TOLERANCE_MM:
            search.enter(chosen.shapes[solid], int(solid), cells)
    shape = chosen.shapes[search.solid]
    on_car = search.at - search.value * _gradient(shape, search.at)
    return CarGap(
        gap_mm=search.value - radius_mm,
        at_mm=_triple(search.at),
        on_car_mm=_triple(on_car),
        label=shape.label,
        within_mm=search.slack,
    )


@dataclass(slots=True)
class _Search:
    """The least distance found so far, where, and how far below it the least one may still lie."""

    value: float
    at: Floats
    solid: int
    slack: float

    def enter(self, shape: Shape, solid: int, cells: Floats) -> None:
        """Lower the value by what the solid has over the simplices (S, m, 3)."""
        while len(cells):
            self._look(shape, solid, cells.reshape(-1, 3))
            middles = cells.mean(axis=1)
            at_middle = self._look(shape, solid, middles)
            below = _lower_bounds(shape, cells, middles, at_middle)
            open_cells = below < self.value - TOLERANCE_MM
            if np.count_nonzero(open_cells) > _MOST_CELLS:
                # Deep inside a solid whole areas are equally deep; then the bound reached is told instead.
                self.slack = max(self.slack, self.value - float(below.min()))
                return
            gap = (at_middle - below)[open_cells]
            cells = _halved(shape, cells[open_cells], gap)

    def _look(self, shape: Shape, solid: int, points: Floats) -> Floats:
        values = shape.distance(points)
        least = int(values.argmin())
        if values[least] < self.value:
            self.value, self.at, self.solid = float(values[least]), points[least], solid
        return values


def _lower_bounds(shape: Shape, cells: Floats, middles: Floats, at_middle: Floats) -> Floats:
    """What the distance does not fall below in each simplex.

    By the way gone from the middle c; and for a convex solid f(q) >= 2 f(c) - f(2c - q), where 2c - q lies in the
    simplex turned about c, and so below the greatest value at its corners.
    """
    arms = cells - middles[:, None]
    bound = at_middle - np.sqrt(np.sum(arms * arms, axis=2)).max(axis=1)
    if shape.convex:
        opposite = shape.distance((middles[:, None] - arms).reshape(-1, 3)).reshape(cells.shape[:2])
        bound = np.maximum(bound, 2.0 * at_middle - opposite.max(axis=1))
    return np.asarray(bound)


def _halved(shape: Shape, cells: Floats, gap: Floats) -> Floats:
    """Every simplex (S, m, 3) cut in two across one edge; points are done and give none.

    The edge along which the distance bends most is cut, so that a valley floor is not cut along its length; the
    longest where none bends by a good part of the gap (S,) between the middle's value and its bound.
    """
    corners = cells.shape[1]
    if corners == 1 or len(cells) == 0:
        return cells[:0]
    pairs = np.array([(a, b) for a in range(corners) for b in range(a + 1, corners)])
    edges = cells[:, pairs[:, 0]] - cells[:, pairs[:, 1]]
    middles = (cells[:, pairs[:, 0]] + cells[:, pairs[:, 1]]) / 2.0
    at_corners = shape.distance(cells.reshape(-1, 3)).reshape(cells.shape[:2])
    at_middles = shape.distance(middles.reshape(-1, 3)).reshape(middles.shape[:2])
    bend = np.abs((at_corners[:, pairs[:, 0]] + at_corners[:, pairs[:, 1]]) / 2.0 - at_middles)
    bends = bend.max(axis=1) > _GOOD_PART * gap
    chosen = np.where(bends, bend.argmax(axis=1), np.sum(edges * edges, axis=2).argmax(axis=1))
    row = np.arange(len(cells))
    start, end = cells[row, pairs[chosen, 0]], cells[row, pairs[chosen, 1]]
    cut = start + _cut_at(shape, start, end)[:, None] * (end - start)
    first, second = cells.copy(), cells.copy()
    first[row, pairs[chosen, 0]] = cut
    second[row, pairs[chosen, 1]] = cut
    return np.concatenate((first, second))


def _cut_at(shape: Shape, start: Floats, end: Floats) -> Floats:
    """Where to cut edges: at the share of their length (S,) where the tangents of both ends meet.

    Along a straight stretch of a kinked distance that is the kink itself, where it is smooth near the middle.
    """
    step = 1e-4
    at_start, at_end = shape.distance(start), shape.distance(end)
    slope_start = (shape.distance(start + step * (end - start)) - at_start) / step
    slope_end = (at_end - shape.distance(end - step * (end - start))) / step
    turn = slope_end - slope_start
    meets = np.abs(turn) > 1e-6
    share = (at_end - slope_end - at_start) / np.where(meets, -turn, 1.0)
    return np.where(meets, np.clip(share, 0.02, 0.98), 0.5)


def _gradient(shape: Shape, at: Floats) -> Floats:
    steps = np.concatenate((np.eye(3), -np.eye(3))) * _STEP_MM
    around = shape.distance(at + steps)
    gradient = around[:3] - around[3:]
    length = float(np.sqrt(np.sum(gradient * gradient)))
    return np.asarray(gradient / length if length > 0.0 else gradient)


def _triple(point: Floats) -> Triple:
    return (float(point[0]), float(point[1]), float(point[2]))
