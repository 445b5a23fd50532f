"""Which findings a step answers for, and how many of them are not clear."""

from collections.abc import Sequence
from typing import Final

from floorpan.checks import Finding
from floorpan.layout import Step
from floorpan.report.tally import states_text, tally
from floorpan_app.cards import words

_CHECKS: Final[dict[Step, tuple[str, ...]]] = {
    "driver": ("reach", "elbow", "seat-scan", "seat-seat"),
    "controls": (
        "hand-",
        "handbrake-",
        "press-",
        "buckle-",
        "strap-",
        "armrest-",
        "keep-out",
        "flap-",
        "door-",
        "seat-handbrake",
        "thigh-",
        "lever-",
        "reach",
        "elbow",
    ),
    "cup": (
        "well-",
        "cup-",
        "vessel-",
        "hand-vessel",
        "lever-vessel",
        "seat-vessel",
        "forearm-vessel",
        "lift-out",
        "drip",
    ),
    "console": ("console-", "hand-console", "seat-console"),
    "check": ("",),
    "report": ("",),
}
_STANDING: Final[dict[Step, tuple[str, ...]]] = {
    "driver": ("seat-",),
    "controls": (
        "shifter-",
        "handbrake-",
        "buckle-",
        "armrest-",
        "wheel-",
        "keep-out-",
        "flap-",
        "dash-edge-",
        "door-",
        "switch-",
    ),
    "cup": ("cup-holder-", "vessel-"),
    "console": ("console-",),
}


def of_step(finding: Finding, step: Step) -> bool:
    """Whether a finding is of what a step sets; one that stands on the floor is told by what stands there."""
    if finding.check == "stands" and step in _STANDING:
        return finding.subjects[0].startswith(_STANDING[step])
    return finding.check.startswith(_CHECKS.get(step, ()))


def not_clear(findings: Sequence[Finding]) -> str:
    """How many of the worst kind there are, as `3 states short`; empty where all are clear."""
    for verdict, count in tally(findings).items():
        if count.states and verdict != "clear":
            return words.COUNTED[verdict].format(states=states_text(count.states))
    return ""
