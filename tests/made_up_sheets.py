"""Sheets and bodies whose distances are known in closed form."""

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.solids import Body, Hull, Solid


def sheet(
    wide: float = 200.0, long: float = 200.0, step: float = 5.0, *, low: tuple[float, float] | None = None
) -> Mesh:
    """A level sheet at z = 0 facing up, its middle at the origin unless `low` is its least corner."""
    across, along = max(round(wide / step), 1), max(round(long / step), 1)
    x0, y0 = low if low is not None else (-wide / 2, -long / 2)
    x, y = np.linspace(x0, x0 + wide, across + 1), np.linspace(y0, y0 + long, along + 1)
    at_x, at_y = np.meshgrid(x, y, indexing="ij")
    points = np.column_stack([at_x.ravel(), at_y.ravel(), np.zeros(at_x.size)])
    return Mesh(points, grid_faces(across + 1, along + 1))


def grid_faces(rows: int, columns: int) -> NDArray[np.int32]:
    """Two triangles a cell of a grid, facing +z where the rows run along +x and the columns along +y."""
    number = np.arange(rows * columns).reshape(rows, columns)
    a, b, c, d = number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:]
    first, second = np.stack([a, b, c], axis=-1), np.stack([a, c, d], axis=-1)
    return np.stack([first, second], axis=2).reshape(-1, 3).astype(np.int32)


def bent(mesh: Mesh, height: Callable[[Floats, Floats], Floats]) -> Mesh:
    """A sheet with its heights given by a function of x and y."""
    points = mesh.points.copy()
    points[:, 2] = height(points[:, 0], points[:, 1])
    return Mesh(points, mesh.faces)


def tunnel_floor(step: float = 6.0, noise: float = 0.0, seed: int = 0) -> Mesh:
    """A floor with a tunnel along x, 90 high, and a rib across it; 500 by 400."""
    floor = sheet(500.0, 400.0, step)

    def height(x: Floats, y: Floats) -> Floats:
        return 90.0 * np.exp(-((np.abs(y) / 70.0) ** 4)) + 6.0 * np.exp(-(((x - 60.0) / 12.0) ** 2))

    made = bent(floor, height)
    if not noise:
        return made
    points = made.points.copy()
    points[:, 2] += np.random.default_rng(seed).normal(0.0, noise, len(points))
    return Mesh(points, made.faces)


def without(mesh: Mesh, low: tuple[float, float], high: tuple[float, float]) -> Mesh:
    """A sheet without the faces whose middles lie between two xy corners."""
    middle = mesh.points[mesh.faces].mean(axis=1)[:, :2]
    return mesh.kept(~((middle > low) & (middle < high)).all(axis=1))


def joined(*meshes: Mesh) -> Mesh:
    """Meshes side by side in one."""
    count = np.cumsum([0] + [len(mesh.points) for mesh in meshes[:-1]])
    faces = [mesh.faces + np.int32(start) for mesh, start in zip(meshes, count, strict=True)]
    return Mesh(np.vstack([mesh.points for mesh in meshes]), np.vstack(faces))


def cube(side: float = 2.0) -> Mesh:
    """A closed cube about the origin, facing outward."""
    return Hull(np.array([[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)]) * side / 2.0).skin()


def globe(radius: float = 50.0, turns: int = 32) -> Mesh:
    """A closed globe of points on a sphere, facing outward; a rim of poles and rings."""
    up = np.linspace(0.0, math.pi, turns // 2 + 1)[1:-1]
    around = np.linspace(0.0, 2 * math.pi, turns, endpoint=False)
    ring = np.array(
        [[math.sin(u) * math.cos(a), math.sin(u) * math.sin(a), math.cos(u)] for u in up for a in around]
    )
    points = np.vstack([ring, [[0, 0, 1], [0, 0, -1]]]) * radius
    return Hull(points).skin()


def body(*hulls: Hull) -> Body:
    """Hulls standing where they were made."""
    return tuple(Solid(hull) for hull in hulls)
