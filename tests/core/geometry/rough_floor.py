"""A rough floor of any number of triangles, for proofs and for benches."""

import itertools

import numpy as np

from floorpan.geometry.mesh import Mesh
from made_up_sheets import grid_faces


def rough_floor(triangles: int, seed: int = 0) -> Mesh:
    """A floor 1.6 m long and 1.2 m wide with a tunnel, ribs, bolt heads and 0.4 mm of noise; a closed form else."""
    rows = round((triangles / 2 * 4 / 3) ** 0.5)
    columns = round(rows * 3 / 4)
    x, y = np.meshgrid(np.linspace(0, 1600, rows), np.linspace(-600, 600, columns), indexing="ij")
    z = 180 * np.exp(-((np.abs(y) / 140) ** 4)) + 6 * np.sin(x / 40) * (np.abs(y) > 200)
    for at_x, at_y in itertools.product(range(200, 1600, 300), (-400, -250, 250, 400)):
        z += 12.0 * (np.hypot(x - at_x, y - at_y) < 9.0)
    z += np.random.default_rng(seed).normal(0, 0.4, z.shape)
    return Mesh(np.column_stack([x.ravel(), y.ravel(), z.ravel()]), grid_faces(rows, columns))
