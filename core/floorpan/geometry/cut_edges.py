"""Triangles cut until no edge is longer than so much, their neighbours with them.

Every edge that is too long is halved, and a triangle cut by how many of its edges are: into two, three or four. Both
triangles at an edge are cut at the same point, so that no gap opens, and a short edge is left as it is.
"""

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import Floats
from floorpan.geometry.mesh import Mesh

_Rows = NDArray[np.int64]

_ROUNDS = 16


def is_coarse(mesh: Mesh, share: float) -> bool:
    """Whether most of a mesh's area is of triangles with an edge longer than that share of its least extent."""
    least, corners = _least_mm(mesh), mesh.points[mesh.faces]
    longest = np.linalg.norm(corners - np.roll(corners, -1, axis=1), axis=2).max(axis=1, initial=0.0)
    area = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1)
    return least > 0.0 and bool(area[longest > share * least].sum() > area.sum() / 2.0)


def cut_where_coarse(mesh: Mesh, share: float, at_most: int) -> Mesh:
    """A coarse mesh cut to edges of a third of that share of its least extent; any other as it is."""
    return cut_edges(mesh, share / 3.0 * _least_mm(mesh), at_most) if is_coarse(mesh, share) else mesh


def _least_mm(mesh: Mesh) -> float:
    used = mesh.points[np.unique(mesh.faces)]
    return float(np.ptp(used, axis=0).min()) if len(used) else 0.0


def cut_edges(mesh: Mesh, longest_mm: float, at_most: int) -> Mesh:
    """The same surface with no edge longer than that; the points it had stand first.

    at_most : cut no further where it would come to more triangles than this
    """
    points: Floats = mesh.points
    faces: _Rows = mesh.faces.astype(np.int64)
    for _ in range(_ROUNDS):
        ends = np.sort(np.stack([faces, np.roll(faces, -1, axis=1)], axis=2), axis=2)
        long = np.linalg.norm(points[ends[..., 0]] - points[ends[..., 1]], axis=2) > longest_mm
        if not long.any() or len(faces) + long.sum() > at_most:
            break
        keys, number = np.unique(ends[long] @ np.array([len(points), 1]), return_inverse=True)
        middle: _Rows = np.full(faces.shape, -1, dtype=np.int64)
        middle[long] = len(points) + number.ravel()
        points = np.vstack([points, (points[keys // len(points)] + points[keys % len(points)]) / 2.0])
        faces = _cut(points, faces, middle)
    return Mesh(points, faces.astype(np.int32))


def _cut(points: Floats, faces: _Rows, middle: _Rows) -> _Rows:
    """Triangles (K, 3) of triangles (M, 3), middle (M, 3) the point that halves the edge after a corner, or -1."""
    halved = middle >= 0
    count = halved.sum(axis=1)
    # Turned so that a lone halved edge comes first, and a lone whole one last.
    turn = np.where(count == 1, halved.argmax(axis=1), np.where(count == 2, (~halved).argmax(axis=1) + 1, 0))
    order = (turn[:, None] + np.arange(3)) % 3
    a, b, c = np.take_along_axis(faces, order, axis=1).T
    ab, bc, ca = np.take_along_axis(middle, order, axis=1).T
    one, two, three = count == 1, count == 2, count == 3
    # Of the two ways to cut what is left of a triangle with two halved edges, the shorter.
    short = np.linalg.norm(points[ab] - points[c], axis=1) <= np.linalg.norm(points[a] - points[bc], axis=1)
    near, far = two & short, two & ~short
    parts = [
        (faces[:, 0], faces[:, 1], faces[:, 2], count == 0),
        (a, ab, c, one),
        (ab, b, c, one),
        (ab, b, bc, two),
        (ab, bc, c, near),
        (ab, c, a, near),
        (ab, bc, a, far),
        (a, bc, c, far),
        (a, ab, ca, three),
        (ab, b, bc, three),
        (bc, c, ca, three),
        (ab, bc, ca, three),
    ]
    return np.vstack([np.column_stack([x[used], y[used], z[used]]) for x, y, z, used in parts])
