"""Findings as rows: worst first, worst of each pair."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from floorpan.checks.finding import WORST_FIRST, Finding, Verdict, rank
from floorpan.layout import Layout
from floorpan.report import words
from floorpan.report.amounts import give_or_take_text, value_text, wanted_text
from floorpan.report.cure_told import cure_text
from floorpan.report.sentences import pair_title, second_line, sentence, short_title
from floorpan.units import System

Pair = tuple[str, tuple[str, ...]]

FAILING: tuple[Verdict, ...] = ("hits", "short")
NOT_CLEAR: tuple[Verdict, ...] = ("hits", "short", "unseen", "close", "pending")


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A finding ready to be shown; every text is in the shown system."""

    finding: Finding
    title: str
    sentence: str
    second: str
    value: str
    give_or_take: str
    wanted: str
    verdict_word: str
    cure: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PairRow:
    """The worst state of a pair; `others` counts its further states with one of the verdicts asked for."""

    row: Row
    others: int


def pair_of(finding: Finding) -> Pair:
    """What stays the same over the states of a pair: check and subjects."""
    return finding.check, finding.subjects


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Sorted worst first."""
    return tuple(sorted(findings, key=rank))


def row_of(finding: Finding, layout: Layout, system: System = "mm") -> Row:
    """One finding as a row."""
    return Row(
        finding=finding,
        title=short_title(finding, layout),
        sentence=sentence(finding, layout, system),
        second=second_line(finding, layout, system),
        value=value_text(finding, system),
        give_or_take=give_or_take_text(finding, system),
        wanted=wanted_text(finding.limit, system, with_unit=finding.limit.unit != "mm"),
        verdict_word=words.VERDICTS[finding.verdict],
        cure=cure_text(finding, layout, system),
    )


def rows(findings: Iterable[Finding], layout: Layout, system: System = "mm") -> tuple[Row, ...]:
    """Every finding as a row, worst first."""
    return tuple(row_of(finding, layout, system) for finding in worst_first(findings))


def pair_rows(
    findings: Iterable[Finding], layout: Layout, system: System = "mm", only: Sequence[Verdict] = WORST_FIRST
) -> tuple[PairRow, ...]:
    """The worst state of every pair among the findings with one of these verdicts, worst first."""
    grouped: dict[Pair, list[Finding]] = {}
    for finding in worst_first(findings):
        if finding.verdict in only:
            grouped.setdefault(pair_of(finding), []).append(finding)
    return tuple(
        PairRow(row=row_of(held[0], layout, system), others=len(held) - 1) for held in grouped.values()
    )


def tight_spot(findings: Iterable[Finding]) -> Finding | None:
    """The worst finding of all, None where there is none."""
    return min(findings, key=rank, default=None)


def title_of_pair(finding: Finding, layout: Layout) -> str:
    """The name of a pair over all its states, the second subject by name rather than by what was met."""
    return pair_title(finding, layout, met=len(finding.subjects) < 2)
