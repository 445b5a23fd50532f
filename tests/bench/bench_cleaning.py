"""How long cleaning a scan, its double walls, and a surface from points take here.

    python tests/bench/bench_cleaning.py [triangles]

The scan is made up: a floor of 1.6 m by 1.2 m with a tunnel and 0.3 mm of white noise, 500 spikes, a third of its
triangles turned over. Beside the spikes stands the obvious way: a loop over the points, timed on 2,000 of them
and multiplied. The load of the machine is in all times.
"""

import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from scipy.spatial import cKDTree

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from floorpan.geometry.double_walls import double_walls
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.progress import finish
from floorpan.scan.cleaning import (
    Cleaned,
    CutForeignFaces,
    DropSmallIslands,
    DropUselessFaces,
    KeepOneSheet,
    NamedIslands,
    RemoveSpikes,
    TurnFaces,
    clean_up,
)
from floorpan.scan.surfacing import surface_from_points
from made_up_sheets import joined, sheet

DEEDS: tuple[Cleaned, ...] = (
    DropSmallIslands(fewer_triangles=10),
    NamedIslands(at_mm=((0.0, 0.0, 60.0),), keep=True),
    RemoveSpikes(),
    DropUselessFaces(),
    CutForeignFaces(),
    TurnFaces(),
    KeepOneSheet(),
)


def floor(triangles: int) -> Mesh:
    random = np.random.default_rng(0)
    flat = sheet(1600.0, 1200.0, (2 * 1600.0 * 1200.0 / triangles) ** 0.5)
    points = flat.points.copy()
    points[:, 2] = 60.0 * np.exp(-((points[:, 1] / 80.0) ** 4)) + random.normal(0.0, 0.3, len(points))
    points[random.choice(len(points), 500, replace=False), 2] += random.uniform(5.0, 30.0, 500)
    turned = random.random(len(flat.faces)) < 1.0 / 3.0
    return Mesh(points, np.where(turned[:, None], flat.faces[:, ::-1], flat.faces))


def timed(name: str, work: Callable[[], object]) -> None:
    start = time.perf_counter()
    work()
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    print(f"{name:28} {time.perf_counter() - start:7.2f} s   peak so far {peak:6.0f} MB")


def one_by_one(points: Floats) -> None:
    tree = cKDTree(points)
    for point in points[:2000]:
        near = points[tree.query(point, k=37)[1][1:]]
        spread = near - near.mean(axis=0)
        np.abs((point - near.mean(axis=0)) @ np.linalg.svd(spread)[2][2])


def main(triangles: int) -> None:
    mesh = floor(triangles)
    print(f"{len(mesh.faces):,} triangles, {len(mesh.points):,} points")
    for deed in DEEDS:
        timed(type(deed).__name__, lambda deed=deed: finish(clean_up(mesh, (deed,))))  # type: ignore[misc]
    start = time.perf_counter()
    one_by_one(mesh.points)
    print(f"{'spikes one by one':28} {(time.perf_counter() - start) * len(mesh.points) / 2000:7.2f} s")
    half = floor(triangles // 2)
    twice = joined(half, Mesh(half.points[:, [0, 1, 2]] + np.array([0.7, 0.4, 1.5]), half.faces))
    timed("double walls", lambda: finish(double_walls(twice, within_mm=3.0)))
    timed("the lesser of two sheets", lambda: finish(clean_up(twice, (KeepOneSheet(),))))
    random = np.random.default_rng(1)
    points = random.uniform(0.0, [1600.0, 1200.0, 0.3], (triangles, 3))
    points[:, 2] += 60.0 * np.exp(-(((points[:, 1] - 600.0) / 80.0) ** 4))
    timed(f"surface from {triangles:,} points", lambda: finish(surface_from_points(points)))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000)
