"""Heights of a mesh over single places, asked again and again."""

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.vertical import heights_in

_STRIPS = 1 << 16


class Columns:
    """A mesh [mm] ready to be asked what lies over a place; put in strips along x on first use."""

    def __init__(self, mesh: Mesh) -> None:
        self._mesh = mesh
        self._ready = False

    def heights_at(self, x_mm: float, y_mm: float) -> tuple[float, ...]:
        """Heights where the vertical line through a place meets faces that face up [mm], lowest first."""
        [heights] = self.heights_at_each(np.array([[x_mm, y_mm]]))
        return heights

    def heights_at_each(self, at_mm: Floats) -> list[tuple[float, ...]]:
        """The same for places (N, 2), in their order."""
        if not len(self._mesh.faces) or not len(at_mm):
            return [()] * len(at_mm)
        if not self._ready:
            self._sort()
        near = [self._near(x, y) for x, y in at_mm.tolist()]
        row = np.repeat(np.arange(len(near)), [len(faces) for faces in near])
        corners = self._mesh.points[self._mesh.faces[np.concatenate(near)]]
        at = at_mm[row]
        # No face that lies beside a line by less than rounding is met.
        flat = corners[:, :, :2]
        boxed = ((flat.min(axis=1) <= at) & (flat.max(axis=1) >= at)).all(axis=1)
        row, corners, at = row[boxed], corners[boxed], at[boxed]
        inside, z, area = heights_in(corners, at)
        met = inside & (area > 0.0)
        found: list[list[float]] = [[] for _ in near]
        for place, height in zip(row[met].tolist(), z[met].tolist(), strict=True):
            found[place].append(height)
        return [tuple(sorted(heights)) for heights in found]

    def _near(self, x_mm: float, y_mm: float) -> NDArray[np.int64]:
        """Faces (K,) that may lie at a place."""
        low, high = self._strips(np.array([x_mm - self._widest, x_mm]))
        first = int(np.searchsorted(self._least_x, low))
        last = int(np.searchsorted(self._least_x, high, side="right"))
        # Across first: the corners of a whole strip of faces take longer to gather than to rule out.
        return self._order[first:last][(self._low_y[first:last] <= y_mm) & (self._high_y[first:last] >= y_mm)]

    def _sort(self) -> None:
        least, greatest = self._ends(0)
        self._widest = float((greatest - least).max())
        self._low_mm = float(least.min())
        self._each_mm = max((float(least.max()) - self._low_mm) / (_STRIPS - 1), 1e-9)
        # Sixteen bits are sorted in a small part of the time that distances take.
        strip = self._strips(least)
        self._order = np.argsort(strip, kind="stable")
        self._least_x = strip[self._order]
        low, high = self._ends(1)
        # Half as long, and never inside the true ends.
        self._low_y = np.nextafter(low[self._order].astype(np.float32), np.float32(-np.inf))
        self._high_y = np.nextafter(high[self._order].astype(np.float32), np.float32(np.inf))
        self._ready = True

    def _strips(self, x_mm: Floats) -> NDArray[np.uint16]:
        """Which strip (N,) places lie in; what lies to the left is never in a later one."""
        return np.clip((x_mm - self._low_mm) / self._each_mm, 0.0, _STRIPS - 1).astype(np.uint16)

    def _ends(self, axis: int) -> tuple[Floats, Floats]:
        """Least and greatest place (M,) of each face along an axis."""
        at = np.ascontiguousarray(self._mesh.points[:, axis])
        a, b, c = (at.take(self._mesh.faces[:, k]) for k in range(3))
        return np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
