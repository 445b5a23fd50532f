"""A paper as one page of HTML that needs nothing but itself: no script, no font, no picture from elsewhere."""

import base64
from collections.abc import Callable, Iterator
from html import escape
from typing import Any

from floorpan.checks.finding import WORST_FIRST, Verdict
from floorpan.report import blocks as paper
from floorpan.report import words
from floorpan.report.page_style import page_style
from floorpan.report.paint_svg import svg
from floorpan.report.shapes import shape_drawing

_SHAPE_MM = 3.0


def html_text(told: paper.Paper) -> str:
    """The paper as an HTML document."""
    body = "".join(_block(block) for block in told.blocks())
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:\">\n"
        f"<title>{escape(told.title)}</title>\n<style>\n{page_style()}</style>\n</head>\n<body>\n"
        f"{_symbols()}<main>\n{body}</main>\n<footer>{escape(told.owner + told.foot)}</footer>\n</body>\n</html>\n"
    )


def _symbols() -> str:
    """The six shapes once, to be used by name."""
    held = "".join(_symbol(verdict) for verdict in WORST_FIRST)
    return f'<svg width="0" height="0" aria-hidden="true" style="position:absolute">{held}</svg>\n'


def _symbol(verdict: Verdict) -> str:
    drawn = svg(shape_drawing(verdict, _SHAPE_MM))
    inner = drawn[drawn.index(">") + 1 : drawn.rindex("</svg>")]
    return f'<symbol id="shape-{verdict}" viewBox="0 0 {_SHAPE_MM:g} {_SHAPE_MM:g}">{inner}</symbol>'


def _shape(verdict: Verdict, size: str = "0.85em", *, alone: bool = False) -> str:
    label = f'role="img" aria-label="{words.VERDICTS[verdict]}"' if alone else 'aria-hidden="true"'
    return f'<svg width="{size}" height="{size}" {label}><use href="#shape-{verdict}"/></svg>'


# --- blocks -----------------------------------------------------------------------------------------------------


def _block(block: paper.Block) -> str:
    makers: dict[type, Callable[[Any], str]] = {
        paper.Title: _title,
        paper.Heading: _heading,
        paper.Prose: _prose,
        paper.Spot: _spot,
        paper.Table: _table,
        paper.Picture: _picture,
        paper.Beside: lambda b: f'<div class="beside">{svg(b.drawing)}{_table(b.table)}</div>\n',
        paper.Signature: lambda b: f'<p class="sign">{escape(b.under)}</p>\n',
        paper.Form: lambda b: f"<figure>{svg(b.drawing, fluid=True)}</figure>\n",
    }
    return makers[type(block)](block)


def _title(block: paper.Title) -> str:
    return (
        f'<div class="title"><h1>{escape(block.name)}<small>{escape(block.project)}</small></h1>'
        f"<p>{escape(block.edition)}<br>{escape(block.date)}</p></div>\n"
    )


def _heading(block: paper.Heading) -> str:
    level = block.level + 1
    return f"<h{level}>{escape(block.text)}</h{level}>\n"


def _prose(block: paper.Prose) -> str:
    lead = f"<strong>{escape(block.lead)}.</strong> " if block.lead else ""
    return f'<p class="{block.role}">{lead}{escape(block.text)}</p>\n'


def _spot(block: paper.Spot) -> str:
    shape = _shape(block.verdict, "1.6rem", alone=True) if block.verdict else ""
    cure = f'<p class="cure">{escape(block.cure)}</p>' if block.cure else ""
    second = f'<p class="second">{escape(block.second)}</p>' if block.second else ""
    return (
        f'<section class="spot {block.verdict or ""}">{shape}<div><strong>{escape(block.sentence)}</strong>'
        f"{cure}{second}</div></section>\n"
    )


def _picture(block: paper.Picture) -> str:
    if block.drawing is not None:
        shown = svg(block.drawing, fluid=True)
    else:
        data = base64.b64encode(block.png).decode("ascii")
        shown = f'<img alt="{escape(block.title, quote=True)}" src="data:image/png;base64,{data}">'
    note = f'<p class="second">{escape(block.note)}</p>' if block.note else ""
    return f"<figure><figcaption>{escape(block.title)}</figcaption>{shown}{note}</figure>\n"


def _table(block: paper.Table) -> str:
    if not block.rows:
        return ""
    head = ""
    if block.groups:
        cells = "".join(
            f'<th colspan="{span}" scope="colgroup">{escape(title)}</th>' for title, span in block.groups
        )
        head += f"<tr>{cells}</tr>"
    if any(column.title for column in block.columns):
        cells = "".join(f'<th scope="col" class="{c.align}">{escape(c.title)}</th>' for c in block.columns)
        head += f"<tr>{cells}</tr>"
    head = f"<thead>{head}</thead>" if head else ""
    rows = "".join(f"<tr>{''.join(_cells(block, row))}</tr>\n" for row in block.rows)
    return f'<div class="wide"><table>{head}<tbody>\n{rows}</tbody></table></div>\n'


def _cells(block: paper.Table, row: tuple[paper.Cell, ...]) -> Iterator[str]:
    for cell, column in zip(row, block.columns, strict=True):
        named = [
            column.align,
            *(("boxed", str(cell.verdict)) if cell.boxed else ()),
            *(("muted",) if cell.muted else ()),
        ]
        yield f'<td class="{" ".join(named)}">{_cell(cell)}</td>'


def _cell(cell: paper.Cell) -> str:
    drawing = svg(cell.drawing) if cell.drawing is not None else ""
    shape = ""
    if cell.verdict is not None and cell.drawing is None:
        shape = _shape(cell.verdict, alone=cell.text != words.VERDICTS[cell.verdict])
    text = escape(cell.text) or (words.DASH if cell.muted else "")
    text = f"<b>{text}</b>" if cell.bold and text else text
    second = f"<small>{escape(cell.second)}</small>" if cell.second else ""
    return f"{drawing}{shape}{text}{second}"
