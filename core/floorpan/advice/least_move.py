"""The shortest move that keeps a set of straight limits, in whole millimetres, along as few axes as that costs little.

Least distance under linear limits is a quadratic programme with a closed answer by non-negative least squares.
Source: Lawson and Hanson, "Solving Least Squares Problems" (1974), chapter 23.5, problem LDP.
"""

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import Floats, Vector

MOST_MM = 150.0
"""Farther along one axis is no cure any more; common practice, no source."""
WORTH = 1.2
"""Fewer axes are worth a move this much longer; common practice, no source."""

_AXES = tuple(axes for n in (1, 2, 3) for axes in itertools.combinations(range(3), n))
_SLACK_MM = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class Limits:
    """What a move d (3,) [mm] has to keep: slopes (M, 3) @ d >= needs (M,) [mm]."""

    slopes: Floats
    needs: Floats

    def kept(self, moves: Floats) -> NDArray[np.bool_]:
        """Which of moves (N, 3) keep every limit."""
        within: NDArray[np.bool_] = np.all(moves @ self.slopes.T >= self.needs - _SLACK_MM, axis=1)
        return within


def least_move(limits: Limits, axes: tuple[int, ...] = (0, 1, 2), most_mm: float = MOST_MM) -> Floats | None:
    """The shortest move (3,) [mm] along these axes that keeps the limits; None where there is none.

    most_mm : no farther along any axis
    """
    from scipy.optimize import nnls

    chosen = list(axes)
    own = np.eye(len(chosen))
    slopes = np.vstack([limits.slopes[:, chosen], own, -own])
    needs = np.concatenate([limits.needs, np.full(2 * len(chosen), -most_mm)])
    if (needs <= 0.0).all():
        return np.zeros(3)
    # In shares of the farthest move, so that the numbers are all about one.
    system = np.vstack([slopes.T, needs[None] / most_mm])
    wanted = np.zeros(len(system))
    wanted[-1] = 1.0
    shares, off = nnls(system, wanted, maxiter=20 * system.shape[1])
    if off <= 1e-9:
        return None
    left = system @ shares - wanted
    move = np.zeros(3)
    move[chosen] = -left[:-1] / left[-1] * most_mm
    return move if limits.kept(move[None] * (1.0 + 1e-9))[0] or limits.kept(move[None])[0] else None


def whole_move(limits: Limits, axes: tuple[int, ...] = (0, 1, 2), most_mm: float = MOST_MM) -> Vector | None:
    """The shortest move found in whole millimetres along all these axes; None where none keeps the limits."""
    exact = least_move(limits, axes, most_mm)
    if exact is None:
        return None
    if not exact.any():
        return _vector(exact)
    ways = [sorted({np.floor(v) - 1, np.floor(v), np.ceil(v), np.ceil(v) + 1}) for v in exact[list(axes)]]
    near = np.zeros((int(np.prod([len(way) for way in ways])), 3))
    near[:, list(axes)] = list(itertools.product(*ways))
    goes = (near[:, list(axes)] != 0.0).all(axis=1) & (np.abs(near) <= most_mm).all(axis=1)
    kept = near[goes & limits.kept(near)]
    if not len(kept):
        # A slit narrower than a millimetre: the move as it is, to a tenth.
        return _vector(np.sign(exact) * np.ceil(np.abs(exact) * 10.0 - _SLACK_MM) / 10.0)
    return _vector(kept[np.linalg.norm(kept, axis=1).argmin()])


def preferred_move(
    limits: Limits, barred: frozenset[tuple[int, ...]] = frozenset(), most_mm: float = MOST_MM
) -> Vector | None:
    """The move along as few axes as possible that is at most WORTH times the shortest of all.

    barred : sets of axes that are not to be tried
    """
    tried = (whole_move(limits, axes, most_mm) for axes in _AXES if axes not in barred)
    found = [move for move in tried if move is not None and axes_of(move) not in barred]
    if not found:
        return None
    shortest = min(map(length_mm, found))
    worth = [move for move in found if length_mm(move) <= WORTH * shortest]
    return min(worth, key=lambda move: (len(axes_of(move)), length_mm(move)))


def axes_of(move: Vector) -> tuple[int, ...]:
    """The axes that a move goes along."""
    return tuple(axis for axis, way in enumerate(move) if way)


def length_mm(move: Vector) -> float:
    """How far a move goes."""
    return float(np.linalg.norm(move))


def _vector(values: Floats) -> Vector:
    x, y, z = (float(v) + 0.0 for v in values)
    return x, y, z
