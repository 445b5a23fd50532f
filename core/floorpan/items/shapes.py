"""Hulls by their numbers: equal numbers give the very same hull, so that what is known of it can be kept."""

import functools
import itertools

import numpy as np

from floorpan.frames import Vector
from floorpan.geometry.solids import Hull, ball, box, capsule, frustum

_KEPT = 1024


@functools.lru_cache(maxsize=_KEPT)
def orb(radius_mm: float) -> Hull:
    """A ball about the origin."""
    return ball(np.zeros(3), radius_mm)


@functools.lru_cache(maxsize=_KEPT)
def rod(from_mm: float, to_mm: float, radius_mm: float) -> Hull:
    """A capsule along Z between two heights of its centre line."""
    return capsule(np.array([0.0, 0.0, from_mm]), np.array([0.0, 0.0, to_mm]), radius_mm)


@functools.lru_cache(maxsize=_KEPT)
def block(least_mm: Vector, greatest_mm: Vector, radius_mm: float = 0.0) -> Hull:
    """An upright box; the rounding is held to half its least side."""
    least_side = min(high - low for low, high in zip(least_mm, greatest_mm, strict=True))
    return box(np.array(least_mm), np.array(greatest_mm), min(radius_mm, least_side / 2))


@functools.lru_cache(maxsize=_KEPT)
def turned_body(profile: tuple[tuple[float, float], ...], sides: int = 48) -> Hull:
    """The convex body of revolution about Z through (height, radius) points, around the true circles."""
    rings = [
        frustum(low, high, low_radius, high_radius, sides)
        for (low, low_radius), (high, high_radius) in itertools.pairwise(profile)
    ]
    return Hull(np.vstack([ring.points for ring in rings]), 0.0, max(ring.facet_mm for ring in rings))


@functools.lru_cache(maxsize=_KEPT)
def convex(corners_mm: tuple[Vector, ...], radius_mm: float = 0.0, facet_mm: float = 0.0) -> Hull:
    """The convex hull of corners."""
    return Hull(np.array(corners_mm, dtype=float), radius_mm, facet_mm)
