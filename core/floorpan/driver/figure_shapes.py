"""Shapes that figures are drawn of: limbs as rounded, tapering links, trunks as smooth closed curves."""

from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import LineString, MultiLineString, MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from floorpan.driver.sketch import At, Path, Solid, Tone

Ball = tuple[float, float, float]

_ROUND = 16
_SMOOTH = 10
_ON_BORDER_MM = 0.5


def limb(*balls: Ball) -> Polygon:
    """Links over balls (x, y, radius) [mm], each pair tangent to both: tapering, round at both ends."""
    rounds = [Point(x, y).buffer(radius, quad_segs=_ROUND) for x, y, radius in balls]
    links = [shapely.union_all(pair).convex_hull for pair in pairwise(rounds)]
    return joined(links or rounds)


def smooth(*points: At) -> Polygon:
    """A closed curve through points, in their order (Catmull and Rom's spline)."""
    held = np.array(points, dtype=float)
    steps = np.linspace(0.0, 1.0, _SMOOTH, endpoint=False)[:, None]
    before, here, after, beyond = (np.roll(held, shift, axis=0) for shift in (1, 0, -1, -2))
    curve = [
        0.5
        * (
            2.0 * b
            + (c - a) * steps
            + (2.0 * a - 5.0 * b + 4.0 * c - d) * steps**2
            + (3.0 * b - 3.0 * c + d - a) * steps**3
        )
        for a, b, c, d in zip(before, here, after, beyond, strict=True)
    ]
    return joined([Polygon(np.vstack(curve)).buffer(0.0)])


def joined(parts: Iterable[BaseGeometry]) -> Polygon:
    """One outline round parts that touch, without holes: the largest where they do not touch."""
    whole = shapely.union_all(list(parts))
    pieces = list(whole.geoms) if isinstance(whole, MultiPolygon) else [whole]
    largest = max(pieces, key=lambda piece: piece.area)
    assert isinstance(largest, Polygon)
    return Polygon(largest.exterior)


def turned(shape: Polygon, degrees: float, about: At) -> Polygon:
    """The shape turned anticlockwise about a point."""
    return joined([affinity.rotate(shape, degrees, origin=about)])


def shifted(shape: Polygon, by: At) -> Polygon:
    """The shape moved [mm]."""
    return joined([affinity.translate(shape, *by)])


def point_turned(point: At, degrees: float, about: At) -> At:
    """The point turned anticlockwise about another."""
    turn = np.radians(degrees)
    x, y = point[0] - about[0], point[1] - about[1]
    return (
        float(about[0] + x * np.cos(turn) - y * np.sin(turn)),
        float(about[1] + x * np.sin(turn) + y * np.cos(turn)),
    )


def cut_solid(shape: Polygon, tone: Tone, least: At, greatest: At) -> Solid | None:
    """A shape within a sheet; edges made by the cut are filled but not drawn. None where nothing is left."""
    sheet = box(*least, *greatest)
    kept = shape.intersection(sheet)
    if kept.is_empty or not isinstance(kept, Polygon | MultiPolygon):
        return None
    pieces = kept.geoms if isinstance(kept, MultiPolygon) else (kept,)
    edges = kept.boundary.difference(sheet.boundary.buffer(_ON_BORDER_MM))
    return Solid(
        tone=tone, rings=tuple(_path(piece.exterior) for piece in pieces), edges=tuple(_paths(edges))
    )


def cut_lines(lines: Iterable[Sequence[At]], least: At, greatest: At) -> tuple[Path, ...]:
    """What of paths lies within a sheet."""
    sheet = box(*least, *greatest)
    return tuple(path for line in lines for path in _paths(LineString(line).intersection(sheet)))


def _paths(lines: BaseGeometry) -> Iterable[Path]:
    merged = shapely.line_merge(lines) if isinstance(lines, MultiLineString) else lines
    pieces = merged.geoms if isinstance(merged, MultiLineString) else (merged,)
    for piece in pieces:
        if isinstance(piece, LineString) and not piece.is_empty:
            yield _path(piece)


def _path(line: LineString) -> Path:
    thinned = line.simplify(0.3)
    return tuple((round(float(x), 1), round(float(y), 1)) for x, y in thinned.coords)
