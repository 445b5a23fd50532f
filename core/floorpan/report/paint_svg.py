"""Drawings as SVG, to stand inside a page of HTML."""

from collections.abc import Iterator
from html import escape

from floorpan.report import lettering
from floorpan.report.display import Drawing, Mark, Stroke, Words

_ANCHORS = {"start": "start", "middle": "middle", "end": "end"}


def svg(drawing: Drawing, *, size_class: str = "", fluid: bool = False) -> str:
    """An `<svg>` element in millimetres; fluid ones shrink with the page. What it says is its label."""
    wide, high = _n(drawing.width_mm), _n(drawing.height_mm)
    size = (
        f'style="width:100%;max-width:{wide}mm;height:auto"'
        if fluid
        else f'width="{wide}mm" height="{high}mm"'
    )
    label = (
        f'role="img" aria-label="{escape(drawing.says, quote=True)}"'
        if drawing.says
        else 'aria-hidden="true"'
    )
    named = f' class="{escape(size_class, quote=True)}"' if size_class else ""
    body = "".join(_marks(drawing))
    return f'<svg{named} viewBox="0 0 {wide} {high}" {size} {label}>{body}</svg>'


def _marks(drawing: Drawing) -> Iterator[str]:
    for mark in drawing.marks:
        yield _mark(mark, drawing.height_mm)


def _mark(mark: Mark, height_mm: float) -> str:
    return _words(mark, height_mm) if isinstance(mark, Words) else _stroke(mark, height_mm)


def _stroke(mark: Stroke, height_mm: float) -> str:
    path = "".join(
        kind + " ".join(f"{_n(x)} {_n(height_mm - y)}" for x, y in points) for kind, points in mark.path
    )
    told = [f'd="{path}"', f'fill="{mark.fill or "none"}"']
    if mark.stroke is not None:
        told += [f'stroke="{mark.stroke}"', f'stroke-width="{_n(mark.width_mm)}"', 'stroke-linejoin="round"']
    if mark.dash:
        told.append(f'stroke-dasharray="{" ".join(_n(length) for length in mark.dash)}"')
    if mark.round_cap:
        told.append('stroke-linecap="round"')
    if mark.opacity < 1.0:
        told.append(f'opacity="{_n(mark.opacity)}"')
    return f"<path {' '.join(told)}/>"


def _words(mark: Words, height_mm: float) -> str:
    wide = lettering.width(mark.text, mark.size_mm, bold=mark.bold)
    weight = ' font-weight="600"' if mark.bold else ""
    # textLength holds the line to the width it was laid out for, whatever face the reader has.
    return (
        f'<text x="{_n(mark.at[0])}" y="{_n(height_mm - mark.at[1])}" font-size="{_n(mark.size_mm)}"{weight} '
        f'fill="{mark.colour}" text-anchor="{_ANCHORS[mark.anchor]}" textLength="{_n(wide)}" '
        f'lengthAdjust="spacingAndGlyphs">{escape(mark.text)}</text>'
    )


def _n(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
