"""An order of points in space in which neighbours mostly stay neighbours."""

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.mesh import Floats


def along_curve(points: Floats) -> NDArray[np.int64]:
    """Row numbers of points (N, 3) along the Morton curve: the bits of x, y and z in turn (G. M. Morton, 1966)."""
    if not len(points):
        return np.zeros(0, dtype=np.int64)
    low = points.min(axis=0)
    size = float((points.max(axis=0) - low).max()) or 1.0
    cell = np.clip((points - low) / size * 2097151.0, 0.0, 2097151.0).astype(np.uint64)
    place = np.zeros(len(cell), dtype=np.uint64)
    for axis in range(3):
        place |= _spread(cell[:, axis]) << np.uint64(axis)
    return np.argsort(place, kind="stable")


def _spread(bits: NDArray[np.uint64]) -> NDArray[np.uint64]:
    """Two empty bits after each of 21 bits."""
    for shift, mask in (
        (32, 0x1F00000000FFFF),
        (16, 0x1F0000FF0000FF),
        (8, 0x100F00F00F00F00F),
        (4, 0x10C30C30C30C30C3),
        (2, 0x1249249249249249),
    ):
        bits = (bits | bits << np.uint64(shift)) & np.uint64(mask)
    return bits
