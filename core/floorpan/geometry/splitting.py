"""The faces of a mesh in groups that lie close together."""

import math

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.mesh import Floats, Mesh

Longs = NDArray[np.int64]

TILE_TRIANGLES = 5000

# Of more faces than this, whole cells of space are grouped, which takes a small part of the time.
_FEW_FACES = 100_000
_CELLS = 1 << 18
_FILLED = 0.94
_POINTS_AT_ONCE = 1 << 14


def split(mesh: Mesh, at_most: int = TILE_TRIANGLES) -> tuple[Longs, ...]:
    """Face numbers in groups of at most `at_most`, close together: halved along their longest side."""
    if not len(mesh.faces):
        return ()
    if len(mesh.faces) > max(_FEW_FACES, at_most):
        return tuple(_by_cells(mesh, at_most))
    return tuple(_by_faces(mesh, np.arange(len(mesh.faces)), at_most))


def _by_faces(mesh: Mesh, faces: Longs, at_most: int) -> list[Longs]:
    middle = _middles(mesh, faces)
    groups: list[Longs] = []
    waiting = [np.arange(len(faces))]
    while waiting:
        group = waiting.pop()
        if len(group) <= at_most:
            groups.append(np.sort(faces[group]))
            continue
        sides = [middle[axis][group] for axis in range(3)]
        along = max(sides, key=lambda side: float(side.max() - side.min()))
        half = _half(len(group), at_most)
        order = np.argpartition(along, half)
        waiting += [group[order[half:]], group[order[:half]]]
    return groups


def _half(count: int, at_most: int) -> int:
    """About half, in whole tiles: that keeps the number of tiles least."""
    return math.ceil(count / at_most / 2) * at_most


def _middles(mesh: Mesh, faces: Longs) -> list[Floats]:
    """Three times x, y and z of the faces' middles."""
    corner = mesh.points.take(mesh.faces.take(faces, axis=0), axis=0)
    return [corner[:, 0, axis] + corner[:, 1, axis] + corner[:, 2, axis] for axis in range(3)]


def _by_cells(mesh: Mesh, at_most: int) -> list[Longs]:
    """Cells of space, each with the faces that begin in it, halved as if they were faces."""
    shape, cell = _cells(mesh)
    # Cell and face in one number: sorting numbers is several times faster than sorting by them.
    both = cell.take(mesh.faces[:, 0])
    both <<= 32
    both |= np.arange(len(both))
    both.sort()
    count = np.bincount(both >> 32)
    order = both & 0xFFFFFFFF
    end = np.cumsum(count)
    taken = np.flatnonzero(count)
    place = np.stack(np.unravel_index(taken, shape))
    groups: list[Longs] = []
    waiting = [np.arange(len(taken))]
    while waiting:
        group = waiting.pop()
        at = taken[group]
        total = int(count[at].sum())
        if total <= at_most or len(group) == 1:
            faces = np.concatenate([order[end[k] - count[k] : end[k]] for k in at.tolist()])
            groups += [faces] if total <= at_most else _by_faces(mesh, faces, at_most)
            continue
        sides = place[:, group]
        along = np.argsort(sides[np.ptp(sides, axis=1).argmax()], kind="stable")
        filled = np.cumsum(count[at[along]])
        # Shares of equal tiles that leave room for what whole cells overfill.
        tiles = math.ceil(total / (_FILLED * at_most))
        half = int(np.abs(filled - total * (math.ceil(tiles / 2) / tiles)).argmin()) + 1
        half = min(max(half, 1), len(group) - 1)
        waiting += [group[along[half:]], group[along[:half]]]
    return groups


def _cells(mesh: Mesh) -> tuple[tuple[int, ...], Longs]:
    """How many cells there are each way, and the cell (N,) of each point."""
    low, high = mesh.bounds
    size = high - low
    side = max(float(size.max()) / _CELLS, 1e-9)
    while np.prod(size // side + 1.0) > _CELLS:
        side *= 1.05
    many = (size // side + 1.0).astype(np.int64)
    cell = np.empty(len(mesh.points), dtype=np.int64)
    for start in range(0, len(cell), _POINTS_AT_ONCE):
        run = mesh.points[start : start + _POINTS_AT_ONCE]
        at = np.minimum(((run - low) / side).astype(np.int64), many - 1)
        cell[start : start + _POINTS_AT_ONCE] = (at[:, 0] * many[1] + at[:, 1]) * many[2] + at[:, 2]
    return tuple(many.tolist()), cell
