"""Gap lines and their tickets in a view: drawn where the gap is least, never one over another."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from floorpan.checks.finding import Finding
from floorpan.report import words
from floorpan.report.amounts import give_or_take_text, value_text
from floorpan.report.display import Mark, Point, Stroke, Words, box, circle, line
from floorpan.report.lettering import shortened, width
from floorpan.report.palette import GROUND, INK, INK2, colour
from floorpan.report.shapes import shape
from floorpan.units import System

MOST = 7
_VALUE_MM, _SMALL_MM, _SHAPE_MM = 3.5, 2.5, 2.8
_HIGH_MM, _PAD_MM = 8.4, 1.2
_LONGEST_MM = 42.0
_JAW_MM, _RING_MM = 2.4, 5.5
_OFFSETS = tuple(
    (radius * math.cos(math.radians(angle)), radius * math.sin(math.radians(angle)))
    for radius in (14.0, 20.0, 28.0, 38.0, 50.0)
    for angle in (40, 140, -40, -140, 75, 105, 0, 180, -75, -105)
)

Rectangle = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """A finding's two points on the sheet [mm of paper], what is told beside it, and paper mm per car mm."""

    finding: Finding
    title: str
    ends: tuple[Point, Point]
    per_mm: float


def gap_marks(gaps: Sequence[Gap], sheet: Rectangle, system: System) -> tuple[Mark, ...]:
    """Lines and tickets of gaps, worst first, inside a sheet (left, bottom, right, top) of paper.

    From the eighth on a gap is its shape alone.
    """
    marks: list[Mark] = [mark for gap in gaps[MOST:] for mark in _lone_shape(gap)]
    for gap in reversed(gaps[:MOST]):
        marks += _gap_line(gap)
    taken: list[Rectangle] = [_around(_middle(gap.ends), _JAW_MM) for gap in gaps[:MOST]]
    tickets: list[Mark] = []
    for gap in gaps[:MOST]:
        size = _size(gap, system)
        place = _free(_middle(gap.ends), size, sheet, taken)
        if place is None:
            marks += _lone_shape(gap)
            continue
        taken.append(place)
        marks += _tail(gap, place)
        tickets += _ticket(gap, place, system)
    return (*marks, *tickets)


def _middle(ends: tuple[Point, Point]) -> Point:
    return (ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2


def _around(at: Point, half: float) -> Rectangle:
    return at[0] - half, at[1] - half, at[0] + half, at[1] + half


def _size(gap: Gap, system: System) -> tuple[float, float]:
    value = width(value_text(gap.finding, system), _VALUE_MM, bold=True)
    trust = width(_trust(gap, system), _SMALL_MM)
    head = _SHAPE_MM + value + trust + (2 if trust else 1) * 1.2
    name = width(shortened(gap.title, _SMALL_MM, _LONGEST_MM), _SMALL_MM)
    return max(head, name) + 2 * _PAD_MM, _HIGH_MM


def _trust(gap: Gap, system: System) -> str:
    return words.PROBE_HERE if gap.finding.verdict == "unseen" else give_or_take_text(gap.finding, system)


def _free(
    at: Point, size: tuple[float, float], sheet: Rectangle, taken: Sequence[Rectangle]
) -> Rectangle | None:
    for dx, dy in _OFFSETS:
        x = at[0] + dx - size[0] / 2
        y = at[1] + dy - size[1] / 2
        place = (x, y, x + size[0], y + size[1])
        inside = (
            place[0] >= sheet[0] and place[1] >= sheet[1] and place[2] <= sheet[2] and place[3] <= sheet[3]
        )
        if inside and not any(_overlap(place, other) for other in taken):
            return place
    return None


def _overlap(a: Rectangle, b: Rectangle, apart: float = 0.8) -> bool:
    return a[0] < b[2] + apart and b[0] < a[2] + apart and a[1] < b[3] + apart and b[1] < a[3] + apart


def _gap_line(gap: Gap) -> list[Mark]:
    """The line on its halo, jaws across it, thin ends that run on by the give or take."""
    (a, b), verdict = gap.ends, gap.finding.verdict
    ink, ground = colour(verdict), colour(GROUND)
    long = math.dist(a, b)
    way = ((b[0] - a[0]) / long, (b[1] - a[1]) / long) if long > 1e-6 else (1.0, 0.0)
    if verdict == "pending":
        return []
    dash = (0.4, 0.8) if verdict == "unseen" else ()
    marks: list[Mark] = [line([a, b], ground, 1.7), line([a, b], ink, 0.55, dash=dash)]
    on = min(max(gap.finding.uncertainty * gap.per_mm, 1.5), 6.0)
    for end, sign in ((a, -1.0), (b, 1.0)):
        tip = (end[0] + sign * on * way[0], end[1] + sign * on * way[1])
        marks.append(line([end, tip], ink, 0.2))
        if verdict == "unseen" and sign > 0.0:
            marks += _stub(end, ink)
            continue
        half = _JAW_MM / 2
        jaw = [
            (end[0] - half * way[1], end[1] + half * way[0]),
            (end[0] + half * way[1], end[1] - half * way[0]),
        ]
        marks += [line(jaw, ground, 1.1), line(jaw, ink, 0.5)]
    if verdict == "hits":
        ring = circle(_middle(gap.ends), _RING_MM)
        marks += [Stroke(path=ring, stroke=ground, width_mm=1.6), Stroke(path=ring, stroke=ink, width_mm=0.6)]
    return marks


def _stub(at: Point, ink: str) -> list[Mark]:
    """A hatched square in place of the jaw nobody scanned."""
    (x, y), half = at, _JAW_MM / 2
    square = box((x - half, y - half), (x + half, y + half))
    marks: list[Mark] = [Stroke(path=square, stroke=ink, width_mm=0.2, fill=colour(GROUND))]
    for shift in (-0.5, 0.0, 0.5):
        a, b = max(-half, -half + shift * _JAW_MM), min(half, half + shift * _JAW_MM)
        low = a - shift * _JAW_MM
        marks.append(line([(x + a, y + low), (x + b, y + low + b - a)], ink, 0.2))
    return marks


def _lone_shape(gap: Gap) -> list[Mark]:
    at = _middle(gap.ends)
    backing = Stroke(path=circle(at, 1.8), fill=colour(GROUND))
    return [backing, *shape(gap.finding.verdict, at, _SHAPE_MM)]


def _tail(gap: Gap, place: Rectangle) -> list[Mark]:
    left, bottom, right, top = place
    at = _middle(gap.ends)
    start = (min(max(at[0], left), right), min(max(at[1], bottom), top))
    return [line([start, at], colour(GROUND), 0.9), line([start, at], colour(gap.finding.verdict), 0.25)]


def _ticket(gap: Gap, place: Rectangle, system: System) -> list[Mark]:
    ink = colour(gap.finding.verdict)
    left, bottom, right, top = place
    marks: list[Mark] = [
        Stroke(
            path=box((left, bottom), (right, top), radius_mm=0.8),
            stroke=ink,
            width_mm=0.35,
            fill=colour(GROUND),
        ),
    ]
    line_y = top - _PAD_MM - 2.9
    x = left + _PAD_MM
    marks += shape(gap.finding.verdict, (x + _SHAPE_MM / 2, line_y + 1.15), _SHAPE_MM)
    x += _SHAPE_MM + 1.2
    value = value_text(gap.finding, system)
    marks.append(Words(text=value, at=(x, line_y), size_mm=_VALUE_MM, colour=colour(INK), bold=True))
    x += width(value, _VALUE_MM, bold=True) + 1.2
    marks.append(Words(text=_trust(gap, system), at=(x, line_y), size_mm=_SMALL_MM, colour=colour(INK2)))
    name = shortened(gap.title, _SMALL_MM, _LONGEST_MM)
    marks.append(Words(text=name, at=(left + _PAD_MM, bottom + 1.3), size_mm=_SMALL_MM, colour=colour(INK2)))
    return marks
