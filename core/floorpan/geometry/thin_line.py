"""A drawn line with fewer corners."""

import numpy as np
from shapely.geometry import LineString

from floorpan.geometry.mesh import Floats


def thin_line(points: Floats, off_mm: float) -> Floats:
    """A line (N, 2) with fewer corners, nowhere farther off than told (Douglas and Peucker, 1973); its ends stay."""
    if len(points) < 3:
        return points
    fewer: Floats = np.asarray(LineString(points).simplify(off_mm).coords)
    return fewer
