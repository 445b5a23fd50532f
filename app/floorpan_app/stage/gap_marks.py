"""Findings as gap lines over the picture: the tight spot, what is not clear in the shown state, what is in hand."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

from floorpan.checks import Finding
from floorpan.checks.finding import rank
from floorpan.layout import Layout
from floorpan.report.live_told import freshest
from floorpan.report.naming import first_of, second_of
from floorpan.report.rows import Pair, pair_of
from floorpan.report.sentences import give_or_take_text, sentence, value_text
from floorpan.report.words import PROBE_HERE
from floorpan.units import System
from floorpan_app.stage.states import agrees
from floorpan_app.viewport.marks import GapLine

MOST: Final = 7
_ONE_PLACE_MM: Final = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What the gap lines follow from.

    stops   : every axis with the stop it is shown at
    in_hand : ids of what is selected and of what moves with it
    dragged : whether it is being moved
    chosen  : id of the finding that was chosen
    alone   : only the tight spot is drawn
    """

    layout: Layout
    system: System
    stops: dict[str, str] = field(default_factory=dict)
    in_hand: frozenset[str] = frozenset()
    dragged: bool = False
    chosen: str = ""
    alone: bool = False


def tight_spot(findings: Sequence[Finding]) -> Finding | None:
    """The worst of all; findings stand worst first."""
    return findings[0] if findings else None


def told(findings: Sequence[Finding], asked: Question) -> tuple[Finding, ...]:
    """The findings that get a line, worst first: at most seven, one for each pair.

    The tight spot whatever its state; the chosen one; of the shown state what is not clear; of what is in hand its
    smallest gap, clear or not. Of what is being moved nothing from before the move: it was so somewhere else.
    """
    findings = [one for one in freshest(findings) if not _left_behind(one, asked)]
    tight = tight_spot(findings)
    first = [tight] if tight is not None else []
    if asked.chosen:
        first += [finding for finding in findings if finding.id == asked.chosen]
    rest: list[Finding] = []
    if not asked.alone:
        here = [finding for finding in findings if finding.is_gap and agrees(finding.state, asked.stops)]
        first += _smallest_in_hand(here, asked)
        rest = [finding for finding in here if finding.verdict not in ("clear", "pending", "unseen")]
        rest += _unseen_places(finding for finding in here if finding.verdict == "unseen")
    return tuple(sorted(_one_a_pair((*first, *rest)), key=rank))


def gap_line(finding: Finding, asked: Question, *, ring: bool) -> GapLine | None:
    """A finding's line; None where it has no place. What is no gap (a reach, an angle) is told at the grip."""
    # Where a gap is that was not measured anew is not known.
    if finding.at_mm is None or finding.at_least:
        return None
    a, b = finding.at_mm if finding.is_gap else (finding.at_mm[1], finding.at_mm[1])
    unseen = finding.verdict == "unseen"
    return GapLine(
        id=finding.id,
        verdict=finding.verdict,
        a_mm=a,
        b_mm=b,
        u_mm=finding.uncertainty if finding.limit.unit == "mm" else 0.0,
        value_text=value_text(finding, asked.system),
        u_text=give_or_take_text(finding, asked.system),
        part=_other(finding, asked),
        doing=PROBE_HERE if unseen else "",
        stale=finding.stale,
        sentence=sentence(finding, asked.layout, asked.system),
        ring=ring,
    )


def gap_lines(findings: Sequence[Finding], asked: Question) -> tuple[GapLine, ...]:
    """The lines to draw, worst first; the tight spot has a ring."""
    chosen = told(findings, asked)
    # The tight spot is the worst of them.
    lines = (gap_line(finding, asked, ring=number == 0) for number, finding in enumerate(chosen))
    return tuple(line for line in lines if line is not None)


def owners(finding: Finding) -> frozenset[str]:
    """Ids of the things, people and scans a finding is about."""
    return frozenset(subject.partition(".")[0] for subject in finding.subjects)


def _left_behind(finding: Finding, asked: Question) -> bool:
    return asked.dragged and finding.stale and not owners(finding).isdisjoint(asked.in_hand)


def _smallest_in_hand(here: Iterable[Finding], asked: Question) -> Iterator[Finding]:
    """The smallest gap of what is in hand."""
    mine = [
        finding
        for finding in here
        if finding.value is not None
        and finding.at_mm is not None
        and not finding.at_least
        and not owners(finding).isdisjoint(asked.in_hand)
    ]
    if mine:
        yield min(mine, key=_value)


def _unseen_places(unseen: Iterable[Finding]) -> list[Finding]:
    """Of all that is not seen because of one and the same place, only what comes nearest to it."""
    nearest = sorted((finding for finding in unseen if finding.at_mm is not None), key=_length)
    kept: list[Finding] = []
    for finding in nearest:
        assert finding.at_mm is not None
        place = finding.at_mm[1]
        if all(other.at_mm is None or math.dist(place, other.at_mm[1]) > _ONE_PLACE_MM for other in kept):
            kept.append(finding)
    return kept


def _length(finding: Finding) -> float:
    assert finding.at_mm is not None
    return math.dist(*finding.at_mm)


def _value(finding: Finding) -> float:
    assert finding.value is not None
    return finding.value


def _one_a_pair(findings: Iterable[Finding]) -> list[Finding]:
    kept: dict[Pair, Finding] = {}
    for finding in findings:
        if len(kept) < MOST:
            kept.setdefault(pair_of(finding), finding)
    return list(kept.values())


def _other(finding: Finding, asked: Question) -> str:
    """What is met; what meets, where it is the met thing that is in hand."""
    first, second = first_of(finding, asked.layout), second_of(finding, asked.layout)
    subjects = [subject.partition(".")[0] for subject in finding.subjects]
    held_second = len(subjects) > 1 and subjects[1] in asked.in_hand and subjects[0] not in asked.in_hand
    return first.bare if held_second else second.bare
