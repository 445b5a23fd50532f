"""The tape sheet as blocks: how everything about a driver is taped, with room for the figures of two drivers."""

from collections.abc import Iterator, Sequence

from floorpan.driver.body_figures import measures
from floorpan.driver.measuring import SKETCHED, TAPED_POINTS, sketch
from floorpan.layout import Layout
from floorpan.report import tape_sheet_words as said
from floorpan.report.blocks import Block, Form, Heading, Paper, Prose, Title
from floorpan.report.checklist_words import UNITS
from floorpan.report.display import Anchor, Drawing, Mark, Point, Words, line, placed
from floorpan.report.lettering import shortened, width
from floorpan.report.palette import INK, INK2, colour
from floorpan.report.tape_sheet_sketch import sketch_drawing
from floorpan.units import System, show_length

_LABEL, _TEXT, _SMALL = 3.1, 2.7, 2.2
_NAME = 4.41
_LEAD = 1.17
_HEAD_MM, _LINE_MM = 5.2, 5.6
_BLANK_MM, _APART_MM = 11.5, 2.4
_GUTTER_MM, _BELOW_MM = 6.0, 2.2
_FIRST_PICTURE_MM, _MORE_PICTURE_MM = 31.0, 28.0

BELTED = (
    "shoulder_to_grip_mm",
    "upper_arm_mm",
    "wrist_to_grip_mm",
    "shoulder_mm",
    "shoulder_out_mm",
    "elbow_over_cushion_mm",
    "loose_forward_mm",
    "glove_mm",
    "jacket_mm",
    "helmet_mm",
    "shoe_mm",
    "stature_mm",
)
MORE = tuple(key for key in SKETCHED if key in {one.key for one in measures()} and key not in BELTED)


def tape_sheet(layout: Layout | None, *, date: str, version: str, system: System, width_mm: float) -> Paper:
    """The sheet, of a layout or of none yet, as wide as the page's text."""
    project = said.NO_PROJECT if layout is None else layout.title
    # The first page is full: a long name is cut short to one line.
    name = shortened(project, _NAME, 0.68 * width_mm, bold=True)
    first = said.FIRST.format(unit=UNITS[system], differ=show_length(said.DIFFER_MM, system, with_unit=True))
    return Paper(
        title=f"{said.TAPE_SHEET}: {project}",
        subject=said.TAPE_SHEET,
        first_page=(
            Title(name=said.TAPE_SHEET, project=name, edition=said.PURPOSE, date=date),
            Prose(text=first, role="second"),
            Form(drawing=_names(width_mm)),
            Heading(text=said.IN_THE_CAR, level=2),
            *_rows(BELTED, width_mm, _FIRST_PICTURE_MM),
            Heading(text=said.POINTS, level=2),
            *_rows(TAPED_POINTS, width_mm, _FIRST_PICTURE_MM),
        ),
        pages=(
            Heading(text=said.MORE, level=2, room=1.0),
            *_rows(MORE, width_mm, _MORE_PICTURE_MM),
        ),
        owner=project,
        foot=said.FOOT.format(version=version, unit=UNITS[system]),
    )


def _rows(keys: Sequence[str], width_mm: float, picture_mm: float) -> Iterator[Block]:
    """Two to a row, read from left to right."""
    wide = (width_mm - _GUTTER_MM) / 2.0
    for place in range(0, len(keys), 2):
        entries = [_entry(key, wide, picture_mm) for key in keys[place : place + 2]]
        high = max(entry.height_mm for entry in entries) + _BELOW_MM
        marks: list[Mark] = []
        for column, entry in enumerate(entries):
            marks += placed(entry, (column * (wide + _GUTTER_MM), high - entry.height_mm))
        says = " ".join(entry.says for entry in entries)
        yield Form(drawing=Drawing(width_mm=width_mm, height_mm=high, marks=tuple(marks), says=says))


def _entry(key: str, wide: float, picture_mm: float) -> Drawing:
    """One sketch at the left; at its right the label with lines to write on, and the sentence."""
    held = sketch(key)
    drawn = sketch_drawing(held, picture_mm)
    left = picture_mm + 2.6
    told = wrapped(held.how, _TEXT, wide - left)
    point = key in TAPED_POINTS
    needed = 2.0 * (_BLANK_MM + _APART_MM)
    beside = not point and left + width(held.label, _LABEL, bold=True) + needed <= wide
    text_mm = _HEAD_MM + len(told) * _TEXT * _LEAD + (0.0 if beside else (2.0 if point else 1.0) * _LINE_MM)
    high = max(drawn.height_mm, text_mm + 0.8)
    marks: list[Mark] = list(placed(drawn, (0.0, high - drawn.height_mm)))
    y = high - _HEAD_MM + 1.0
    marks.append(_words(held.label, (left, y), size=_LABEL, bold=True))
    unit = said.WEIGHT_UNIT if key == "weight_kg" else ""
    if beside:
        marks += _blanks(wide, y - 0.6, unit)
    y -= 0.4
    for text in told:
        y -= _TEXT * _LEAD
        marks.append(_words(text, (left, y)))
    if point:
        for driver in (1, 2):
            y -= _LINE_MM
            marks += _places(driver, left, wide, y)
    elif not beside:
        marks += _blanks(wide, y - _LINE_MM, unit)
    says = said.SAYS_ENTRY.format(label=held.label, says=held.says)
    return Drawing(width_mm=wide, height_mm=high, marks=tuple(marks), says=says)


def _blanks(right: float, y: float, unit: str) -> Iterator[Mark]:
    """A line for each driver, ending at the right."""
    for driver in (2, 1):
        start = right - _BLANK_MM
        yield line([(start, y), (right, y)], colour(INK2), 0.25)
        yield _words(str(driver), (start - 0.5, y + 0.2), size=_SMALL, ink=INK2, anchor="end")
        if unit:
            yield _words(unit, (right, y + 0.4), size=_SMALL, ink=INK2, anchor="end")
        right = start - _APART_MM


def _places(driver: int, left: float, right: float, y: float) -> Iterator[Mark]:
    """Three lines for one driver's point: rearward, to the right, up."""
    yield _words(str(driver), (left, y + 0.2), size=_SMALL, ink=INK2)
    each = (right - left - 2.0) / 3.0
    for place, told in enumerate((said.REARWARD, said.RIGHT, said.UP)):
        start = left + 2.0 + place * each
        word_mm = width(told, _SMALL) + 0.6
        yield _words(told, (start, y + 0.2), size=_SMALL, ink=INK2)
        yield line([(start + word_mm, y), (start + each - 1.2, y)], colour(INK2), 0.25)


def _names(wide: float) -> Drawing:
    """Names and seat notches of two drivers."""
    high = 8.0
    marks: list[Mark] = []
    half = (wide - _GUTTER_MM) / 2.0
    for driver in (1, 2):
        left = (driver - 1) * (half + _GUTTER_MM)
        label = said.DRIVER.format(n=driver)
        marks.append(_words(label, (left, 1.6), size=_LABEL, bold=True))
        start = left + width(label, _LABEL, bold=True) + 1.5
        notch = width(said.NOTCH, _TEXT) + 1.5
        marks.append(line([(start, 1.2), (left + half - 13.0 - notch - 2.0, 1.2)], colour(INK2), 0.25))
        marks.append(_words(said.NOTCH, (left + half - 13.0 - notch, 1.6), ink=INK2))
        marks.append(line([(left + half - 13.0, 1.2), (left + half, 1.2)], colour(INK2), 0.25))
    return Drawing(width_mm=wide, height_mm=high, marks=tuple(marks), says=said.SAYS_NAMES)


def wrapped(text: str, size_mm: float, most_mm: float) -> tuple[str, ...]:
    """The lines of a text, broken between words so that none runs wider."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width(longer, size_mm) <= most_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def _words(
    text: str, at: Point, *, size: float = _TEXT, ink: str = INK, bold: bool = False, anchor: Anchor = "start"
) -> Words:
    return Words(text=text, at=at, size_mm=size, colour=colour(ink), bold=bold, anchor=anchor)
