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
        near = self._order[first:last]
        corners = self._mesh.points[self._mesh.faces[near]]
        met = crossings(corners, np.array([[x_mm, y_mm]]))
        return tuple(sorted(float(z) for z in met.z[met.up]))

    def _sort(self) -> None:
        x = self._mesh.points[:, 0][self._mesh.faces]
        least = np.minimum(np.minimum(x[:, 0], x[:, 1]), x[:, 2])
        self._widest = float((np.maximum(np.maximum(x[:, 0], x[:, 1]), x[:, 2]) - least).max())
        self._order = np.argsort(least, kind="stable")
        self._least_x = least[self._order]
        self._ready = True
