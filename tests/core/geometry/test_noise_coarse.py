"""Roughness where it cannot be told."""

import numpy as np

from floorpan.geometry.mesh import Mesh
from floorpan.geometry.noise import WIDEST_MM, noise_sigma_mm


def test_points_far_apart_tell_no_roughness() -> None:
    """A hand-modelled dome with points 60 mm apart: what is off a quadric there is its shape, not noise."""
    at = np.arange(-900.0, 901.0, 60.0)
    x, y = np.meshgrid(at, at, indexing="ij")
    z = 200.0 * np.cos(x / 300.0) * np.cos(y / 300.0)
    count = len(at)
    corner = np.arange(count - 1)[:, None] * count + np.arange(count - 1)[None, :]
    a, b, c, d = corner, corner + count, corner + count + 1, corner + 1
    faces = np.vstack([np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)])
    assert (
        noise_sigma_mm(Mesh(np.column_stack([x.ravel(), y.ravel(), z.ravel()]), faces), widest_mm=WIDEST_MM)
        == 0.0
    )
