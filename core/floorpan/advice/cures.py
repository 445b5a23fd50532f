"""The smallest single move that clears a finding without making another worse.

A move is along one of the car's axes. How far is first read off the direction in which the gap opens, then worked
out on the very check, then the whole layout is judged with it. Exact for the check; a combination of moves is not
tried.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from floorpan import edits
from floorpan.checks import Cure, Evaluator, Finding
from floorpan.checks.finding import margin
from floorpan.errors import WrongStep
from floorpan.items import Vessel
from floorpan.layout import Layout, Thing
from floorpan.progress import Work

MOST_MM = 150.0
MOST_PAIRS = 6
_ROUNDS = 5
_WORDS = {(0, 1): "rearward", (0, -1): "forward", (2, 1): "up", (2, -1): "down"}


@dataclass(frozen=True, slots=True)
class _Move:
    thing: Thing
    by_mm: tuple[float, float, float]
    axis: int

    @property
    def length_mm(self) -> float:
        return abs(self.by_mm[self.axis])


def with_cures(
    findings: tuple[Finding, ...], layout: Layout, evaluator: Evaluator
) -> Work[tuple[Finding, ...]]:
    """The findings with a cure on the worst state of each failing pair, where one move has one."""
    cured: dict[str, Cure] = {}
    pairs: set[tuple[str, ...]] = set()
    for finding in findings:
        if not _curable(finding) or finding.subjects in pairs:
            continue
        if len(pairs) == MOST_PAIRS:
            break
        pairs.add(finding.subjects)
        for move in sorted(_moves(finding, layout, evaluator), key=lambda move: move.length_mm):
            moved = edits.shift(layout, move.thing.id, move.by_mm)
            if not (yield from evaluator.worse(moved, findings)):
                cured[finding.id] = Cure(text=_words(move, layout), subject=move.thing.id, move_mm=move.by_mm)
                break
    return tuple(replace(f, cure=cured[f.id]) if f.id in cured else f for f in findings)


def _curable(finding: Finding) -> bool:
    return finding.verdict in ("hits", "short") and finding.is_gap and finding.at_mm is not None


def _moves(finding: Finding, layout: Layout, evaluator: Evaluator) -> Iterator[_Move]:
    assert finding.at_mm is not None
    assert finding.value is not None
    first, second = (np.asarray(end) for end in finding.at_mm)
    way = (first - second) * (1.0 if finding.value > 0.0 else -1.0)
    if not np.linalg.norm(way) > 1e-9:
        return
    opens = way / np.linalg.norm(way)
    for subject, sign in zip(finding.subjects, (1.0, -1.0), strict=False):
        thing = _movable(subject, layout)
        for axis in range(3) if thing is not None else ():
            gain = sign * opens[axis]
            if thing is not None and abs(gain) > 0.25:
                found = _far_enough(finding, layout, evaluator, thing, axis, float(gain))
                if found is not None:
                    yield found


def _movable(subject: str, layout: Layout) -> Thing | None:
    """What a builder would move: the shifter for a hand on it, the holder for a vessel in it."""
    owner, _, part = subject.partition(".")
    if part == "hand":
        things = [thing for thing in layout.items if thing.id.startswith("shifter")]
        thing: Thing | None = things[0] if things else None
    else:
        thing = next((t for t in layout.things() if t.id == owner), None)
    if isinstance(thing, Vessel) and thing.stands_in:
        thing = layout.thing(thing.stands_in)
    return None if thing is None or thing.locked else thing


def _far_enough(
    finding: Finding, layout: Layout, evaluator: Evaluator, thing: Thing, axis: int, gain: float
) -> _Move | None:
    """The move along one axis that leaves the finding clear; None where 150 mm do not."""
    far, now = 0.0, finding
    for _ in range(_ROUNDS):
        assert now.value is not None
        lacking = now.uncertainty - margin(now.value, now.limit)
        if lacking <= 0.0:
            break
        far += np.sign(gain) * max(lacking / abs(gain), 1.0)
        if abs(far) > MOST_MM:
            return None
        by = tuple(float(np.sign(far) * np.ceil(abs(far))) if k == axis else 0.0 for k in range(3))
        try:
            judged = evaluator.again(edits.shift(layout, thing.id, by), finding)  # type: ignore[arg-type]
        except WrongStep:
            return None
        if judged is None or judged.value is None:
            return None
        now = judged
    if now.verdict != "clear":
        return None
    by = tuple(float(np.sign(far) * np.ceil(abs(far))) if k == axis else 0.0 for k in range(3))
    return _Move(thing, by, axis)  # type: ignore[arg-type]


def _words(move: _Move, layout: Layout) -> str:
    sign = 1 if move.by_mm[move.axis] > 0 else -1
    if move.axis == 1:
        passenger = 1 if layout.driver_side == "left" else -1
        where = "to the passenger side" if sign == passenger else "to the driver side"
    else:
        where = _WORDS[move.axis, sign]
    return f"{move.thing.name} {move.length_mm:.0f} mm {where} would clear it."
