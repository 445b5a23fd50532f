"""Types of the few parts of python-fcl that floorpan calls."""

from typing import Any

from numpy.typing import NDArray

class Transform:
    def __init__(self, rotation: NDArray[Any], translation: NDArray[Any]) -> None: ...

class CollisionGeometry: ...

class BVHModel(CollisionGeometry):
    def beginModel(self, num_tris_: int = ..., num_vertices_: int = ...) -> int: ...  # noqa: N802
    def addSubModel(self, verts: NDArray[Any], triangles: NDArray[Any]) -> bool: ...  # noqa: N802
    def endModel(self) -> int: ...  # noqa: N802

class CollisionObject:
    def __init__(self, geom: CollisionGeometry, tf: Transform | None = ...) -> None: ...
    def setTransform(self, tf: Transform) -> None: ...  # noqa: N802

class DistanceRequest:
    def __init__(self, enable_nearest_points: bool = ..., enable_signed_distance: bool = ...) -> None: ...

class DistanceResult:
    def __init__(self, min_distance_: float = ...) -> None: ...
    min_distance: float
    nearest_points: list[NDArray[Any]]
    b1: int
    b2: int

class CollisionRequest:
    def __init__(self, num_max_contacts: int = ..., enable_contact: bool = ...) -> None: ...

class CollisionResult:
    def __init__(self) -> None: ...
    is_collision: bool

def collide(
    o1: CollisionObject, o2: CollisionObject, request: CollisionRequest, result: CollisionResult
) -> int: ...
def distance(
    o1: CollisionObject, o2: CollisionObject, request: DistanceRequest, result: DistanceResult
) -> float: ...
