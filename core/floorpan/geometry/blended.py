"""Values known at some places, blended over all points round them."""

import numpy as np
from scipy.spatial import cKDTree

from floorpan.geometry.mesh import Floats

_NEIGHBOURS = 5


def blended(points: Floats, places: Floats, values: Floats, within_mm: float) -> Floats:
    """A value at each point (N,) from values (K,) at places (K, 3); NaN where no place is within reach.

    Near places weigh more, and one at the edge of the reach nothing, so that no edge shows where there is none.
    """
    if not len(places):
        return np.full(len(points), np.nan)
    count = min(_NEIGHBOURS, len(places))
    found_away, found_near = cKDTree(places).query(points, k=count, distance_upper_bound=within_mm, workers=2)
    away = np.asarray(found_away).reshape(len(points), count)
    near = np.asarray(found_near).reshape(len(points), count)
    weight = np.where(np.isfinite(away), (1.0 - np.minimum(away / within_mm, 1.0)) ** 2, 0.0)
    total = weight.sum(axis=1)
    held = np.append(values, 0.0)[np.minimum(near, len(values))]
    found: Floats = np.divide(
        (weight * held).sum(axis=1), total, out=np.full(len(points), np.nan), where=total > 0.0
    )
    return found
