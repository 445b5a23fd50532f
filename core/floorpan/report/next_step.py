"""What to do about a finding, in one line: the cure where there is one, else what would tell more."""

from floorpan.checks.finding import Doubt, Finding
from floorpan.layout import Layout
from floorpan.report import next_words
from floorpan.report.amounts import exact
from floorpan.report.cure_told import cure_text
from floorpan.report.naming import capital
from floorpan.report.sentences import remark
from floorpan.units import System


def next_step(finding: Finding, layout: Layout, system: System = "mm") -> str:
    """What to do about a finding; empty where it is clear, being worked out, or nothing is known to help.

    A finding that fails and has no cure was looked at for one only once it is settled: ask then.
    """
    if finding.stale or finding.verdict in ("clear", "pending"):
        return ""
    if finding.verdict == "unseen":
        return next_words.UNSEEN if finding.at_mm is not None else remark(finding)
    if cure := cure_text(finding, layout, system):
        return cure
    if finding.verdict == "close":
        return _of_doubt(finding, system)
    return next_words.NO_MOVE if finding.is_gap else remark(finding)


def _of_doubt(finding: Finding, system: System) -> str:
    """What most of the give or take comes from."""
    most = max(finding.doubts, key=_size, default=None)
    if most is None or _size(most) <= 0.0:
        return ""
    unit = finding.limit.unit
    sign = f" {system}" if unit == "mm" else f" {unit}"
    return next_words.CLOSE.format(
        name=capital(most.name), u=f"{exact(round(_size(most), 1), unit, system)}{sign}"
    )


def _size(doubt: Doubt) -> float:
    """Half its width, as a give or take is told."""
    return 2.0 * doubt.standard + doubt.bound
