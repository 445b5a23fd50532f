"""Of two sheets that lie one over the other, the faces of the lesser one."""

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.double_walls import LineFinder
from floorpan.geometry.edges import islands
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.noise import noise_sigma_mm
from floorpan.progress import Step, Work

Bools = NDArray[np.bool_]


def lesser_sheet(mesh: Mesh, *, within_mm: float, by_noise: bool) -> Work[Bools]:
    """Mask (M,) of the faces over or under a better island that faces the same way within within_mm.

    by_noise : the island with less roughness is the better one (one too small to tell is the worst); else the
    one with more faces. Two sheets of one island are left as they are: nothing tells which of them is right.
    """
    yield Step(0.0, "Looking for double walls")
    of_face = islands(mesh)
    rank = _ranked(mesh, of_face, by_noise)
    asking = np.flatnonzero(rank[of_face] > 0)
    gone = np.zeros(len(mesh.faces), dtype=bool)
    finder = LineFinder(mesh, within_mm)
    along = finder.facing[asking]
    sound = along.any(axis=1)
    asking, along = asking[sound], along[sound]
    search = finder.crossings(finder.middle[asking], along)
    while True:
        try:
            done, met = next(search)
        except StopIteration:
            return gone
        better = rank[of_face[met.face]] < rank[of_face[asking[met.line]]]
        gone[asking[met.line[better]]] = True
        yield Step(done, "Looking for double walls")


def _ranked(mesh: Mesh, of_face: NDArray[np.int32], by_noise: bool) -> NDArray[np.int64]:
    """Place (I,) of each island, the best first."""
    count = int(of_face.max(initial=-1)) + 1
    if not by_noise:
        return np.arange(count)
    # An island too small to tell gives 0 and ranks behind every other.
    noise = np.array([noise_sigma_mm(mesh.kept(of_face == island)) for island in range(count)])
    rank = np.empty(count, dtype=np.int64)
    rank[np.lexsort((np.arange(count), noise, noise == 0.0))] = np.arange(count)
    return rank
