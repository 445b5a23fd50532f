"""Points against plane outlines."""

import numpy as np
import shapely
from numpy.typing import NDArray

from floorpan.geometry.mesh import Floats


def inside_outline(outline: Floats, places: Floats) -> NDArray[np.bool_]:
    """Mask (N,) of places (N, 2) that lie inside a closed outline (K, 2), its edge not counted."""
    polygon = shapely.Polygon(outline)
    shapely.prepare(polygon)
    inside: NDArray[np.bool_] = shapely.contains_xy(polygon, places[:, 0], places[:, 1])
    return inside
