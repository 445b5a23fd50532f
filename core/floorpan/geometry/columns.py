"""Heights of a mesh over single places, asked again and again."""

import numpy as np

from floorpan.geometry.mesh import Mesh
from floorpan.geometry.vertical import crossings


class Columns:
    """A mesh [mm] ready to be asked what lies over a place; sorted by x on first use."""

    def __init__(self, mesh: Mesh) -> None:
        self._mesh = mesh
        self._ready = False

    def heights_at(self, x_mm: float, y_mm: float) -> tuple[float, ...]:
        """Heights where the vertical line through a place meets faces that face up [mm], lowest first."""
        if not len(self._mesh.faces):
            return ()
        if not self._ready:
            self._sort()
        first = int(np.searchsorted(self._least_x, x_mm - self._widest))
        last = int(np.searchsorted(self._least_x, x_mm, side="right"))
        # Across first: the corners of a whole strip of faces take longer to gather than to rule out.
        near = self._order[first:last][(self._low_y[first:last] <= y_mm) & (self._high_y[first:last] >= y_mm)]
        corners = self._mesh.points[self._mesh.faces[near]]
        met = crossings(corners, np.array([[x_mm, y_mm]]))
        return tuple(sorted(float(z) for z in met.z[met.up]))

    def _sort(self) -> None:
        x = self._mesh.points[:, 0][self._mesh.faces]
        least = np.minimum(np.minimum(x[:, 0], x[:, 1]), x[:, 2])
        self._widest = float((np.maximum(np.maximum(x[:, 0], x[:, 1]), x[:, 2]) - least).max())
        self._order = np.argsort(least, kind="stable")
        self._least_x = least[self._order]
        y = self._mesh.points[:, 1][self._mesh.faces]
        low = np.minimum(np.minimum(y[:, 0], y[:, 1]), y[:, 2])[self._order]
        high = np.maximum(np.maximum(y[:, 0], y[:, 1]), y[:, 2])[self._order]
        # Half as long, and never inside the true ends.
        self._low_y = np.nextafter(low.astype(np.float32), np.float32(-np.inf))
        self._high_y = np.nextafter(high.astype(np.float32), np.float32(np.inf))
        self._ready = True
