"""Openings of three points almost in a row, which no face of sound shape fits into.

The face along the longest side of such a slit is parted at the third point. Where that makes no sound faces either, and
the face stands at the rim anyway, it goes, and the slit with it.
"""

import numpy as np

from floorpan.geometry.ears import circle_width
from floorpan.geometry.mesh import Floats, Ints, Mesh
from floorpan.geometry.normals import face_normals


def parted_at_slits(mesh: Mesh, slits: Ints, widest_mm: Floats) -> Mesh:
    """The mesh with the faces beside slits (S, 3), openings on the left, parted in two or left out.

    widest_mm : (N,) how wide the circle round a face may be at each point [mm]
    """
    if not len(slits):
        return mesh
    parting = _Parting(mesh, slits, widest_mm)
    for slit in slits:
        parting.part(slit)
    kept = mesh.faces[~parting.gone]
    added = [corners for face, corners in parting.corners.items() if face >= len(mesh.faces)]
    return Mesh(mesh.points, np.vstack([kept, np.array(added, dtype=np.int32).reshape(-1, 3)]))


class _Parting:
    """The faces around some slits, as they change."""

    def __init__(self, mesh: Mesh, slits: Ints, widest: Floats) -> None:
        self.mesh, self.widest = mesh, widest
        self.gone = np.zeros(len(mesh.faces), dtype=bool)
        self.corners: dict[int, list[int]] = {}
        self.around: dict[int, set[int]] = {}
        self.fresh = len(mesh.faces)
        touched = np.zeros(len(mesh.points), dtype=bool)
        touched[slits] = True
        a, b, c = mesh.faces.T
        for face in np.flatnonzero(touched[a] | touched[b] | touched[c]).tolist():
            self._add(face, mesh.faces[face].tolist())

    def part(self, slit: Ints) -> None:
        """Do away with one slit where that can be done."""
        side = np.linalg.norm(self.mesh.points[np.roll(slit, -1)] - self.mesh.points[slit], axis=1)
        p, q, tip = np.roll(slit, -int(side.argmax())).tolist()
        shared = self.around[p] & self.around[q]
        face = next(iter(shared)) if len(shared) == 1 else self.fresh
        # A face that was parted before is left alone.
        if face >= len(self.gone):
            return
        far = next(point for point in self.corners[face] if point not in (p, q))
        parts = [[p, far, tip], [far, q, tip]]
        if not self.around[far] & self.around[tip] and self._sound(parts, face):
            self._drop(face)
            for corners in parts:
                self._add(self.fresh, corners)
                self.fresh += 1
        elif any(len(self.around[end] & self.around[far]) == 1 for end in (p, q)):
            self._drop(face)

    def _sound(self, parts: list[list[int]], face: int) -> bool:
        points, new = self.mesh.points, np.array(parts, dtype=np.int32)
        narrow = circle_width(points, new) <= self.widest[new].min(axis=1)
        agree = face_normals(Mesh(points, new)) @ face_normals(Mesh(points, self.mesh.faces[[face]]))[0]
        return bool(narrow.all() and (agree > 0.0).all())

    def _add(self, face: int, corners: list[int]) -> None:
        self.corners[face] = corners
        for point in corners:
            self.around.setdefault(point, set()).add(face)

    def _drop(self, face: int) -> None:
        self.gone[face] = True
        for point in self.corners.pop(face):
            self.around[point].discard(face)
