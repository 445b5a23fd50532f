"""The skin of a rounded convex solid as triangles with true normals: balls, rods and rounded edges look round."""

import itertools
from dataclasses import dataclass
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull, QhullError

from floorpan.geometry.mesh import Mesh
from floorpan.geometry.solids import Hull
from floorpan_app.viewport.surfaces import smooth_normals

Floats = NDArray[np.float64]
Faces = NDArray[np.int32]

_AROUND = 36
_ARC_DEG = 10.0
_TIE = 1e-7
_FLAT_DEG = 28.0
# A mesh as fine as this looks round by the normals of its points alone.
_FINE_FACES = 5000


@dataclass(frozen=True, slots=True, eq=False)
class Skin:
    """Points (N, 3) [mm], unit normals (N, 3) and faces (M, 3), seen from outside."""

    points: Floats
    normals: Floats
    faces: Faces


_made: WeakKeyDictionary[Hull, Skin] = WeakKeyDictionary()


def skin_of(hull: Hull) -> Skin:
    """The hull dilated by its radius. With a radius every vertex lies on the true surface, with its true normal.

    Made once for each hull, as long as somebody holds the hull.
    """
    skin = _made.get(hull)
    if skin is None:
        skin = _made[hull] = _skin(hull)
    return skin


def _skin(hull: Hull) -> Skin:
    if hull.uneven is not None and len(hull.skin().faces) > _FINE_FACES:
        return _meshed(hull.skin())
    if hull.radius_mm <= 0.0:
        return _faceted(hull)
    first, last = hull.points[0], hull.points[-1]
    if len(hull.points) <= 2:
        return _rod(first, last, hull.radius_mm)
    directions = _directions(hull.points)
    reach = directions @ hull.points.T
    # Where two points reach equally far, the surface between them is flat or a cylinder: it needs both.
    which, at = np.nonzero(reach >= reach.max(axis=1, keepdims=True) - _TIE)
    normals = directions[which]
    points = hull.points[at] + hull.radius_mm * normals
    faces = ConvexHull(points).simplices.astype(np.int32)
    corners = points[faces]
    turned = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    inward = np.einsum("ij,ij->i", turned, normals[faces].sum(axis=1)) < 0
    faces[inward] = faces[inward][:, ::-1]
    return Skin(points, normals, faces)


def _rod(first: Floats, last: Floats, radius_mm: float) -> Skin:
    """A rod with round ends, or a ball: circles about its axis, the equator once at each end."""
    along = last - first
    length = float(np.linalg.norm(along))
    axis = along / length if length > 1e-9 else np.array([0.0, 0.0, 1.0])
    circles = _circles(axis)
    middle = len(circles) // 2
    normals = np.concatenate([circles[: middle + 1], circles[middle:]])
    ends = np.where(np.arange(len(normals))[:, None] <= middle, first, last)
    points = ends[:, None, :] + radius_mm * normals
    rows, here = np.meshgrid(np.arange(len(normals) - 1), np.arange(_AROUND), indexing="ij")
    beside = (here + 1) % _AROUND
    a, b = rows * _AROUND + here, rows * _AROUND + beside
    faces = np.concatenate(
        [np.stack([a, b, b + _AROUND], axis=-1), np.stack([a, b + _AROUND, a + _AROUND], axis=-1)]
    )
    return Skin(points.reshape(-1, 3), normals.reshape(-1, 3), faces.reshape(-1, 3).astype(np.int32))


def _faceted(hull: Hull) -> Skin:
    """Flat where the hull has an edge, smooth over the many narrow facets of a ring."""
    mesh = hull.skin()
    corners = mesh.points[mesh.faces]
    flat = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(flat, axis=1, keepdims=True)
    unit = np.divide(flat, size, out=np.tile([0.0, 0.0, 1.0], (len(flat), 1)), where=size > 1e-12)
    least = np.cos(np.radians(_FLAT_DEG))
    # Every corner of every face gets the mean over the faces at its point that hardly bend away from its own.
    order = np.argsort(mesh.faces.ravel(), kind="stable")
    owner = order // 3
    starts = np.searchsorted(mesh.faces.ravel()[order], np.arange(len(mesh.points) + 1))
    normals = np.empty((mesh.faces.size, 3))
    for first, last in itertools.pairwise(starts):
        here = owner[first:last]
        like = unit[here] @ unit[here].T >= least
        normals[order[first:last]] = like @ flat[here]
    length = np.linalg.norm(normals, axis=1, keepdims=True)
    normals = np.divide(normals, length, out=np.repeat(unit, 3, axis=0), where=length > 1e-12)
    faces = np.arange(mesh.faces.size, dtype=np.int32).reshape(-1, 3)
    return Skin(corners.reshape(-1, 3), normals, faces)


def _meshed(mesh: Mesh) -> Skin:
    """Smooth all over, without a look at each point."""
    return Skin(mesh.points, smooth_normals(mesh).astype(np.float64), mesh.faces)


def _directions(points: Floats) -> Floats:
    """Unit directions in which to look for the surface: even over the ball, and exact where it is flat."""
    even = np.unique(np.round(_circles(np.array([0.0, 0.0, 1.0])).reshape(-1, 3), 9), axis=0)
    try:
        hull = ConvexHull(points)
    except (QhullError, ValueError):
        return np.vstack([even, _flat_normals(points)])
    normals = hull.equations[:, :3]
    arcs = [normals]
    for here, beside in enumerate(hull.neighbors):
        arcs += [_arc(normals[here], normals[there]) for there in beside if there > here]
    exact = np.vstack(arcs)
    # An even direction right beside an exact one only makes slivers.
    crowded = (even @ exact.T).max(axis=1) > np.cos(np.radians(_ARC_DEG / 2))
    return np.unique(np.round(np.vstack([exact, even[~crowded]]), 9), axis=0)


def _circles(axis: Floats) -> Floats:
    """Directions (rings, around, 3) on circles about an axis, from pole to pole, the equator in the middle."""
    side = np.cross(axis, [1.0, 0.0, 0.0] if abs(axis[0]) < 0.9 else [0.0, 1.0, 0.0])
    side /= np.linalg.norm(side)
    third = np.cross(axis, side)
    around = np.linspace(0.0, 2 * np.pi, _AROUND, endpoint=False)
    circle = np.outer(np.cos(around), side) + np.outer(np.sin(around), third)
    rises = np.linspace(-np.pi / 2, np.pi / 2, _AROUND // 2 + 1)
    return np.stack([np.cos(rise) * circle + np.sin(rise) * axis for rise in rises])


def _arc(first: Floats, second: Floats) -> Floats:
    angle = float(np.arccos(np.clip(first @ second, -1.0, 1.0)))
    count = int(np.degrees(angle) // _ARC_DEG)
    if count == 0 or angle > np.pi - 1e-6:
        return np.empty((0, 3))
    share = np.linspace(0.0, 1.0, count + 2)[1:-1, None]
    arc: Floats = (np.sin((1 - share) * angle) * first + np.sin(share * angle) * second) / np.sin(angle)
    return arc


def _flat_normals(points: Floats) -> Floats:
    """Both normals of points in a plane; none for points in a line."""
    spread = np.linalg.svd(points - points.mean(axis=0), full_matrices=False)
    if len(spread.S) < 2 or spread.S[1] < 1e-9:
        return np.empty((0, 3))
    normal = np.cross(spread.Vh[0], spread.Vh[1])
    return np.vstack([normal, -normal])
