"""A sketch of how something is taped, as marks on paper."""

import math
from collections.abc import Iterator

from floorpan.driver.sketch import Angle, At, Dimension, Loop, Path, Sketch, Tone
from floorpan.report.display import Drawing, Mark, Point, Stroke, area, circle, line, polyline
from floorpan.report.palette import ACCENT, EDGE, GROUND, INK2, colour, thing_colour

_EDGE_MM, _GROUND_MM, _MARK_MM, _THIN_MM = 0.16, 0.18, 0.3, 0.14
_HALO_MM = 0.5
_DOT_MM, _RING_MM = 0.62, 1.7
_ARROW_LONG, _ARROW_BROAD = 1.8, 1.1
_SHORT_MM = 2.3
_TINT: dict[Tone, float] = {"body": 0.38, "limb": 0.8, "far": 0.2, "seat": 0.45, "steel": 1.0, "add": 0.12}
_THING: dict[Tone, str] = {"seat": "seat", "steel": "steel"}


class _Paper:
    """Places millimetres of a sketch on a sheet so many millimetres of paper wide."""

    def __init__(self, held: Sketch, width_mm: float) -> None:
        self._least = held.least
        self.scale = width_mm / (held.greatest[0] - held.least[0])
        self.height_mm = (held.greatest[1] - held.least[1]) * self.scale

    def at(self, point: At) -> Point:
        return ((point[0] - self._least[0]) * self.scale, (point[1] - self._least[1]) * self.scale)

    def path(self, path: Path) -> list[Point]:
        return [self.at(point) for point in path]


def sketch_drawing(held: Sketch, width_mm: float) -> Drawing:
    """The sketch, so wide, with its frame; read out as what is to be seen."""
    paper = _Paper(held, width_mm)
    frame = [(0.0, 0.0), (width_mm, 0.0), (width_mm, paper.height_mm), (0.0, paper.height_mm)]
    marks = [*_figure(held, paper), *_marked(held, paper), line(frame, colour("line"), 0.15, closed=True)]
    return Drawing(width_mm=width_mm, height_mm=paper.height_mm, marks=tuple(marks), says=held.says)


def _figure(held: Sketch, paper: _Paper) -> Iterator[Mark]:
    for path in held.lines:
        yield line(paper.path(path), colour(EDGE), _GROUND_MM)
    for solid in held.solids:
        rings = [paper.path(ring) for ring in solid.rings]
        # Paper first: what lies behind does not show through the tint.
        yield area(rings, colour(GROUND))
        yield area(rings, thing_colour(_THING.get(solid.tone, "driver")), opacity=_TINT[solid.tone])
        for edge in solid.edges:
            yield line(paper.path(edge), colour(INK2), _EDGE_MM)


def _marked(held: Sketch, paper: _Paper) -> Iterator[Mark]:
    if isinstance(held.mark, Dimension):
        yield from _dimension(held.mark, paper)
    elif isinstance(held.mark, Angle):
        for point in (held.mark.one, held.mark.other):
            yield from _haloed([paper.at(held.mark.at), paper.at(point)], _THIN_MM)
        arc = paper.path(held.mark.arc())
        yield from _haloed(arc, _MARK_MM)
        yield from (_arrow(arc[0], arc[1]), _arrow(arc[-1], arc[-2]))
    elif isinstance(held.mark, Loop):
        yield from _haloed(paper.path(held.mark.path), _MARK_MM)
    for dot in held.dots:
        at = paper.at(dot)
        if held.mark is None:
            for ink, wide in ((GROUND, 2.5 * _MARK_MM), (ACCENT, _MARK_MM)):
                yield Stroke(path=circle(at, _RING_MM), stroke=colour(ink), width_mm=wide)
        yield Stroke(path=circle(at, _DOT_MM), fill=colour(ACCENT), stroke=colour(GROUND), width_mm=_THIN_MM)


def _dimension(mark: Dimension, paper: _Paper) -> Iterator[Mark]:
    ends = [paper.at(end) for end in mark.ends()]
    for point, end in zip((mark.one, mark.other), ends, strict=True):
        if math.dist(paper.at(point), end) > 0.05:
            yield from _haloed([paper.at(point), end], _THIN_MM)
    long = math.dist(*ends)
    if long < _SHORT_MM:
        # Arrows from outside where there is no room between the ends.
        share = 1.8 * _ARROW_LONG / long
        for here, there in (ends, ends[::-1]):
            tail = (here[0] + (here[0] - there[0]) * share, here[1] + (here[1] - there[1]) * share)
            yield from _haloed([here, tail], _MARK_MM)
            yield _arrow(here, tail)
        return
    yield from _haloed(ends, _MARK_MM)
    size = min(1.0, long / (2.6 * _ARROW_LONG))
    yield from (_arrow(ends[0], ends[1], size), _arrow(ends[1], ends[0], size))


def _haloed(points: list[Point], wide: float) -> Iterator[Mark]:
    yield line(points, colour(GROUND), wide + _HALO_MM)
    yield line(points, colour(ACCENT), wide)


def _arrow(tip: Point, towards: Point, size: float = 1.0) -> Stroke:
    """A slim head at a tip, pointing away from `towards`; size is a share of the usual one."""
    long = math.dist(tip, towards) or 1.0
    unit = (size * (tip[0] - towards[0]) / long, size * (tip[1] - towards[1]) / long)
    back = (tip[0] - unit[0] * _ARROW_LONG, tip[1] - unit[1] * _ARROW_LONG)
    half = (-unit[1] * _ARROW_BROAD / 2.0, unit[0] * _ARROW_BROAD / 2.0)
    corners = [tip, (back[0] + half[0], back[1] + half[1]), (back[0] - half[0], back[1] - half[1])]
    return Stroke(path=polyline(corners, closed=True), fill=colour(ACCENT))
