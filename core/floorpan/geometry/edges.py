"""Edges, open edges, loops of them, and islands."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from floorpan.geometry.mesh import Ints, Mesh

Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """The undirected edges of a mesh; faces that name a point twice have no part in them.

    pairs : (E, 2) int32, smaller point first, in rising order
    uses  : (E,) how many faces have the edge: 1 open, 2 inner, 3 or more non-manifold
    open_pairs : (B, 2) int32, the open edges as their only face runs them, so that the face lies on the left
    flipped : how many inner edges both faces run the same way: one of the two is inside out
    """

    pairs: Ints
    uses: Ints
    open_pairs: Ints
    flipped: int

    @property
    def non_manifold(self) -> int:
        """How many edges have three faces or more."""
        return int(np.count_nonzero(self.uses > 2))


def edges(mesh: Mesh) -> Edges:
    """Every edge of the mesh once."""
    faces = mesh.faces[~repeated(mesh.faces)]
    start = faces.ravel()
    end = np.roll(faces, -1, axis=1).ravel()
    key = np.minimum(start, end).astype(np.int64) << 32 | np.maximum(start, end)
    order = np.argsort(key)
    key = key[order]
    first = (
        np.flatnonzero(np.concatenate([[True], key[1:] != key[:-1]])) if len(key) else np.zeros(0, np.int64)
    )
    uses = np.diff(np.append(first, len(key))).astype(np.int32)
    once = np.sort(order[first[uses == 1]])
    distinct = key[first]
    pairs = np.column_stack([distinct >> 32, distinct & 0xFFFFFFFF]).astype(np.int32)
    inner = first[uses == 2]
    forward = start < end
    flipped = int(np.count_nonzero(forward[order[inner]] == forward[order[inner + 1]]))
    return Edges(pairs, uses, np.column_stack([start[once], end[once]]).astype(np.int32), flipped)


def repeated(faces: Ints) -> Bools:
    """Mask (M,) of the faces that name a point twice."""
    a, b, c = faces[:, 0], faces[:, 1], faces[:, 2]
    mask: Bools = (a == b) | (b == c) | (c == a)
    return mask


def boundary_loops(mesh: Mesh, open_pairs: Ints | None = None) -> tuple[Ints, ...]:
    """The open edges as closed loops of point numbers, faces on the left, longest (by points) first.

    No point comes twice in a loop: where loops touch they part. An inside-out patch breaks the running
    direction; then edges are taken backwards. What non-manifold edges leave open comes back as if its two
    ends were joined straight.
    """
    pairs = edges(mesh).open_pairs if open_pairs is None else open_pairs
    walker = _Walker(pairs)
    loops = [loop for edge in _starts(pairs) for loop in walker.walk(edge)]
    loops.sort(key=len, reverse=True)
    return tuple(np.array(loop, dtype=np.int32) for loop in loops)


def _starts(pairs: Ints) -> list[int]:
    """Edges to walk from: those at loose ends first, so that no open chain is begun in its middle."""
    if not len(pairs):
        return []
    balance = np.bincount(pairs[:, 0], minlength=int(pairs.max()) + 1)
    balance -= np.bincount(pairs[:, 1], minlength=len(balance))
    starts: list[int] = np.argsort(balance[pairs[:, 0]] <= 0, kind="stable").tolist()
    return starts


class _Walker:
    """Walks open edges, each once."""

    def __init__(self, pairs: Ints) -> None:
        self.pairs: list[list[int]] = pairs.tolist()
        self.left = [True] * len(self.pairs)
        self.out_of: dict[int, list[int]] = {}
        self.into: dict[int, list[int]] = {}
        for edge in range(len(self.pairs) - 1, -1, -1):
            start, end = self.pairs[edge]
            self.out_of.setdefault(start, []).append(edge)
            self.into.setdefault(end, []).append(edge)

    def walk(self, edge: int) -> list[list[int]]:
        """The loops met from one edge on; none if it was walked already."""
        if not self.left[edge]:
            return []
        self.left[edge] = False
        start, at = self.pairs[edge]
        path = [start]
        place = {start: 0}
        loops: list[list[int]] = []
        while True:
            if at in place:
                loop = path[place[at] :]
                loops.append(loop)
                for point in loop[1:]:
                    del place[point]
                del path[place[at] + 1 :]
            else:
                place[at] = len(path)
                path.append(at)
            after = self._next(at)
            if after is None:
                break
            at = after
        if len(path) > 2:
            loops.append(path)
        return [loop for loop in loops if len(loop) > 2]

    def _next(self, at: int) -> int | None:
        for edges_at, other in ((self.out_of.get(at, []), 1), (self.into.get(at, []), 0)):
            while edges_at:
                edge = edges_at.pop()
                if self.left[edge]:
                    self.left[edge] = False
                    return self.pairs[edge][other]
        return None


def islands(mesh: Mesh) -> Ints:
    """Island number (M,) of each face; 0 is the island with most faces. Faces that share a point are one island."""
    count = len(mesh.points)
    if not len(mesh.faces):
        return np.zeros(0, dtype=np.int32)
    start = mesh.faces[:, [0, 1]].ravel()
    end = mesh.faces[:, [1, 2]].ravel()
    graph = coo_matrix((np.ones(len(start), dtype=np.int8), (start, end)), shape=(count, count))
    label = connected_components(graph, directed=False)[1][mesh.faces[:, 0]]
    _, island, size = np.unique(label, return_inverse=True, return_counts=True)
    rank = np.empty(len(size), dtype=np.int32)
    rank[np.argsort(-size, kind="stable")] = np.arange(len(size), dtype=np.int32)
    ranked: Ints = rank[island]
    return ranked
