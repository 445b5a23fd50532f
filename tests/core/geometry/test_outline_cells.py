"""Cells over an outline's plane against asking every point, and every face, on its own."""

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon

from floorpan.geometry.outline_cells import INSIDE, NEAR, OutlineCells


def ring_of(kind: str) -> np.ndarray:
    if kind == "star":
        angle = np.linspace(0.0, 2.0 * np.pi, 41, endpoint=False)
        radius = 300.0 + 200.0 * np.cos(9.0 * angle)
        return np.column_stack([1200.0 + radius * np.cos(angle), radius * np.sin(angle) - 400.0])
    if kind == "sliver":
        return np.array([[0.0, 0.0], [900.0, 1.0], [900.0, 1.5]])
    if kind == "freehand":
        angle = np.linspace(0.0, 2.0 * np.pi, 3000, endpoint=False)
        shake = np.random.default_rng(4).uniform(0.98, 1.02, 3000)
        return np.column_stack([400.0 * shake * np.cos(angle), 90.0 * shake * np.sin(angle)])
    return np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 100.0], [0.0, 100.0]])


KINDS = ("star", "sliver", "freehand", "square")


def cells_of(kind: str, near_mm: float) -> tuple[OutlineCells, Polygon, np.ndarray]:
    ring = ring_of(kind)
    outline = Polygon(ring)
    shapely.prepare(outline)
    return OutlineCells(outline, ring, near_mm), outline, ring


def places_around(ring: np.ndarray) -> np.ndarray:
    """Far and near, on the outline's own corners and sides, and a hair beside them."""
    random = np.random.default_rng(7)
    low, size = ring.min(axis=0), np.ptp(ring, axis=0)
    anywhere = low + random.uniform(-0.6, 1.6, (20_000, 2)) * size
    share = random.uniform(0.0, 1.0, (len(ring), 1))
    on_sides = ring + share * (np.roll(ring, -1, axis=0) - ring)
    beside = np.tile(on_sides, (3, 1)) + random.normal(0.0, 1e-3, (3 * len(ring), 2))
    return np.vstack([anywhere, ring, on_sides, beside, [[1e12, -1e12], low - 1e7]])


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("near_mm", [0.0, 0.5, 30.0])
def test_points_are_told_as_if_each_was_asked(kind: str, near_mm: float) -> None:
    cells, outline, ring = cells_of(kind, near_mm)
    flat = places_around(ring)
    marks = cells.marks(flat)
    assert np.array_equal((marks & INSIDE) > 0, shapely.contains_xy(outline, flat[:, 0], flat[:, 1]))
    away = shapely.distance(outline.exterior, shapely.points(flat))
    assert (marks[away <= near_mm] & NEAR).all()
    # Near is told in squares, whose corners lie farther out.
    assert not (marks[away > 1.5 * near_mm + 0.05 * np.ptp(ring, axis=0).max()] & NEAR).any()


@pytest.mark.parametrize("kind", KINDS)
def test_no_face_that_the_outline_touches_is_missed(kind: str) -> None:
    cells, outline, ring = cells_of(kind, 0.0)
    random = np.random.default_rng(11)
    low, size = ring.min(axis=0), np.ptp(ring, axis=0)
    middle = low + random.uniform(-0.5, 1.5, (3000, 1, 2)) * size
    corner = middle + random.normal(size=(3000, 3, 2)) * random.choice([0.5, 20.0, 400.0], (3000, 1, 1))
    found = cells.reached(corner.reshape(-1, 2), np.arange(9000, dtype=np.int32).reshape(-1, 3))
    touched = shapely.intersects(shapely.polygons(corner), outline.exterior)
    assert touched.any()
    assert found[touched].all()
    assert not found.all()
