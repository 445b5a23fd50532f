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


@dataclass(frozen=True, slots=True, eq=False)
class Sides:
    """The sides of all faces that name no point twice, sorted so that those of one edge stand together.

    face  : (S,) which face each side belongs to
    start, end : (S,) the points it runs from and to
    place : (S,) its place in the order of the faces
    first : (E,) where each edge begins in the rows above, edges in rising order of their points
    uses  : (E,) how many sides each edge has
    """

    face: NDArray[np.int64]
    start: Ints
    end: Ints
    place: NDArray[np.int64]
    first: NDArray[np.int64]
    uses: Ints


def sides(mesh: Mesh) -> Sides:
    """Every side of every face, edge by edge."""
    whole = np.flatnonzero(~repeated(mesh.faces))
    faces = mesh.faces[whole]
    start = faces.ravel()
    end = np.roll(faces, -1, axis=1).ravel()
    key = np.minimum(start, end).astype(np.int64) << 32 | np.maximum(start, end)
    order = np.argsort(key)
    key = key[order]
    first = (
        np.flatnonzero(np.concatenate([[True], key[1:] != key[:-1]])) if len(key) else np.zeros(0, np.int64)
    )
    uses = np.diff(np.append(first, len(key))).astype(np.int32)
    return Sides(whole[order // 3], start[order], end[order], order, first, uses)


def edges(mesh: Mesh) -> Edges:
    """Every edge of the mesh once."""
    found = sides(mesh)
    first, uses = found.first, found.uses
    once = first[uses == 1]
    once = once[np.argsort(found.place[once])]
    one, two = found.start[first], found.end[first]
    pairs = np.column_stack([np.minimum(one, two), np.maximum(one, two)])
    inner = first[uses == 2]
    forward = found.start < found.end
    flipped = int(np.count_nonzero(forward[inner] == forward[inner + 1]))
    return Edges(pairs, uses, np.column_stack([found.start[once], found.end[once]]), flipped)


def repeated(faces: Ints) -> Bools:
    """Mask (M,) of the faces that name a point twice."""
    a, b, c = faces[:, 0], faces[:, 1], faces[:, 2]
    mask: Bools = (a == b) | (b == c) | (c == a)
    return mask


def boundary_loops(mesh: Mesh, open_pairs: Ints | None = None) -> tuple[Ints, ...]:
    """The open edges as closed loops of point numbers, faces on the left, longest (by points) first.

    No point comes twice in a loop. Where loops touch they part, each keeping to its own hole: across the gap from one
    fan of faces to the next. An inside-out patch breaks the running
    direction; then edges are taken backwards. What non-manifold edges leave open comes back as if its two
    ends were joined straight.
    """
    pairs = edges(mesh).open_pairs if open_pairs is None else open_pairs
    walker = _Walker(pairs, _fans(mesh, pairs))
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


def _fans(mesh: Mesh, pairs: Ints) -> dict[tuple[int, int], int]:
    """Where loops touch in a point: (point, neighbour) to the number of the fan of faces the neighbour belongs to."""
    start, count = np.unique(pairs[:, 0], return_counts=True)
    touched = np.zeros(len(mesh.points), dtype=bool)
    touched[start[count > 1]] = True
    if not touched.any():
        return {}
    around: dict[int, list[tuple[int, int]]] = {}
    for face in mesh.faces[touched[mesh.faces].any(axis=1) & ~repeated(mesh.faces)].tolist():
        for turn in range(3):
            if touched[face[turn]]:
                around.setdefault(face[turn], []).append((face[turn - 1], face[turn - 2]))
    return {(point, n): fan for point, links in around.items() for n, fan in _grouped(links).items()}


def _grouped(links: list[tuple[int, int]]) -> dict[int, int]:
    """Group number of everything that is linked, directly or not."""
    group: dict[int, int] = {}
    for one, two in links:
        old, new = group.setdefault(one, one), group.setdefault(two, two)
        if old != new:
            group.update({key: new for key, held in group.items() if held == old})
    return group


class _Walker:
    """Walks open edges, each once."""

    def __init__(self, pairs: Ints, fans: dict[tuple[int, int], int]) -> None:
        self.fans = fans
        self.pairs: list[list[int]] = pairs.tolist()
        self.left = [True] * len(self.pairs)
        self.out_of: dict[int, list[int]] = {}
        self.into: dict[int, list[int]] = {}
        for edge in range(len(self.pairs)):
            start, end = self.pairs[edge]
            self.out_of.setdefault(start, []).append(edge)
            self.into.setdefault(end, []).append(edge)

    def walk(self, edge: int) -> list[list[int]]:
        """The loops met from one edge on; none if it was walked already."""
        if not self.left[edge]:
            return []
        self.left[edge] = False
        start, at = self.pairs[edge]
        came = start
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
            after = self._next(at, came)
            if after is None:
                break
            came, at = at, after
        if len(path) > 2:
            loops.append(path)
        return [loop for loop in loops if len(loop) > 2]

    def _next(self, at: int, came: int) -> int | None:
        """The point to go on to from `at`, over an edge that nobody went yet."""
        here = self.fans.get((at, came))
        for edges_at, other in ((self.out_of.get(at, []), 1), (self.into.get(at, []), 0)):
            onward = [edge for edge in edges_at if self.left[edge]]
            if here is not None and len(onward) > 1:
                across = [edge for edge in onward if self.fans.get((at, self.pairs[edge][other])) != here]
                onward = across or onward
            if onward:
                self.left[onward[0]] = False
                return self.pairs[onward[0]][other]
        return None


def _roots(mesh: Mesh) -> Ints:
    """A point (N,) that each hangs together with: faces tie points to the least of their own, and so on down.

    Points that hang together may still have several roots, but few: most of a graph is gone by then.
    """
    root = np.arange(len(mesh.points), dtype=np.int32)
    a, b, c = mesh.faces[:, 0], mesh.faces[:, 1], mesh.faces[:, 2]
    least = np.minimum(np.minimum(a, b), c)
    for corner in (a, b, c):
        lower = np.flatnonzero(least < corner)
        root[corner.take(lower)] = least.take(lower)
    while True:
        further = root.take(root)
        if np.array_equal(further, root):
            return root
        root = further


def islands(mesh: Mesh) -> Ints:
    """Island number (M,) of each face; 0 is the island with most faces. Faces that share a point are one island."""
    if not len(mesh.faces):
        return np.zeros(0, dtype=np.int32)
    root = _roots(mesh)
    head = root == np.arange(len(root), dtype=np.int32)
    number = np.cumsum(head, dtype=np.int32)
    number -= 1
    a, b, c = (number.take(root.take(mesh.faces[:, k])) for k in range(3))
    apart = np.flatnonzero((a != b) | (b != c))
    start, end = np.concatenate([a[apart], b[apart]]), np.concatenate([b[apart], c[apart]])
    graph = coo_matrix((np.ones(len(start), dtype=np.int8), (start, end)), shape=(int(head.sum()),) * 2)
    label = connected_components(graph, directed=False)[1].take(a)
    size = np.bincount(label)
    # Points without a face are no island.
    there = size > 0
    island, size = (np.cumsum(there) - 1).take(label), size[there]
    rank = np.empty(len(size), dtype=np.int32)
    rank[np.argsort(-size, kind="stable")] = np.arange(len(size), dtype=np.int32)
    ranked: Ints = rank[island]
    return ranked
