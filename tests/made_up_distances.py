"""Distances worked out a second way, slowly and plainly, to hold the quick ones to."""

import numpy as np
from scipy.optimize import nnls

from floorpan.geometry.mesh import Floats, Mesh


def convex_distance(one: Floats, two: Floats) -> float:
    """Least distance of the convex hulls of points (K, 3) and (L, 3): non-negative least squares on their shares."""
    scale = max(float(np.abs(one).max()), float(np.abs(two).max()), 1.0)
    weight = 1e4
    system = np.zeros((5, len(one) + len(two)))
    system[:3, : len(one)], system[:3, len(one) :] = one.T / scale, -two.T / scale
    system[3, : len(one)], system[4, len(one) :] = weight, weight
    shares, _ = nnls(system, np.array([0, 0, 0, weight, weight]), maxiter=2000)
    first, second = shares[: len(one)], shares[len(one) :]
    return float(np.linalg.norm(first @ one / first.sum() - second @ two / second.sum()))


def hull_to_mesh(points: Floats, mesh: Mesh) -> float:
    """Least distance of the convex hull of points to a mesh, one triangle after another."""
    return min(convex_distance(points, mesh.points[face]) for face in mesh.faces)
