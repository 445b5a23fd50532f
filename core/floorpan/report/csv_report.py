"""Findings as a table for spreadsheets: one row each, UTF-8 with a byte order mark."""

import csv
import io
import math
from collections.abc import Iterable

from floorpan.checks.finding import Finding, margin
from floorpan.layout import Layout
from floorpan.report.naming import state_words
from floorpan.report.rows import row_of, worst_first
from floorpan.report.sentences import remark
from floorpan.units import System

COLUMNS = (
    "verdict",
    "what",
    "state",
    "value",
    "uncertainty",
    "unit",
    "wanted",
    "wanted_at_most",
    "margin",
    "source",
    "in_words",
    "remark",
    "cure",
    "x_mm",
    "y_mm",
    "z_mm",
    "other_x_mm",
    "other_y_mm",
    "other_z_mm",
    "check",
    "subjects",
    "id",
)
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")


def csv_bytes(findings: Iterable[Finding], layout: Layout, system: System = "mm") -> bytes:
    """One row per finding, worst first; numbers in core units with a point, sentences in the shown system."""
    held = io.StringIO(newline="")
    writer = csv.writer(held, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for finding in worst_first(findings):
        writer.writerow(_row(finding, layout, system))
    return held.getvalue().encode("utf-8-sig")


def _row(finding: Finding, layout: Layout, system: System) -> list[str]:
    row = row_of(finding, layout, system)
    limit = finding.limit
    low = None if limit.sense == "at_most" else limit.value
    high = limit.value if limit.sense == "at_most" else limit.upper
    known = finding.value is not None and finding.verdict not in ("unseen", "pending")
    value = finding.value if known else None
    places = [*finding.at_mm[0], *finding.at_mm[1]] if finding.at_mm else [None] * 6
    return [
        plain(row.verdict_word),
        plain(row.title),
        plain(state_words(finding.state, layout)),
        _number(value),
        _number(finding.uncertainty),
        plain(limit.unit),
        _number(low),
        _number(high),
        _number(None if value is None else margin(value, limit)),
        plain(limit.source),
        plain(row.sentence),
        plain(remark(finding)),
        plain(row.cure),
        *(_number(place) for place in places),
        plain(finding.check),
        plain(" ".join(finding.subjects)),
        plain(finding.id),
    ]


def plain(text: str) -> str:
    """Text that no spreadsheet takes for a formula: one that starts like one gets an apostrophe in front."""
    return f"'{text}" if text.lstrip(" \u00a0").startswith(_FORMULA) else text


def _number(value: float | None) -> str:
    return f"{round(value, 4) + 0.0:.12g}" if value is not None and math.isfinite(value) else ""
