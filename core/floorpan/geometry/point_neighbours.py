"""Which points of a mesh a face joins."""

import numpy as np
from scipy.sparse import coo_matrix, csr_matrix

from floorpan.geometry.mesh import Mesh


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
