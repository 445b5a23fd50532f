"""Findings as the JSON document that programs read."""

import json
import math
from collections.abc import Iterable
from typing import Any

from floorpan.checks.finding import Finding
from floorpan.layout import Layout
from floorpan.limits import Limit
from floorpan.report.rows import worst_first

FORMAT = 1


def finding_dict(finding: Finding) -> dict[str, Any]:
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
        "unit": finding.limit.unit,
        "limit": _limit(finding.limit),
        "at_mm": None if finding.at_mm is None else [[_number(v) for v in point] for point in finding.at_mm],
        "cure": None
        if finding.cure is None
        else {
            "text": finding.cure.text,
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
    """Every finding, worst first, as `floorpan check --json` prints it."""
    return {
        "format": FORMAT,
        "project": layout.title,
        "findings": [finding_dict(finding) for finding in worst_first(findings)],
    }


def json_text(document: dict[str, Any]) -> str:
    """A document as text: stable order, indented, ends in a line feed; NaN is refused."""
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
