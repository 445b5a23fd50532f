"""Triangle skins in the distance library: the one place that calls it.

Two crossing skins are 0 apart there, never negative, and a skin knows no inside: both are dealt with by the
callers. Nearest points are asked for always; without that the library hands back memory nobody wrote.
"""

from dataclasses import dataclass
from typing import Any

import fcl
import numpy as np
from numpy.typing import NDArray

from floorpan.frames import STILL, Pose
from floorpan.geometry.mesh import Floats, bounds_of

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
    """Triangles (V, 3) float64 [mm] and (F, 3), ready for distances; standing where they are given.

    bounds : least and greatest corner (2, 3) of the triangles where they are given [mm]
    pose   : where they stand
    """

    __slots__ = ("_held", "_tree", "bounds", "pose")
    bounds: Floats
    pose: Pose

    def __init__(self, points: Floats, faces: NDArray[Any]) -> None:
        self._begin(_tree(points, faces), bounds_of(points))

    def another(self) -> "Skin":
        """The same triangles to be stood elsewhere; the tree is shared and never changed, so any thread may do so."""
        skin = Skin.__new__(Skin)
        skin._begin(self._tree, self.bounds)
        return skin

    def stand(self, pose: Pose) -> None:
        """Move to a pose."""
        if pose is self.pose:
            return
        turn = np.reshape(pose.rotation, (3, 3))
        self._held.setTransform(fcl.Transform(turn, np.asarray(pose.shift_mm)))
        self.pose = pose

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

    def _begin(self, tree: fcl.BVHModel, bounds: Floats) -> None:
        self._tree, self.bounds, self.pose = tree, bounds, STILL
        self._held: Any = fcl.CollisionObject(tree)


def _tree(points: Floats, faces: NDArray[Any]) -> fcl.BVHModel:
    tree = fcl.BVHModel()
    tree.beginModel(len(faces), len(points))
    tree.addSubModel(points, faces)
    tree.endModel()
    return tree
