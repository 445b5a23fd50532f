"""Where rays first meet a mesh."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import Vector
from floorpan.geometry.boxtree import BoxTree
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.near import vector

Longs = NDArray[np.int64]

# A ray this close outside a triangle's edge, as a share of the triangle, still meets it.
_EDGE_SHARE = 1e-9
_RAYS_AT_ONCE = 20_000


@dataclass(frozen=True, slots=True, eq=False)
class Hits:
    """First hits of rays, one row a ray.

    along : (N,) distance from the origin in lengths of the direction; infinite where nothing is met
    face  : (N,) face number, -1 where nothing is met
    at_mm : (N, 3) place, NaN where nothing is met
    """

    along: Floats
    face: Longs
    at_mm: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """Where one ray first meets a mesh: place [mm], face number, distance along the ray [mm]."""

    at_mm: Vector
    face: int
    distance_mm: float


class RayCaster:
    """A mesh made ready for rays; exact to rounding, both sides of a face are met."""

    def __init__(self, mesh: Mesh) -> None:
        self.mesh = mesh
        self._tree = BoxTree(mesh) if len(mesh.faces) else None

    def first(self, origins_mm: Floats, directions: Floats) -> Hits:
        """First hits of rays from origins (N, 3) along directions (N, 3) of any length but zero."""
        origin = np.asarray(origins_mm, dtype=np.float64).reshape(-1, 3)
        way = np.broadcast_to(np.asarray(directions, dtype=np.float64).reshape(-1, 3), origin.shape)
        along, face = np.full(len(origin), np.inf), np.full(len(origin), -1, dtype=np.int64)
        for start in range(0, len(origin) if self._tree is not None else 0, _RAYS_AT_ONCE):
            part = slice(start, start + _RAYS_AT_ONCE)
            along[part], face[part] = self._first(origin[part], way[part])
        met = face >= 0
        at = np.full((len(origin), 3), np.nan)
        at[met] = origin[met] + along[met, None] * way[met]
        return Hits(along, face, at)

    def _first(self, origin: Floats, way: Floats) -> tuple[Floats, Longs]:
        tree = self._tree
        assert tree is not None
        with np.errstate(divide="ignore"):
            inverse = 1.0 / way
        ray, box = np.arange(len(origin)), np.zeros(len(origin), dtype=np.int64)
        for level in range(len(tree.levels) - 1, -1, -1):
            keep = _meets_box(tree.levels[level][box], origin[ray], inverse[ray])
            ray, box = ray[keep], box[keep]
            if level:
                ray, box = tree.children(level, ray, box)
        ray, face = tree.in_leaves(ray, box)
        along = meets(self.mesh.points[self.mesh.faces[face]], origin[ray], way[ray])
        # Nearest first, the lower face number where two are met at once.
        order = np.lexsort([face, along, ray])
        ray, face, along = ray[order], face[order], along[order]
        first = (
            np.concatenate([[True], ray[1:] != ray[:-1]]) & np.isfinite(along)
            if len(ray)
            else ray.astype(bool)
        )
        found, owner = np.full(len(origin), np.inf), np.full(len(origin), -1, dtype=np.int64)
        found[ray[first]], owner[ray[first]] = along[first], face[first]
        return found, owner


def _meets_box(box: Floats, origin: Floats, inverse: Floats) -> NDArray[np.bool_]:
    """Whether rays meet boxes, row by row; a box is widened by what rounding may take."""
    slack = 1e-9 * (1.0 + np.abs(box).max(axis=(1, 2)))[:, None]
    with np.errstate(invalid="ignore"):
        one, two = (box[:, 0] - slack - origin) * inverse, (box[:, 1] + slack - origin) * inverse
    # A ray that runs in a side of the box gives 0 x inf there: no bound from that side.
    enter = np.nanmax(np.where(np.isnan(one) | np.isnan(two), -np.inf, np.minimum(one, two)), axis=1)
    leave = np.nanmin(np.where(np.isnan(one) | np.isnan(two), np.inf, np.maximum(one, two)), axis=1)
    mask: NDArray[np.bool_] = (leave >= enter) & (leave >= 0.0)
    return mask


def meets(triangles: Floats, origin: Floats, way: Floats) -> Floats:
    """Distance (N,) in lengths of `way` at which rays meet triangles (N, 3, 3), infinite where they do not.

    T. Moeller and B. Trumbore, Journal of Graphics Tools 2(1), 1997.
    """
    a = triangles[:, 0]
    u, v = triangles[:, 1] - a, triangles[:, 2] - a
    square = np.cross(way, v)
    bottom = np.einsum("ij,ij->i", u, square)
    real = bottom != 0.0
    inverse = 1.0 / np.where(real, bottom, 1.0)
    start = origin - a
    second = np.einsum("ij,ij->i", start, square) * inverse
    turned = np.cross(start, u)
    third = np.einsum("ij,ij->i", way, turned) * inverse
    along = np.einsum("ij,ij->i", v, turned) * inverse
    inside = real & (second >= -_EDGE_SHARE) & (third >= -_EDGE_SHARE) & (second + third <= 1.0 + _EDGE_SHARE)
    return np.where(inside & (along >= 0.0), along, np.inf)


def pick(mesh: Mesh, origin_mm: Vector, direction: Vector) -> Hit | None:
    """Where one ray first meets a mesh, None where it does not. Looks at every triangle: for a single question."""
    origin, way = np.asarray(origin_mm, dtype=np.float64), np.asarray(direction, dtype=np.float64)
    near = _near_line(mesh, origin, way)
    if not len(near):
        return None
    corner = mesh.points[mesh.faces[near]]
    along = meets(corner, np.broadcast_to(origin, (len(near), 3)), np.broadcast_to(way, (len(near), 3)))
    best = int(along.argmin())
    if not np.isfinite(along[best]):
        return None
    length = float(along[best] * np.linalg.norm(way))
    return Hit(at_mm=vector(origin + along[best] * way), face=int(near[best]), distance_mm=length)


def _near_line(mesh: Mesh, origin: Floats, way: Floats) -> Longs:
    """Faces whose outline, seen along the ray, has the ray in the box around it."""
    axis = int(np.abs(way).argmax())
    flat = []
    for other in range(3):
        if other != axis:
            slope = way[other] / way[axis]
            flat.append(mesh.points[:, other] - origin[other] - slope * (mesh.points[:, axis] - origin[axis]))
    slack = 1e-9 * (1.0 + float(np.abs(mesh.bounds).max()) + float(np.abs(origin).max()))
    near = np.ones(len(mesh.faces), dtype=bool)
    for off in flat:
        above, below = off >= -slack, off <= slack
        a, b, c = mesh.faces[:, 0], mesh.faces[:, 1], mesh.faces[:, 2]
        near &= (above[a] | above[b] | above[c]) & (below[a] | below[b] | below[c])
    found: Longs = np.flatnonzero(near)
    return found
