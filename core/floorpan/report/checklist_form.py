"""The part of the scan checklist that is filled in by hand: a target map, and lines for what was taped."""

from collections.abc import Iterator

from floorpan.report import checklist_words as said
from floorpan.report.display import Anchor, Drawing, Mark, Point, Stroke, Words, box, circle, line
from floorpan.report.palette import EDGE, INK, INK2, LINE, colour
from floorpan.units import System

_TYPE, _HEAD = 2.7, 3.0
_ROW, _HEAD_ROW = 6.6, 5.4
_MAP_SHARE, _APART = 0.37, 7.0
_GRID = 5.0
_MOST_LENGTHS = 6
_PAIRS = (("A", "D"), ("B", "C"), ("A", "B"), ("C", "D"), ("A", "C"), ("B", "D"))
_FIXED_ROWS = 4 * _HEAD_ROW + 4 * _ROW

LEAST_MM = _FIXED_ROWS + 2 * _ROW


def form_heights() -> Iterator[float]:
    """Heights the form may have [mm], the tallest first: one line less each time."""
    for lines in range(_MOST_LENGTHS, 1, -1):
        yield _FIXED_ROWS + lines * _ROW


def tick_box(state: str, size_mm: float = 3.0) -> Drawing:
    """A box to tick: empty, ticked (supplied) or crossed out by a bar (absent)."""
    inset, far = 0.2, size_mm - 0.2
    marks: list[Mark] = [Stroke(path=box((inset, inset), (far, far)), stroke=colour(INK), width_mm=0.3)]
    if state == "supplied":
        tick = [
            (0.22 * size_mm, 0.5 * size_mm),
            (0.42 * size_mm, 0.26 * size_mm),
            (0.8 * size_mm, 0.78 * size_mm),
        ]
        marks.append(line(tick, colour(INK), 0.5))
    elif state == "absent":
        marks.append(line([(0.22 * size_mm, size_mm / 2), (0.78 * size_mm, size_mm / 2)], colour(INK), 0.5))
    words = said.STATES.get(state, "")
    return Drawing(width_mm=size_mm, height_mm=size_mm, marks=tuple(marks), says=words)


def hand_form(width_mm: float, height_mm: float, system: System) -> Drawing:
    """The map at the left and the lines at the right; as many lines for known lengths as there is room for."""
    map_wide = width_mm * _MAP_SHARE
    marks = (*_map(map_wide, height_mm), *_lines(map_wide + _APART, width_mm, height_mm, system))
    return Drawing(width_mm=width_mm, height_mm=height_mm, marks=marks, says=said.SAYS)


# --- the map ------------------------------------------------------------------------------------------------------


def _map(wide: float, high: float) -> Iterator[Mark]:
    yield _words(said.MAP, (0.0, high - _HEAD_ROW + 1.8), size=_TYPE, ink=INK2)
    top = high - _HEAD_ROW
    yield Stroke(path=box((0.2, 0.2), (wide - 0.2, top)), stroke=colour(INK), width_mm=0.35)
    for column in range(1, int(wide / _GRID) + 1):
        for row in range(1, int(top / _GRID) + 1):
            x, y = column * _GRID, top - row * _GRID
            if x < wide - 1.0 and y > 1.0:
                yield Stroke(path=circle((x, y), 0.16), fill=colour(EDGE))
    middle = wide / 2
    for x in (middle - 6.5, middle + 6.5):
        yield line([(x, 5.0), (x, top - 5.0)], colour(LINE), 0.4, dash=(2.0, 1.2))
    low, up, near, far = 10.0, top - 10.0, 9.0, wide - 9.0
    at: dict[str, Point] = {"A": (near, up), "B": (far, up), "C": (near, low), "D": (far, low)}
    for one, other in _PAIRS[:2]:
        yield line([at[one], at[other]], colour(EDGE), 0.2, dash=(1.0, 1.0))
    for name, place in at.items():
        yield from _target(name, place)
    yield _words(said.FRONT, (middle, top - 3.6), anchor="middle", bold=True)
    yield _words(said.REAR, (middle, 1.6), anchor="middle", bold=True)
    yield _words(said.LEFT, (1.4, top / 2), bold=True)
    yield _words(said.RIGHT, (wide - 1.4, top / 2), anchor="end", bold=True)


def _target(name: str, at: Point) -> Iterator[Mark]:
    x, y = at
    yield Stroke(path=circle(at, 2.0), stroke=colour(INK), width_mm=0.35, fill=colour("paper"))
    yield line([(x - 2.0, y), (x + 2.0, y)], colour(INK), 0.25)
    yield line([(x, y - 2.0), (x, y + 2.0)], colour(INK), 0.25)
    yield _words(name, (x, y + 2.7), anchor="middle", bold=True, size=_HEAD)


# --- the lines ----------------------------------------------------------------------------------------------------


def _lines(left: float, right: float, high: float, system: System) -> Iterator[Mark]:
    y = high - _HEAD_ROW
    yield _words(said.BETWEEN.format(unit=system), (left, y + 1.8), size=_HEAD, bold=True)
    half = (right - left) / 2
    for number, (one, other) in enumerate(_PAIRS):
        if number % 2 == 0:
            y -= _ROW
        start = left + half * (number % 2)
        yield _words(said.PAIR.format(one=one, other=other), (start, y + 1.2))
        kind = said.DIAGONALS if number < 2 else said.SIDES
        told = kind if number % 2 == 0 and number < 4 else ""
        yield from _to_write(start + 12.0, start + half - 3.0, y, note=told)
    y -= _HEAD_ROW
    yield _words(said.LEVELS, (left, y + 0.6), size=_HEAD, bold=True)
    y -= _ROW
    for start, told in ((left, said.LEVEL_FRONT), (left + half, said.LEVEL_REAR)):
        yield Stroke(path=box((start, y + 0.8), (start + 2.8, y + 3.6)), stroke=colour(INK), width_mm=0.3)
        yield _words(told, (start + 4.4, y + 1.2))
    y -= _HEAD_ROW
    yield _words(said.KNOWN, (left, y + 0.6), size=_HEAD, bold=True)
    yield from _known(left, right, y, system)


def _known(left: float, right: float, y: float, system: System) -> Iterator[Mark]:
    """Column titles, then lines down to the foot of the form."""
    wide = right - left
    columns = (
        (left, left + 0.52 * wide, said.COL_WHAT),
        (left + 0.55 * wide, left + 0.74 * wide, said.COL_WAY),
        (left + 0.77 * wide, right, said.COL_TAPED.format(unit=system)),
    )
    y -= _HEAD_ROW * 0.75
    for start, _, title in columns:
        yield _words(title, (start, y + 0.6), ink=INK2)
    while y - _ROW >= -0.01:
        y -= _ROW
        for start, end, _ in columns:
            yield from _to_write(start, end, y + 0.4)


def _to_write(start: float, end: float, y: float, *, note: str = "") -> Iterator[Mark]:
    """A line to write on, with a small word at its end."""
    yield line([(start, y + 0.4), (end, y + 0.4)], colour(INK2), 0.25)
    if note:
        yield _words(note, (end, y + 1.1), size=2.1, ink=INK2, anchor="end")


def _words(
    text: str, at: Point, *, size: float = _TYPE, ink: str = INK, bold: bool = False, anchor: Anchor = "start"
) -> Words:
    return Words(text=text, at=at, size_mm=size, colour=colour(ink), bold=bold, anchor=anchor)
