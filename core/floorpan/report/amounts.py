"""Numbers for people: rounded once, to what they can be trusted for, and towards the worse.

The number is the same wherever a finding is told: matrix, ledger, ticket, sentence, paper. So nobody rounds again what
`worse` gave, and a depth of 6.3 that is known to 1.5 is 6.5 everywhere, neither 6 nor 7.
"""

import math

from floorpan.checks.finding import Finding
from floorpan.limits import Limit
from floorpan.report import words
from floorpan.units import THIN, System, mm_per, show_length, show_number

_SLACK = 1e-6
_SIGNS = {"deg": "\u00b0", "percent": f"{THIN}%", "g": f"{THIN}g"}
_NAMES = {"deg": " deg", "percent": " percent", "g": f"{THIN}g"}


def step_of(uncertainty: float, unit: str, system: System = "mm") -> float:
    """The step a value with this uncertainty is shown in, in the value's own unit.

    Whole millimetres and percent, halves where the value is known to better than 2, tenths under 1; in inches
    sixteenths, thirty-seconds under 1 mm. Whole degrees, hundredths of g.
    """
    if unit == "g":
        return 0.01
    if unit == "mm" and system == "in":
        return mm_per("in") / (32 if uncertainty < 1.0 else 16)
    if unit in ("mm", "percent"):
        return 0.1 if uncertainty < 1.0 else 0.5 if uncertainty < 2.0 else 1.0
    return 1.0


def worse(value: float, uncertainty: float, limit: Limit, system: System = "mm") -> float:
    """A value rounded to its step, away from what is wanted, in the limit's unit."""
    step = step_of(uncertainty, limit.unit, system)
    upward = limit.sense == "at_most" or (
        limit.upper is not None and limit.upper - value < value - limit.value and limit.sense == "between"
    )
    return _stepped(value, step, up=upward)


def trust(uncertainty: float, unit: str, system: System = "mm") -> float:
    """A give or take rounded up: tenths under 1 mm, halves under 10, then whole; inches as the value's step."""
    if unit == "percent" or (unit == "mm" and system == "mm"):
        step = 0.1 if uncertainty < 1.0 else 0.5 if uncertainty < 10.0 else 1.0
    else:
        step = step_of(uncertainty, unit, system)
    return _stepped(uncertainty, step, up=True)


def _stepped(value: float, step: float, *, up: bool) -> float:
    steps = value / step
    whole = math.ceil(steps - _SLACK) if up else math.floor(steps + _SLACK)
    return whole * step


def number(value: float, unit: str, system: System = "mm", step: float = 1.0) -> str:
    """A number already rounded to its step, in the shown system, without a unit."""
    if unit == "mm" and system == "in":
        return show_length(value, "in", parts=32 if step < mm_per("in") / 20 else 16)
    return show_number(value, 2 if unit == "g" else 1)


def amount(value: float, unit: str, system: System = "mm", step: float = 1.0) -> str:
    """A rounded number with its unit, as a sentence says it."""
    shown = number(value, unit, system, step)
    return f"{shown} {system}" if unit == "mm" else f"{shown}{_NAMES.get(unit, ' ' + unit)}"


def exact(value: float, unit: str, system: System = "mm") -> str:
    """A wanted value, as typed: no rounding beyond a tenth (or a thirty-second of an inch)."""
    if unit == "mm" and system == "in":
        return show_length(value, "in", parts=32)
    return show_number(value, 2 if unit == "g" else 1)


def value_text(finding: Finding, system: System = "mm") -> str:
    """What a table shows: `14`, `\u22126`, `112\u00b0`, or the verdict's word where there is no number."""
    if finding.value is None:
        return words.VERDICTS[finding.verdict]
    step = step_of(finding.uncertainty, finding.limit.unit, system)
    shown = worse(finding.value, finding.uncertainty, finding.limit, system)
    told = number(shown, finding.limit.unit, system, step) + _SIGNS.get(finding.limit.unit, "")
    return words.PROVEN[bound_of(finding)].format(value=told)


def bound_of(finding: Finding) -> str:
    """What a value is: `` measured; `at least` or `at most` where that is all that is proven of it."""
    if not finding.at_least or finding.value is None:
        return ""
    limit = finding.limit
    # Of a stretch the end that lies nearer is the one that is proven not to be passed.
    low = limit.sense == "at_least" or (
        limit.upper is not None and finding.value - limit.value <= limit.upper - finding.value
    )
    return "at least" if low else "at most"


def give_or_take_text(finding: Finding, system: System = "mm") -> str:
    """`\u00b1 2`, empty where there is no number, or one that is proven not to be passed."""
    if finding.value is None or (finding.at_least and finding.uncertainty <= 0.0):
        return ""
    return words.GIVE_OR_TAKE.format(u=trust_text(finding, system))


def trust_text(finding: Finding, system: System = "mm") -> str:
    """The bare give or take of a finding: `2`, `1.5`, `1\u20448`."""
    unit = finding.limit.unit
    step = step_of(finding.uncertainty, unit, system)
    return number(trust(finding.uncertainty, unit, system), unit, system, step)


def wanted_text(limit: Limit, system: System = "mm", *, with_unit: bool = True) -> str:
    """What is wanted: `30 mm`, `3 mm at most`, `75 to 160 deg`."""
    low = exact(limit.value, limit.unit, system)
    high = "" if limit.upper is None else exact(limit.upper, limit.unit, system)
    if with_unit:
        unit = f" {system}" if limit.unit == "mm" else _NAMES.get(limit.unit, f" {limit.unit}")
        low, high = (low, high + unit) if high else (low + unit, "")
    return words.WANTED[limit.sense if high or limit.sense != "between" else "at_least"].format(
        low=low, high=high
    )
