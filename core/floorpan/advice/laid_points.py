"""Points laid over a part of a surface so densely that the nearest of them stands for the surface itself."""

from dataclasses import dataclass

import numpy as np
import trimesh
from numpy.typing import NDArray

from floorpan.frames import Floats
from floorpan.geometry.mesh import Mesh

LONGEST_EDGE_MM = 8.0
"""No triangle has a longer edge, so that no place of one is further than this over sqrt(3) from a corner."""

_ROUNDS = 14
# So many corners in from its rim a surface may be ragged.
_RIM_CORNERS = 3
# What is cut off a surface ends so far out that its cut edge is nobody's rim.
_BEYOND_MM = (_RIM_CORNERS + 1) * LONGEST_EDGE_MM


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Laid:
    """Corners (N, 3) [mm], their unit normals (N, 3), and which of them (N,) lie at the surface's rim."""

    points: Floats
    normals: Floats
    rim: NDArray[np.bool_]


def faces_near(surface: Mesh, low: Floats, high: Floats) -> NDArray[np.intp]:
    """Rows (K,) of the triangles that may come into a box (3,), (3,), and of some beyond."""
    sides = np.concatenate([surface.points < low - _BEYOND_MM, surface.points > high + _BEYOND_MM], axis=1)
    beyond = np.packbits(sides, axis=1)[:, 0]
    a, b, c = (beyond[surface.faces[:, corner]] for corner in range(3))
    # All three corners beyond one side of the box.
    return np.flatnonzero((a & b & c) == 0)


def laid_over(surface: Mesh, faces: NDArray[np.intp]) -> Laid:
    """The corners of some triangles (K,) of a welded surface, cut until no edge is longer than LONGEST_EDGE_MM."""
    cut = trimesh.Trimesh(surface.points, surface.faces[faces], process=False)
    if float(cut.edges_unique_length.max()) > LONGEST_EDGE_MM:
        points, parts = trimesh.remesh.subdivide_to_size(  # type: ignore[no-untyped-call]
            cut.vertices, cut.faces, LONGEST_EDGE_MM, max_iter=_ROUNDS
        )
        # Subdivided triangles do not share their corners.
        cut = trimesh.Trimesh(points, parts, process=True)
    used, sides = np.unique(cut.faces, return_inverse=True)
    sides = sides.reshape(-1, 3)
    edges = np.sort(sides[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    keys = edges[:, 0] * np.int64(len(used)) + edges[:, 1]
    _, first, times = np.unique(keys, return_index=True, return_counts=True)
    rim = np.zeros(len(used), dtype=bool)
    rim[edges[first[times == 1]].ravel()] = True
    for _ in range(_RIM_CORNERS):
        rim[edges[rim[edges].any(axis=1)].ravel()] = True
    return Laid(points=np.asarray(cut.vertices)[used], normals=np.asarray(cut.vertex_normals)[used], rim=rim)
