"""Types of what floorpan calls of libigl."""

from typing import Any

from numpy.typing import NDArray

class AABB:
    def __init__(self) -> None: ...
    def init(self, points: NDArray[Any], faces: NDArray[Any], /) -> None: ...
    def squared_distance(
        self, points: NDArray[Any], faces: NDArray[Any], asked: NDArray[Any], /
    ) -> tuple[NDArray[Any], NDArray[Any], NDArray[Any]]: ...

def winding_number(points: NDArray[Any], faces: NDArray[Any], asked: NDArray[Any], /) -> NDArray[Any]: ...
