"""Which islands of a scan stay: by how many faces, by size, or by a place on them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.edges import islands
from floorpan.geometry.mesh import Floats, Ints, Mesh
from floorpan.geometry.splitting import split
from floorpan.geometry.tiles import Tile, nearest_on

Bools = NDArray[np.bool_]

_TOUCH_MM = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class Islands:
    """The islands of a mesh, the one with most faces first.

    of_face : (M,) island number of each face
    faces   : (I,) how many faces each has
    size_mm : (I,) the longest side of its upright box [mm]
    """

    of_face: Ints
    faces: NDArray[np.int64]
    size_mm: Floats


def measured_islands(mesh: Mesh) -> Islands:
    """All islands with their sizes."""
    of_face = islands(mesh)
    count = np.bincount(of_face)
    low, high = np.full((len(count), 3), np.inf), np.full((len(count), 3), -np.inf)
    island = np.repeat(of_face, 3)
    # One point once is enough, and it belongs to one island only.
    _, first = np.unique(mesh.faces, return_index=True)
    np.minimum.at(low, island[first], mesh.points[mesh.faces.ravel()[first]])
    np.maximum.at(high, island[first], mesh.points[mesh.faces.ravel()[first]])
    return Islands(of_face, count, (high - low).max(axis=1, initial=0.0))


def islands_at(mesh: Mesh, of_face: Ints, places: Floats, touch_mm: float = _TOUCH_MM) -> Ints:
    """The island (K,) under each of some places (K, 3) [mm]; -1 where nothing lies within touch_mm of one."""
    if not len(mesh.faces) or not len(places):
        return np.full(len(places), -1, dtype=np.int32)
    tiles = tuple(Tile(mesh, group) for group in split(mesh))
    boxes = np.array([tile.bounds for tile in tiles]).reshape(-1, 2, 3)
    away, face, _ = nearest_on(tiles, boxes, np.ascontiguousarray(places, dtype=np.float64).reshape(-1, 3))
    found: Ints = np.where(away <= touch_mm, of_face[face], -1).astype(np.int32)
    return found
