"""The scan checklist as blocks: one page to print, tick off and write on."""

from collections.abc import Iterator

from floorpan.layout import Layout
from floorpan.report import checklist_words as said
from floorpan.report.blocks import Block, Cell, Column, Form, Heading, Paper, Prose, Table, Title
from floorpan.report.checklist_form import hand_form, tick_box
from floorpan.report.scan_checklist import not_asked_yet, scan_checklist
from floorpan.scan.checklist import Checklist, ChecklistRow
from floorpan.units import System


def checklist_page(
    layout: Layout | None, *, date: str, version: str, system: System, width_mm: float, form_mm: float
) -> Paper:
    """The page, of a layout or of none yet; form_mm high is the part to write in by hand."""
    held = Layout() if layout is None else layout
    project = said.NO_PROJECT if layout is None else layout.title
    return Paper(
        title=f"{said.CHECKLIST}: {project}",
        subject=said.CHECKLIST,
        first_page=(
            Title(name=said.CHECKLIST, project=project, edition=said.PURPOSE, date=date),
            *_blocks(held, scan_checklist(held)),
            Heading(text=said.BY_HAND, level=2),
            Form(drawing=hand_form(width_mm, form_mm, system)),
        ),
        owner=project,
        foot=said.FOOT.format(version=version, unit=said.UNITS[system]),
    )


def _blocks(layout: Layout, page: Checklist) -> Iterator[Block]:
    yield Heading(text=said.BEFORE, level=2)
    yield _before(page)
    yield Heading(text=said.AREAS, level=2)
    yield Table(
        columns=(
            Column(title=said.COL_AREA, share=0.345),
            Column(title=said.COL_HOW, share=0.275),
            Column(title=said.COL_ASKED, share=0.225),
            Column(title=said.COL_STANDS, share=0.155),
        ),
        rows=tuple(_row(row, scanned=bool(layout.scans)) for row in page.rows),
        tight=True,
    )
    later = not_asked_yet(layout)
    if later:
        yield Prose(text=said.LATER.format(areas=", ".join(map(area_name, later))), role="second")


def _before(page: Checklist) -> Table:
    """Two columns of boxes to tick, read down the left one first."""
    half = -(-len(page.before) // 2)
    cells = [Cell(text=one, drawing=tick_box("missing")) for one in page.before]
    cells += [Cell()] * (2 * half - len(cells))
    return Table(
        columns=(Column(share=0.5), Column(share=0.5)),
        rows=tuple(zip(cells[:half], cells[half:], strict=True)),
        tight=True,
    )


def _row(row: ChecklistRow, *, scanned: bool) -> tuple[Cell, ...]:
    stands = said.NOT_SCANNED if row.state == "missing" and not scanned else said.STATES[row.state]
    return (
        Cell(text=area_name(row.area), second=row.why, bold=True),
        Cell(text=row.how),
        Cell(text=", ".join(row.checks)),
        Cell(text=stands, drawing=tick_box(row.state)),
    )


def area_name(kind: str) -> str:
    """What a kind of area is called on the page."""
    return said.AREA_NAMES.get(kind, kind)
