"""Where a sight that met a coarse picture of a scan meets the scan itself, without a tree over all of it."""

import numpy as np

from floorpan.frames import Vector
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.rays import RayCaster
from floorpan_app.tools.events import Pick, Sight

# A coarse picture strays no farther than this from the scan; looked through first near, then wide.
_NEAR_MM = (15.0, 60.0)


def exact_place(mesh: Mesh, pick: Pick, sight: Sight) -> Vector:
    """The place on the mesh along a sight, near where its picture was met; the picture's own where none is."""
    aim = np.asarray(sight.direction, dtype=float)
    aim /= np.linalg.norm(aim)
    for reach in _NEAR_MM:
        # Faces that come near the sight's line, near the place that was met.
        away = mesh.points - np.asarray(pick.point_mm)
        near = np.einsum("ij,ij->i", away, away) <= reach**2
        faces = near[mesh.faces].any(axis=1)
        if not faces.any():
            continue
        start = np.asarray(pick.point_mm) - 2.0 * reach * aim
        met = RayCaster(mesh.kept(faces)).first(start[None], aim[None])
        if met.face[0] >= 0:
            x, y, z = (float(value) for value in met.at_mm[0])
            return x, y, z
    return pick.point_mm
