"""The fit report as blocks: every page after the first, in the order of its edition."""

from collections.abc import Callable, Iterable, Iterator, Sequence

from floorpan.checks.finding import WORST_FIRST, Finding
from floorpan.items.states import is_leg
from floorpan.layout import Layout
from floorpan.limits import LIMITS
from floorpan.report import paper_words as said
from floorpan.report import words
from floorpan.report.amounts import exact, wanted_text
from floorpan.report.blocks import Block, Cell, Column, Heading, Picture, Prose, Table
from floorpan.report.cautions import cautions
from floorpan.report.drawings import station_section, three_views
from floorpan.report.driver_page import driver_pages
from floorpan.report.facts import (
    AcceptanceFacts,
    AxesFacts,
    Edition,
    PlacedFacts,
    ReportFacts,
    ScanFacts,
)
from floorpan.report.gap_rule import gap_rule
from floorpan.report.matrix import Group, Matrix, MatrixRow, matrix
from floorpan.report.naming import capital, place_text, state_words
from floorpan.report.opening_told import opening_blocks
from floorpan.report.rows import rows
from floorpan.report.scan_told import carpet_words, scan_told
from floorpan.report.shapes import shape_drawing
from floorpan.units import System, show_length, show_number

_RULE_MM = 34.0
_TILT_ARM_MM = 900.0
_MATRIX_COLUMNS, _MATRIX_COLUMNS_INCH = 10, 7

_ORDERS: dict[Edition, tuple[str, ...]] = {
    "myself": ("views", "findings", "driver", "matrix", "placed", "scans", "accepted", "cautions"),
    "customer": ("views", "cautions", "findings", "driver", "matrix", "placed", "scans", "accepted"),
    "inspector": ("cautions", "findings", "driver", "scans", "accepted", "views", "placed", "matrix"),
    "workshop": ("placed", "views", "findings", "driver", "matrix", "scans", "accepted", "cautions"),
}


def later_pages(
    layout: Layout, findings: Sequence[Finding], facts: ReportFacts, system: System, width_mm: float
) -> tuple[Block, ...]:
    """Pictures, findings, drivers, matrix, things, scans, acceptances, cautions: all of them in every edition."""
    sections: dict[str, Callable[[], Iterable[Block]]] = {
        "views": lambda: _views(layout, findings, facts, system, width_mm),
        "findings": lambda: _findings(layout, findings, system),
        "driver": lambda: driver_pages(layout, findings, facts.driver, system),
        "matrix": lambda: _matrix(layout, findings, system),
        "placed": lambda: (*_placed(layout, facts, system), *opening_blocks(layout, system, width_mm)),
        "scans": lambda: _scans(layout, facts, system),
        "accepted": lambda: _accepted(facts),
        "cautions": lambda: _cautions(layout, findings),
    }
    return tuple(block for name in _ORDERS[facts.edition] for block in sections[name]())


# --- pictures ---------------------------------------------------------------------------------------------------


def _views(
    layout: Layout, findings: Sequence[Finding], facts: ReportFacts, system: System, width_mm: float
) -> Iterator[Block]:
    pictures = [Picture(title=title, png=png) for title, png in facts.pictures]
    section = station_section(layout, findings, facts, width_mm, system)
    drawn = [] if pictures else list(three_views(layout, findings, facts, width_mm, system))
    if not pictures and not drawn and section is None:
        return
    yield Heading(text=said.VIEWS, room=1.0)
    if drawn:
        standing = state_words(facts.shown, layout)
        told = f" {said.VIEWS_STATE.format(state=standing)}" if standing else ""
        yield Prose(text=said.VIEWS_NOTE + told, role="second")
    yield from pictures
    for title, drawing in drawn:
        yield Picture(title=title, drawing=drawing)
    if section is not None:
        yield Picture(title=section[0], drawing=section[1], note=said.SECTION_NOTE)


# --- findings ---------------------------------------------------------------------------------------------------


def _findings(layout: Layout, findings: Sequence[Finding], system: System) -> Iterator[Block]:
    if not findings:
        return
    yield Heading(text=said.FINDINGS, room=1.0)
    yield Prose(text=said.FINDINGS_NOTE, role="second")
    yield Table(
        columns=(
            Column(title=said.COL_FOUND, share=0.1),
            Column(title=said.COL_WHAT, share=0.57),
            Column(title=said.COL_VALUE.format(unit=system), share=0.12, align="right"),
            Column(title=said.COL_RULE, share=0.21, align="right"),
        ),
        rows=tuple(
            (
                Cell(text=row.verdict_word, verdict=row.finding.verdict),
                Cell(text=row.sentence, second=" ".join(t for t in (_ended(row.second), row.cure) if t)),
                Cell(text=row.value, second=row.give_or_take, bold=True),
                Cell(drawing=gap_rule(row.finding, _RULE_MM)),
            )
            for row in rows(findings, layout, system)
        ),
    )
    yield Heading(text=said.SHAPES, level=2)
    yield _shapes_key()


def _ended(text: str) -> str:
    return text if text.endswith((".", "!", "?")) or not text else f"{text}."


def _shapes_key() -> Table:
    return Table(
        columns=(Column(share=0.16), Column(share=0.84)),
        rows=tuple(
            (
                Cell(text=words.VERDICTS[verdict], bold=True, drawing=shape_drawing(verdict)),
                Cell(text=words.MEANINGS[verdict]),
            )
            for verdict in WORST_FIRST
        ),
        tight=True,
    )


# --- matrix -----------------------------------------------------------------------------------------------------


def _matrix(layout: Layout, findings: Sequence[Finding], system: System) -> Iterator[Block]:
    made = matrix(findings, layout, system)
    if not made.columns:
        return
    yield Heading(text=said.MATRIX, room=1.0)
    yield Prose(text=said.MATRIX_NOTE, role="second")
    for groups in _sheets(made.groups, _MATRIX_COLUMNS if system == "mm" else _MATRIX_COLUMNS_INCH):
        table = _matrix_table(made, groups)
        if table.rows:
            yield table


def _sheets(groups: Sequence[Group], most: int) -> Iterator[tuple[Group, ...]]:
    """Groups of columns that fit a sheet, `most` columns each; a wide one parts into stops and the ways between."""
    held: list[Group] = []
    room = most
    for part in (part for group in groups for part in _parted(group, most)):
        if len(part.columns) > room and held:
            yield tuple(held)
            held, room = [], most
        held.append(part)
        room -= len(part.columns)
    if held:
        yield tuple(held)


def _parted(group: Group, most: int) -> Iterator[Group]:
    if len(group.columns) <= most:
        yield group
        return
    stops = tuple(column for column in group.columns if not is_leg(column.stop))
    legs = tuple(column for column in group.columns if is_leg(column.stop))
    for title, columns in ((group.title, stops), (said.ON_THE_WAY.format(axis=group.title), legs)):
        for start in range(0, len(columns), most):
            yield Group(axis=group.axis, title=title, columns=columns[start : start + most])


def _matrix_table(made: Matrix, groups: tuple[Group, ...]) -> Table:
    columns = [column for group in groups for column in group.columns]
    places = [made.columns.index(column) for column in columns]
    share = min(0.105, 0.72 / len(columns))
    kept = [row for row in made.rows if any(row.cells[place] is not None for place in places)]
    return Table(
        columns=(
            Column(title=said.COL_PAIR, share=0.28),
            *(Column(title=column.title, share=share, align="center") for column in columns),
        ),
        groups=(("", 1), *((group.title, len(group.columns)) for group in groups)),
        rows=tuple(
            (Cell(text=row.title, verdict=row.worst.verdict), *(_matrix_cell(row, place) for place in places))
            for row in kept
        ),
        width=0.28 + share * len(columns),
        tight=True,
    )


def _matrix_cell(row: MatrixRow, place: int) -> Cell:
    cell = row.cells[place]
    if cell is None:
        return Cell(muted=True)
    number = cell.value if cell.finding.value is not None else ""
    return Cell(
        text=number, second=cell.give_or_take, verdict=cell.verdict, boxed=cell.verdict in ("hits", "short")
    )


# --- placed things and people -----------------------------------------------------------------------------------


def _placed(layout: Layout, facts: ReportFacts, system: System) -> Iterator[Block]:
    if facts.placed:
        yield Heading(text=said.PLACED, room=0.4)
        yield Prose(text=said.PLACED_NOTE.format(unit=system), role="second")
        yield Table(
            columns=(
                Column(title=said.COL_THING, share=0.48),
                Column(title=said.COL_KIND, share=0.12),
                Column(title=said.COL_X, share=0.08, align="right"),
                Column(title=said.COL_Y, share=0.08, align="right"),
                Column(title=said.COL_Z, share=0.08, align="right"),
                Column(title=said.COL_TURN, share=0.07, align="right"),
                Column(title=said.COL_STANDS, share=0.09),
            ),
            rows=tuple(_placed_row(thing, layout, system) for thing in facts.placed),
        )


def _placed_row(thing: PlacedFacts, layout: Layout, system: System) -> tuple[Cell, ...]:
    sizes = ", ".join(f"{label} {_sized(value, unit, system)}" for label, value, unit in thing.sizes)
    told = [place_text(thing.at_mm, layout, system)]
    if thing.locked:
        told.append(said.LOCKED)
    return (
        Cell(text=thing.name, bold=True, second=f"{capital(', '.join(told))}. {sizes}".strip()),
        Cell(text=thing.kind),
        *(Cell(text=show_length(value, system)) for value in thing.at_mm),
        Cell(text=f"{show_number(thing.turn_deg)}\u00b0"),
        Cell(text=said.STANDS.get(thing.stands_on, thing.stands_on)),
    )


def _sized(value: float, unit: str, system: System) -> str:
    if unit == "mm":
        return show_length(value, system)
    shown = show_number(value, 2)
    return f"{shown}\u00b0" if unit == "deg" else f"{shown} {unit}".strip()


# --- scan, axes, limits, acceptances ----------------------------------------------------------------------------


def _scans(layout: Layout, facts: ReportFacts, system: System) -> Iterator[Block]:
    yield Heading(text=said.SCANS, room=0.4)
    if not facts.scans:
        yield Prose(text=said.NO_SCANS)
    axes, ids = {one.scan_id: one for one in facts.axes}, {one.id for one in layout.scans}
    yield Prose(text=f"{capital(said.CARPET)}: {carpet_words(layout.carpet(), system)}.")
    for scan in facts.scans:
        more = scan_told(layout, layout.scan(scan.id), scan.cleaning, system) if scan.id in ids else ()
        told = [*_scan_lines(scan, system), *_axes_lines(axes.get(scan.id), system), *more]
        yield Heading(text=scan.name, level=2)
        yield Table(
            columns=(Column(share=0.3), Column(share=0.7)),
            rows=tuple((Cell(text=label), Cell(text=value)) for label, value in told),
            tight=True,
        )
    if layout.limits:
        yield Heading(text=said.LIMITS, level=2)
        yield _limits(layout, system)


def _scan_lines(scan: ScanFacts, system: System) -> Iterator[tuple[str, str]]:
    yield said.FILE, scan.file
    yield said.READ_AS, scan.unit
    yield said.TRIANGLES, f"{show_number(scan.triangles)}, {show_number(scan.points)}"
    x, y, z = (show_length(value, system, digits=0) for value in scan.size_mm)
    yield said.SIZE, f"{said.BY.format(x=x, y=y, z=z)} {system}"
    yield said.ISLANDS, f"{scan.islands}, {scan.holes}"
    noise = said.NOT_MEASURED if scan.noise_mm is None else _fine(scan.noise_mm, system)
    yield said.NOISE, noise
    note = f", {scan.good_to_note}" if scan.good_to_note else ""
    yield said.GOOD_TO, f"\u00b1 {_fine(scan.good_to_mm, system)}{note}"
    if scan.cleaned:
        yield said.CLEANED, "; ".join(scan.cleaned)


def _fine(mm: float, system: System) -> str:
    return show_length(mm, system, digits=2, parts=64, with_unit=True)


def _axes_lines(axes: AxesFacts | None, system: System) -> Iterator[tuple[str, str]]:
    if axes is None:
        return
    yield (
        said.AXES,
        ", ".join(f"{letter} {_fine(off, system)}" for letter, off in axes.residuals_mm) or "\u2013",
    )
    arm = show_length(_TILT_ARM_MM, system, digits=0, with_unit=True)
    tilt = (
        said.TILT_UNKNOWN
        if axes.tilt_mm_over_900 is None
        else f"\u00b1 {_fine(axes.tilt_mm_over_900, system)}"
    )
    yield said.TILT.format(arm=arm), tilt
    yield said.MIRROR, said.MIRROR_TOLD if axes.mirror_can_be_told else said.MIRROR_UNTOLD


def _limits(layout: Layout, system: System) -> Table:
    rows_: list[tuple[Cell, ...]] = []
    for change in layout.limits:
        shipped = LIMITS.get(change.id)
        unit = "mm" if shipped is None else shipped.unit
        value = exact(change.value, unit, system)
        if change.upper is not None:
            value = words.WANTED["between"].format(low=value, high=exact(change.upper, unit, system))
        was = "" if shipped is None else said.SHIPPED.format(value=wanted_text(shipped, system))
        rows_.append(
            (Cell(text=change.id.replace("-", " "), second=was), Cell(text=value), Cell(text=change.note))
        )
    return Table(
        columns=(
            Column(title=said.COL_LIMIT, share=0.3),
            Column(title=said.COL_WANTED, share=0.2, align="right"),
            Column(title=said.COL_WHY, share=0.5),
        ),
        rows=tuple(rows_),
    )


def _accepted(facts: ReportFacts) -> Iterator[Block]:
    yield Heading(text=said.ACCEPTED, level=2)
    if not facts.acceptances:
        yield Prose(text=said.NOTHING_ACCEPTED)
        return
    yield Table(
        columns=(
            Column(title=said.COL_STEP, share=0.14),
            Column(title=said.COL_MARK, share=0.2),
            Column(title=said.COL_DATE, share=0.16),
            Column(title=said.COL_WHY, share=0.5),
        ),
        rows=tuple(
            (
                Cell(text=capital(one.step), bold=True),
                Cell(text=_mark(one)),
                Cell(text=one.date),
                Cell(text=one.reason),
            )
            for one in facts.acceptances
        ),
    )


def _mark(one: AcceptanceFacts) -> str:
    accepted, as_it_is, look_again = said.STEP_MARKS
    return look_again if one.look_again else as_it_is if one.reason else accepted


def _cautions(layout: Layout, findings: Sequence[Finding]) -> Iterator[Block]:
    yield Heading(text=said.CAUTIONS, room=0.4)
    for caution in cautions(layout, findings):
        yield Prose(text=caution.text, lead=caution.title, role="item")
