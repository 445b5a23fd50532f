"""The room of a knob over a block of voxels, worked out only where it matters.

Blocks of voxels are looked at by their middles first. Room changes by no more than its steepness for each mm, so
that a middle tells which blocks lie too deep for a single voxel to count, and in the others which causes cannot be
the least. Both are left out, and what is left is exact.
"""

import math
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from floorpan.advice.knob_question import KnobQuestion, Term
from floorpan.frames import Floats
from floorpan.progress import Step, Work

Causes = NDArray[np.int16]
Flags = NDArray[np.bool_]

TOO_FAR_OUT = -1

# A field of more voxels than this is made coarser; some 60 MB.
MOST_VOXELS = 6_000_000
# Missing more than so many voxels' worth of room is no longer told apart.
DEEP_VOXELS = 4

# Voxels along a block: measured best of 4, 5, 6 and 8 through eight gears at three notches.
_BLOCK = 4
# So many places at once stay in the processor's cache.
_AT_ONCE = 20_000


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class KnobField:
    """Room at voxels. Voxel (i, j, k) stands at origin_mm + spacing_mm * (i, j, k).

    origin_mm  : (3,) in car axes
    margin     : (X, Y, Z) [mm], exact, but no lower than -deep_mm
    cause      : (X, Y, Z) index of the question's term that is the least, TOO_FAR_OUT where margin is -deep_mm
    """

    origin_mm: Floats
    spacing_mm: float
    deep_mm: float
    margin: Floats
    cause: Causes

    def places(self, voxels: NDArray[np.intp]) -> Floats:
        """Places (N, 3) of voxels (N, 3) in car axes [mm]."""
        found: Floats = self.origin_mm + self.spacing_mm * voxels
        return found


def term_margins(terms: tuple[Term, ...], points: Floats) -> Floats:
    """What every term leaves at every place: (T, N) [mm]."""
    found = np.empty((len(terms), len(points)))
    for row, term in enumerate(terms):
        found[row] = term.margin(points)
    return found


def most_and_live(terms: tuple[Term, ...], found: Floats, radius: float) -> tuple[Floats, Flags]:
    """About places, within a radius [mm]: the most room anywhere (N,), and which terms can be the least (T, N).

    found : what each term leaves at the places themselves (T, N)
    """
    slack = radius * np.array([term.steepness for term in terms])[:, None]
    most: Floats = (found + slack).min(axis=0)
    live = np.asarray(found - slack <= most)
    return most, live


def knob_field(question: KnobQuestion, spacing_mm: float) -> Work[KnobField]:
    """The room over all that the arms reach, cut down to the blocks that may hold more than -deep_mm.

    No voxel at the edge of it is inside, so that a surface about the region closes.

    Where that would be more than MOST_VOXELS, the spacing grows by quarters until it is not.
    """
    spacing = float(spacing_mm)
    while True:
        deep = DEEP_VOXELS * spacing
        first, starts, live = yield from _blocks(question, spacing, deep)
        low, high = starts.min(axis=0), starts.max(axis=0) + _BLOCK
        shape = high - low
        if np.prod(shape.astype(float)) <= MOST_VOXELS:
            break
        spacing *= 1.25
    margin = np.full(tuple(shape), -deep)
    cause = np.full(tuple(shape), TOO_FAR_OUT, dtype=np.int16)
    least, index = yield from _voxels(question.terms, first + spacing * starts, live, spacing)
    out = least <= -deep
    least[out], index[out] = -deep, TOO_FAR_OUT
    at = (starts - low)[:, None, :] + _inner()
    x, y, z = at.reshape(-1, 3).T
    margin[x, y, z], cause[x, y, z] = least.ravel(), index.ravel()
    return KnobField(
        origin_mm=first + spacing * low, spacing_mm=spacing, deep_mm=deep, margin=margin, cause=cause
    )


def _inner() -> NDArray[np.intp]:
    return np.array(list(product(range(_BLOCK), repeat=3)), dtype=np.intp)


def _blocks(
    question: KnobQuestion, spacing: float, deep: float
) -> Work[tuple[Floats, NDArray[np.intp], Flags]]:
    """Where voxel (0, 0, 0) stands; first voxels (K, 3) of the blocks that count; their live terms (T, K)."""
    low, high = question.reach_box()
    # Beyond this nothing misses less than -deep_mm, so that the room falls off evenly to the field's edge.
    low, high = low - deep, high + deep
    middle = (low + high) / 2.0
    counts = np.maximum(np.ceil((high - low) / (_BLOCK * spacing)), 1.0).astype(np.intp)
    # The grid lies evenly about the middle, so that a mirrored car has the mirrored voxels.
    first = middle - spacing * (_BLOCK * counts - 1) / 2.0
    starts = _BLOCK * np.stack(np.meshgrid(*map(np.arange, counts), indexing="ij"), axis=-1).reshape(-1, 3)
    radius = math.sqrt(3.0) * spacing * (_BLOCK - 1) / 2.0
    kept_starts, kept_live = [], []
    for begin in range(0, len(starts), _AT_ONCE):
        yield Step(0.0, "Looking where a knob could be")
        some = starts[begin : begin + _AT_ONCE]
        middles = first + spacing * (some + (_BLOCK - 1) / 2.0)
        most, live = most_and_live(question.terms, term_margins(question.terms, middles), radius)
        kept_starts.append(some[most > -deep])
        kept_live.append(live[:, most > -deep])
    kept = np.concatenate(kept_starts)
    if not len(kept):
        # Nowhere is even nearly enough: one block, all of it too far out.
        return first, starts[:1], np.ones((len(question.terms), 1), dtype=bool)
    return first, kept, np.concatenate(kept_live, axis=1)


def _voxels(
    terms: tuple[Term, ...], corners: Floats, live: Flags, spacing: float
) -> Work[tuple[Floats, Causes]]:
    """The least room and the term that leaves it, in every voxel of blocks (K, 3): two of (K, voxels)."""
    inner = spacing * _inner()
    least = np.full((len(corners), len(inner)), np.inf)
    index = np.zeros(least.shape, dtype=np.int16)
    at_once = max(_AT_ONCE // len(inner), 1)
    for begin in range(0, len(corners), at_once):
        yield Step(0.95 * begin / len(corners), "Working out the room for the knob")
        chunk = slice(begin, begin + at_once)
        points = corners[chunk, None, :] + inner
        for row in np.flatnonzero(live[:, chunk].any(axis=1)):
            blocks = np.flatnonzero(live[row, chunk])
            room = terms[row].margin(points[blocks].reshape(-1, 3)).reshape(len(blocks), -1)
            whole = begin + blocks
            before = least[whole]
            less = room < before
            least[whole] = np.where(less, room, before)
            index[whole] = np.where(less, row, index[whole])
    return least, index
