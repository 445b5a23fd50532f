"""Which points of a mesh a face joins, and what is summed or averaged over them."""

import numpy as np
from scipy.sparse import coo_matrix, csr_matrix

from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.normals import unit

_SMOOTHED = 2


def joined_points(mesh: Mesh) -> csr_matrix:
    """(N, N) float32: 1 where two points have a face in common, else nothing."""
    start = np.concatenate([mesh.faces[:, k] for k in (0, 1, 2, 1, 2, 0)])
    end = np.concatenate([mesh.faces[:, k] for k in (1, 2, 0, 0, 1, 2)])
    apart = start != end
    count = len(mesh.points)
    ones = np.ones(int(np.count_nonzero(apart)), dtype=np.float32)
    joined = csr_matrix(coo_matrix((ones, (start[apart], end[apart])), shape=(count, count)))
    joined.data[:] = 1.0
    return joined


def corner_sums(mesh: Mesh, values: Floats) -> Floats:
    """Sum (N,) over the faces around each point of what each corner (3 M,) brings."""
    summed: Floats = np.bincount(mesh.faces.ravel(), weights=values, minlength=len(mesh.points)).astype(
        np.float64
    )
    return summed


def smooth_normals(mesh: Mesh, near: csr_matrix | None = None) -> Floats:
    """Unit normals (N, 3) of points, averaged over two rings of neighbours: roughness tilts the faces.

    near : joined_points of the mesh, where it is known already
    """
    near = joined_points(mesh) if near is None else near
    corner = mesh.points[mesh.faces]
    cross = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    normal = np.column_stack([corner_sums(mesh, np.repeat(cross[:, axis], 3)) for axis in range(3)])
    for _ in range(_SMOOTHED):
        normal = normal + near @ normal
    return unit(normal)
