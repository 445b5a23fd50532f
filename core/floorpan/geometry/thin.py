"""Fewer triangles for pictures and for files to hand on. Nothing is ever measured on a thinned mesh.

The library behind it holds the interpreter and keeps its mesh in globals of its own: call this in a process of its own.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from floorpan.errors import BadValue
from floorpan.geometry.collapse import collapsed
from floorpan.geometry.deviation import Deviation, Yardstick, deviation
from floorpan.geometry.edges import Bools
from floorpan.geometry.mesh import Mesh
from floorpan.progress import Step, Work

# A count is found to within this share.
COUNT_WITHIN: Final = 0.02
# So much fewer triangles at each of the first trials.
_STRIDE: Final = 4
TRYING: Final = "Thinning: trying {faces} triangles"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Thinned:
    """A thinned mesh and how far it and the whole one are apart.

    before, after : triangles of the whole mesh and of this one
    """

    mesh: Mesh
    deviation: Deviation
    before: int
    after: int

    @property
    def whole(self) -> bool:
        """Whether it is the mesh as it was: nothing could be left out."""
        return self.after == self.before


def thin(mesh: Mesh, target_faces: int, untouched: Bools | None = None) -> Thinned:
    """A welded mesh with about target_faces triangles and how far it strays.

    Open edges and the faces of the mask `untouched` (M,) stay as they are, bit for bit. A mesh with no more faces than
    asked for comes back itself; where open edges alone take more triangles than asked for, more are left. Raises
    BadValue where the count is none, or what is to stay untouched fills it.
    """
    check_count(mesh, target_faces, untouched)
    if len(mesh.faces) <= target_faces:
        return _whole(mesh)
    thinned = collapsed(mesh, target_faces, untouched)
    return _told(mesh, thinned, deviation(mesh, thinned))


def thin_to(mesh: Mesh, worst_mm: float, untouched: Bools | None = None) -> Work[Thinned]:
    """A welded mesh with the least count of triangles whose measured worst deviation is at most worst_mm.

    The count is found by bisection, to within COUNT_WITHIN of a count that strays farther (or cannot be had); a count
    below that might do all the same, for the worst deviation does not quite rise with every triangle left out. What
    comes back never strays farther; the mesh itself comes back where even a light thinning does. Open edges and the
    faces of the mask `untouched` (M,) stay as they are, bit for bit. Raises BadValue where worst_mm is no length.
    """
    if not (math.isfinite(worst_mm) and worst_mm >= 0.0):
        raise BadValue("no-deviation", "That is no distance to stray.", "Give one of 0 mm or more.")
    best = _whole(mesh)
    stick = Yardstick(mesh)
    # Counts known to do and not to do; what stays untouched leaves no fewer.
    does, fails = len(mesh.faces), 0 if untouched is None else int(np.count_nonzero(untouched))
    strode, trials, done = False, 0, 0.0
    while does > max(fails * (1.0 + COUNT_WITHIN), fails + 1):
        middle = int(math.sqrt(does * max(fails, 1))) if strode else does // _STRIDE
        count = min(max(middle, fails + 1), does - 1)
        # Before the first that strays too far, two strides more are reckoned with.
        done = max(
            done, trials / (trials + _trials_left(does, max(fails, does // _STRIDE)) + (0 if strode else 2))
        )
        yield Step(done, TRYING.format(faces=count))
        trials += 1
        thinned = collapsed(mesh, count, untouched)
        there = stick.strays(thinned)
        off = None if there.max(initial=0.0) > worst_mm else stick.deviation(thinned, there)
        if off is None or off.worst_mm > worst_mm:
            fails, strode = count, True
            continue
        if len(thinned.faces) < best.after:
            best = _told(mesh, thinned, off)
        if len(thinned.faces) > count * (1.0 + COUNT_WITHIN):
            # Open edges and what is untouched leave no fewer.
            break
        does = count
    return best


def _trials_left(does: int, fails: int) -> int:
    """How often the span between two counts is halved, in its logarithm, until it is within COUNT_WITHIN."""
    span = math.log(does / max(fails, 1)) / math.log(1.0 + COUNT_WITHIN)
    return max(math.ceil(math.log2(max(span, 1.0))), 1)


def check_count(mesh: Mesh, target_faces: int, untouched: Bools | None) -> None:
    """Raise BadValue where `thin` would."""
    if target_faces < 1:
        raise BadValue("no-triangles", "No triangle would be left.", "Ask for one or more.")
    held = 0 if untouched is None else int(np.count_nonzero(untouched))
    if held >= target_faces and len(mesh.faces) > target_faces:
        raise BadValue(
            "untouched-fill-it",
            "What is to stay untouched has more triangles than asked for.",
            "Ask for more triangles, or leave fewer areas untouched.",
            untouched=held,
        )


def _whole(mesh: Mesh) -> Thinned:
    return _told(mesh, mesh, _nothing(mesh))


def _nothing(mesh: Mesh) -> Deviation:
    """A mesh against itself, without asking."""
    used = len(np.unique(mesh.faces))
    x, y, z = mesh.points[mesh.faces[0, 0]].tolist() if used else [math.nan] * 3
    return Deviation(mean_mm=0.0, p99_mm=0.0, worst_mm=0.0, where_mm=(x, y, z), points=2 * used)


def _told(mesh: Mesh, thinned: Mesh, off: Deviation) -> Thinned:
    return Thinned(mesh=thinned, deviation=off, before=len(mesh.faces), after=len(thinned.faces))
