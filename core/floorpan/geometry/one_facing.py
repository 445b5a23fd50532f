"""Faces turned so that neighbours face the same way.

Sides are taken over edges that two faces share; there the two must run the edge in opposite directions. A sheet is
what hangs together over such edges. Every face stands twice in a graph, as it is and turned over, and neighbours are
linked as they agree: where the two copies of a face meet, the sheet has one side only, like a Moebius strip, and no
turning makes it agree. Such a sheet is cut open where its faces bend most, after H. Hoppe et al., "Surface
reconstruction from unorganized points", SIGGRAPH 1992 (their spanning tree of least bend), and keeps a seam.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components, minimum_spanning_tree

from floorpan.geometry.edges import edges, sides
from floorpan.geometry.mesh import Floats, Ints, Mesh
from floorpan.geometry.normals import face_areas, face_normals

Bools = NDArray[np.bool_]
Longs = NDArray[np.int64]

# A sheet that leans to neither side by more than this share of its area is left to its own majority.
_UNDECIDED = 0.02


@dataclass(frozen=True, slots=True, eq=False)
class Pairs:
    """Faces side by side over an edge of exactly two.

    one, two : (P,) face numbers
    odd      : (P,) mask: both run the edge the same way, so that one of them is inside out
    """

    one: Longs
    two: Longs
    odd: Bools


@dataclass(frozen=True, slots=True, eq=False)
class OneFacing:
    """A mesh whose sheets each face one way.

    mesh   : faces in the order they had; the very mesh that was given where nothing had to be turned
    turned : (M,) mask of the faces that were turned over
    sheets : how many sheets there are
    one_sided : how many of them no turning makes agree
    seam_edges : how many edges still have two faces that disagree
    """

    mesh: Mesh
    turned: Bools
    sheets: int
    one_sided: int
    seam_edges: int


def one_facing(mesh: Mesh, *, up: Floats | None = None, seen_from_mm: Floats | None = None) -> OneFacing:
    """Turn faces until each sheet faces one way.

    up           : (3,) direction that most of each sheet is to face
    seen_from_mm : (3,) place [mm] that most of each sheet is to face; goes before `up`
    With neither, and where a sheet leans to neither side, most of its area stays as it is.
    """
    pairs = side_by_side(mesh)
    normals, areas = face_normals(mesh), face_areas(mesh)
    sheet, over, one_sided = _sheets(len(mesh.faces), pairs)
    bent = one_sided[sheet]
    if bent.any():
        tree = _least_bend(normals, pairs, bent)
        keep = ~bent[pairs.one]
        joined = Pairs(*(np.concatenate([a[keep], b]) for a, b in zip(_of(pairs), _of(tree), strict=True)))
        sheet, over, _ = _sheets(len(mesh.faces), joined)
    gain = _gain(mesh, normals, areas, up, seen_from_mm)
    count = int(sheet.max(initial=-1)) + 1
    sign = np.where(over, -1.0, 1.0)
    lean = np.bincount(sheet, weights=gain * areas * sign, minlength=count)
    stay = np.bincount(sheet, weights=areas * sign, minlength=count)
    decided = np.abs(lean) > _UNDECIDED * np.bincount(sheet, weights=areas, minlength=count)
    turned = over ^ np.where(decided, lean < 0.0, stay < 0.0)[sheet]
    if turned.any():
        mesh = Mesh(mesh.points, np.where(turned[:, None], mesh.faces[:, ::-1], mesh.faces))
    return OneFacing(
        mesh, turned, count, int(np.count_nonzero(one_sided)), edges(mesh).flipped if bent.any() else 0
    )


def side_by_side(mesh: Mesh) -> Pairs:
    """All faces that share an edge which has no third."""
    found = sides(mesh)
    first = found.first[found.uses == 2]
    forward = found.start < found.end
    one, two = found.face[first], found.face[first + 1]
    return Pairs(np.minimum(one, two), np.maximum(one, two), forward[first] == forward[first + 1])


def _of(pairs: Pairs) -> tuple[Longs, Longs, Bools]:
    return pairs.one, pairs.two, pairs.odd


def _sheets(count: int, pairs: Pairs) -> tuple[Ints, Bools, Bools]:
    """Sheet number (M,), whether a face disagrees with the first of its sheet (M,), which sheets are one-sided."""
    if not count:
        return np.zeros(0, dtype=np.int32), np.zeros(0, dtype=bool), np.zeros(0, dtype=bool)
    turn = np.where(pairs.odd, count, 0)
    start = np.concatenate([pairs.one, pairs.one + count])
    end = np.concatenate([pairs.two + turn, pairs.two + count - turn])
    graph = coo_matrix((np.ones(len(start), dtype=np.int8), (start, end)), shape=(2 * count, 2 * count))
    label = connected_components(graph, directed=False)[1]
    as_is, over = label[:count], label[count:]
    _, sheet = np.unique(np.minimum(as_is, over), return_inverse=True)
    one_sided = np.zeros(int(sheet.max()) + 1, dtype=bool)
    one_sided[sheet[as_is == over]] = True
    # Copies are numbered in the order of the faces, so the first face of a sheet stands as it is.
    return sheet.astype(np.int32), over < as_is, one_sided


def _least_bend(normals: Floats, pairs: Pairs, among: Bools) -> Pairs:
    """Of the pairs among some faces, those that join all with the least bend between neighbours."""
    rows = np.flatnonzero(among[pairs.one])
    one, two, odd = pairs.one[rows], pairs.two[rows], pairs.odd[rows]
    count = len(normals)
    key, first = np.unique(one * count + two, return_index=True)
    straight = np.einsum("ij,ij->i", normals[one], normals[two]) * np.where(odd, -1.0, 1.0)
    weight = 2.0 - straight[first]
    graph = coo_matrix((weight, (one[first], two[first])), shape=(count, count))
    tree = minimum_spanning_tree(graph.tocsr()).tocoo()
    low, high = np.minimum(tree.row, tree.col).astype(np.int64), np.maximum(tree.row, tree.col)
    at = first[np.searchsorted(key, low * count + high)]
    return Pairs(one[at], two[at], odd[at])


def _gain(
    mesh: Mesh, normals: Floats, areas: Floats, up: Floats | None, seen_from_mm: Floats | None
) -> Floats:
    """How far each face (M,) faces what it is to face, -1 to 1; zero where nothing was said."""
    if seen_from_mm is not None:
        way = np.asarray(seen_from_mm, dtype=np.float64) - mesh.points[mesh.faces].mean(axis=1)
        length = np.linalg.norm(way, axis=1)
        seen: Floats = np.einsum("ij,ij->i", normals, way) / np.where(length > 0.0, length, 1.0)
        return seen
    if up is not None:
        rising: Floats = normals @ (np.asarray(up, dtype=np.float64) / float(np.linalg.norm(up)))
        return rising
    return np.zeros(len(areas))
