"""Triangle skins in the distance library: the one place that calls it.

Two crossing skins are 0 apart there, never negative, and a skin knows no inside: both are dealt with by the
callers. Nearest points are asked for always; without that the library hands back memory nobody wrote.
"""

import threading
from dataclasses import dataclass
from typing import Any
from weakref import WeakKeyDictionary

import fcl
import numpy as np
from numpy.typing import NDArray

from floorpan.frames import Pose
from floorpan.geometry.mesh import Floats
from floorpan.geometry.solids import Hull, Solid

_ASK = fcl.DistanceRequest(enable_nearest_points=True)
_ASK_YES_OR_NO = fcl.CollisionRequest(num_max_contacts=1, enable_contact=False)


@dataclass(frozen=True, slots=True, eq=False)
class Apart:
    """How far two skins are apart [mm], the nearest point on each, and the face on the second."""

    distance_mm: float
    first: Floats
    second: Floats
    face: int


class Skin:
    """Triangles (V, 3) float64 [mm] and (F, 3), ready for distances; standing where they are given."""

    __slots__ = ("_held",)

    def __init__(self, points: Floats, faces: NDArray[Any]) -> None:
        self._held = fcl.CollisionObject(_tree(points, faces))

    def stand(self, pose: Pose) -> None:
        """Move to a pose."""
        turn = np.reshape(pose.rotation, (3, 3))
        self._held.setTransform(fcl.Transform(turn, np.asarray(pose.shift_mm)))

    def apart(self, other: "Skin") -> Apart:
        """Least distance to another skin; 0 where they cross."""
        result = fcl.DistanceResult()
        distance = fcl.distance(self._held, other._held, _ASK, result)
        first, second = result.nearest_points
        return Apart(max(float(distance), 0.0), first, second, int(result.b2))

    def crosses(self, other: "Skin") -> bool:
        """Whether two skins cross or touch."""
        result = fcl.CollisionResult()
        fcl.collide(self._held, other._held, _ASK_YES_OR_NO, result)
        return bool(result.is_collision)


def _tree(points: Floats, faces: NDArray[Any]) -> fcl.BVHModel:
    tree = fcl.BVHModel()
    tree.beginModel(len(faces), len(points))
    tree.addSubModel(points, faces)
    tree.endModel()
    return tree


class _Shelf(threading.local):
    """Skins and hull planes by hull, one set a thread: a posed skin must not be moved by another thread."""

    def __init__(self) -> None:
        self.skins: tuple[WeakKeyDictionary[Hull, Skin], ...] = (WeakKeyDictionary(), WeakKeyDictionary())


_shelf = _Shelf()
_inside: WeakKeyDictionary[Hull, Floats] = WeakKeyDictionary()


def posed(solid: Solid, twin: bool = False) -> Skin:
    """The undilated skin of a solid, standing at its pose; built once for each hull.

    twin : a second copy, for a pair of solids that share one hull
    """
    held = _shelf.skins[twin]
    skin = held.get(solid.hull)
    if skin is None:
        mesh = solid.hull.skin()
        skin = held[solid.hull] = Skin(mesh.points, mesh.faces)
    skin.stand(solid.pose)
    return skin


def planes(hull: Hull) -> Floats:
    """Outward planes (P, 4) of the undilated hull: normal . x + offset <= 0 inside. None for a flat hull."""
    held = _inside.get(hull)
    if held is None:
        held = _planes(hull)
        _inside[hull] = held
    return held


def _planes(hull: Hull) -> Floats:
    skin = hull.skin()
    corner = skin.points[skin.faces]
    normal = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    length = np.linalg.norm(normal, axis=1)
    keep = length > 1e-12 * max(float(np.ptp(skin.points, axis=0).max()), 1e-300) ** 2
    normal = normal[keep] / length[keep, None]
    offset = -np.einsum("ij,ij->i", normal, corner[keep, 0])
    deep = skin.points @ normal.T + offset
    size = float(np.ptp(skin.points, axis=0).max())
    solid = len(normal) >= 4 and float(deep.min()) < -1e-9 * size and float(deep.max()) < 1e-6 * size
    return np.column_stack([normal, offset]) if solid else np.zeros((0, 4))


def depth_inside(solid: Solid, points: Floats) -> tuple[Floats, NDArray[np.int64]]:
    """How deep points (N, 3) lie inside the undilated hull [mm] (negative: outside; -inf for a flat hull).

    Inside, this is the distance to the nearest plane of the hull, whose row number is the second result (-1 where
    the hull is not convex and has no such planes).
    """
    if solid.hull.uneven is not None:
        deep, _ = solid.hull.uneven.depths(solid.pose.inverse().apply(points))
        return deep, np.full(len(points), -1, dtype=np.int64)
    held = planes(solid.hull)
    if not len(held):
        return np.full(len(points), -np.inf), np.full(len(points), -1, dtype=np.int64)
    local = solid.pose.inverse().apply(points)
    out = local @ held[:, :3].T + held[:, 3]
    nearest = out.argmax(axis=1)
    return -out[np.arange(len(points)), nearest], nearest


def plane_out(solid: Solid, plane: int) -> Floats:
    """Outward unit normal (3,) of one plane of the posed hull."""
    turn = np.reshape(solid.pose.rotation, (3, 3))
    out: Floats = turn @ planes(solid.hull)[plane, :3]
    return out


def way_out(solid: Solid, point: Floats, plane: int) -> Floats:
    """Unit way (3,) by which a point (3,) inside leaves the posed hull soonest; `plane` as `depth_inside` told it."""
    if solid.hull.uneven is None:
        return plane_out(solid, plane)
    _, ways = solid.hull.uneven.depths(solid.pose.inverse().apply(point[None]))
    way: Floats = np.reshape(solid.pose.rotation, (3, 3)) @ ways[0]
    return way
