"""The gap rule: one value on a small scale, with touch, what is wanted and the give or take."""

import math
from collections.abc import Callable

from floorpan.checks.finding import Finding
from floorpan.report.display import Drawing, Mark, Stroke, line, polyline
from floorpan.report.palette import EDGE, INK, INK2, colour
from floorpan.report.shapes import shape

_HIGH_MM, _BASE_MM, _EDGE_MM = 5.2, 1.0, 2.2
_RANGES = {
    "reach": (-60.0, 120.0),
    "reach-for": (-60.0, 120.0),
    "elbow": (40.0, 180.0),
    "armrest-elbow": (-60.0, 80.0),
    "well-side": (-2.0, 8.0),
    "well-depth": (0.0, 140.0),
    "well-grip": (-60.0, 120.0),
    "cup-corner": (0.0, 2.0),
    "cup-brake": (0.0, 2.0),
    "cup-spill": (0.0, 2.0),
    "drip-path": (-20.0, 60.0),
    "drip-lands": (0.0, 100.0),
    "console-seen": (80.0, 100.0),
    "stands": (0.0, 12.0),
}
_FROM_TOUCH = ("reach", "reach-for")
_GAPS = (-20.0, 60.0)
_STEPS = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)


_Scale = Callable[[float], float]


def scale_of(finding: Finding) -> tuple[float, float]:
    """The values at the rule's ends, in the limit's unit."""
    held = _RANGES.get(finding.check) or (_GAPS if finding.is_gap else None)
    limit = finding.limit
    bounds = [limit.value] if limit.upper is None else [limit.value, limit.upper]
    if held is not None and all(held[0] <= bound <= held[1] for bound in bounds):
        return held
    about = max(abs(bounds[0]), abs(bounds[-1]), 4 * finding.uncertainty, 1.0)
    return min(bounds[0] - about / 2, 0.0 if finding.is_gap else bounds[0]), bounds[-1] + about


def gap_rule(finding: Finding, width_mm: float = 40.0) -> Drawing:
    """The rule of a finding, width_mm wide; an unseen value is a dotted line, a pending one three dots."""
    low, high = scale_of(finding)

    def at(value: float) -> float:
        share = (min(max(value, low), high) - low) / (high - low)
        return _EDGE_MM + share * (width_mm - 2 * _EDGE_MM)

    marks: list[Mark] = []
    if finding.is_gap or finding.check in _FROM_TOUCH:
        marks += _touch(at(low), at(0.0))
    marks += _ticks(low, high, at)
    limit = finding.limit
    for bound in (limit.value,) if limit.upper is None else (limit.value, limit.upper):
        if bound != 0.0 or not (finding.is_gap or finding.check in _FROM_TOUCH):
            marks.append(
                line([(at(bound), _BASE_MM), (at(bound), _HIGH_MM)], colour(INK), 0.25, dash=(0.5, 0.5))
            )
    middle = (_BASE_MM + _HIGH_MM) / 2 + 0.1
    marks += _value(finding, at, middle, (low, high))
    return Drawing(width_mm=width_mm, height_mm=_HIGH_MM + 0.3, marks=tuple(marks))


def _touch(left: float, zero: float) -> list[Mark]:
    """Hatching left of touch, and the bar at it."""
    marks: list[Mark] = []
    high = _HIGH_MM - _BASE_MM
    start = left - high
    while start < zero:
        a, b = max(start, left), min(start + high, zero)
        if b > a:
            marks.append(line([(a, _BASE_MM + a - start), (b, _BASE_MM + b - start)], colour(EDGE), 0.12))
        start += 1.1
    marks.append(line([(zero, _BASE_MM - 0.4), (zero, _HIGH_MM)], colour(INK), 0.4))
    return marks


def _ticks(low: float, high: float, at: _Scale) -> list[Mark]:
    marks: list[Mark] = [line([(at(low), _BASE_MM), (at(high), _BASE_MM)], colour(INK2), 0.2)]
    step = next((s for s in _STEPS if (high - low) / s <= 10), (high - low) / 10)
    first = math.ceil(low / step - 1e-9)
    for index in range(first, math.floor(high / step + 1e-9) + 1):
        x = at(index * step)
        marks.append(line([(x, _BASE_MM), (x, _BASE_MM + 0.7)], colour(INK2), 0.2))
    return marks


def _value(finding: Finding, at: _Scale, middle: float, ends: tuple[float, float]) -> list[Mark]:
    ink = colour(finding.verdict)
    if finding.value is None:
        x = at(finding.limit.value)
        if finding.verdict == "pending":
            return list(shape("pending", (x, middle), 2.6))
        return [
            line([(at(max(ends[0], 0.0)), middle), (at(ends[1]), middle)], ink, 0.3, dash=(0.3, 0.9)),
            _backing(x, middle),
            *shape("unseen", (x, middle), 2.6),
        ]
    value, u = finding.value, finding.uncertainty
    a, b, x = at(value - u), at(value + u), at(value)
    marks: list[Mark] = [line([(a, middle), (b, middle)], ink, 0.45)]
    marks += [line([(end, middle - 0.9), (end, middle + 0.9)], ink, 0.35) for end in (a, b)]
    marks += [_backing(x, middle, 1.0), *shape(finding.verdict, (x, middle), 2.6)]
    if value < ends[0] or value > ends[1]:
        marks.append(_beyond(x, middle, 1.0 if value > ends[1] else -1.0, ink))
    return marks


def _backing(x: float, y: float, half: float = 1.3) -> Mark:
    path = polyline(
        [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)], closed=True
    )
    return Stroke(path=path, fill=colour("raised"))


def _beyond(x: float, y: float, way: float, ink: str) -> Mark:
    """An arrow head past the end: the value lies off the scale."""
    tip, foot = x + way * 2.1, x + way * 1.5
    return line([(foot, y - 0.6), (tip, y), (foot, y + 0.6)], ink, 0.3)
