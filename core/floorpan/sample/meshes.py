"""What a triangle mesh hangs together by, worked out on its faces alone."""

import numpy as np
from numpy.typing import NDArray

from floorpan.sample.shapes import Floats
from floorpan.sample.surface import Faces

Mask = NDArray[np.bool_]


def parts(point_count: int, faces: Faces) -> NDArray[np.int64]:
    """The part that every point belongs to, named by its lowest point number, shape (N,)."""
    part = np.arange(point_count)
    while True:
        lowest = part[faces].min(axis=1)
        lower = part.copy()
        for k in range(3):
            np.minimum.at(lower, part[faces[:, k]], lowest)
        lower = lower[lower]
        if np.array_equal(lower, part):
            return part
        part = lower


def spread(marked: Mask, faces: Faces) -> Mask:
    """The marked points and all that share a face with one of them."""
    wider = marked.copy()
    wider[faces[marked[faces].any(axis=1)].ravel()] = True
    return wider


def shrunk(marked: Mask, faces: Faces) -> Mask:
    """The marked points that share no face with an unmarked one."""
    return ~spread(~marked, faces)


def without_small_parts(faces: Faces, point_count: int, least_faces: int) -> Faces:
    """The faces of all parts that have so many faces or more."""
    part = parts(point_count, faces)[faces[:, 0]]
    count = np.bincount(part, minlength=point_count)
    return np.asarray(faces[count[part] >= least_faces])


def compacted(points: Floats, faces: Faces) -> tuple[Floats, Faces]:
    """Only the points that a face uses, in their old order, and the faces renumbered."""
    used = np.zeros(len(points), dtype=np.bool_)
    used[faces.ravel()] = True
    number = np.cumsum(used) - 1
    return points[used], number[faces].astype(np.int32)
