"""From car millimetres to pixels and back, for one eye and one size of picture."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan_app.tools.events import Sight
from floorpan_app.viewport.eye import VIEW_ANGLE_DEG, Eye

Floats = NDArray[np.float64]
Vector = tuple[float, float, float]

# What is nearer to the eye than this is not drawn.
NEAREST_MM = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Projection:
    """How an eye sees the car in a picture of width by height logical pixels."""

    eye: Eye
    width: float
    height: float

    def pixels(self, points_mm: Floats) -> tuple[Floats, NDArray[np.bool_]]:
        """Pixels (N, 2) of points (N, 3) [mm], and which of them lie before the eye (N,)."""
        seen, depth = self._seen(points_mm)
        before = depth > NEAREST_MM
        scale = self._pixels_per_mm(np.where(before, depth, 1.0))
        x = self.width / 2 + seen[:, 0] * scale
        y = self.height / 2 - seen[:, 1] * scale
        return np.column_stack([x, y]), before

    def pixel(self, point_mm: Vector | Floats) -> tuple[float, float] | None:
        """One point's pixel; None where it lies behind the eye."""
        pixels, before = self.pixels(np.asarray(point_mm, dtype=float).reshape(1, 3))
        return (float(pixels[0, 0]), float(pixels[0, 1])) if before[0] else None

    def segments(self, ends_mm: Floats) -> Floats:
        """Pixels (M, 2, 2) of straight pieces (N, 2, 3) [mm], each cut off where it goes behind the eye."""
        ends = np.array(ends_mm, dtype=float).reshape(-1, 2, 3)
        depth = self._seen(ends.reshape(-1, 3))[1].reshape(-1, 2)
        keep = (depth > NEAREST_MM).any(axis=1)
        ends, depth = ends[keep], depth[keep]
        for near, far in ((0, 1), (1, 0)):
            behind = depth[:, near] <= NEAREST_MM
            share = (depth[behind, far] - 1.01 * NEAREST_MM) / (depth[behind, far] - depth[behind, near])
            ends[behind, near] = ends[behind, far] + share[:, None] * (ends[behind, near] - ends[behind, far])
        return self.pixels(ends.reshape(-1, 3))[0].reshape(-1, 2, 2)

    def sight(self, x: float, y: float) -> Sight:
        """The ray through a pixel."""
        right, up, forward = self.eye.axes()
        across = (x - self.width / 2) * right - (y - self.height / 2) * up
        if self.eye.parallel:
            per_pixel = self.eye.height_mm() / self.height
            # Far enough back that nothing of a car is behind the start.
            start = self.eye.position() + per_pixel * across - 20_000.0 * forward
            ahead = _vector(forward)
            return Sight(origin_mm=_vector(start), direction=ahead, forward=ahead, pixel_mm=per_pixel)
        growth = 2.0 * math.tan(math.radians(VIEW_ANGLE_DEG / 2)) / self.height
        aim = forward + growth * across
        return Sight(
            origin_mm=_vector(self.eye.position()),
            direction=_vector(aim / np.linalg.norm(aim)),
            forward=_vector(forward),
            pixel_growth=growth,
        )

    def pixels_per_mm(self, at_mm: Vector | Floats) -> float:
        """How many pixels a millimetre across the sight takes at a point; 0 behind the eye."""
        depth = self._seen(np.asarray(at_mm, dtype=float).reshape(1, 3))[1]
        return float(self._pixels_per_mm(depth)[0]) if depth[0] > NEAREST_MM else 0.0

    def _seen(self, points_mm: Floats) -> tuple[Floats, Floats]:
        axes = np.stack(self.eye.axes())
        local = (np.asarray(points_mm, dtype=float) - self.eye.position()) @ axes.T
        depth = local[:, 2]
        if self.eye.parallel:
            # Nothing is ever behind a parallel view.
            depth = np.full(len(local), self.eye.distance_mm)
        return local, depth

    def _pixels_per_mm(self, depth_mm: Floats) -> Floats:
        seen = 2.0 * depth_mm * math.tan(math.radians(VIEW_ANGLE_DEG / 2))
        per_mm: Floats = self.height / seen
        return per_mm


def _vector(values: Floats) -> Vector:
    x, y, z = (float(value) for value in values)
    return x, y, z
