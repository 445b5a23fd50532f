"""Where a line of sight comes nearest to another line, and where it crosses a plane."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Triple = tuple[float, float, float] | Floats

# Sine of the angle under which two directions count as one, about a third of a degree: nearer than that, a pixel
# of the mouse moves the answer by metres.
_PARALLEL = 5e-3


def nearest_along(axis_at_mm: Triple, axis: Triple, ray_at_mm: Triple, ray: Triple) -> float | None:
    """How far along an axis [mm] from axis_at_mm lies its nearest point to a ray.

    Both directions are unit vectors. None where they run parallel, or where the nearest point of the ray lies
    behind its start. Closed form: the common perpendicular of two lines.
    """
    a, u = np.asarray(axis_at_mm, dtype=float), np.asarray(axis, dtype=float)
    b, v = np.asarray(ray_at_mm, dtype=float), np.asarray(ray, dtype=float)
    cosine = float(u @ v)
    sine_squared = 1.0 - cosine * cosine
    if sine_squared < _PARALLEL**2:
        return None
    between = b - a
    along = (float(between @ u) - cosine * float(between @ v)) / sine_squared
    if float((a + along * u - b) @ v) < 0.0:
        return None
    return along


def crossing(plane_at_mm: Triple, normal: Triple, ray_at_mm: Triple, ray: Triple) -> Floats | None:
    """Where a ray crosses a plane (3,) [mm]; None where it runs along it or the plane lies behind its start."""
    n, v = np.asarray(normal, dtype=float), np.asarray(ray, dtype=float)
    start = np.asarray(ray_at_mm, dtype=float)
    facing = float(n @ v)
    if abs(facing) < _PARALLEL:
        return None
    along = float(n @ (np.asarray(plane_at_mm, dtype=float) - start)) / facing
    if along < 0.0:
        return None
    point: Floats = start + along * v
    return point


def triple(values: Floats) -> tuple[float, float, float]:
    """An array of three as plain numbers."""
    x, y, z = (float(value) for value in values)
    return x, y, z
