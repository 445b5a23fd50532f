"""Room to a part of the scan, such as the dash: sampled over a block, from points laid over its surface."""

import math

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import distance_transform_edt
from scipy.spatial import cKDTree

from floorpan.advice.knob_limits import KnobLimit
from floorpan.advice.laid_points import LONGEST_EDGE_MM, Laid, faces_near, laid_over
from floorpan.advice.sampled_limit import field_limit, lost_mm
from floorpan.frames import Floats, Vector
from floorpan.geometry.mesh import Mesh
from floorpan.progress import Step, Work

Flags = NDArray[np.bool_]

SPACING_MM = 8.0
TOLD_MM = 80.0
"""No arm leaves more room than so between bent and straight, so that larger gaps never limit."""

MOST_LOST_MM = 2.0 * lost_mm(SPACING_MM) + LONGEST_EDGE_MM / math.sqrt(3.0)
"""By so much at most a scan counts as nearer than it is, as long as a block needs no wider spacing."""

_MOST_SAMPLES = 500_000
# The cosine to the normal from which a place is behind: beside an edge or over rough metal nothing is.
_STRAIGHT_BEHIND = 0.5
_AT_ONCE = 20_000


def scan_limit(
    name: str, surface: Mesh, low_mm: Vector, high_mm: Vector, radius_mm: float
) -> Work[KnobLimit | None]:
    """The gap between a ball about the hand and a surface in car axes, careful; None where no hand comes near it.

    low_mm, high_mm : corners of the box in which the hand's centre may be in any gear
    radius_mm       : of the ball about the hand's centre

    What lies straight behind the surface, against its normals, counts as filled: nobody moves a knob in there. Beside
    its open edge there is no behind. Never more than the true gap in front of it; less by 2 * lost_mm of the
    spacing and the edge's length over sqrt(3) at most: 18.5 mm, beside a flat wall half of that. A gap of more than
    TOLD_MM may be told as that.
    """
    counts_mm = radius_mm + TOLD_MM + lost_mm(SPACING_MM) + LONGEST_EDGE_MM / math.sqrt(3.0)
    low, high = np.asarray(low_mm, dtype=float), np.asarray(high_mm, dtype=float)
    near = faces_near(surface, low - counts_mm, high + counts_mm)
    if not len(near):
        return None
    yield Step(0.0, f"Measuring to the {name}")
    laid = laid_over(surface, near)
    spacing = max(SPACING_MM, (float(np.prod(high - low)) / _MOST_SAMPLES) ** (1.0 / 3.0))
    counts = np.ceil((high - low) / spacing).astype(int) + 2
    values = np.full(tuple(counts), counts_mm)
    behind = np.zeros(values.shape, dtype=bool)
    tree = cKDTree(laid.points, compact_nodes=False, balanced_tree=False)
    rows = max(_AT_ONCE // int(counts[1] * counts[2]), 1)
    for begin in range(0, int(counts[0]), rows):
        yield Step(0.1 + 0.8 * begin / int(counts[0]), f"Measuring to the {name}")
        chunk = slice(begin, begin + rows)
        lattice = np.indices(values[chunk].shape).reshape(3, -1).T + np.array([begin, 0, 0])
        away, filled = _measured(laid, tree, low + spacing * lattice, counts_mm)
        values[chunk], behind[chunk] = (part.reshape(values[chunk].shape) for part in (away, filled))
    yield Step(0.9, f"Measuring to the {name}")
    values[_all_behind(values < counts_mm, behind)] = 0.0
    return field_limit(
        name,
        (float(low[0]), float(low[1]), float(low[2])),
        spacing,
        _no_steeper(values, spacing),
        radius_mm,
        LONGEST_EDGE_MM / math.sqrt(3.0),
    )


def _measured(laid: Laid, tree: cKDTree, at: Floats, counts_mm: float) -> tuple[Floats, Flags]:
    """How far the laid points are from places (N, 3) (N,), counts_mm at most, and which places lie straight behind."""
    asked = tree.query(at, distance_upper_bound=counts_mm)
    away, nearest = np.asarray(asked[0], dtype=float), np.asarray(asked[1], dtype=np.intp)
    found = np.flatnonzero(np.isfinite(away))
    held = nearest[found]
    facing = np.einsum("ij,ij->i", at[found] - laid.points[held], laid.normals[held])
    behind = np.zeros(len(at), dtype=bool)
    behind[found] = (facing < -_STRAIGHT_BEHIND * away[found]) & ~laid.rim[held]
    return np.minimum(away, counts_mm), behind


def _all_behind(found: Flags, behind: Flags) -> Flags:
    """Behind as well is what was too deep to be measured: where the nearest measured place is behind."""
    if not behind.any() or found.all():
        return behind
    nearest = distance_transform_edt(~found, return_distances=False, return_indices=True)
    whole: Flags = behind[tuple(nearest)]
    return whole


def _no_steeper(values: Floats, spacing: float) -> Floats:
    """The samples lowered where a change of sides makes them jump by more than the way between them."""
    lowered = values.copy()
    while True:
        before = lowered.copy()
        for axis in range(3):
            line = np.moveaxis(lowered, axis, 0)
            ramp = spacing * np.arange(len(line)).reshape(-1, 1, 1)
            # The least of all the samples on one side, each with the way to it, in one sweep.
            for one in (slice(None), slice(None, None, -1)):
                np.minimum(line[one], np.minimum.accumulate(line[one] - ramp) + ramp, out=line[one])
        if np.array_equal(before, lowered):
            return lowered
