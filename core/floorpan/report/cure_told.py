"""A cure as a sentence: which thing, how far which way."""

import math

from floorpan.checks.finding import Finding
from floorpan.layout import Layout
from floorpan.report import words
from floorpan.units import System, mm_per, show_length

_STEP_IN_MM = mm_per("in") / 16


def cure_text(finding: Finding, layout: Layout, system: System = "mm") -> str:
    """What would clear it, empty where nothing is known; inches are rounded up, so that the move is still enough."""
    if finding.cure is None:
        return ""
    name = next((thing.name for thing in layout.things() if thing.id == finding.cure.subject), "")
    if not name:
        return ""
    parts = [
        words.CURE_PART.format(length=_length(abs(way), system), way=_way(axis, way > 0.0, layout))
        for axis, way in enumerate(finding.cure.move_mm)
        if way
    ]
    moves = (
        parts[0] if len(parts) == 1 else words.CURE_LAST.format(first=", ".join(parts[:-1]), last=parts[-1])
    )
    return words.CURE.format(thing=name, moves=moves)


def _length(mm: float, system: System) -> str:
    if system == "in":
        mm = math.ceil(mm / _STEP_IN_MM - 1e-9) * _STEP_IN_MM
    return show_length(mm, system, with_unit=True)


def _way(axis: int, ahead: bool, layout: Layout) -> str:
    if axis == 1:
        return words.CURE_ASIDE[ahead == (layout.driver_side == "left")]
    return words.CURE_WAYS[axis, ahead]
