"""The smallest gap that is known in each gear."""

from collections.abc import Iterable

from floorpan.checks import Finding
from floorpan.items import NEUTRAL, Shifter
from floorpan.items.states import stops_of


def smallest_gaps(findings: Iterable[Finding], shifter: Shifter) -> dict[str, Finding]:
    """Gear to the gap finding with the least value; the way to a gear counts as that gear."""
    least: dict[str, Finding] = {}
    for finding in findings:
        if not finding.is_gap or finding.value is None or finding.check.startswith("well-"):
            continue
        for gear in _gears(finding, shifter):
            held = least.get(gear)
            if held is None or held.value is None or finding.value < held.value:
                least[gear] = finding
    return least


def _gears(finding: Finding, shifter: Shifter) -> tuple[str, ...]:
    stop = stops_of(finding.state, shifter.id).get("gear", "")
    ends = tuple(part for part in stop.split("-") if part)
    return ends if len(ends) < 2 else tuple(end for end in ends if end != NEUTRAL)
