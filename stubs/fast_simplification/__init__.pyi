"""Types of the one function of fast-simplification that floorpan calls."""

from typing import Any

from numpy.typing import NDArray

def simplify(
    points: NDArray[Any],
    triangles: NDArray[Any],
    target_reduction: float | None = ...,
    target_count: int | None = ...,
    agg: float = ...,
    verbose: bool = ...,
    *,
    preserve_border: bool = ...,
) -> tuple[NDArray[Any], NDArray[Any]]: ...
