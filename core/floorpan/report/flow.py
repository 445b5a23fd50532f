"""Blocks as flowing pieces of a PDF page."""

from collections.abc import Sequence
from io import BytesIO
from typing import Any, Literal
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_CENTER, TA_LEFT, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.platypus import Flowable, Paragraph

from floorpan.errors import ReportProblem
from floorpan.report import lettering, words
from floorpan.report.blocks import Align, Cell
from floorpan.report.display import Drawing
from floorpan.report.paint_pdf import paint
from floorpan.report.palette import EDGE, INK, INK2, colour
from floorpan.report.shapes import shape_drawing

_ALIGNS: dict[Align, Literal[0, 1, 2]] = {"left": TA_LEFT, "right": TA_RIGHT, "center": TA_CENTER}
_SHAPE_MM = 2.9
_APART_PT = 4.0


def style(
    size: float,
    *,
    bold: bool = False,
    italic: bool = False,
    ink: str = INK,
    align: Align = "left",
    lead: float = 1.22,
    before: float = 0.0,
    after: float = 0.0,
) -> ParagraphStyle:
    """A paragraph style in points; every text of the papers is set by one of these."""
    lettering.fonts()
    face = lettering.ITALIC if italic else lettering.face(bold=bold)
    return ParagraphStyle(
        name=f"{face} {size} {ink} {align} {lead} {before} {after}",
        fontName=face,
        fontSize=size,
        leading=size * lead,
        textColor=HexColor(colour(ink)),
        alignment=_ALIGNS[align],
        spaceBefore=before,
        spaceAfter=after,
        splitLongWords=1,
        uriWasteReduce=0,
    )


def markup(text: str, size: float) -> str:
    """Text as a paragraph takes it: escaped, fractions set small and raised."""
    told = []
    for run in lettering.runs(lettering.settable(text)):
        plain = escape(run.text)
        if run.rise:
            plain = f'<super rise="{size * run.rise:.2f}" size="{size * run.size:.2f}">{plain}</super>'
        elif run.face:
            plain = f'<font name="{run.face}">{plain}</font>'
        elif run.size < 1.0:
            plain = f'<font size="{size * run.size:.2f}">{plain}</font>'
        told.append(plain)
    return "".join(told)


def paragraph(text: str, how: ParagraphStyle, lead: str = "") -> Paragraph:
    """A paragraph; `lead` stands before it in bold."""
    front = f"<b>{markup(lead, how.fontSize)}.</b> " if lead else ""
    return Paragraph(front + markup(text, how.fontSize), how)


class Drawn(Flowable):
    """A drawing, shrunk where it is wider than its place."""

    def __init__(self, drawing: Drawing) -> None:
        super().__init__()
        self.drawing = drawing
        self._scale = 1.0

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Its size in points."""
        wide, high = self.drawing.width_mm * mm, self.drawing.height_mm * mm
        self._scale = min(1.0, available_width / wide)
        self.width, self.height = wide * self._scale, high * self._scale
        return self.width, self.height

    def draw(self) -> None:
        """Onto the page."""
        paint(self.canv, self.drawing, 0.0, 0.0, self._scale)


class Photo(Flowable):
    """A PNG, as wide as its place and no higher than most_high_pt."""

    def __init__(self, png: bytes, title: str, most_high_pt: float) -> None:
        super().__init__()
        try:
            self._image = ImageReader(BytesIO(png))
            self._size = self._image.getSize()
        except (OSError, ValueError) as fault:
            what, remedy = words.NOT_A_PICTURE
            raise ReportProblem("not-a-picture", what.format(title=title), remedy, title=title) from fault
        self._most_high_pt = most_high_pt

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Its size in points."""
        scale = min(available_width / self._size[0], self._most_high_pt / self._size[1])
        self.width, self.height = self._size[0] * scale, self._size[1] * scale
        return self.width, self.height

    def draw(self) -> None:
        """Onto the page."""
        self.canv.drawImage(self._image, 0, 0, self.width, self.height, mask="auto")


class Told(Flowable):
    """A cell: shape or drawing, text, and a smaller line under it."""

    def __init__(self, cell: Cell, align: Align, size: float) -> None:
        super().__init__()
        self._align = align
        self._mark = cell.drawing or (shape_drawing(cell.verdict, _SHAPE_MM) if cell.verdict else None)
        text = words.DASH if cell.muted and not cell.text else cell.text
        main = style(size, bold=cell.bold, ink=EDGE if cell.muted else INK, align=align)
        small = style(size * 0.86, ink=INK2, align=align)
        self._lines = [paragraph(line, how) for line, how in ((text, main), (cell.second, small)) if line]
        self._size = size
        self._heights: list[float] = []

    def _indent(self) -> float:
        if self._mark is None:
            return 0.0
        return self._mark.width_mm * mm + (_APART_PT if self._lines else 0.0)

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Its size in points."""
        room = max(available_width - self._indent(), 1.0)
        self._heights = [line.wrap(room, available_height)[1] for line in self._lines]
        self.width = available_width
        mark = 0.0 if self._mark is None else self._mark.height_mm * mm
        self.height = max(sum(self._heights), mark)
        return self.width, self.height

    def draw(self) -> None:
        """Onto the page."""
        indent = self._indent()
        y = self.height
        for line, high in zip(self._lines, self._heights, strict=True):
            y -= high
            line.drawOn(self.canv, indent, y)
        if self._mark is None:
            return
        first = self._size * 1.22 if self._lines else self.height
        free = max(self.width - indent - self._widest(), 0.0)
        shift = {"left": 0.0, "center": free / 2, "right": free}[self._align]
        paint(self.canv, self._mark, shift, self.height - first / 2 - self._mark.height_mm * mm / 2)

    def _widest(self) -> float:
        return max((_line_width(line) for line in self._lines[:1]), default=0.0)


def _line_width(line: Any) -> float:
    widths: Sequence[float] = line.getActualLineWidths0()
    return max(widths, default=0.0)


class Head(Paragraph):
    """A heading that also stands in the PDF's outline."""

    def __init__(self, text: str, level: int, how: ParagraphStyle) -> None:
        super().__init__(markup(text, how.fontSize), how)
        self.keepWithNext = 1
        self._told = (text, level)

    def draw(self) -> None:
        """Onto the page."""
        super().draw()
        self.canv.note_heading(*self._told)  # type: ignore[attr-defined]
