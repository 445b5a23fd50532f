"""A coarse copy of a big mesh in a moment: points that share a cube become one. For the picture, until a better one."""

import numpy as np

from floorpan.geometry.mesh import Mesh
from floorpan.geometry.normals import face_areas


def clustered(mesh: Mesh, about_faces: int) -> Mesh:
    """The mesh with about so many triangles at most, its points the middles of those that share a cube.

    J. Rossignac and P. Borrel, "Multi-resolution 3D approximations for rendering complex scenes", 1993. Nothing is
    promised of its distance from the mesh but the size of a cube, which is what the count makes it.
    """
    if len(mesh.faces) <= about_faces:
        return mesh
    # A sheet cut into cells has about two triangles a cell.
    cell = float(np.sqrt(2.0 * face_areas(mesh).sum() / about_faces))
    if not cell > 0.0:
        return mesh
    at = np.floor((mesh.points - mesh.bounds[0]) / cell).astype(np.int64)
    wide = at.max(axis=0) + 1
    key = (at[:, 0] * wide[1] + at[:, 1]) * wide[2] + at[:, 2]
    order = np.argsort(key, kind="stable")
    fresh = np.concatenate([[True], np.diff(key[order]) > 0])
    number = np.empty(len(key), dtype=np.int32)
    number[order] = np.cumsum(fresh, dtype=np.int32) - 1
    starts = np.flatnonzero(fresh)
    count = np.diff(np.append(starts, len(order)))
    points = np.add.reduceat(mesh.points[order], starts, axis=0) / count[:, None]
    a, b, c = (number[mesh.faces[:, k]] for k in range(3))
    real = (a != b) & (b != c) & (c != a)
    return Mesh(points, np.column_stack([a[real], b[real], c[real]]))
