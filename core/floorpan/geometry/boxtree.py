"""A tree of boxes over triangles, walked for many queries at once, level by level."""

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.curve import along_curve
from floorpan.geometry.mesh import Floats, Mesh

Longs = NDArray[np.int64]

# Triangles in one leaf.
LEAF = 8


class BoxTree:
    """Boxes over the triangles of a mesh in the order of a space-filling curve.

    faces  : (M,) face numbers in the tree's order
    levels : boxes (K, 2, 3) from the leaves (LEAF triangles each) up to the root, halved in number each time
    """

    def __init__(self, mesh: Mesh) -> None:
        self.mesh = mesh
        a, b, c = (mesh.points[mesh.faces[:, k]] for k in range(3))
        low, high = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
        self.faces: Longs = along_curve((low + high) / 2.0)
        starts = np.arange(0, len(self.faces), LEAF)
        leaves = np.stack(
            [
                np.minimum.reduceat(low[self.faces], starts, axis=0),
                np.maximum.reduceat(high[self.faces], starts, axis=0),
            ],
            axis=1,
        )
        self.levels: list[Floats] = [leaves]
        while len(self.levels[-1]) > 1:
            self.levels.append(_halved(self.levels[-1]))

    def children(self, level: int, query: Longs, box: Longs) -> tuple[Longs, Longs]:
        """Pairs (query, box) one level further down than `level`."""
        count = len(self.levels[level - 1])
        down = np.concatenate([2 * box, 2 * box + 1])
        who = np.concatenate([query, query])
        there = down < count
        return who[there], down[there]

    def in_leaves(self, query: Longs, leaf: Longs) -> tuple[Longs, Longs]:
        """Pairs (query, face number) for pairs (query, leaf)."""
        place = leaf[:, None] * LEAF + np.arange(LEAF)
        there = place < len(self.faces)
        return np.broadcast_to(query[:, None], place.shape)[there], self.faces[place[there]]


def _halved(boxes: Floats) -> Floats:
    if len(boxes) % 2:
        boxes = np.concatenate([boxes, boxes[-1:]])
    return np.stack(
        [np.minimum(boxes[0::2, 0], boxes[1::2, 0]), np.maximum(boxes[0::2, 1], boxes[1::2, 1])], axis=1
    )
