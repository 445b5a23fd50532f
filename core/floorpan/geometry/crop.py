"""The part of a mesh inside an oriented box."""

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import Pose
from floorpan.geometry.mesh import Floats, Ints, Mesh

Bools = NDArray[np.bool_]
Marks = NDArray[np.uint8]

# Points, or faces, looked at together: they stay in the nearest memory.
_AT_ONCE = 1 << 14


def crop_box(mesh: Mesh, frame: Pose, least_mm: Floats, greatest_mm: Floats, *, cut: bool = True) -> Mesh:
    """Faces inside a box; order kept, what a cut adds comes last.

    frame : from box coordinates to the mesh's own; least_mm, greatest_mm : (3,) corners in box coordinates
    cut   : whether faces across the box's sides are cut along them, or kept whole
    """
    box = _Box(frame, least_mm, greatest_mm)
    whole, across = _sorted_out(mesh.faces, box.outside(mesh.points))
    if not len(across):
        return mesh.kept(whole)
    strip = Mesh(mesh.points, mesh.faces.take(across, axis=0))
    pieces = _cut(strip, box)
    if cut:
        return mesh.kept_with(whole, pieces.points, pieces.faces)
    # Whole faces that really reach into the box.
    whole[across[np.unique(pieces.owner)]] = True
    return mesh.kept(whole)


class _Box:
    """The six sides of a box, told for points in the mesh's own coordinates."""

    def __init__(self, frame: Pose, least_mm: Floats, greatest_mm: Floats) -> None:
        self._low = np.asarray(least_mm, dtype=np.float64)
        self._high = np.asarray(greatest_mm, dtype=np.float64)
        self._turn = np.reshape(frame.rotation, (3, 3))
        self._shift = np.asarray(frame.shift_mm)

    def _along(self, points: Floats, axis: int) -> Floats:
        along: Floats = points @ self._turn[:, axis]
        along -= float(self._turn[:, axis] @ self._shift)
        return along

    def outside(self, points: Floats) -> Marks:
        """Which of the six sides each point (N,) lies outside of, a bit a side: three looks a face tell all."""
        outside = np.empty(len(points), dtype=np.uint8)
        for start in range(0, len(points), _AT_ONCE):
            run = points[start : start + _AT_ONCE]
            marks = np.zeros(len(run), dtype=np.uint8)
            for axis in range(3):
                along = self._along(run, axis)
                marks |= (along < self._low[axis]).view(np.uint8) << np.uint8(2 * axis)
                marks |= (along > self._high[axis]).view(np.uint8) << np.uint8(2 * axis + 1)
            outside[start : start + _AT_ONCE] = marks
        return outside

    def offs(self, points: Floats) -> Floats:
        """How far points lie outside of each side (N, 6), less than nothing inside [mm]."""
        offs = np.empty((len(points), 6))
        for axis in range(3):
            along = self._along(points, axis)
            offs[:, 2 * axis] = self._low[axis] - along
            offs[:, 2 * axis + 1] = along - self._high[axis]
        return offs


def _sorted_out(faces: Ints, outside: Marks) -> tuple[Bools, NDArray[np.int64]]:
    """Which faces (M,) lie wholly inside, and the numbers of those that no single side shuts out."""
    whole = np.empty(len(faces), dtype=bool)
    across = [np.zeros(0, dtype=np.int64)]
    for start in range(0, len(faces), _AT_ONCE):
        corner = outside.take(faces[start : start + _AT_ONCE])
        a, b, c = corner[:, 0], corner[:, 1], corner[:, 2]
        any_out = a | b | c
        whole[start : start + _AT_ONCE] = any_out == 0
        across.append(start + np.flatnonzero((any_out != 0) & ((a & b & c) == 0)))
    return whole, np.concatenate(across)


class _Pieces:
    """Faces cut side by side: points beyond the mesh's own are new.

    owner : (T,) which face of the strip each piece came from
    """

    def __init__(self, points: Floats, faces: Ints, owner: NDArray[np.int64]) -> None:
        self.points, self.faces, self.owner = points, faces, owner


def _cut(strip: Mesh, box: _Box) -> _Pieces:
    used, local = np.unique(strip.faces, return_inverse=True)
    count = len(used)
    points = strip.points[used]
    held = box.offs(points)
    faces = local.reshape(-1, 3).astype(np.int64)
    owner = np.arange(len(faces))
    for side in range(held.shape[1]):
        points, held, faces, owner = _cut_side(points, held, faces, owner, side)
    number = np.concatenate([used, np.arange(len(points) - count) + len(strip.points)])
    return _Pieces(points[count:], number[faces].astype(np.int32), owner)


def _cut_side(
    points: Floats, held: Floats, faces: NDArray[np.int64], owner: NDArray[np.int64], side: int
) -> tuple[Floats, Floats, NDArray[np.int64], NDArray[np.int64]]:
    """Keep what has `held[:, side] <= 0`. Both faces at an edge make the same new point, bit for bit."""
    out = held[faces, side] > 0.0
    count = out.sum(axis=1)
    keep_faces, keep_owner = faces[count == 0], owner[count == 0]
    one, two = np.flatnonzero(count == 1), np.flatnonzero(count == 2)
    # Turn so that the odd corner comes first.
    odd = np.concatenate([out[one].argmax(axis=1), (~out[two]).argmax(axis=1)])
    rows = np.concatenate([one, two])
    turned = faces[rows[:, None], (odd[:, None] + np.arange(3)) % 3]
    start, end = np.tile(turned[:, 0], 2), np.concatenate([turned[:, 1], turned[:, 2]])
    # Both numbers of an edge in one, which sorts many times faster than pairs.
    key, new = np.unique(np.minimum(start, end) * len(points) + np.maximum(start, end), return_inverse=True)
    unique = np.stack(np.divmod(key, len(points)), axis=1)
    p, q = held[unique[:, 0], side], held[unique[:, 1], side]
    # A corner that lies on the side serves as the new point.
    number = np.arange(len(unique)) + len(points)
    number = np.where(p == 0.0, unique[:, 0], np.where(q == 0.0, unique[:, 1], number))
    new = number[new.reshape(-1)]
    share = (p / (p - q))[:, None] if len(unique) else np.zeros((0, 1))
    points = np.vstack([points, points[unique[:, 0]] + share * (points[unique[:, 1]] - points[unique[:, 0]])])
    more = held[unique[:, 0]] + share * (held[unique[:, 1]] - held[unique[:, 0]])
    more[:, side] = 0.0
    held = np.vstack([held, more])
    ab, ac = new[: len(rows)], new[len(rows) :]
    b, c = turned[:, 1], turned[:, 2]
    first = np.arange(len(rows)) < len(one)
    quads = np.vstack([np.column_stack([ab, b, c])[first], np.column_stack([ab, c, ac])[first]])
    tips = np.column_stack([turned[:, 0], ab, ac])[~first]
    faces = np.vstack([keep_faces, quads, tips])
    owner = np.concatenate([keep_owner, np.tile(owner[one], 2), owner[two]])
    real = (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])
    return points, held, faces[real], owner[real]
