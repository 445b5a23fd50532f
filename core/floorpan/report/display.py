"""A drawing as a list of marks in millimetres of paper, Y up; painters turn it into PDF or SVG."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

Point = tuple[float, float]
Segment = tuple[str, tuple[Point, ...]]
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A path, stroked or filled or both.

    path   : ("M", (p,)), ("L", (p,)), ("C", (a, b, p)) and ("Z", ()), points in mm
    stroke : `#RRGGBB` or None; fill likewise, non-zero winding
    dash   : on and off lengths in mm, empty for a full line
    """

    path: tuple[Segment, ...]
    stroke: str | None = None
    width_mm: float = 0.3
    dash: tuple[float, ...] = ()
    fill: str | None = None
    opacity: float = 1.0
    round_cap: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A line of text; `at` is on its base line, at its anchor. size_mm is the height of the type's em."""

    text: str
    at: Point
    size_mm: float
    colour: str
    bold: bool = False
    anchor: Anchor = "start"


Mark = Stroke | Words


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Marks on a sheet of width_mm x height_mm, origin at the lower left; `says` is read out in their place."""

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...] = field(default=())
    says: str = ""


def line(
    points: Iterable[Point],
    colour: str,
    width_mm: float = 0.3,
    *,
    dash: tuple[float, ...] = (),
    closed: bool = False,
    fill: str | None = None,
    opacity: float = 1.0,
) -> Stroke:
    """A polyline through points, closed and filled when asked."""
    return Stroke(
        path=polyline(points, closed=closed),
        stroke=colour,
        width_mm=width_mm,
        dash=dash,
        fill=fill,
        opacity=opacity,
    )


def polyline(points: Iterable[Point], *, closed: bool = False) -> tuple[Segment, ...]:
    """The path through points."""
    held = [(float(x), float(y)) for x, y in points]
    path: list[Segment] = [("M" if index == 0 else "L", (point,)) for index, point in enumerate(held)]
    if closed:
        path.append(("Z", ()))
    return tuple(path)


def area(
    rings: Iterable[Sequence[Point]],
    fill: str,
    *,
    stroke: str | None = None,
    width_mm: float = 0.3,
    opacity: float = 1.0,
) -> Stroke:
    """Closed rings as one filled path; holes run the other way round."""
    path = tuple(segment for ring in rings for segment in polyline(ring, closed=True))
    return Stroke(path=path, stroke=stroke, width_mm=width_mm, fill=fill, opacity=opacity)


def box(low: Point, high: Point, *, radius_mm: float = 0.0) -> tuple[Segment, ...]:
    """The path of an upright rectangle, its corners rounded (a quarter circle as one cubic, 0.03 % off)."""
    (x0, y0), (x1, y1) = low, high
    if radius_mm <= 0.0:
        return polyline([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], closed=True)
    r = min(radius_mm, (x1 - x0) / 2, (y1 - y0) / 2)
    k = r * 0.44772
    return (
        ("M", ((x0 + r, y0),)),
        ("L", ((x1 - r, y0),)),
        ("C", ((x1 - k, y0), (x1, y0 + k), (x1, y0 + r))),
        ("L", ((x1, y1 - r),)),
        ("C", ((x1, y1 - k), (x1 - k, y1), (x1 - r, y1))),
        ("L", ((x0 + r, y1),)),
        ("C", ((x0 + k, y1), (x0, y1 - k), (x0, y1 - r))),
        ("L", ((x0, y0 + r),)),
        ("C", ((x0, y0 + k), (x0 + k, y0), (x0 + r, y0))),
        ("Z", ()),
    )


def circle(at: Point, radius_mm: float) -> tuple[Segment, ...]:
    """The path of a circle as four cubics (0.03 % off a true one)."""
    (x, y), r = at, radius_mm
    return box((x - r, y - r), (x + r, y + r), radius_mm=r)


def moved(mark: Mark, by: Point, scale: float = 1.0) -> Mark:
    """A mark scaled about the origin, then shifted; widths, dashes and type scale with it."""

    def at(point: Point) -> Point:
        return (point[0] * scale + by[0], point[1] * scale + by[1])

    if isinstance(mark, Words):
        return replace(mark, at=at(mark.at), size_mm=mark.size_mm * scale)
    path = tuple((kind, tuple(at(point) for point in points)) for kind, points in mark.path)
    return replace(mark, path=path, width_mm=mark.width_mm * scale, dash=tuple(d * scale for d in mark.dash))


def placed(drawing: Drawing, by: Point) -> tuple[Mark, ...]:
    """The marks of a drawing, shifted onto another sheet."""
    return tuple(moved(mark, by) for mark in drawing.marks)
