"""A line of a section moved off by a thickness, square to it in the section's plane."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from floorpan.errors import BadValue
from floorpan.geometry.mesh import Floats

_SEGMENTS = 32
# Points this close to a line's ends, seen along it, still belong to its side [mm].
_END_MM = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class OffsetLine:
    """The side of a covered section line, in the section's plane.

    lines    : polylines (K, 2) [mm], running as the line does
    error_mm : how far they may lie inside the true offset of the line as given [mm], never outside it
    """

    lines: tuple[Floats, ...]
    error_mm: float


def offset_line(parts: Sequence[tuple[Floats, float]], *, simplify_mm: float = 0.0) -> OffsetLine:
    """The left side of everything within a thickness of a section line (the upper side of one that runs to +x).

    parts : polylines (N, 2) [mm] that follow each other, each with its thickness [mm], 0 for none
    simplify_mm : how far points may be left out of a dense jagged line before; it counts as error

    Right for a section square to the floor. Where the floor slopes across the section's plane the cover stands
    higher there: by 1 / cos of that slope; cut the covered height field instead. Raises BadValue for a part with
    fewer than two points, or a negative thickness.
    """
    for line, thick_mm in parts:
        if len(line) < 2 or thick_mm < 0.0:
            raise BadValue("no-line", "A section line has two points or more and a cover of 0 or more.",
                           "Cut the section elsewhere.")  # fmt: skip
    held = [
        (np.asarray(LineString(line).simplify(simplify_mm).coords) if simplify_mm else line, thick)
        for line, thick in parts
    ]
    most = max((thick for _, thick in held), default=0.0)
    error = most * (1.0 - math.cos(math.pi / (4 * _SEGMENTS))) + simplify_mm
    whole = _joined([line for line, _ in held])
    if most == 0.0:
        return OffsetLine((whole,), error)
    covered = shapely.unary_union(
        [LineString(line).buffer(thick, quad_segs=_SEGMENTS) for line, thick in held if thick > 0.0]
    )
    bare = [LineString(line) for line, thick in held if thick == 0.0]
    rings = _rings(covered)
    lines = [line for ring in rings for line in _left_of(ring, whole)]
    lines += [line for one in bare for line in _outside(one, covered)]
    return OffsetLine(tuple(lines), error)


def _joined(lines: Sequence[Floats]) -> Floats:
    points = np.vstack(lines)
    fresh = np.concatenate([[True], (np.abs(np.diff(points, axis=0)) > 0.0).any(axis=1)])
    joined: Floats = points[fresh]
    return joined


def _rings(covered: BaseGeometry) -> list[Floats]:
    pieces = covered.geoms if isinstance(covered, MultiPolygon) else [covered]
    polygons = [piece for piece in pieces if isinstance(piece, Polygon)]
    return [
        np.asarray(ring.coords)[:-1][::-1] if ring.is_ccw else np.asarray(ring.coords)[:-1]
        for polygon in polygons
        for ring in (polygon.exterior, *polygon.interiors)
    ]


def _outside(line: LineString, covered: BaseGeometry) -> list[Floats]:
    left = line.difference(covered)
    pieces = getattr(left, "geoms", [left])
    return [np.asarray(piece.coords) for piece in pieces if piece.length > 0.0]


def _left_of(ring: Floats, line: Floats) -> list[Floats]:
    """The runs of a clockwise ring (K, 2) whose points lie left of a polyline and not past its ends."""
    wanted = _on_left(ring, line)
    if not wanted.any():
        return []
    if wanted.all():
        return [np.vstack([ring, ring[:1]])]
    # Begin where a run begins, so that none is split across the ring's seam.
    first = int(np.flatnonzero(wanted & ~np.roll(wanted, 1))[0])
    ring, wanted = np.roll(ring, -first, axis=0), np.roll(wanted, -first)
    edge = np.flatnonzero(np.diff(np.concatenate([[False], wanted, [False]]).astype(int)))
    runs = [ring[begin:end] for begin, end in zip(edge[::2], edge[1::2], strict=True)]
    return [run for run in runs if len(run) > 1]


def _on_left(points: Floats, line: Floats) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    way = np.diff(line, axis=0)
    length = np.linalg.norm(way, axis=1)
    unit = way / length[:, None]
    best = np.full(len(points), np.inf)
    side = np.zeros(len(points))
    past = np.zeros(len(points), dtype=bool)
    last = len(way) - 1
    for k in range(len(way)):
        off = points - line[k]
        along = off @ unit[k]
        held = np.clip(along, 0.0, length[k])
        away = np.linalg.norm(off - held[:, None] * unit[k], axis=1)
        cross = unit[k, 0] * off[:, 1] - unit[k, 1] * off[:, 0]
        nearer = away < best - 1e-9
        tied = ~nearer & (away <= best + 1e-9)
        best[nearer] = away[nearer]
        side[nearer] = cross[nearer]
        side[tied] += cross[tied]
        beyond = np.zeros(len(points), dtype=bool)
        if k == 0:
            beyond |= along < -_END_MM
        if k == last:
            beyond |= along > length[k] + _END_MM
        past = np.where(nearer, beyond, past | (tied & beyond))
    on_left: np.ndarray[tuple[int], np.dtype[np.bool_]] = (side > 0.0) & ~past
    return on_left
