"""Findings as the JSON document that programs read."""

import json
import math
from collections.abc import Iterable, Sequence
from dataclasses import asdict
from typing import Any

from floorpan.checks.finding import Finding
from floorpan.layout import Layout
from floorpan.limits import Limit
from floorpan.report.amounts import bound_of
from floorpan.report.cautions import cautions, first_line, scan_doubt_mm
from floorpan.report.content import not_checked
from floorpan.report.cure_told import cure_text
from floorpan.report.facts import PlacedFacts, ReportFacts
from floorpan.report.rows import worst_first
from floorpan.report.tally import tally

FORMAT = 1


def finding_dict(finding: Finding, layout: Layout) -> dict[str, Any]:
    """One finding in core units; value is null where unseen or pending, and no number is ever NaN."""
    known = finding.verdict not in ("unseen", "pending")
    return {
        "id": finding.id,
        "check": finding.check,
        "subjects": list(finding.subjects),
        "state": dict(finding.state),
        "verdict": finding.verdict,
        "value": _number(finding.value) if known else None,
        "uncertainty": _number(finding.uncertainty),
        "bound": bound_of(finding),
        "unit": finding.limit.unit,
        "limit": _limit(finding.limit),
        "at_mm": None if finding.at_mm is None else [[_number(v) for v in point] for point in finding.at_mm],
        "cure": None
        if finding.cure is None
        else {
            "text": cure_text(finding, layout),
            "subject": finding.cure.subject,
            "move_mm": [_number(v) for v in finding.cure.move_mm],
        },
    }


def _limit(limit: Limit) -> dict[str, Any]:
    if limit.sense == "between":
        return {"between": [_number(limit.value), _number(limit.upper)], "source": limit.source}
    return {limit.sense: _number(limit.value), "source": limit.source}


def _number(value: float | None) -> float | None:
    return float(value) + 0.0 if value is not None and math.isfinite(value) else None


def findings_document(layout: Layout, findings: Iterable[Finding]) -> dict[str, Any]:
    """Every finding, worst first, as `floorpan check --json` prints it; both counts by verdict."""
    held = tuple(findings)
    counted = tally(held)
    return {
        "format": FORMAT,
        "project": layout.title,
        "counts": {verdict: count.states for verdict, count in counted.items()},
        "pair_counts": {verdict: count.pairs for verdict, count in counted.items()},
        "findings": [finding_dict(finding, layout) for finding in worst_first(held)],
    }


def report_document(layout: Layout, findings: Sequence[Finding], facts: ReportFacts) -> dict[str, Any]:
    """The whole report: the findings document, with what it rests on and what it does not cover."""
    return findings_document(layout, findings) | {
        "caution": first_line(layout),
        "date": facts.date,
        "version": facts.version,
        "layout_version": facts.layout_version,
        "edition": facts.edition,
        "scan_uncertainty_mm": scan_doubt_mm(layout),
        "not_checked": list(not_checked(layout, findings, facts)),
        "scans": [asdict(scan) for scan in facts.scans],
        "axes": [
            {
                "scan_id": one.scan_id,
                "residuals_mm": dict(one.residuals_mm),
                "tilt_mm_over_900": one.tilt_mm_over_900,
                "mirror_can_be_told": one.mirror_can_be_told,
            }
            for one in facts.axes
        ],
        "placed": [_placed(thing) for thing in facts.placed],
        "accepted": [asdict(one) for one in facts.acceptances],
        "cautions": [caution.key for caution in cautions(layout, findings)],
    }


def _placed(thing: PlacedFacts) -> dict[str, Any]:
    return {
        "id": thing.id,
        "name": thing.name,
        "kind": thing.kind,
        "at_mm": [_number(v) for v in thing.at_mm],
        "turn_deg": _number(thing.turn_deg),
        "stands_on": thing.stands_on,
        "locked": thing.locked,
        "sizes": [
            {"label": label, "value": _number(value), "unit": unit} for label, value, unit in thing.sizes
        ],
    }


def json_text(document: dict[str, Any]) -> str:
    """A document as text: stable order, indented, ends in a line feed; NaN is refused."""
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
