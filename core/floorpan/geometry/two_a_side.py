"""Edges with three faces and more, brought back to two."""

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from floorpan.geometry.edges import Sides, sides
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.normals import face_areas

Bools = NDArray[np.bool_]
Longs = NDArray[np.int64]


def surplus_faces(mesh: Mesh) -> Bools:
    """Mask (M,) of faces to leave out so that no edge has more than two.

    At each such edge the most foreign face goes: one of the sheet with fewest faces, then one with most open sides,
    then the one with least area, then the later one. Sheets hang together over edges of two faces.
    """
    gone = np.zeros(len(mesh.faces), dtype=bool)
    areas = face_areas(mesh)
    while True:
        left = np.flatnonzero(~gone)
        found = sides(Mesh(mesh.points, mesh.faces[left]))
        if not (found.uses > 2).any():
            return gone
        gone[left[_most_foreign(found, areas[left])]] = True


def _most_foreign(found: Sides, areas: NDArray[np.float64]) -> Longs:
    count = len(areas)
    pair = found.first[found.uses == 2]
    graph = coo_matrix(
        (np.ones(len(pair), dtype=np.int8), (found.face[pair], found.face[pair + 1])), shape=(count, count)
    )
    sheet = connected_components(graph, directed=False)[1]
    of_sheet = np.bincount(sheet)[sheet]
    open_sides = np.bincount(found.face[found.first[found.uses == 1]], minlength=count)
    order = np.lexsort((-np.arange(count), areas, -open_sides, of_sheet))
    rank = np.empty(count, dtype=np.int64)
    rank[order] = np.arange(count)
    edge = np.repeat(np.arange(len(found.uses)), found.uses)
    crowded = found.uses[edge] > 2
    foremost = np.full(len(found.uses), count, dtype=np.int64)
    np.minimum.at(foremost, edge[crowded], rank[found.face[crowded]])
    return order[np.unique(foremost[found.uses > 2])]
