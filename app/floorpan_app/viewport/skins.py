"""The skin about where values over a block are not below a level, as smooth as the values are."""

import numpy as np
import pyvista
from numpy.typing import NDArray

from floorpan.geometry.mesh import Mesh

Floats = NDArray[np.float64]

# Where two limits meet a skin is as ragged as its block is coarse; so many rounds take that off and keep its size.
_ROUNDS = 24
_PASS_BAND = 0.08


def skin(origin_mm: Floats, spacing_mm: float, values: Floats, level: float = 0.0) -> Mesh | None:
    """The skin of values (X, Y, Z), straight between them, in the block's own axes; None where nothing is inside.

    origin_mm : (3,) the place of values[0, 0, 0]
    """
    block = pyvista.ImageData(dimensions=values.shape, spacing=(spacing_mm,) * 3, origin=tuple(origin_mm))
    block.point_data["room"] = np.asarray(values, dtype=np.float64).ravel(order="F")
    found = block.contour([level], scalars="room")
    if found.n_cells == 0:
        return None
    smooth = found.smooth_taubin(n_iter=_ROUNDS, pass_band=_PASS_BAND)
    return Mesh(np.asarray(smooth.points, dtype=float), np.asarray(smooth.regular_faces, dtype=np.int32))
