"""A paper as PDF: A4 or letter, text that can be selected, the same bytes for the same paper."""

from collections.abc import Callable, Sequence
from io import BytesIO
from typing import Any, Literal

from reportlab.lib.colors import HexColor
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    KeepTogether,
    PageBreak,
    PageTemplate,
    Spacer,
    Table,
    TableStyle,
)

from floorpan.report import blocks as paper
from floorpan.report import lettering
from floorpan.report import paper_words as said
from floorpan.report.flow import Drawn, Head, Photo, Told, paragraph, style
from floorpan.report.paint_pdf import set_line
from floorpan.report.palette import EDGE, INK, INK2, LINE, colour
from floorpan.report.shapes import shape_drawing

PaperSize = Literal["A4", "letter"]
SIZES: dict[PaperSize, tuple[float, float]] = {"A4": A4, "letter": LETTER}

_SIDE, _TOP, _FOOT = 18 * mm, 15 * mm, 19 * mm
_TYPE, _TIGHT_TYPE, _FOOT_TYPE = 9.0, 8.4, 8.0
_SECOND = style(8.4, ink=INK2)


def text_width_mm(size: PaperSize) -> float:
    """How wide a line of text or a drawing may be on that paper."""
    return (SIZES[size][0] - 2 * _SIDE) / mm


def pdf_bytes(told: paper.Paper, size: PaperSize = "A4") -> bytes:
    """The paper as PDF."""
    held = BytesIO()
    width, height = SIZES[size]
    frame = Frame(_SIDE, _FOOT, width - 2 * _SIDE, height - _TOP - _FOOT, 0, 0, 0, 0, id="text")
    template = BaseDocTemplate(
        held,
        pagesize=(width, height),
        pageTemplates=[PageTemplate(id="page", frames=[frame])],
        title=lettering.settable(told.title),
        author="floorpan",
        subject=told.subject,
        creator="floorpan",
        lang="en",
        invariant=1,
    )
    flow = [piece for block in told.blocks() for piece in flowables(block, width - 2 * _SIDE)]

    def canvas(*args: Any, **named: Any) -> Canvas:
        return _Numbered(*args, owner=told.owner, foot=told.foot, **named)

    template.build(flow, canvasmaker=canvas)
    return held.getvalue()


def fits_a_page(told: Sequence[paper.Block], size: PaperSize = "A4") -> bool:
    """Whether blocks stand on one page."""
    width, height = SIZES[size]
    room = height - _TOP - _FOOT
    used, gap = 0.0, 0.0
    for block in told:
        for piece in flowables(block, width - 2 * _SIDE):
            before = max(gap, piece.getSpaceBefore()) if used else 0.0
            used += before + piece.wrap(width - 2 * _SIDE, room)[1]
            gap = piece.getSpaceAfter()
    return used <= room


class _Numbered(Canvas):
    """A canvas that holds its pages back until it knows how many there are."""

    def __init__(self, *args: Any, owner: str, foot: str, **named: Any) -> None:
        super().__init__(*args, **named)
        self._owner = owner
        self._foot = foot
        self._pages_held: list[dict[str, Any]] = []
        self._headings: list[tuple[str, int]] = []

    def note_heading(self, text: str, level: int) -> None:
        """Remember a heading for the outline of the page in hand."""
        self._headings = [*self._headings, (text, level)]

    def showPage(self) -> None:  # noqa: N802
        """Hold the page back."""
        self._pages_held.append(dict(self.__dict__))
        self._headings = []
        self._startPage()  # type: ignore[attr-defined]

    def save(self) -> None:
        """Write the pages with their feet and outline."""
        held = self._pages_held
        for number, state in enumerate(held, 1):
            self.__dict__.update(state)
            for place, (text, level) in enumerate(self._headings):
                key = f"page-{number}-{place}"
                self.bookmarkPage(key)
                if level == 1:
                    self.addOutlineEntry(lettering.settable(text), key, level=0)
            self._draw_foot(number, len(held))
            super().showPage()
        super().save()

    def _draw_foot(self, number: int, count: int) -> None:
        width = self._pagesize[0]  # type: ignore[attr-defined]
        self.setStrokeColor(HexColor(colour(LINE)))
        self.setLineWidth(0.5)
        self.setDash([])
        self.line(_SIDE, _FOOT - 5 * mm, width - _SIDE, _FOOT - 5 * mm)
        page = said.PAGE.format(n=number, m=count)
        wide = lettering.width(page, _FOOT_TYPE)
        room = width - 2 * _SIDE - wide - lettering.width(self._foot, _FOOT_TYPE) - 12
        foot = lettering.shortened(self._owner, _FOOT_TYPE, room) + self._foot
        y = _FOOT - 9 * mm
        set_line(self, foot, (_SIDE, y), _FOOT_TYPE, colour(INK2))
        set_line(self, page, (width - _SIDE - wide, y), _FOOT_TYPE, colour(INK2))


# --- blocks -----------------------------------------------------------------------------------------------------


def flowables(block: paper.Block, width: float) -> list[Flowable]:
    """A block as flowing pieces, width points wide."""
    makers: dict[type, Callable[[Any, float], list[Flowable]]] = {
        paper.Title: _title,
        paper.Heading: _heading,
        paper.Prose: _prose,
        paper.Spot: _spot,
        paper.Table: _table,
        paper.Picture: _picture,
        paper.Beside: _beside,
        paper.Signature: _signature,
        paper.Form: lambda form, _: [Drawn(form.drawing)],
    }
    return makers[type(block)](block, width)


def _title(block: paper.Title, width: float) -> list[Flowable]:
    left = [
        paragraph(block.name, style(22, bold=True, lead=1.1)),
        paragraph(block.project, style(12.5, bold=True, ink=INK2, before=2)),
    ]
    right = [paragraph(line, style(9, ink=INK2, align="right")) for line in (block.edition, block.date)]
    table = Table([[left, right]], colWidths=[width * 0.7, width * 0.3])
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "BOTTOM"),
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("RIGHTPADDING", (0, 0), (-1, -1), 0),
                ("TOPPADDING", (0, 0), (-1, -1), 0),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 5),
                ("LINEBELOW", (0, 0), (-1, -1), 1.2, HexColor(colour(INK))),
            ]
        )
    )
    return [table]


def _heading(block: paper.Heading, width: float) -> list[Flowable]:
    how = (
        style(15, bold=True, before=16, after=5)
        if block.level == 1
        else style(11, bold=True, before=9, after=3)
    )
    head = Head(block.text, block.level, how)
    if block.room >= 1.0:
        return [PageBreak(), head]
    return [CondPageBreak(block.room * (A4[1] - _TOP - _FOOT)), head] if block.room else [head]


def _prose(block: paper.Prose, width: float) -> list[Flowable]:
    how = {
        "caution": style(9.4, ink=INK, before=6, after=7, lead=1.3),
        "body": style(_TYPE, after=4),
        "second": style(8.6, ink=INK2, before=2, after=4, lead=1.28),
        "cure": style(_TYPE, italic=True, after=4),
        "item": style(9.2, after=6, lead=1.3),
    }[block.role]
    return [paragraph(block.text, how, block.lead)]


def _spot(block: paper.Spot, width: float) -> list[Flowable]:
    ink = colour(block.verdict or EDGE)
    lines: list[Flowable] = [paragraph(block.sentence, style(12.5, bold=True, lead=1.24))]
    if block.cure:
        lines.append(paragraph(block.cure, style(10.5, italic=True, before=2)))
    if block.second:
        lines.append(paragraph(block.second, style(9, ink=INK2, before=3)))
    mark = [Drawn(shape_drawing(block.verdict, 6.4))] if block.verdict else ""
    table = Table([[mark, lines]], colWidths=[28, width - 28])
    table.setStyle(
        TableStyle(
            [
                ("BOX", (0, 0), (-1, -1), 1.6, HexColor(ink)),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LEFTPADDING", (0, 0), (-1, -1), 7),
                ("RIGHTPADDING", (0, 0), (0, 0), 0),
                ("TOPPADDING", (0, 0), (-1, -1), 6),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 8),
            ]
        )
    )
    return [table, Spacer(1, 2)]


def _table(block: paper.Table, width: float) -> list[Flowable]:
    if not block.rows:
        return []
    size = _TIGHT_TYPE if block.tight else _TYPE
    full = width * block.width
    shares = sum(column.share for column in block.columns)
    rows: list[list[Any]] = []
    if block.groups:
        row: list[Any] = []
        for title, span in block.groups:
            row += [paragraph(title, style(7.8, bold=True, ink=INK2, align="center" if title else "left"))]
            row += [""] * (span - 1)
        rows.append(row)
    if any(column.title for column in block.columns):
        rows.append([paragraph(c.title, style(7.8, ink=INK2, align=c.align)) for c in block.columns])
    heads = len(rows)
    rows += [
        [Told(cell, column.align, size) for cell, column in zip(line, block.columns, strict=True)]
        for line in block.rows
    ]
    table = Table(
        rows,
        colWidths=[full * column.share / shares for column in block.columns],
        repeatRows=heads,
        hAlign="LEFT",
        spaceAfter=6,
    )
    table.setStyle(TableStyle(_table_style(block, heads)))
    return [table]


def _table_style(block: paper.Table, heads: int) -> list[Any]:
    pad = 1.8 if block.tight else 2.6
    side = 2.0 if block.groups else 3.0
    commands: list[Any] = [
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE" if block.groups else "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), side),
        ("RIGHTPADDING", (0, 0), (-1, -1), side),
        ("LEFTPADDING", (0, 0), (0, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), pad),
        ("BOTTOMPADDING", (0, 0), (-1, -1), pad + 0.6),
        ("LINEBELOW", (0, heads), (-1, -1), 0.4, HexColor(colour(LINE))),
    ]
    if heads:
        commands.append(("LINEBELOW", (0, heads - 1), (-1, heads - 1), 0.8, HexColor(colour(INK))))
    start = 0
    for _, span in block.groups:
        commands.append(("SPAN", (start, 0), (start + span - 1, 0)))
        if start:
            commands.append(("LINEBEFORE", (start, 0), (start, -1), 0.6, HexColor(colour(EDGE))))
        start += span
    for row, line in enumerate(block.rows, heads):
        for place, cell in enumerate(line):
            if cell.boxed and cell.verdict:
                commands.append(("BOX", (place, row), (place, row), 1.0, HexColor(colour(cell.verdict))))
    return commands


def _picture(block: paper.Picture, width: float) -> list[Flowable]:
    shown: Flowable = (
        Drawn(block.drawing) if block.drawing is not None else Photo(block.png, block.title, 105 * mm)
    )
    pieces: list[Flowable] = [Head(block.title, 2, style(11, bold=True, before=6, after=3)), shown]
    if block.note:
        pieces.append(paragraph(block.note, _SECOND))
    pieces.append(Spacer(1, 6))
    return [KeepTogether(pieces)]


def _beside(block: paper.Beside, width: float) -> list[Flowable]:
    left = min(block.drawing.width_mm * mm + 6, width * 0.46)
    table = Table(
        [[Drawn(block.drawing), _table(block.table, width - left)]],
        colWidths=[left, width - left],
        hAlign="LEFT",
    )
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("RIGHTPADDING", (0, 0), (-1, -1), 0),
                ("TOPPADDING", (0, 0), (-1, -1), 0),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
            ]
        )
    )
    return [table]


def _signature(block: paper.Signature, width: float) -> list[Flowable]:
    table = Table(
        [[""], [paragraph(block.under, _SECOND)]],
        colWidths=[width * 0.45],
        rowHeights=[26, None],
        hAlign="LEFT",
    )
    table.setStyle(
        TableStyle(
            [
                ("LINEBELOW", (0, 0), (0, 0), 0.8, HexColor(colour(INK))),
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("TOPPADDING", (0, 1), (-1, -1), 2),
            ]
        )
    )
    return [table]
