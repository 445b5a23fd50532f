"""Fewer triangles for the picture. Nothing is ever measured on a thinned mesh.

The library holds the interpreter and keeps its mesh in globals of its own: call this in a process of its own.
"""

from dataclasses import dataclass

import fast_simplification
import numpy as np

from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.tiles import Tile, nearest_on, split

# So many points of each mesh are measured; all of them where there are no more.
_MEASURED = 100_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Deviation:
    """Distances between a mesh and its thinned copy [mm], measured both ways at points.

    points : how many points were measured; whole: whether these were all of them
    """

    mean_mm: float
    p99_mm: float
    worst_mm: float
    points: int
    whole: bool


def thin(mesh: Mesh, target_faces: int) -> tuple[Mesh, Deviation]:
    """A welded mesh with about target_faces triangles, open edges kept as they are, and how far it strays.

    Quadric error edge collapse (M. Garland and P. Heckbert, SIGGRAPH 1997). A mesh with no more faces than asked for
    comes back as it is. Where open edges alone take more triangles than asked for, more are left.
    """
    if len(mesh.faces) <= target_faces:
        return mesh, Deviation(mean_mm=0.0, p99_mm=0.0, worst_mm=0.0, points=len(mesh.points), whole=True)
    # The library loses its footing far from the origin.
    middle = mesh.bounds.mean(axis=0)
    points, faces = fast_simplification.simplify(
        mesh.points - middle, np.array(mesh.faces), target_count=target_faces, agg=7.0, preserve_border=True
    )
    thinned = Mesh(points + middle, faces.astype(np.int32))
    return thinned, deviation(mesh, thinned)


def deviation(mesh: Mesh, other: Mesh) -> Deviation:
    """How far two meshes are apart, at their points, both ways."""
    (there, all_there), (back, all_back) = _from(mesh, other), _from(other, mesh)
    off = np.concatenate([there, back])
    return Deviation(
        mean_mm=float(off.mean()),
        p99_mm=float(np.percentile(off, 99.0)),
        worst_mm=float(off.max()),
        points=len(off),
        whole=all_there and all_back,
    )


def _from(mesh: Mesh, other: Mesh) -> tuple[Floats, bool]:
    used = np.unique(mesh.faces)
    whole = len(used) <= _MEASURED
    if not whole:
        used = np.random.default_rng(1).choice(used, size=_MEASURED, replace=False)
    tiles = [Tile(other, group) for group in split(other)]
    return nearest_on(tiles, np.array([tile.bounds for tile in tiles]), mesh.points[used])[0], whole
