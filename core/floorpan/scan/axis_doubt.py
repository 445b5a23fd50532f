"""How far picked points can be trusted to give a direction, and which one of them is off."""

import math
from collections.abc import Sequence
from typing import Protocol

import numpy as np

from floorpan.geometry.fit import PlaneFit, fit_plane
from floorpan.geometry.mesh import Floats
from floorpan.units import show_length

# One sigma of a point picked by hand on a scan, where the picks themselves do not tell; common practice, no source.
PICK_MM = 0.5
# A pick is called odd when it is this far off the others, and this many times farther than they are off each other.
ODD_MM = 2.0
ODD_TIMES = 5.0


class _Lettered(Protocol):
    @property
    def id(self) -> str: ...
    @property
    def at_mm(self) -> tuple[float, float, float]: ...


def slope_doubt(places: Floats, residual_mm: Floats) -> float:
    """Half-width at about 95 % [rad] of the worst slope fitted through points.

    places : (N, D) [mm] from their middle, D = 1 for a line, 2 for a plane
    residual_mm : (N,) what the fit left over

    Twice the standard deviation of the least squares slope in its weakest direction. The sigma of a pick is taken
    from the residuals over their degrees of freedom, and never below PICK_MM, since few picks agree by luck.
    """
    free = len(places) - places.shape[1] - 1
    sigma = math.sqrt(float(residual_mm @ residual_mm) / free) if free > 0 else 0.0
    weakest = float(np.linalg.eigvalsh(places.T @ places)[0])
    return 2.0 * max(sigma, PICK_MM) / math.sqrt(weakest) if weakest > 0.0 else math.pi / 2


def odd_one_out(
    level: Sequence[_Lettered], plane: PlaneFit, line_letters: Sequence[tuple[str, ...]], line_xy: Floats
) -> tuple[str, str]:
    """Letter of the one pick that is off while the rest agree, and a sentence; empty where there is none.

    It takes five level points, or four points of the centre line: with fewer any one could be the culprit.
    """
    found: list[tuple[float, str, int]] = []
    if len(level) >= 5:
        points = np.array([pick.at_mm for pick in level])
        offs = [_off_plane(points, row) for row in range(len(level))]
        found += [(off, level[row].id, len(level) - 1) for row, off in enumerate(offs)]
    if len(line_letters) >= 4:
        offs = [_off_line(line_xy, row) for row in range(len(line_letters))]
        found += [
            (off, " and ".join(line_letters[row]), len(line_letters) - 1) for row, off in enumerate(offs)
        ]
    if not found:
        return "", ""
    off, letter, rest = max(found)
    if off <= 0.0:
        return "", ""
    return letter, (
        f"Point {letter} is {show_length(off, with_unit=True)} off the other {rest}. Pick it again, or leave it out."
    )


def _off_plane(points: Floats, row: int) -> float:
    """How far a point is off the plane of the others, 0 where they do not agree well enough to say."""
    others = fit_plane(np.delete(points, row, axis=0))
    if others.on_a_line:
        return 0.0
    off = abs(float((points[row] - others.centre) @ others.normal))
    return _if_odd(off, others.residual_mm, 3)


def _off_line(xy: Floats, row: int) -> float:
    others = np.delete(xy, row, axis=0)
    if float(np.ptp(others[:, 0])) < 1.0:
        return 0.0
    slope, start = np.polyfit(others[:, 0], others[:, 1], 1)
    off = abs(float(xy[row, 1] - slope * xy[row, 0] - start))
    return _if_odd(off, others[:, 1] - slope * others[:, 0] - start, 2)


def _if_odd(off: float, residual_mm: Floats, used: int) -> float:
    free = len(residual_mm) - used
    sigma = math.sqrt(float(residual_mm @ residual_mm) / free) if free > 0 else 0.0
    return off if off > max(ODD_MM, ODD_TIMES * max(sigma, 1e-12)) else 0.0
