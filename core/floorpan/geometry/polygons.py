"""Polygons in space cut into triangles."""

import mapbox_earcut
import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.mesh import Floats, Ints

Longs = NDArray[np.int64]


def newell(loop: Floats) -> Floats:
    """Area vector (3,) of a closed loop of points (K, 3): its length is the area, its direction the normal.

    M. E. Newell's sum, as in Sutherland, Sproull and Schumacker, ACM Computing Surveys 6(1), 1974.
    """
    at = loop - loop[0]
    area: Floats = np.cross(at, np.roll(at, -1, axis=0)).sum(axis=0) / 2.0
    return area


def cut_polygon(loop: Floats) -> tuple[Ints, bool]:
    """Triangles (T, 3) of a loop of points (K, 3) seen along its normal, and whether the cut is clean.

    Ears are cut off in the plane that the loop's area lies in, so concave loops come out right. Where the
    loop crosses itself there, a fan about its first point is given and `clean` is False. A bent loop may run back
    over itself there: what stands on edge is cut off first, so that no side of the loop is left without a triangle.
    """
    count = len(loop)
    if count == 3:
        return np.array([[0, 1, 2]], dtype=np.int32), True
    normal = newell(loop)
    area = float(np.linalg.norm(normal))
    fan = np.array([[0, k, k + 1] for k in range(1, count - 1)], dtype=np.int32)
    if not area > 0.0:
        # A loop with corners that are no numbers has no area that can be told.
        return fan, False
    flat = np.ascontiguousarray((loop - loop[0]) @ plane_axes(normal / area).T)
    cut = mapbox_earcut.triangulate_float64(flat, np.array([count], dtype=np.uint32))
    triangles = cut.astype(np.int32).reshape(-1, 3)
    corner = flat[triangles]
    one, two = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
    parts = (one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]) / 2.0
    triangles[parts < 0.0] = triangles[parts < 0.0][:, ::-1]
    if abs(float(np.abs(parts).sum()) - area) > 1e-6 * area:
        return fan, False
    return np.vstack([triangles, _on_edge(loop, triangles)]), True


def _on_edge(loop: Floats, triangles: Ints) -> Ints:
    """Triangles with area (T, 3) between the corners of a loop that are in no triangle and their neighbours."""
    here = np.arange(len(loop), dtype=np.int32)
    used = np.isin(here, triangles)
    # The last corner before each that is in a triangle, round the end of the loop too.
    before = np.maximum.accumulate(np.where(used, here, -1))
    before = np.where(before < 0, here[used][-1], before)
    left: Ints = np.column_stack([before, here, np.roll(here, -1)])[~used].astype(np.int32)
    corner = loop[left]
    area = np.linalg.norm(np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]), axis=1)
    real: Ints = left[area > 1e-12 * float(np.ptp(loop, axis=0).max()) ** 2]
    return real


def plane_axes(normal: Floats) -> Floats:
    """Two unit vectors (2, 3) that with a unit normal (3,) make a right-handed set."""
    helper = np.zeros(3)
    helper[int(np.abs(normal).argmin())] = 1.0
    one = np.cross(helper, normal)
    one /= np.linalg.norm(one)
    return np.stack([one, np.cross(normal, one)])


def cut_faces(points: Floats, corners: NDArray[np.signedinteger], sizes: Longs) -> tuple[Longs, Longs]:
    """Triangles (T, 3) of faces with three corners and more, and which face each came from (T,), in face order.

    corners : point numbers of all faces one after another; sizes : (F,) how many each face has, three at least
    """
    start = np.cumsum(sizes) - sizes
    pieces: list[NDArray[np.signedinteger]] = []
    owners: list[Longs] = []
    three = np.flatnonzero(sizes == 3)
    pieces.append(corners[start[three][:, None] + np.arange(3)])
    owners.append(three)
    four = np.flatnonzero(sizes == 4)
    if len(four):
        pieces.append(_cut_quads(points, corners[start[four][:, None] + np.arange(4)]))
        owners.append(np.repeat(four, 2))
    for face in np.flatnonzero(sizes > 4):
        loop = corners[start[face] : start[face] + sizes[face]]
        cut, _ = cut_polygon(points[loop])
        pieces.append(loop[cut])
        owners.append(np.full(len(cut), face))
    owner = np.concatenate(owners)
    order = np.argsort(owner, kind="stable")
    return np.vstack(pieces)[order].astype(np.int64), owner[order].astype(np.int64)


def _cut_quads(points: Floats, quads: NDArray[np.signedinteger]) -> NDArray[np.signedinteger]:
    """Two triangles a quad (2 Q, 3): along the diagonal that lies inside, the shorter one where both do."""
    a, b, c, d = (points[quads[:, k]] for k in range(4))
    normal = np.cross(c - a, d - b)

    def good(p: Floats, q: Floats, r: Floats) -> NDArray[np.bool_]:
        flat: NDArray[np.bool_] = np.einsum("ij,ij->i", np.cross(q - p, r - p), normal) > 0.0
        return flat

    over_ac, over_bd = good(a, b, c) & good(a, c, d), good(a, b, d) & good(b, c, d)
    shorter_bd = np.linalg.norm(d - b, axis=1) < np.linalg.norm(c - a, axis=1)
    bd = over_bd & (~over_ac | shorter_bd)
    first = np.where(bd[:, None], quads[:, [0, 1, 3]], quads[:, [0, 1, 2]])
    second = np.where(bd[:, None], quads[:, [1, 2, 3]], quads[:, [0, 2, 3]])
    return np.stack([first, second], axis=1).reshape(-1, 3)
