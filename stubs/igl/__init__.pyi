"""Types of the one class of libigl that floorpan calls."""

from typing import Any

from numpy.typing import NDArray

class AABB:
    def __init__(self) -> None: ...
    def init(self, points: NDArray[Any], faces: NDArray[Any], /) -> None: ...
    def squared_distance(
        self, points: NDArray[Any], faces: NDArray[Any], asked: NDArray[Any], /
    ) -> tuple[NDArray[Any], NDArray[Any], NDArray[Any]]: ...
