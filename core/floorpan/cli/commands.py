"""What each command does: it calls the core, prints the answer, and says how it ended."""

import json
from collections.abc import Callable
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path
from typing import Any

import numpy as np

from floorpan.advice.cures import with_cures
from floorpan.checks import Evaluator, Finding
from floorpan.cli import words
from floorpan.cli.arguments import Request
from floorpan.cli.endings import DONE, NOT_CLEAR
from floorpan.cli.scan_told import dropped_text, scan_document, scan_lines
from floorpan.cli.telling import Progress, note
from floorpan.derive import Bench
from floorpan.errors import ReportProblem, UnitNeeded
from floorpan.progress import finish
from floorpan.project.folder import Project, check_free, opening
from floorpan.project.paper_place import check_paper_place
from floorpan.project.starting import start_project
from floorpan.project.store import ProjectStore
from floorpan.report.amounts import wanted_text
from floorpan.report.gathering import gathering
from floorpan.report.json_report import findings_document
from floorpan.report.pictures import PictureMaker
from floorpan.report.rows import Row, rows
from floorpan.report.tally import tally_text
from floorpan.sample.write import write_sample
from floorpan.scan import read_scan
from floorpan.scan.prepare import prepare
from floorpan.units import mm_per, show_length

FORMAT = 1


def sample(request: Request, progress: Progress, pictures: PictureMaker | None) -> int:
    """Write the sample project into a folder that is empty or not there yet."""
    folder = Path(request.places[0])
    check_free(folder.absolute())
    finish(write_sample(folder), progress)
    told = {"format": FORMAT, "folder": str(folder)}
    return _answer(request, progress, told, words.SAMPLE_WRITTEN.format(folder=folder))


def scan(request: Request, progress: Progress, pictures: PictureMaker | None) -> int:
    """Tell what is in a scan file; without a unit its size is told in the proposed one."""
    path = Path(request.places[0])
    raw = finish(read_scan(path, request.unit), progress)
    prepared = finish(prepare(raw, request.unit or raw.proposal.unit), progress)
    return _answer(request, progress, scan_document(raw, prepared), *scan_lines(path.name, raw, prepared))


def new(request: Request, progress: Progress, pictures: PictureMaker | None) -> int:
    """Start a project from a scan."""
    folder, source = (Path(place) for place in request.places)
    try:
        project = finish(start_project(folder, source, request.unit), progress)
    except UnitNeeded as fault:
        what, remedy = words.UNIT_NEEDED
        raise UnitNeeded(
            fault.code,
            what.format(file=source.name, why=fault.facts["why"]),
            remedy.format(unit=fault.facts["proposed"]),
            **fault.facts,
        ) from fault
    (reference,) = project.layout.scans
    raw = ProjectStore(project)[reference.sha256]
    dropped = dict(raw.dropped)
    told = {
        "format": FORMAT,
        "project": project.layout.title,
        "folder": str(folder),
        "scan": {"id": reference.id, "sha256": reference.sha256, "unit": reference.unit},
        "dropped": dropped,
    }
    line = words.PROJECT_MADE.format(folder=folder, file=source.name, unit=reference.unit)
    unlikely = ""
    if reference.unit not in raw.proposal.candidates:
        size = show_length(float(np.ptp(raw.mesh.bounds, axis=0).max()) * mm_per(reference.unit), digits=0)
        doubt = words.UNIT_UNLIKELY if raw.proposal.candidates else words.UNIT_NO_FLOOR
        unlikely = doubt.format(unit=reference.unit, size=size, proposed=raw.proposal.unit)
    return _answer(request, progress, told, *filter(None, (line, dropped_text(dropped), unlikely)))


def check(request: Request, progress: Progress, pictures: PictureMaker | None) -> int:
    """Judge a project; not clear where a finding is neither clear nor, where that may pass, close."""
    project, _, findings = _judged(request, progress)
    told = findings_document(project.layout, findings)
    lines = (finding_line(row) for row in rows(findings, project.layout))
    _answer(request, progress, told, *lines, tally_text(findings))
    passing = {"clear", "close"} if request.allow_close else {"clear"}
    return DONE if all(finding.verdict in passing for finding in findings) else NOT_CLEAR


def report(request: Request, progress: Progress, pictures: PictureMaker | None) -> int:
    """Judge a project afresh and write its fit report."""
    # What lays out pages is slow to load; a check prints none.
    from floorpan.report.documents import PICTURED, SUFFIXES, writing

    target = Path(request.output)
    if target.suffix.lower() not in SUFFIXES:
        what, remedy = words.REPORT_SUFFIX
        raise ReportProblem("report-suffix", what.format(file=target.name), remedy, suffix=target.suffix)
    check_paper_place(target, Path(request.places[0]))
    drawn = pictures if target.suffix.lower() in PICTURED else None
    if drawn is not None:
        drawn.begin()
    project, bench, findings = _judged(request, progress)
    today = datetime.now(UTC).astimezone().date().isoformat()
    work = gathering(project.layout, bench, date=today, version=version(words.PROGRAM))
    facts = finish(work, progress)
    renderer = drawn.renderer_of(project.layout, bench) if drawn is not None else None
    finish(writing(target, project.layout, findings, facts, renderer=renderer), progress)
    told = {"format": FORMAT, "project": project.layout.title, "file": str(target)}
    return _answer(request, progress, told, words.REPORT_WRITTEN.format(file=target))


COMMANDS: dict[str, Callable[[Request, Progress, PictureMaker | None], int]] = {
    "sample": sample,
    "scan": scan,
    "new": new,
    "check": check,
    "report": report,
}


def _judged(request: Request, progress: Progress) -> tuple[Project, Bench, tuple[Finding, ...]]:
    """The project of a request, opened to look only, with every finding fresh."""
    project = finish(opening(Path(request.places[0]), read_only=True), progress)
    for about in project.notes:
        progress.clear()
        note(f"{about.what} {about.remedy}")
    store = ProjectStore(project)
    bench = Bench(store)
    for scan in bench.judged_scans(project.layout):
        finish(store.load(scan.sha256), progress)
    evaluator = Evaluator(bench)
    findings = finish(evaluator.settle(project.layout), progress)
    return project, bench, finish(with_cures(findings, project.layout, evaluator), progress)


def _answer(request: Request, progress: Progress, told: dict[str, Any], *lines: str) -> int:
    progress.clear()
    # Plain ASCII, so that no console's own alphabet stands between the document and who reads it.
    print(json.dumps(told, indent=2, allow_nan=False) if request.as_json else "\n".join(lines))
    return DONE


def finding_line(row: Row) -> str:
    """A finding on one line: verdict, sentence with value and give or take, what is wanted, what would clear it."""
    line = words.FINDING.format(verdict=row.verdict_word, sentence=row.sentence)
    if words.IS_WANTED not in row.sentence:
        line += words.WANTED.format(wanted=wanted_text(row.finding.limit))
    return f"{line} {row.cure}" if row.cure else line
