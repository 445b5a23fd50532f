"""The one door to every paper: what kind is told by the file's suffix, and a half-written file is never seen."""

import os
import secrets
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from floorpan.checks.finding import Finding
from floorpan.errors import ReportProblem
from floorpan.layout import Layout
from floorpan.progress import Step, Work, finish
from floorpan.report import words
from floorpan.report.blocks import Paper
from floorpan.report.checklist_form import LEAST_MM, form_heights
from floorpan.report.checklist_page import checklist_page
from floorpan.report.checklist_words import NOT_PDF
from floorpan.report.content import MOST_ON_FIRST, first_page, fit_report
from floorpan.report.csv_report import csv_bytes
from floorpan.report.facts import ReportFacts
from floorpan.report.html import html_text
from floorpan.report.json_report import json_text, report_document
from floorpan.report.pictures import VIEWS, Renderer, check_png
from floorpan.report.tape_sheet_words import NOT_PDF as TAPE_SHEET_NOT_PDF
from floorpan.units import System

if TYPE_CHECKING:
    from floorpan.report.pdf import PaperSize

SUFFIXES = (".pdf", ".html", ".json", ".csv")
PICTURED = (".pdf", ".html")

_PICTURE = (1400, 800)
_FEWEST_ON_FIRST = 3


def write_report(
    path: Path | str,
    layout: Layout,
    findings: Sequence[Finding],
    facts: ReportFacts,
    *,
    renderer: Renderer | None = None,
    system: System = "mm",
    now: str = "",
    size: "PaperSize" = "A4",
) -> None:
    """Write the fit report; the suffix of path says as what (.pdf, .html, .json, .csv).

    now : the date to print where facts carry none
    Raises ReportProblem for another suffix, a stale finding, a picture that cannot be read, or a file that cannot
    be written; the old file is then untouched.
    """
    finish(writing(path, layout, findings, facts, renderer=renderer, system=system, now=now, size=size))


def writing(
    path: Path | str,
    layout: Layout,
    findings: Sequence[Finding],
    facts: ReportFacts,
    *,
    renderer: Renderer | None = None,
    system: System = "mm",
    now: str = "",
    size: "PaperSize" = "A4",
) -> Work[None]:
    """write_report as work that tells how far it has come and can be closed before anything is written."""
    target = Path(path)
    make = _maker(target)
    refuse_stale(findings)
    told = facts if not now else replace(facts, date=now)
    if renderer is not None and target.suffix.lower() in PICTURED:
        told = yield from _pictures(told, renderer)
    for title, picture in told.pictures:
        check_png(title, picture)
    yield Step(0.5, words.LAYING_OUT)
    data = make(layout, tuple(findings), told, system, size)
    yield Step(0.9, words.WRITING)
    _put(target, data)


def writing_checklist(
    path: Path | str,
    layout: Layout | None,
    *,
    date: str,
    version: str,
    system: System = "mm",
    size: "PaperSize" = "A4",
) -> Work[None]:
    """Write the scan checklist, one page of PDF, of a layout or of none yet; as work that can be closed.

    date, version : as they are printed
    Raises ReportProblem for another suffix, or a file that cannot be written; the old file is then untouched.
    """
    target = Path(path)
    check_checklist_suffix(target)
    yield Step(0.0, words.LAYING_OUT)
    from floorpan.report.pdf import fits_a_page, pdf_bytes, text_width_mm

    def page(form_mm: float) -> Paper:
        wide = text_width_mm(size)
        return checklist_page(
            layout, date=date, version=version, system=system, width_mm=wide, form_mm=form_mm
        )

    # As many lines to write on as the page has room for.
    high = next((mm for mm in form_heights() if fits_a_page(page(mm).blocks(), size)), LEAST_MM)
    data = pdf_bytes(page(high), size)
    yield Step(0.9, words.WRITING)
    _put(target, data)


def writing_tape_sheet(
    path: Path | str,
    layout: Layout | None,
    *,
    date: str,
    version: str,
    system: System = "mm",
    size: "PaperSize" = "A4",
) -> Work[None]:
    """Write the tape sheet, two pages of PDF, of a layout or of none yet; as work that can be closed.

    date, version : as they are printed
    Raises ReportProblem for another suffix, or a file that cannot be written; the old file is then untouched.
    """
    target = Path(path)
    check_tape_sheet_suffix(target)
    yield Step(0.0, words.LAYING_OUT)
    from floorpan.report.pdf import pdf_bytes, text_width_mm
    from floorpan.report.tape_sheet import tape_sheet

    wide = text_width_mm(size)
    data = pdf_bytes(tape_sheet(layout, date=date, version=version, system=system, width_mm=wide), size)
    yield Step(0.9, words.WRITING)
    _put(target, data)


def check_checklist_suffix(path: Path | str) -> None:
    """Raise ReportProblem where a scan checklist cannot be written under this name."""
    _only_pdf(path, "checklist-suffix", NOT_PDF)


def check_tape_sheet_suffix(path: Path | str) -> None:
    """Raise ReportProblem where a tape sheet cannot be written under this name."""
    _only_pdf(path, "tape-sheet-suffix", TAPE_SHEET_NOT_PDF)


def _only_pdf(path: Path | str, code: str, told: tuple[str, str]) -> None:
    suffix = Path(path).suffix
    if suffix.lower() != ".pdf":
        what, remedy = told
        raise ReportProblem(code, what.format(suffix=suffix), remedy, suffix=suffix)


def check_suffix(path: Path | str) -> None:
    """Raise ReportProblem where a paper cannot be written under this name."""
    _maker(Path(path))


def refuse_stale(findings: Sequence[Finding]) -> None:
    """Raise ReportProblem where a finding was judged before the last change."""
    stale = sum(finding.stale for finding in findings)
    if stale:
        what, remedy = words.STALE_FINDINGS
        raise ReportProblem("stale-findings", what.format(n=stale), remedy, stale=stale)


def _pictures(facts: ReportFacts, renderer: Renderer) -> Work[ReportFacts]:
    held = list(facts.pictures)
    with closing(renderer):
        for place, view in enumerate(VIEWS):
            yield Step(0.5 * place / len(VIEWS), words.DRAWING.format(view=words.VIEW_TITLES[view].lower()))
            held.append((words.VIEW_TITLES[view], renderer.picture(view, *_PICTURE)))
    return replace(facts, pictures=tuple(held))


_Maker = Callable[[Layout, tuple[Finding, ...], ReportFacts, System, "PaperSize"], bytes]


def _maker(target: Path) -> _Maker:
    makers: dict[str, _Maker] = {".pdf": _pdf, ".html": _html, ".json": _json, ".csv": _csv}
    suffix = target.suffix.lower()
    if suffix not in makers:
        what, remedy = words.UNKNOWN_SUFFIX
        raise ReportProblem("report-suffix", what.format(suffix=target.suffix), remedy, suffix=target.suffix)
    return makers[suffix]


def _pdf(
    layout: Layout, findings: tuple[Finding, ...], facts: ReportFacts, system: System, size: "PaperSize"
) -> bytes:
    # The typesetting library takes a good part of a second to load, and most who open the bench print nothing yet.
    from floorpan.report.pdf import fits_a_page, pdf_bytes, text_width_mm

    most = next(
        (
            most
            for most in range(MOST_ON_FIRST, _FEWEST_ON_FIRST, -1)
            if fits_a_page(first_page(layout, findings, facts, system, most_rows=most), size)
        ),
        _FEWEST_ON_FIRST,
    )
    paper = fit_report(layout, findings, facts, system, width_mm=text_width_mm(size), most_rows=most)
    return pdf_bytes(paper, size)


def _html(
    layout: Layout, findings: tuple[Finding, ...], facts: ReportFacts, system: System, size: "PaperSize"
) -> bytes:
    return html_text(fit_report(layout, findings, facts, system)).encode("utf-8")


def _json(
    layout: Layout, findings: tuple[Finding, ...], facts: ReportFacts, system: System, size: "PaperSize"
) -> bytes:
    return json_text(report_document(layout, findings, facts)).encode("utf-8")


def _csv(
    layout: Layout, findings: tuple[Finding, ...], facts: ReportFacts, system: System, size: "PaperSize"
) -> bytes:
    return csv_bytes(findings, layout, system)


def _put(target: Path, data: bytes) -> None:
    """Write beside the target, then put it in its place."""
    part = target.with_name(f".{secrets.token_hex(6)}.part")
    try:
        with part.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        part.replace(target)
    except OSError as fault:
        what, remedy = words.NOT_WRITTEN
        why = fault.strerror or str(fault)
        raise ReportProblem("report-not-written", what.format(why=why), remedy, path=str(target)) from fault
    finally:
        part.unlink(missing_ok=True)
