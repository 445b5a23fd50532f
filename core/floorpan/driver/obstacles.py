"""What an arm stays clear of, as rounded segments and planes in plain arrays, and how clear many poses of it are."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import BadValue
from floorpan.frames import Floats

_NOTHING = 1e-12


def _none(*shape: int) -> Floats:
    return np.zeros(shape)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Obstacles:
    """Rounded segments (bolster, console edge, pad) and planes (tunnel flank, door card), in car axes [mm].

    starts, ends : (K, 3) the ends of each segment; equal ends make a ball
    radii        : (K,) what lies about it
    on_planes    : (P, 3) a point on each plane
    free_sides   : (P, 3) the way out of it, towards the arm; any length
    """

    starts: Floats = field(default_factory=lambda: _none(0, 3))
    ends: Floats = field(default_factory=lambda: _none(0, 3))
    radii: Floats = field(default_factory=lambda: _none(0))
    on_planes: Floats = field(default_factory=lambda: _none(0, 3))
    free_sides: Floats = field(default_factory=lambda: _none(0, 3))

    def __post_init__(self) -> None:
        segments, planes = (len(self.radii), 3), (len(self.on_planes), 3)
        shapes = [
            (self.starts.shape, segments),
            (self.ends.shape, segments),
            (self.radii.shape, segments[:1]),
            (self.on_planes.shape, planes),
            (self.free_sides.shape, planes),
        ]
        held = (self.starts, self.ends, self.radii, self.on_planes, self.free_sides)
        if any(is_now != wanted for is_now, wanted in shapes) or not all(np.isfinite(a).all() for a in held):
            raise BadValue(
                "obstacles-do-not-match",
                "Every rounded segment has two ends and a radius, every plane a point and a free side.",
                "Give as many of each, all of them numbers.",
            )
        if (self.radii < 0.0).any() or (np.linalg.norm(self.free_sides, axis=1) < _NOTHING).any():
            raise BadValue(
                "obstacle-without-size",
                "A radius is not negative and a free side points somewhere.",
                "Correct the radius or the side.",
            )

    def only(self, wanted: NDArray[np.bool_]) -> "Obstacles":
        """Those that are wanted (K + P,), segments first."""
        segments, planes = np.split(wanted, [len(self.radii)])
        return Obstacles(
            starts=self.starts[segments],
            ends=self.ends[segments],
            radii=self.radii[segments],
            on_planes=self.on_planes[planes],
            free_sides=self.free_sides[planes],
        )


NOTHING_IN_THE_WAY = Obstacles()


def gaps_mm(starts: Floats, ends: Floats, radius_mm: float, obstacles: Obstacles) -> Floats:
    """The least gap (N,) of rounded segments, ends (N, 3), to all obstacles [mm]; negative is how deep."""
    gaps: Floats = each_gap_mm(starts, ends, radius_mm, obstacles).min(axis=1, initial=np.inf)
    return gaps


def each_gap_mm(starts: Floats, ends: Floats, radius_mm: float, obstacles: Obstacles) -> Floats:
    """Gaps (N, K + P) of rounded segments, ends (N, 3), to each segment, then each plane [mm]; negative: how deep."""
    apart = segments_apart(starts[:, None], ends[:, None], obstacles.starts[None], obstacles.ends[None])
    gaps = apart - obstacles.radii
    if len(obstacles.on_planes):
        out = obstacles.free_sides / np.linalg.norm(obstacles.free_sides, axis=1)[:, None]
        level = np.sum(obstacles.on_planes * out, axis=1)
        gaps = np.concatenate([gaps, np.minimum(starts @ out.T, ends @ out.T) - level], axis=1)
    return gaps - radius_mm


def segments_apart(a: Floats, b: Floats, c: Floats, d: Floats) -> Floats:
    """Distances between segments ab and cd, arrays (..., 3) that broadcast [mm].

    The nearest points are an end of one and a point of the other, unless both lie inside, where the two lines
    come nearest: all five are worked out and the least one holds, so parallel segments need no case of their own.
    """
    ends = [_from_segment(a, c, d), _from_segment(b, c, d), _from_segment(c, a, b), _from_segment(d, a, b)]
    along, other, between = b - a, d - c, a - c
    aa, bb, ab = _dot(along, along), _dot(other, other), _dot(along, other)
    ar, br = _dot(along, between), _dot(other, between)
    spread = aa * bb - ab * ab
    crossing = spread > _NOTHING * aa * bb
    whole = np.where(crossing, spread, 1.0)
    first, second = (ab * br - ar * bb) / whole, (aa * br - ab * ar) / whole
    inside = crossing & (np.abs(first - 0.5) <= 0.5) & (np.abs(second - 0.5) <= 0.5)
    nearest = between + first[..., None] * along - second[..., None] * other
    lines = np.where(inside, _dot(nearest, nearest), np.inf)
    apart: Floats = np.sqrt(np.minimum.reduce([*ends, lines]))
    return apart


def _from_segment(point: Floats, start: Floats, end: Floats) -> Floats:
    """Squares of the distances of points to segments."""
    along, away = end - start, point - start
    share = np.clip(_dot(away, along) / np.maximum(_dot(along, along), _NOTHING), 0.0, 1.0)
    away = away - share[..., None] * along
    return _dot(away, away)


def _dot(one: Floats, two: Floats) -> Floats:
    product: Floats = np.einsum("...i,...i->...", one, two)
    return product
