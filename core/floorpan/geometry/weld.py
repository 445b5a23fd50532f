"""Points that are equal to the last bit become one."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.edges import repeated
from floorpan.geometry.mesh import Floats, Ints, Mesh

_MIX = (0x9E3779B97F4A7C15, 0xC2B2AE3D27D4EB4F, 0x165667B19E3779F9)
# Points looked at together: they and their table stay in the nearest memory.
_AT_ONCE = 1 << 14
# Of points whose places in the table were taken, so few are sorted; so often others are looked up anew.
_FEW, _MOST_ROUNDS = 2000, 6


@dataclass(frozen=True, slots=True, eq=False)
class Welded:
    """A welded mesh.

    mesh      : faces in the order they had, points in the order of their first use
    new_point : (N,) int32, the number each old point has now
    collapsed : (M,) mask of the faces that name a point twice; they keep their place
    """

    mesh: Mesh
    new_point: Ints
    collapsed: NDArray[np.bool_]


def weld(mesh: Mesh) -> Welded:
    """Join points with equal coordinates; nothing is moved, no face is dropped. Zero and minus zero are equal."""
    if not len(mesh.points):
        return Welded(mesh, np.zeros(0, dtype=np.int32), repeated(mesh.faces))
    first = _first_equal(mesh.points, 0)
    own = first == np.arange(len(first), dtype=np.int32)
    # In the order of first use, so that an already welded mesh comes back as it was.
    rank = np.cumsum(own, dtype=np.int32)
    rank -= 1
    new_point = rank.take(first)
    del first, rank
    points = mesh.points.compress(own, axis=0)
    points += 0.0
    faces = new_point.take(mesh.faces) if len(mesh.faces) else mesh.faces
    return Welded(Mesh(points, faces), new_point, repeated(faces))


def _first_equal(points: Floats, round_: int) -> Ints:
    """The number (N,) of the first point that equals each: by its place in a table, the same one for equal points.

    Files name a point several times soon after one another, so that each run of points is thinned by a table of its
    own first. Where different points meet at a place, all but the first are looked up again, at other places.
    """
    count = len(points)
    if round_ and (count < _FEW or round_ > _MOST_ROUNDS):
        return _first_equal_by_rows(points)
    places = max(4, (count - 1).bit_length())
    table = np.full(1 << places, -1, dtype=np.int32)
    first = np.empty(count, dtype=np.int32)
    elsewhere = []
    for start in range(0, count, _AT_ONCE):
        run = points[start : start + _AT_ONCE]
        mixed = _mixed(_hash(run), round_)
        earlier, heads = _thinned(run, mixed)
        earlier += start
        first[start : start + _AT_ONCE] = earlier
        place = _place(mixed.take(heads), places)
        found = table.take(place)
        free = np.flatnonzero(found < 0)
        at = place.take(free)
        # The last one written stays: backwards, so that it is the first point.
        table[at[::-1]] = (heads.take(free) + start)[::-1]
        found[free] = table.take(at)
        first[heads + start] = found
        elsewhere.append(start + heads.compress(_differ(points.take(found, axis=0), run.take(heads, axis=0))))
    again = np.concatenate(elsewhere)
    if len(again):
        first[again] = again.take(_first_equal(points.take(again, axis=0), round_ + 1))
    # From the first one of its run to the first one of all.
    return first.take(first)


def _thinned(run: Floats, mixed: NDArray[np.uint64]) -> tuple[Ints, NDArray[np.int64]]:
    """An equal point no later than each (R,) of a run, and the numbers (H,) of those that found none before them."""
    number = np.arange(len(run), dtype=np.int32)
    places = (4 * _AT_ONCE - 1).bit_length()
    place = _place(mixed, places)
    table = np.empty(1 << places, dtype=np.int32)
    table[place[::-1]] = number[::-1]
    earlier = table.take(place)
    alone = _differ(run.take(earlier, axis=0), run)
    alone |= earlier == number
    return np.where(alone, number, earlier), np.flatnonzero(alone)


def _differ(points: Floats, others: Floats) -> NDArray[np.bool_]:
    off = points != others
    found: NDArray[np.bool_] = off[:, 0] | off[:, 1] | off[:, 2]
    return found


def _hash(points: Floats) -> NDArray[np.uint64]:
    """One number (N,) for each point, the same for equal ones."""
    words = (points.T + 0.0).view(np.uint64)
    mixed: NDArray[np.uint64] = words[0] * np.uint64(_MIX[0])
    mixed += words[1] * np.uint64(_MIX[1])
    mixed += words[2] * np.uint64(_MIX[2])
    return mixed


def _mixed(hashed: NDArray[np.uint64], round_: int) -> NDArray[np.uint64]:
    """The numbers stirred so that their upper bits tell a place; another one in each round."""
    mixed = hashed + np.uint64(round_)
    mixed ^= mixed >> np.uint64(32)
    mixed *= np.uint64(_MIX[round_ % 3])
    return mixed


def _place(mixed: NDArray[np.uint64], places: int) -> NDArray[np.int64]:
    return (mixed >> np.uint64(64 - places)).view(np.int64)


def _first_equal_by_rows(points: Floats) -> Ints:
    order = np.lexsort(points.T)
    ordered = points.take(order, axis=0)
    fresh = np.ones(len(order), dtype=bool)
    fresh[1:] = _differ(ordered[1:], ordered[:-1])
    first = np.empty(len(order), dtype=np.int32)
    first[order] = np.minimum.reduceat(order, np.flatnonzero(fresh)).take(np.cumsum(fresh) - 1)
    return first
