"""Faces that say nothing: those without area, and those that are there twice."""

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.edges import repeated
from floorpan.geometry.mesh import Mesh

Bools = NDArray[np.bool_]

# A face lower than this share of its longest side has no direction left in float64.
_FLAT = 1e-9


def flat_faces(mesh: Mesh) -> Bools:
    """Mask (M,) of the faces without area: a point named twice, three points in a row, or next to it."""
    corner = mesh.points[mesh.faces]
    side = np.stack([corner[:, (k + 1) % 3] - corner[:, k] for k in range(3)], axis=1)
    longest2 = np.einsum("ijk,ijk->ij", side, side).max(axis=1, initial=0.0)
    twice_area = np.linalg.norm(np.cross(side[:, 0], side[:, 1]), axis=1)
    mask: Bools = (twice_area <= _FLAT * longest2) | repeated(mesh.faces)
    return mask


def duplicate_faces(mesh: Mesh) -> Bools:
    """Mask (M,) of the faces whose three points an earlier face has already, whichever way round."""
    corner = np.sort(mesh.faces, axis=1)
    order = np.lexsort((corner[:, 2], corner[:, 1], corner[:, 0]))
    ordered = corner[order]
    again = np.zeros(len(order), dtype=bool)
    if len(order) > 1:
        # The order is stable, so that the earliest of equal faces comes first.
        again[order[1:]] = (ordered[1:] == ordered[:-1]).all(axis=1)
    return again
