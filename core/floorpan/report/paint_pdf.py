"""Drawings onto a page of a PDF."""

from reportlab.lib.colors import HexColor
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from floorpan.report import lettering
from floorpan.report.display import Drawing, Stroke, Words


def paint(canvas: Canvas, drawing: Drawing, x_pt: float, y_pt: float, scale: float = 1.0) -> None:
    """Paint a drawing with its lower left corner at a point of the page (points, 1/72 in)."""
    canvas.saveState()
    canvas.translate(x_pt, y_pt)
    canvas.scale(mm * scale, mm * scale)
    for mark in drawing.marks:
        if isinstance(mark, Words):
            _words(canvas, mark)
        else:
            _stroke(canvas, mark)
    canvas.restoreState()


def _stroke(canvas: Canvas, mark: Stroke) -> None:
    canvas.setLineCap(1 if mark.round_cap else 0)
    canvas.setLineJoin(1)
    canvas.setDash([*mark.dash] if mark.dash else [])
    if mark.stroke is not None:
        canvas.setStrokeColor(HexColor(mark.stroke))
        canvas.setStrokeAlpha(mark.opacity)
        canvas.setLineWidth(mark.width_mm)
    if mark.fill is not None:
        canvas.setFillColor(HexColor(mark.fill))
        canvas.setFillAlpha(mark.opacity)
    path = canvas.beginPath()
    for kind, points in mark.path:
        if kind == "M":
            path.moveTo(*points[0])
        elif kind == "L":
            path.lineTo(*points[0])
        elif kind == "C":
            path.curveTo(*points[0], *points[1], *points[2])
        else:
            path.close()
    canvas.drawPath(path, stroke=int(mark.stroke is not None), fill=int(mark.fill is not None), fillMode=1)


def _words(canvas: Canvas, mark: Words) -> None:
    wide = lettering.width(mark.text, mark.size_mm, bold=mark.bold)
    start = mark.at[0] - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor]
    set_line(canvas, mark.text, (start, mark.at[1]), mark.size_mm, mark.colour, bold=mark.bold)


def set_line(
    canvas: Canvas, text: str, at: tuple[float, float], size: float, ink: str, *, bold: bool = False
) -> None:
    """Set a line of text from a point on its base line, in the canvas's own unit."""
    canvas.setFillColor(HexColor(ink))
    canvas.setFillAlpha(1.0)
    line = canvas.beginText(*at)
    for run in lettering.runs(lettering.settable(text)):
        line.setFont(run.face or lettering.face(bold=bold), size * run.size)
        line.setRise(size * run.rise)
        line.textOut(run.text)
    canvas.drawText(line)
