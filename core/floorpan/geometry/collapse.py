"""Edges of a mesh collapsed one after another until few triangles are left; what is open stays, bit for bit.

The library holds the interpreter and keeps its mesh in globals of its own: call this in a process of its own.
"""

import fast_simplification
import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.edges import Bools, edges, repeated
from floorpan.geometry.mesh import Floats, Ints, Mesh

# How fast the library lets its threshold grow; with less it stops short of the count without a word.
_HASTE = 7.0


def collapsed(mesh: Mesh, target_faces: int, untouched: Bools | None = None) -> Mesh:
    """About target_faces triangles, open edges and the faces of the mask `untouched` (M,) kept as they are.

    Quadric error edge collapse (M. Garland and P. Heckbert, SIGGRAPH 1997). Points that did not move keep their
    coordinates to the last bit. Where what is to stay takes more triangles than asked for, more are left. Faces that
    name a point twice go, unless they are to stay.
    """
    rest = ~repeated(mesh.faces)
    stay = np.zeros((0, 3), dtype=np.int32)
    if untouched is not None:
        rest &= ~untouched
        stay = mesh.faces[untouched]
    points, faces, wanted = mesh.points, mesh.faces[rest], max(target_faces - len(stay), 0)
    if len(faces) > wanted:
        points, faces = _thinned(mesh, faces, np.unique(stay), wanted)
    # Both name the points of the whole mesh: no joint can open.
    return Mesh(points, np.concatenate([stay, faces])).kept(np.ones(len(stay) + len(faces), dtype=bool))


def _thinned(mesh: Mesh, faces: Ints, held: Ints, wanted: int) -> tuple[Floats, Ints]:
    """Points (N, 3) of the whole mesh, some of them moved, and the faces that are left of some."""
    locks, lock_faces = _locks(mesh, faces, held)
    # The library loses its footing far from the origin.
    middle = mesh.bounds.mean(axis=0)
    moved, _, collapses = fast_simplification.simplify(
        np.concatenate([mesh.points - middle, locks - middle]),
        np.concatenate([faces, lock_faces]),
        target_count=wanted + len(lock_faces),
        agg=_HASTE,
        return_collapses=True,
        preserve_border=True,
    )
    count = len(mesh.points)
    collapses = collapses.reshape(-1, 2)
    final = _followed(collapses, count + len(locks))[np.concatenate([faces, lock_faces])]
    final = final[~repeated(final)]
    used = np.unique(final)
    # What the library hands back are the points still in use, in the order they came in.
    shifted = np.zeros(count + len(locks), dtype=bool)
    shifted[collapses[:, 0]] = True
    points = mesh.points.copy()
    points[used[shifted[used]]] = moved[shifted[used]] + middle
    return points, final[(final < count).all(axis=1)].astype(np.int32)


def _followed(collapses: NDArray[np.integer], count: int) -> Ints:
    """Which point (N,) each point has become."""
    became = np.arange(count, dtype=np.int32)
    became[collapses[:, 1]] = collapses[:, 0]
    while True:
        further = became[became]
        if np.array_equal(further, became):
            return became
        became = further


def _locks(mesh: Mesh, faces: Ints, held: Ints) -> tuple[Floats, Ints]:
    """Loose triangles that hang on the points (K,) `held` that no open edge holds yet: the library moves none of them.

    That is so where a face that stays and faces that do not meet in one point only, or three share an edge.
    """
    if not len(held):
        return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32)
    loose = np.setdiff1d(np.intersect1d(held, faces), edges(Mesh(mesh.points, faces)).open_pairs)
    side = max(float(np.ptp(mesh.bounds, axis=0).max()), 1.0) / 1000.0
    at = mesh.points[loose]
    first = len(mesh.points) + np.arange(len(loose))
    hung = np.column_stack([loose, first, first + len(loose)])
    ends = np.concatenate([at + np.array([side, 0.0, 0.0]), at + np.array([0.0, side, 0.0])])
    return ends, hung.astype(np.int32)
