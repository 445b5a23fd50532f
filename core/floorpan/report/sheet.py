"""A sheet at a round scale: car millimetres onto paper, with grid, stations, edge words and a scale bar."""

import math
from dataclasses import dataclass

from shapely.geometry.base import BaseGeometry

from floorpan.report import words
from floorpan.report.display import Mark, Point, Stroke, Words, area, line, polyline
from floorpan.report.outlines import rings
from floorpan.report.palette import GROUND, INK, INK2, LINE, colour
from floorpan.units import System, mm_per, show_length

_SCALES = (1, 2, 2.5, 4, 5, 6, 8, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100, 200)
_EDGE_MM, _HEAD_MM, _TYPE_MM = 7.0, 9.0, 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """What of the car is on the paper (left, bottom, right, top in car mm of the view) and how large.

    one_to : car millimetres per millimetre of paper
    """

    left: float
    bottom: float
    right: float
    top: float
    one_to: float

    @classmethod
    def fitted(cls, low: Point, high: Point, width_mm: float, most_high_mm: float) -> "Sheet":
        """The largest round scale at which a region fits; the region grows to the full width."""
        wide, tall = max(high[0] - low[0], 1.0), max(high[1] - low[1], 1.0)
        needed = max(wide / (width_mm - 2 * _EDGE_MM), tall / (most_high_mm - _EDGE_MM - _HEAD_MM))
        one_to = next((scale for scale in _SCALES if scale >= needed), needed)
        middle = (low[0] + high[0]) / 2
        half = (width_mm - 2 * _EDGE_MM) * one_to / 2
        return cls(left=middle - half, bottom=low[1], right=middle + half, top=high[1], one_to=one_to)

    @property
    def width_mm(self) -> float:
        """Of the paper."""
        return (self.right - self.left) / self.one_to + 2 * _EDGE_MM

    @property
    def height_mm(self) -> float:
        """Of the paper."""
        return (self.top - self.bottom) / self.one_to + _EDGE_MM + _HEAD_MM

    @property
    def frame(self) -> tuple[float, float, float, float]:
        """The drawing's edges on paper: left, bottom, right, top."""
        return _EDGE_MM, _EDGE_MM, self.width_mm - _EDGE_MM, self.height_mm - _HEAD_MM

    def at(self, point: Point) -> Point:
        """A point of the view on paper."""
        return (
            _EDGE_MM + (point[0] - self.left) / self.one_to,
            _EDGE_MM + (point[1] - self.bottom) / self.one_to,
        )

    def filled(
        self,
        shape: BaseGeometry,
        fill: str,
        *,
        stroke: str | None = None,
        width_mm: float = 0.25,
        opacity: float = 1.0,
    ) -> list[Mark]:
        """A flat shape on paper, empty where it has no area."""
        held = [tuple(self.at(point) for point in ring) for ring in rings(shape)]
        if not held:
            return []
        marks: list[Mark] = [area(held, fill, opacity=opacity)]
        if stroke is not None:
            path = tuple(segment for ring in held for segment in polyline(ring, closed=True))
            marks.append(Stroke(path=path, stroke=stroke, width_mm=width_mm))
        return marks

    def drawn(self, points: list[Point], ink: str, width_mm: float, *, dash: tuple[float, ...] = ()) -> Mark:
        """A line of the view on paper."""
        return line([self.at(point) for point in points], ink, width_mm, dash=dash)


def ground(sheet: Sheet, across: float, system: System) -> list[Mark]:
    """Paper with its grid and the numbers along it; `across` is the sign of the car axis that runs right."""
    left, bottom, right, top = sheet.frame
    marks: list[Mark] = [
        Stroke(
            path=polyline([(left, bottom), (right, bottom), (right, top), (left, top)], closed=True),
            stroke=colour(LINE),
            width_mm=0.2,
            fill=colour(GROUND),
        )
    ]
    step = _grid_mm(sheet.one_to, system)
    for value in _steps(sheet.left, sheet.right, step):
        x = sheet.at((value, 0.0))[0]
        marks.append(line([(x, bottom), (x, top)], colour(LINE), 0.15))
        marks.append(_number(show_length(across * value, system, digits=0), (x, bottom - 3.2), "middle"))
    for value in _steps(sheet.bottom, sheet.top, step):
        y = sheet.at((0.0, value))[1]
        marks.append(line([(left, y), (right, y)], colour(LINE), 0.15))
        marks.append(_number(show_length(value, system, digits=0), (left - 0.8, y - 0.8), "end"))
    return marks


def _number(text: str, at: Point, anchor: str) -> Words:
    return Words(
        text=text,
        at=at,
        size_mm=_TYPE_MM * 0.8,
        colour=colour(INK2),
        anchor="end" if anchor == "end" else "middle",
    )


def _grid_mm(one_to: float, system: System) -> float:
    unit = mm_per("in") if system == "in" else 1.0
    steps = (1, 2, 4, 8, 12, 24) if system == "in" else (20, 50, 100, 200, 500, 1000)
    return next((step * unit for step in steps if step * unit / one_to >= 9.0), steps[-1] * unit)


def _steps(low: float, high: float, step: float) -> list[float]:
    first, last = math.ceil(low / step - 1e-6), math.floor(high / step + 1e-6)
    return [index * step for index in range(first, last + 1)]


def head(sheet: Sheet, left_word: str, right_word: str, system: System) -> list[Mark]:
    """Above the picture: what lies at either edge, the scale in the middle with a bar to lay a rule on."""
    left, _, right, top = sheet.frame
    y = top + 3.0
    marks: list[Mark] = [
        Words(text=left_word, at=(left, y), size_mm=_TYPE_MM * 1.15, colour=colour(INK), bold=True),
        Words(
            text=right_word,
            at=(right, y),
            size_mm=_TYPE_MM * 1.15,
            colour=colour(INK),
            bold=True,
            anchor="end",
        ),
    ]
    bar_mm = _bar_mm(sheet.one_to, system)
    long = bar_mm / sheet.one_to
    start = (left + right) / 2 - long / 2
    for quarter in range(4):
        a, b = start + long * quarter / 4, start + long * (quarter + 1) / 4
        path = polyline([(a, y), (b, y), (b, y + 1.2), (a, y + 1.2)], closed=True)
        fill = colour(INK) if quarter % 2 == 0 else colour(GROUND)
        marks.append(Stroke(path=path, stroke=colour(INK), width_mm=0.15, fill=fill))
    told = words.SCALE_BAR.format(
        bar=show_length(bar_mm, system, digits=0, with_unit=True), one_to=f"{sheet.one_to:g}"
    )
    marks.append(
        Words(
            text=told,
            at=((left + right) / 2, y + 2.4),
            size_mm=_TYPE_MM,
            colour=colour(INK2),
            anchor="middle",
        )
    )
    return marks


def _bar_mm(one_to: float, system: System) -> float:
    lengths = (
        [mm_per("in") * n for n in (1, 2, 4, 8, 12, 24)] if system == "in" else [50, 100, 200, 500, 1000]
    )
    return next((length for length in lengths if length / one_to >= 18.0), lengths[-1])
