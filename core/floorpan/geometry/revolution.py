"""The axis and the outline of a body of revolution, from a mesh of it that need be neither whole nor without noise.

First guess after H. Pottmann, M. Peternell and B. Ravani, "An introduction to line geometry with applications",
Computer-Aided Design 31(1), 1999: the normals of a body of revolution all meet its axis, so for a place p with normal
n the axis with direction d through c has d . (p x n) = (c x d) . n at every place. Then the axis is moved until the
distances of the places from it scatter least at each height.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solveh_banded

from floorpan.frames import Floats

_ROUNDS = 12
_KNOTS_MOST, _KNOT_MM = 120, 1.5
# How much the outline is held straight where nothing or little was seen, against what was seen.
_STRAIGHT = 1e-3
_TURN_STEP, _SHIFT_STEP = 1e-5, 1e-3
_DONE_MM = 1e-6
# No scan is better than this; what scatters less is believed [mm].
_LEAST_SPREAD_MM = 0.02


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """Places on a surface: points (N, 3) [mm], outward unit normals (N, 3), weights (N,) (the area each stands for)."""

    points: Floats
    normals: Floats
    weights: Floats

    def kept(self, keep: NDArray[np.bool_]) -> "Places":
        """Those of a mask."""
        return Places(self.points[keep], self.normals[keep], self.weights[keep])


@dataclass(frozen=True, slots=True, eq=False)
class Axis:
    """A line: a place on it (3,) [mm] and its unit direction (3,)."""

    at_mm: Floats
    way: Floats

    def cylindrical(self, points: Floats) -> tuple[Floats, Floats, Floats]:
        """Heights (N,) along the axis, distances (N,) from it, unit ways (N, 3) away from it."""
        off = points - self.at_mm
        height = off @ self.way
        aside = off - height[:, None] * self.way
        radius = np.linalg.norm(aside, axis=1)
        return height, radius, aside / np.maximum(radius, 1e-12)[:, None]


@dataclass(frozen=True, slots=True, eq=False)
class Turned:
    """An axis, the outline about it, and how well they fit.

    heights, radii : (K,) the outline at even heights along the axis [mm]
    off_mm     : (N,) of each place, along its normal: outside the outline is positive
    weights    : (N,) how much each place was believed, 0 to 1
    rms_mm     : over the places, so weighted
    turn_u_deg : how well the direction of the axis is known (one sigma)
    """

    axis: Axis
    heights: Floats
    radii: Floats
    off_mm: Floats
    weights: Floats
    rms_mm: float
    turn_u_deg: float


def first_axes(places: Places) -> tuple[Axis, ...]:
    """Three lines that the normals may all meet, the likeliest first."""
    middle = np.average(places.points, axis=0, weights=places.weights)
    off = places.points - middle
    scale = math.sqrt(float(np.average((off**2).sum(axis=1), weights=places.weights))) or 1.0
    off, weight = off / scale, np.ones(len(off))
    for _ in range(5):
        w = (places.weights * weight)[:, None]
        moment = np.cross(off, places.normals)
        n = places.normals
        ways, shifts = _least_ways(moment.T @ (w * moment), moment.T @ (w * n), n.T @ (w * n))
        missed = np.abs(moment @ ways[:, 0] - n @ shifts[:, 0])
        spread = 1.4826 * float(np.median(missed)) + 1e-9
        weight = 1.0 / (1.0 + (missed / (2.0 * spread)) ** 2)
    # The moment d x c of the line gives its place nearest to the middle.
    return tuple(Axis(middle + scale * np.cross(shifts[:, k], ways[:, k]), ways[:, k]) for k in range(3))


def _least_ways(moments: Floats, mixed: Floats, normals: Floats) -> tuple[Floats, Floats]:
    """Directions, the best first, as columns, and the moment d x c that goes with each."""
    inverse = np.linalg.pinv(normals, rcond=1e-6)
    _, ways = np.linalg.eigh(moments - mixed @ inverse @ mixed.T)
    return ways, inverse @ mixed.T @ ways


def turned(places: Places, start: Axis, *, rounds: int = _ROUNDS) -> Turned:
    """The axis near a first one about which the places scatter least at each height, with what lies off left out.

    Places whose normal runs along the axis tell nothing of its radius and count the less, the more it does.
    """
    axis, believed = start, np.ones(len(places.points))
    for _ in range(rounds):
        base, heights, radii, off = _fit(places, axis, believed)
        spread = max(1.4826 * float(np.median(np.abs(off))), _LEAST_SPREAD_MM)
        believed = np.maximum(1.0 - (off / (6.0 * spread)) ** 2, 0.0) ** 2
        step, _ = _step(places, axis, believed)
        axis = _moved(axis, step)
        if np.abs(step * [_reach(places), _reach(places), 1.0, 1.0]).max() < _DONE_MM:
            break
    base, heights, radii, off = _fit(places, axis, believed)
    _, inverse = _step(places, axis, believed)
    weight = places.weights * believed
    rms = math.sqrt(float(np.average(off**2, weights=weight)))
    # Of so many places only as many count as the weights hold.
    count = weight.sum() ** 2 / (weight**2).sum()
    turn_u = math.degrees(rms * math.sqrt(max(inverse[0, 0], inverse[1, 1]) / max(count, 1.0)))
    return Turned(Axis(axis.at_mm, axis.way), base + heights, radii, off, believed, rms, turn_u)


def _reach(places: Places) -> float:
    return float(np.ptp(places.points, axis=0).max()) or 1.0


def _fit(places: Places, axis: Axis, believed: Floats) -> tuple[float, Floats, Floats, Floats]:
    """(least height, even heights over it, radii there, how far each place is off along its normal)."""
    height, radius, out = axis.cylindrical(places.points)
    lean = np.abs((places.normals * out).sum(axis=1))
    base, tall = float(height.min()), float(np.ptp(height)) or 1.0
    count = int(np.clip(tall / _KNOT_MM, 8, _KNOTS_MOST)) + 1
    at = (height - base) / tall * (count - 1)
    low = np.minimum(at.astype(np.int64), count - 2)
    part = at - low
    radii = _outline(low, part, radius, places.weights * believed * lean**2, count)
    off = lean * (radius - ((1.0 - part) * radii[low] + part * radii[low + 1]))
    return base, np.linspace(0.0, tall, count), radii, off


def _outline(low: NDArray[np.int64], part: Floats, radius: Floats, weight: Floats, count: int) -> Floats:
    """Radii (count,) of the straight pieces that fit best, bent no more than is seen where little is."""
    main = np.bincount(low, weight * (1.0 - part) ** 2, count) + np.bincount(low + 1, weight * part**2, count)
    beside = np.bincount(low, weight * part * (1.0 - part), count)[: count - 1]
    right = np.bincount(low, weight * (1.0 - part) * radius, count)
    right += np.bincount(low + 1, weight * part * radius, count)
    stiff = _STRAIGHT * float(weight.sum()) / count + 1e-12
    bends = np.zeros((3, count))
    bends[0] = np.convolve(np.ones(count - 2), [1.0, 4.0, 1.0])
    bends[1, 1:] = np.convolve(np.ones(count - 2), [-2.0, -2.0])
    bends[2, 2:] = 1.0
    banded = np.zeros((3, count))
    banded[2] = main + stiff * bends[0] + 1e-12 * (main.max() + 1.0)
    banded[1, 1:] = beside + stiff * bends[1, 1:]
    banded[0, 2:] = stiff
    radii: Floats = solveh_banded(banded, right)
    return radii


def _step(places: Places, axis: Axis, believed: Floats) -> tuple[Floats, Floats]:
    """The Gauss-Newton step of two turns [rad] and two shifts [mm], and the inverse of its matrix per place.

    The outline is fitted anew for every small move, so that what it takes up is not counted.
    """
    root = np.sqrt(places.weights * believed)
    root = root / math.sqrt(float((root**2).mean()) or 1.0)
    here = root * _fit(places, axis, believed)[3]
    columns = []
    for number, size in enumerate((_TURN_STEP, _TURN_STEP, _SHIFT_STEP, _SHIFT_STEP)):
        move = np.zeros(4)
        move[number] = size
        there = root * _fit(places, _moved(axis, move), believed)[3]
        back = root * _fit(places, _moved(axis, -move), believed)[3]
        columns.append((there - back) / (2.0 * size))
    slopes = np.column_stack(columns)
    matrix = slopes.T @ slopes / len(here)
    scale = np.sqrt(np.maximum(np.diag(matrix), 1e-18))
    # A direction that nothing is seen of (a ball's) is not stepped along, and its inverse tells so.
    values, ways = np.linalg.eigh(matrix / np.outer(scale, scale))
    seen = values > 1e-8
    held = np.where(seen, 1.0 / np.maximum(values, 1e-8), 0.0)
    step = -(ways * held) @ ways.T @ (slopes.T @ here / len(here) / scale) / scale
    inverse = (ways / np.maximum(values, 1e-12)) @ ways.T / np.outer(scale, scale)
    return step, inverse


def _moved(axis: Axis, move: Floats) -> Axis:
    """An axis turned by small angles about two ways square to it, and shifted along them."""
    first, second = _square(axis.way)
    way = axis.way + move[0] * first + move[1] * second
    return Axis(axis.at_mm + move[2] * first + move[3] * second, way / np.linalg.norm(way))


def _square(way: Floats) -> tuple[Floats, Floats]:
    other = np.zeros(3)
    other[int(np.abs(way).argmin())] = 1.0
    first = np.cross(way, other)
    first /= np.linalg.norm(first)
    return first, np.cross(way, first)
