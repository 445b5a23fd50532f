"""The gap between two convex bodies, by a way of its own: the point of least norm of their difference.

After P. Wolfe, "Finding the nearest point in a polytope", Mathematical Programming 11, 1976. Every step bounds the
distance from below too: no point of the difference lies before the plane through its corner nearest along x.
"""

from dataclasses import dataclass

import numpy as np

from floorpan.sample.shapes import Floats

_ROUNDS = 500
_TOUCHING = 1e-10


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyGap:
    """The gap between two convex bodies.

    gap_mm : least distance, or minus the least way that parts them
    direction : unit (3,), from the first to the second; moving the second along it widens the gap
    within_mm : the true gap is no more than this below gap_mm
    """

    gap_mm: float
    direction: Floats
    within_mm: float


def gap_between(hull_a: Floats, radius_a_mm: float, hull_b: Floats, radius_b_mm: float) -> BodyGap:
    """The gap between the hulls of points (k, 3) and (n, 3), each dilated by its radius.

    For hulls of a few dozen points: where they overlap, every pair of edges is tried.
    """
    a = np.asarray(hull_a, dtype=np.float64).reshape(-1, 3)
    b = np.asarray(hull_b, dtype=np.float64).reshape(-1, 3)
    difference = (a[:, None] - b[None]).reshape(-1, 3)
    radii = radius_a_mm + radius_b_mm
    nearest, below = _least_norm(difference)
    distance = float(np.sqrt(np.sum(nearest * nearest)))
    if distance > _TOUCHING * max(1.0, float(np.abs(difference).max())):
        return BodyGap(
            gap_mm=distance - radii, direction=-nearest / distance, within_mm=max(distance - below, 0.0)
        )
    depth, direction = _depth(a, b, difference)
    return BodyGap(gap_mm=-depth - radii, direction=direction, within_mm=_TOUCHING)


def _least_norm(corners: Floats) -> tuple[Floats, float]:
    """The point of the hull of corners (n, 3) nearest to the origin, and a lower bound of its norm."""
    chosen = [int(np.sum(corners * corners, axis=1).argmin())]
    weights = np.ones(1)
    size = float(np.sum(corners * corners, axis=1).max())
    below = 0.0
    for _ in range(_ROUNDS):
        nearest = weights @ corners[chosen]
        along = corners @ nearest
        entering = int(along.argmin())
        norm = float(np.sqrt(nearest @ nearest))
        if norm > 0.0:
            below = max(below, float(along[entering]) / norm)
        if nearest @ nearest - along[entering] <= 1e-15 * size or entering in chosen:
            break
        chosen.append(entering)
        weights = np.append(weights, 0.0)
        chosen, weights = _settled(corners, chosen, weights)
    return np.asarray(weights @ corners[chosen]), below


def _settled(corners: Floats, chosen: list[int], weights: Floats) -> tuple[list[int], Floats]:
    """Wolfe's minor cycle: drop corners until the flat through the rest has its nearest point within them."""
    while True:
        wanted = _flat_weights(corners[chosen])
        if wanted.min() > 1e-14:
            return chosen, wanted
        falling = wanted <= 1e-14
        with np.errstate(divide="ignore", invalid="ignore"):
            part = np.where(falling, weights / np.maximum(weights - wanted, 1e-300), np.inf)
        step = min(1.0, float(part.min()))
        weights = (1.0 - step) * weights + step * wanted
        weights[int(part.argmin())] = 0.0
        kept = weights > 1e-14
        chosen = [corner for corner, keep in zip(chosen, kept, strict=True) if keep]
        weights = weights[kept] / weights[kept].sum()


def _flat_weights(corners: Floats) -> Floats:
    """Weights, adding up to one, of the point nearest to the origin in the flat through the corners (m, 3)."""
    arms = (corners[1:] - corners[0]).T
    shares = np.linalg.lstsq(arms, -corners[0], rcond=None)[0]
    return np.concatenate(((1.0 - shares.sum(),), shares))


def _depth(a: Floats, b: Floats, difference: Floats) -> tuple[float, Floats]:
    """The least way that parts two hulls that meet: the difference's support in every direction it may be least.

    The faces of the difference are square to two edges of a, two of b, or one of each.
    """
    edges = np.concatenate((_edges(a), _edges(b)))
    first, second = np.triu_indices(len(edges), k=1)
    normals = np.cross(edges[first], edges[second])
    length = np.sqrt(np.sum(normals * normals, axis=1))
    real = length > 1e-9 * max(float(length.max(initial=0.0)), 1e-300)
    if not real.any():
        return 0.0, np.array((0.0, 0.0, 1.0))
    normals = normals[real] / length[real, None]
    normals = np.concatenate((normals, -normals))
    support = np.concatenate(
        [(part @ difference.T).max(axis=1) for part in np.array_split(normals, 1 + len(normals) // 2000)]
    )
    least = int(support.argmin())
    return max(float(support[least]), 0.0), normals[least]


def _edges(points: Floats) -> Floats:
    first, second = np.triu_indices(len(points), k=1)
    return np.asarray(points[first] - points[second])
