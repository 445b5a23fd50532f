"""The part of a mesh inside an oriented box."""

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import Pose
from floorpan.geometry.mesh import Floats, Ints, Mesh

Bools = NDArray[np.bool_]


def crop_box(mesh: Mesh, frame: Pose, least_mm: Floats, greatest_mm: Floats, *, cut: bool = True) -> Mesh:
    """Faces inside a box; order kept, what a cut adds comes last.

    frame : from box coordinates to the mesh's own; least_mm, greatest_mm : (3,) corners in box coordinates
    cut   : whether faces across the box's sides are cut along them, or kept whole
    """
    low, high = np.asarray(least_mm, dtype=np.float64), np.asarray(greatest_mm, dtype=np.float64)
    turn = np.reshape(frame.rotation, (3, 3))
    # Which of the six sides each point lies outside of, a bit a side: three looks a face tell all.
    outside = np.zeros(len(mesh.points), dtype=np.uint8)
    offs: list[Floats] = []
    for axis in range(3):
        # One column at a time: a whole (N, 3) product would cost three times the memory.
        along = mesh.points @ turn[:, axis] - float(turn[:, axis] @ np.asarray(frame.shift_mm))
        for off in (low[axis] - along, along - high[axis]):
            outside |= (off > 0.0).astype(np.uint8) << len(offs)
            offs.append(off)
    a, b, c = outside[mesh.faces[:, 0]], outside[mesh.faces[:, 1]], outside[mesh.faces[:, 2]]
    any_out = a | b | c
    whole = any_out == 0
    maybe = (any_out != 0) & ((a & b & c) == 0)
    if not maybe.any():
        return mesh.kept(whole)
    strip = Mesh(mesh.points, mesh.faces[maybe])
    pieces = _cut(strip, offs)
    if cut:
        return _joined(mesh, whole, pieces)
    # Whole faces that really reach into the box.
    whole[np.flatnonzero(maybe)[np.unique(pieces.owner)]] = True
    return mesh.kept(whole)


class _Pieces:
    """Faces cut side by side: points beyond the mesh's own are new.

    owner : (T,) which face of the strip each piece came from
    """

    def __init__(self, points: Floats, faces: Ints, owner: NDArray[np.int64]) -> None:
        self.points, self.faces, self.owner = points, faces, owner


def _cut(strip: Mesh, offs: list[Floats]) -> _Pieces:
    used, local = np.unique(strip.faces, return_inverse=True)
    count = len(used)
    points = strip.points[used]
    held = np.stack([off[used] for off in offs], axis=1)
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
    edges = np.sort(np.concatenate([turned[:, [0, 1]], turned[:, [0, 2]]]), axis=1)
    unique, new = np.unique(edges, axis=0, return_inverse=True)
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


def _joined(mesh: Mesh, whole: Bools, pieces: _Pieces) -> Mesh:
    points = np.vstack([mesh.points, pieces.points])
    faces = np.vstack([mesh.faces[whole], pieces.faces])
    return Mesh(points, faces).kept(np.ones(len(faces), dtype=bool))
