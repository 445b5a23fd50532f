"""The skins of solids, standing where they stand, and what lies inside them.

Trees of triangles are shared by all threads; only what stands at a pose is each thread's own.
"""

import threading
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.mesh import Floats
from floorpan.geometry.skin_tree import Skin
from floorpan.geometry.solids import Hull, Solid
from floorpan.geometry.tiled_skin import Posed, TiledSkin


class _Shelf(threading.local):
    """Posed skins by hull, one set a thread: one must not be moved by another thread while this one asks it."""

    def __init__(self) -> None:
        self.skins: tuple[WeakKeyDictionary[Hull, Posed], ...] = (WeakKeyDictionary(), WeakKeyDictionary())


_shelf = _Shelf()
_whole: WeakKeyDictionary[Hull, Skin] = WeakKeyDictionary()
_inside: WeakKeyDictionary[Hull, Floats] = WeakKeyDictionary()


def posed(solid: Solid, twin: bool = False) -> Posed:
    """The undilated skin of a solid, standing at its pose until the next call for its hull in the same thread.

    The trees behind it are built once for each hull and shared by all threads; of a large mesh only those of tiles
    that something comes near. Only what stands at the pose is kept once a thread.

    twin : a second one, for a pair of solids that share one hull
    """
    held = _shelf.skins[twin]
    skin = held.get(solid.hull)
    if skin is None:
        skin = held[solid.hull] = _fresh(solid.hull)
    skin.stand(solid.pose)
    return skin


def _fresh(hull: Hull) -> Posed:
    if hull.uneven is not None:
        tiles = hull.uneven.tiles
        return TiledSkin(tiles, hull.uneven.boxes) if len(tiles) > 1 else tiles[0].skin().another()
    whole = _whole.get(hull)
    if whole is None:
        mesh = hull.skin()
        whole = _whole[hull] = Skin(mesh.points, mesh.faces)
    return whole.another()


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
