"""Types of the one function of fast-simplification that floorpan calls, as it calls it."""

from typing import Any, Literal

from numpy.typing import NDArray

def simplify(
    points: NDArray[Any],
    triangles: NDArray[Any],
    target_reduction: float | None = ...,
    target_count: int | None = ...,
    agg: float = ...,
    verbose: bool = ...,
    *,
    return_collapses: Literal[True],
    preserve_border: bool = ...,
) -> tuple[NDArray[Any], NDArray[Any], NDArray[Any]]: ...
