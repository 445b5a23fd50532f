"""What one scan missed and another one saw: a hole or a rim that lies on the other's surface is unseen no more.

A hole counts as seen where the other scan reaches all round its rim and all across it; a piece of the outer rim where
the other scan goes on there. What lies near an unseen place of the other scan counts as seen by neither.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from floorpan.geometry.edges import islands
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.rays import RayCaster
from floorpan.geometry.splitting import split
from floorpan.geometry.tiles import Tile, nearest_on

Bools = NDArray[np.bool_]

# Looks across a hole are no farther apart than this, and no hole takes more of them.
_LOOK_MM, _MOST_LOOKS = 4.0, 2000
# A rim lies on the other scan where it is no farther than this; two good scans differ by less (common practice).
WITHIN_MM = 5.0


class SeenElsewhere:
    """Another scan, ready to vouch for what one did not see; everything in one frame [mm].

    mesh : what counts of the other scan's surface
    patches, rims : its own unseen places: patches over its holes, and its outer rims as segments (R, 2, 3)
    within_mm : how far its surface may lie from a rim that it goes on at
    """

    def __init__(self, mesh: Mesh, patches: Mesh, rims: Floats, within_mm: float = WITHIN_MM) -> None:
        self._tiles = [Tile(mesh, group) for group in split(mesh)]
        self._boxes = np.array([tile.bounds for tile in self._tiles]).reshape(-1, 2, 3)
        self._rays = RayCaster(mesh)
        blind = np.vstack([_across(patches.points[patches.faces]), along(rims, _LOOK_MM)])
        self._blind = cKDTree(blind) if len(blind) else None
        self._within = within_mm

    def patches(self, patches: Mesh) -> Bools:
        """Which faces (M,) of patches over holes the other scan saw; a patch is seen whole or not."""
        seen = np.zeros(len(patches.faces), dtype=bool)
        if not self._tiles or not len(patches.faces):
            return seen
        patch = islands(patches)
        for number in range(int(patch.max()) + 1):
            mine = patch == number
            seen[mine] = self._saw(patches.kept(mine))
        return seen

    def places(self, places: Floats) -> Bools:
        """Which places (N, 3) lie on the other scan's surface, away from what it did not see."""
        if not self._tiles or not len(places):
            return np.zeros(len(places), dtype=bool)
        near: Bools = nearest_on(self._tiles, self._boxes, places)[0] <= self._within
        if self._blind is not None and near.any():
            away, _ = self._blind.query(places[near])
            near[near] = away > self._within + _LOOK_MM / 2.0
        return near

    def _saw(self, patch: Mesh) -> bool:
        used = np.unique(patch.faces)
        if not self.places(patch.points[used]).all():
            return False
        corner = patch.points[patch.faces]
        normal = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]).sum(axis=0)
        length = float(np.linalg.norm(normal))
        if length <= 0.0:
            return False
        normal /= length
        reach = float(np.linalg.norm(np.ptp(patch.points[used], axis=0))) + self._within
        looks = _across(corner)
        ahead = self._rays.first(looks - reach * normal, normal).along
        return bool(np.all(ahead <= 2.0 * reach))


def along(segments: Floats, apart_mm: float) -> Floats:
    """Places (K, 3) along segments (R, 2, 3), both ends with them, no farther apart than told [mm]."""
    way = segments[:, 1] - segments[:, 0]
    steps = np.maximum(np.ceil(np.linalg.norm(way, axis=1) / apart_mm).astype(np.int64), 1)
    row = np.repeat(np.arange(len(steps)), steps + 1)
    first = np.repeat(np.cumsum(steps + 1) - steps - 1, steps + 1)
    share = (np.arange(len(row)) - first) / steps[row]
    places: Floats = segments[row, 0] + share[:, None] * way[row]
    return places


def _across(corners: Floats) -> Floats:
    """Places (K, 3) spread over triangles (M, 3, 3) no farther apart than a look, thinned evenly."""
    found = [np.zeros((0, 3))]
    for triangle in corners:
        side = float(max(np.linalg.norm(triangle[k] - triangle[k - 1]) for k in range(3)))
        steps = min(max(int(np.ceil(side / _LOOK_MM)), 1), 60)
        i, j = np.meshgrid(np.arange(steps), np.arange(steps), indexing="ij")
        keep = i + j < steps
        u, v = (i[keep] + 1.0 / 3.0) / steps, (j[keep] + 1.0 / 3.0) / steps
        found.append(
            triangle[0] + np.outer(u, triangle[1] - triangle[0]) + np.outer(v, triangle[2] - triangle[0])
        )
    looks = np.vstack(found)
    return looks[:: max(len(looks) // _MOST_LOOKS, 1)]
