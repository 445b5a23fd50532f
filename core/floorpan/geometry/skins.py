"""The skins of solids, standing where they stand, and what lies inside them.

Trees of triangles are shared by all threads; only what stands at a pose is each thread's own.
"""

import functools
import threading
from weakref import WeakKeyDictionary

import numpy as np

from floorpan.geometry.mesh import Floats
from floorpan.geometry.skin_tree import Skin
from floorpan.geometry.solids import Hull, Solid, hull_faces
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
        whole = _whole[hull] = _skin_around(hull.points.tobytes())
    return whole.another()


@functools.lru_cache(maxsize=1024)
def _skin_around(points: bytes) -> Skin:
    """The skin of the convex hull of points (K, 3): the ball of a hand is made anew in every pose, always the same."""
    return Skin(*hull_faces(np.frombuffer(points).reshape(-1, 3)))


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


def depth_inside(solid: Solid, points: Floats) -> Floats:
    """How deep points (N, 3) lie inside the undilated hull [mm] (negative: outside; -inf for a flat hull).

    Inside, this is the distance to the nearest plane of the hull, of a mesh to its nearest place.
    """
    if solid.hull.uneven is not None:
        return solid.hull.uneven.depths(solid.pose.inverse().apply(points))[0]
    if not len(planes(solid.hull)):
        return np.full(len(points), -np.inf)
    deep: Floats = -_over_planes(solid, points).max(axis=1)
    return deep


def deepest_inside(solid: Solid, points: Floats) -> tuple[int, float, Floats] | None:
    """Which of some points (N, 3) lies deepest inside the undilated hull, how deep [mm], and its unit way out (3,).

    None where none of them is inside.
    """
    turn = np.reshape(solid.pose.rotation, (3, 3))
    if not len(points):
        return None
    if solid.hull.uneven is not None:
        deep, ways = solid.hull.uneven.depths(solid.pose.inverse().apply(points))
        row = int(deep.argmax())
        return (row, float(deep[row]), turn @ ways[row]) if deep[row] > 0.0 else None
    out = _over_planes(solid, points)
    if not out.shape[1]:
        return None
    row = int(out.max(axis=1).argmin())
    plane = int(out[row].argmax())
    return (
        (row, -float(out[row, plane]), turn @ planes(solid.hull)[plane, :3])
        if out[row, plane] < 0.0
        else None
    )


def _over_planes(solid: Solid, points: Floats) -> Floats:
    """How far points (N, 3) lie over each plane of the posed hull (N, P) [mm]."""
    held = planes(solid.hull)
    over: Floats = solid.pose.inverse().apply(points) @ held[:, :3].T + held[:, 3]
    return over
