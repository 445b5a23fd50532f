"""A convex outline drawn out to a length, its edges rounded."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np

from floorpan.errors import BadValue
from floorpan.sample.shapes import Floats, Placement

Pair: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundedPrism:
    """A prism along its own third axis: a convex core outline, counter-clockwise, dilated by a radius.

    ``core_mm`` is the outline of the core in the first two axes and ``core_half_mm`` its half length; the
    solid reaches one radius further on every side. `rounded_prism` builds it from outside sizes.
    """

    label: str
    placement: Placement
    core_mm: tuple[Pair, ...]
    core_half_mm: float
    radius_mm: float

    @property
    def convex(self) -> bool:
        return True

    def distance(self, points: Floats) -> Floats:
        """Signed distance in mm of points (N, 3), exact outside and inside."""
        u, v, w = self.placement.local(points)
        across = _outline_distance(u, v, self.core_mm)
        along = np.abs(w) - self.core_half_mm
        inner = np.minimum(np.maximum(across, along), 0.0)
        across, along = np.maximum(across, 0.0), np.maximum(along, 0.0)
        return np.asarray(np.sqrt(across * across + along * along) + inner - self.radius_mm)

    def bounds(self) -> Floats:
        ends = [(u, v, end * self.core_half_mm) for u, v in self.core_mm for end in (-1.0, 1.0)]
        corners = self.placement.to_car(ends)
        return np.stack((corners.min(axis=0) - self.radius_mm, corners.max(axis=0) + self.radius_mm))

    def mirrored(self) -> "RoundedPrism":
        return replace(self, placement=self.placement.mirrored())


def rounded_prism(
    label: str, placement: Placement, outline_mm: Sequence[Pair], half_length_mm: float, radius_mm: float
) -> RoundedPrism:
    """A prism from its outside: a convex outline in mm, counter-clockwise, before its corners are rounded.

    Raises:
        BadValue: the outline is not convex and counter-clockwise, or too small for the radius.
    """
    core = _inset(outline_mm, radius_mm)
    turns = [_turn(core[k - 2], core[k - 1], core[k]) for k in range(len(core))]
    kept = [
        _along(a, b, c, d)
        for a, b, c, d in zip(
            outline_mm, [*outline_mm[1:], outline_mm[0]], core, [*core[1:], core[0]], strict=True
        )
    ]
    if min(turns) <= 0.0 or min(kept) <= 0.0 or half_length_mm < radius_mm:
        raise BadValue(
            "prism-outline",
            f"The outline of {label} is not convex and counter-clockwise, or small for its radius.",
            "Give its corners counter-clockwise and a smaller radius.",
        )
    return RoundedPrism(
        label=label,
        placement=placement,
        core_mm=tuple(core),
        core_half_mm=half_length_mm - radius_mm,
        radius_mm=radius_mm,
    )


def _outline_distance(u: Floats, v: Floats, outline: Sequence[Pair]) -> Floats:
    """Signed distance (N,) to a convex outline: to the nearest edge, exact outside and inside."""
    inside = np.full(u.shape, -np.inf)
    nearest_squared = np.full(u.shape, np.inf)
    for (au, av), (bu, bv) in zip(outline, [*outline[1:], outline[0]], strict=True):
        eu, ev = bu - au, bv - av
        length = math.hypot(eu, ev)
        eu, ev = eu / length, ev / length
        du, dv = u - au, v - av
        off = du * ev - dv * eu
        np.maximum(inside, off, out=inside)
        along = du * eu + dv * ev
        past = along - np.clip(along, 0.0, length)
        np.minimum(nearest_squared, off * off + past * past, out=nearest_squared)
    return np.where(inside > 0.0, np.sqrt(nearest_squared), inside)


def _inset(outline: Sequence[Pair], by: float) -> list[Pair]:
    """Corners of the outline after every edge moved inward by the same length."""
    corners: list[Pair] = []
    for k, (u, v) in enumerate(outline):
        pu, pv = outline[k - 1]
        nu, nv = outline[(k + 1) % len(outline)]
        in_length, out_length = math.hypot(u - pu, v - pv), math.hypot(nu - u, nv - v)
        iu, iv = (u - pu) / in_length, (v - pv) / in_length
        ou, ov = (nu - u) / out_length, (nv - v) / out_length
        cosine = iu * ou + iv * ov
        scale = by / (1.0 + cosine)
        corners.append((u - scale * (iv + ov), v + scale * (iu + ou)))
    return corners


def _turn(a: Pair, b: Pair, c: Pair) -> float:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def _along(a: Pair, b: Pair, c: Pair, d: Pair) -> float:
    return (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1])
