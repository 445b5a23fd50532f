"""The verdicts' shapes as marks, from the table in assets."""

import functools
import json
from importlib.resources import files
from typing import Any

from floorpan.checks.finding import Verdict
from floorpan.report import words
from floorpan.report.display import Drawing, Mark, Point, Segment, Stroke, moved
from floorpan.report.palette import colour


@functools.cache
def _table() -> dict[str, Any]:
    text = files("floorpan_assets").joinpath("verdict_shapes.json").read_text(encoding="utf-8")
    table: dict[str, Any] = json.loads(text)
    return table


def _segment(entry: list[Any], grid: float) -> Segment:
    numbers = entry[1:]
    points = tuple((float(x), grid - float(y)) for x, y in zip(numbers[::2], numbers[1::2], strict=True))
    return str(entry[0]), points


@functools.cache
def _unit_marks(name: str, ink: str) -> tuple[Stroke, ...]:
    grid = float(_table()["grid"])
    marks: list[Stroke] = []
    for part in _table()["shapes"][name]:
        width = float(part["stroke_width"])
        marks.append(
            Stroke(
                path=tuple(_segment(entry, grid) for entry in part["path"]),
                stroke=ink if width else None,
                width_mm=width,
                dash=tuple(float(length) for length in part["dash"]),
                fill=ink if part["fill"] else None,
                round_cap=part["cap"] == "round",
            )
        )
    return tuple(marks)


def shape(verdict: Verdict, at: Point, size_mm: float, *, ink: str | None = None) -> tuple[Mark, ...]:
    """The marks of a verdict, its middle at `at`, size_mm across."""
    scale = size_mm / float(_table()["grid"])
    corner = (at[0] - size_mm / 2, at[1] - size_mm / 2)
    return tuple(moved(mark, corner, scale) for mark in _unit_marks(verdict, ink or colour(verdict)))


@functools.cache
def shape_drawing(verdict: Verdict, size_mm: float = 3.2) -> Drawing:
    """A verdict's shape on a sheet of its own; read out as its word."""
    middle = (size_mm / 2, size_mm / 2)
    return Drawing(
        width_mm=size_mm,
        height_mm=size_mm,
        marks=shape(verdict, middle, size_mm),
        says=words.VERDICTS[verdict],
    )
