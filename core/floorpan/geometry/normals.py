"""Normals of faces, edges and points, so that "in front" and "behind" are told apart at every nearest point.

Pseudonormals after J. A. Baerentzen and H. Aanaes, "Signed distance computation using the angle weighted
pseudonormal", IEEE TVCG 11(3), 2005: inside a face its own normal, on an edge the sum of its faces' normals, at a
point the sum of its faces' normals weighted with their angles there. Where no edge is open or folded over, the
sign of (x - nearest) . pseudonormal says on which side x lies.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix

from floorpan.geometry.edges import repeated
from floorpan.geometry.mesh import Floats, Ints, Mesh

Bools = NDArray[np.bool_]
Longs = NDArray[np.int64]

# A nearest point this close to an edge, as a share of the face's height there, counts as on the edge.
_ON_EDGE = 1e-9
# So many times the whole mesh is looked through for faces around points before a list of all is made: that takes as
# long. Where it is known which faces are near, finding them takes a few times as long as looking at them.
_LOOKED_THROUGH = 24
_LOOKED_THROUGH_NEAR = 4


def face_normals(mesh: Mesh) -> Floats:
    """Unit normals (M, 3); zero for a face without area."""
    return unit(_crosses(mesh.points, mesh.faces))


def face_areas(mesh: Mesh) -> Floats:
    """Areas (M,) [mm2]."""
    areas: Floats = np.linalg.norm(_crosses(mesh.points, mesh.faces), axis=1) / 2.0
    return areas


def unit(vectors: Floats) -> Floats:
    """Rows (N, 3) at length one; a zero row stays zero."""
    length = np.linalg.norm(vectors, axis=1, keepdims=True)
    scaled: Floats = vectors / np.where(length > 0.0, length, 1.0)
    return scaled


def _crosses(points: Floats, faces: Ints) -> Floats:
    a = points[faces[:, 0]]
    crosses: Floats = np.cross(points[faces[:, 1]] - a, points[faces[:, 2]] - a)
    return crosses


@dataclass(frozen=True, slots=True, eq=False)
class Landing:
    """Where nearest points lie on a mesh.

    normal   : (N, 3) unit pseudonormal there; zero where the faces around cancel
    open_rim : (N,) mask: on an open edge, or at a point of one
    """

    normal: Floats
    open_rim: Bools


class Facing:
    """Pseudonormals of one mesh, worked out only where something lands.

    near : face numbers (K,) among which are all that touch a place (3,) of the mesh, where that is known
    """

    def __init__(self, mesh: Mesh, near: Callable[[Floats], Longs] | None = None) -> None:
        self.mesh = mesh
        self._near = near
        self._looked = 0
        self._columns: tuple[Ints, Ints] | None = None

    def make_ready(self) -> None:
        """List the faces of every point now rather than when many were looked for."""
        self._by_point()

    def _by_point(self) -> tuple[Ints, Ints]:
        """Where the faces of each point begin in a list (N + 1,), and that list (3 M,)."""
        if self._columns is None:
            corners = self.mesh.faces.ravel()
            rows = csr_matrix(
                (np.ones(len(corners), dtype=np.int8), corners, np.arange(0, len(corners) + 1, 3)),
                shape=(len(self.mesh.faces), len(self.mesh.points)),
            )
            columns = rows.tocsc()
            self._columns = columns.indptr, columns.indices
        return self._columns

    def around(self, points: Longs) -> tuple[Longs, Longs]:
        """Faces around points (K,): row numbers into `points` and face numbers, one pair each."""
        if self._columns is None and (found := self._looked_for(points)) is not None:
            row = np.repeat(np.arange(len(points)), [len(faces) for faces in found])
            return row, np.concatenate([np.zeros(0, dtype=np.int64), *found])
        starts, faces = self._by_point()
        begin = starts[points]
        count = starts[points + 1] - begin
        row = np.repeat(np.arange(len(points)), count)
        step = np.arange(len(row)) - np.repeat(np.cumsum(count) - count, count)
        return row, faces[begin[row] + step].astype(np.int64)

    def _looked_for(self, points: Longs) -> list[Longs] | None:
        """Faces around each of some points (K,), without a list of all; None once that takes longer than one.

        The first answer is waited for.
        """
        faces, found = self.mesh.faces, []
        most = (_LOOKED_THROUGH if self._near is None else _LOOKED_THROUGH_NEAR) * len(faces)
        for point in points.tolist():
            near = None if self._near is None else self._near(self.mesh.points[point])
            self._looked += len(faces if near is None else near)
            if self._looked > most:
                return None
            if near is None:
                found.append(np.flatnonzero(faces.ravel() == point) // 3)
            else:
                around = near[np.flatnonzero(faces.take(near, axis=0).ravel() == point) // 3]
                found.append(np.sort(around))
        return found

    def landing(self, face: Longs, nearest: Floats) -> Landing:
        """Pseudonormals where nearest points (N, 3) lie on faces (N,)."""
        corner = self.mesh.faces[face]
        share = shares(self.mesh.points[corner], nearest)
        zero = share <= _ON_EDGE
        normal = unit(_crosses(self.mesh.points, corner))
        rim = np.zeros(len(face), dtype=bool)
        on_edge = np.flatnonzero(zero.sum(axis=1) == 1)
        if len(on_edge):
            off = zero[on_edge].argmax(axis=1)
            ends = corner[on_edge[:, None], (off[:, None] + [1, 2]) % 3].astype(np.int64)
            normal[on_edge], rim[on_edge] = self._at_edges(ends)
        on_point = np.flatnonzero(zero.sum(axis=1) >= 2)
        if len(on_point):
            at = corner[on_point, share[on_point].argmax(axis=1)].astype(np.int64)
            normal[on_point], rim[on_point] = self._at_points(at)
        return Landing(normal, rim)

    def _at_edges(self, ends: Longs) -> tuple[Floats, Bools]:
        row, face = self.around(ends[:, 0])
        has = (self.mesh.faces[face] == ends[row, 1][:, None]).any(axis=1)
        row, face = row[has], face[has]
        crosses = _crosses(self.mesh.points, self.mesh.faces[face])
        real = np.linalg.norm(crosses, axis=1) > 0.0
        normal = np.zeros((len(ends), 3))
        np.add.at(normal, row, unit(crosses))
        return unit(normal), np.bincount(row[real], minlength=len(ends)) < 2

    def _at_points(self, at: Longs) -> tuple[Floats, Bools]:
        row, face = self.around(at)
        whole = ~repeated(self.mesh.faces[face])
        row, face = row[whole], face[whole]
        # A point of segments only, or a loose one, has nothing all round it.
        lone = np.bincount(row, minlength=len(at)) == 0
        corner = self.mesh.faces[face]
        turn = (corner == at[row][:, None]).argmax(axis=1)
        here, after, before = (corner[np.arange(len(face)), (turn + k) % 3] for k in range(3))
        points = self.mesh.points
        one, two = unit(points[after] - points[here]), unit(points[before] - points[here])
        angle = np.arctan2(np.linalg.norm(np.cross(one, two), axis=1), np.einsum("ij,ij->i", one, two))
        normal = np.zeros((len(at), 3))
        np.add.at(normal, row, unit(_crosses(points, corner)) * angle[:, None])
        return unit(normal), _open_around(len(at), row, after, before) | lone


def _open_around(count: int, row: Longs, after: Ints, before: Ints) -> Bools:
    """Whether any spoke of a fan belongs to one face only."""
    spokes = np.concatenate([row << 32 | after, row << 32 | before])
    spoke, uses = np.unique(spokes, return_counts=True)
    rim = np.zeros(count, dtype=bool)
    rim[spoke[uses == 1] >> 32] = True
    return rim


def shares(triangles: Floats, at: Floats) -> Floats:
    """Barycentric shares (N, 3) of points (N, 3) in the planes of triangles (N, 3, 3).

    A triangle without area gives the shares along its longest side.
    """
    a = triangles[:, 0]
    u, v, w = triangles[:, 1] - a, triangles[:, 2] - a, at - a
    uu, uv, vv = (np.einsum("ij,ij->i", p, q) for p, q in ((u, u), (u, v), (v, v)))
    wu, wv = np.einsum("ij,ij->i", w, u), np.einsum("ij,ij->i", w, v)
    bottom = uu * vv - uv * uv
    flat = bottom <= 1e-24 * np.maximum(uu, vv) ** 2
    safe = np.where(flat, 1.0, bottom)
    second, third = (vv * wu - uv * wv) / safe, (uu * wv - uv * wu) / safe
    found = np.column_stack([1.0 - second - third, second, third])
    for row in np.flatnonzero(flat):
        found[row] = _shares_on_line(triangles[row], at[row])
    return found


def _shares_on_line(triangle: Floats, at: Floats) -> Floats:
    sides = [triangle[(k + 1) % 3] - triangle[k] for k in range(3)]
    k = int(np.argmax([side @ side for side in sides]))
    length2 = float(sides[k] @ sides[k])
    along = float(np.clip((at - triangle[k]) @ sides[k] / length2, 0.0, 1.0)) if length2 > 0.0 else 0.0
    found = np.zeros(3)
    found[k], found[(k + 1) % 3] = 1.0 - along, along
    return found
