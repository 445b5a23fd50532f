"""Findings as what the painted pieces show: tight spot, ledger, matrix."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Literal

from floorpan.checks import Finding
from floorpan.checks.finding import Verdict, margin, rank
from floorpan.items.states import NOTHING_MOVES, State, is_leg
from floorpan.layout import Layout
from floorpan.report.cure_told import cure_text
from floorpan.report.matrix import Column, Group, cell_sentence, matrix
from floorpan.report.naming import axis_name, capital
from floorpan.report.rows import Pair, pair_of, row_of
from floorpan.report.sentences import sentence, wanted_text
from floorpan.report.tally import clear_text, count_of
from floorpan.report.words import MORE_STATES, ONE_MORE_STATE
from floorpan.units import System, show_length
from floorpan_app import messages
from floorpan_app.widgets.gap_rule import GapReading
from floorpan_app.widgets.ledger_rows import LedgerRow
from floorpan_app.widgets.matrix_table import MatrixCell, MatrixColumn, MatrixGroup, MatrixRow, MatrixTable
from floorpan_app.widgets.tight_spot import Spot

Reach = Literal["not clear", "worst of pairs", "everything"]
"""How far down the ledger goes."""


def reading_of(finding: Finding, system: System) -> GapReading:
    """A finding on its rule: a gap from -20 to 60 mm, anything else about what is wanted."""
    wanted = finding.limit.value
    low, high, tick = -20.0, 60.0, 5.0
    if not finding.is_gap:
        values = [one for one in (wanted, finding.limit.upper, finding.value) if one is not None]
        room = max(finding.uncertainty, (max(values) - min(values)) * 0.3, 1.0)
        low, high = min(values) - room, max(values) + room
        tick = 10.0 ** math.floor(math.log10(max(high - low, 1e-6) / 4))
    return GapReading(
        verdict=finding.verdict,
        value=finding.value,
        give_or_take=finding.uncertainty,
        wanted=wanted,
        wanted_text=wanted_text(finding.limit, system),
        touch=0.0 if finding.is_gap else None,
        low=low,
        high=high,
        tick=tick,
    )


def spot_of(findings: Sequence[Finding], layout: Layout, system: System) -> Spot | None:
    """The worst of findings that stand worst first, for the tight spot; None while there is nothing to compare."""
    if not findings:
        return None
    worst = findings[0]
    return Spot(
        id=worst.id,
        verdict=worst.verdict,
        sentence=sentence(worst, layout, system),
        reading=reading_of(worst, system),
        cure=cure_text(worst, layout, system),
        stale=worst.stale,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A finding that speaks for others: of the same pair and verdict, in `others` further states."""

    finding: Finding
    others: int


def told_of(findings: Iterable[Finding], reach: Reach) -> tuple[Told, ...]:
    """The findings that get a row, worst first.

    everything     : each of them
    worst of pairs : the worst of every pair, and the worst of each of its verdicts that is not clear
    not clear      : those of them that are not clear
    """
    ordered = sorted(findings, key=rank)
    if reach == "everything":
        return tuple(Told(finding=finding, others=0) for finding in ordered)
    held: dict[tuple[Pair, Verdict], list[Finding]] = {}
    for finding in ordered:
        held.setdefault((pair_of(finding), finding.verdict), []).append(finding)
    not_clear = {pair for pair, verdict in held if verdict != "clear"}
    return tuple(
        Told(finding=same[0], others=len(same) - 1)
        for (pair, verdict), same in held.items()
        if verdict != "clear" or (reach == "worst of pairs" and pair not in not_clear)
    )


def ledger_of(
    findings: Sequence[Finding], layout: Layout, system: System, reach: Reach
) -> tuple[tuple[LedgerRow, ...], str]:
    """Rows worst first, and in how many states it is clear where not every one of those has a row."""
    told = told_of(findings, reach)
    shown = sum(one.finding.verdict == "clear" for one in told)
    clear = clear_text(findings) if count_of(findings, "clear").states > shown else ""
    return tuple(_ledger_row(one, layout, system) for one in told), clear


def _ledger_row(told: Told, layout: Layout, system: System) -> LedgerRow:
    finding = told.finding
    row = row_of(finding, layout, system)
    others = MORE_STATES.format(n=told.others) if told.others > 1 else ONE_MORE_STATE if told.others else ""
    return LedgerRow(
        id=finding.id,
        verdict=finding.verdict,
        title=row.title,
        second=row.cure or (f"{others}, {row.second}" if others else row.second),
        value=row.value if finding.value is not None else "",
        give_or_take=row.give_or_take,
        stale=finding.stale,
        sentence=row.sentence,
    )


def sum_of(finding: Finding, system: System) -> tuple[str, ...]:
    """What a give or take is made of, one paragraph a part, the sum last."""
    if not finding.doubts:
        return (messages.DOUBT_TITLE, messages.DOUBT_NONE)
    unit = finding.limit.unit

    def shown(value: float) -> str:
        return (
            show_length(value, system, digits=2, parts=64, with_unit=True)
            if unit == "mm"
            else f"{value:.2g} {unit}"
        )

    parts = []
    for doubt in finding.doubts:
        if doubt.standard:
            parts.append(messages.DOUBT_LINE.format(name=capital(doubt.name), u=shown(2 * doubt.standard)))
        if doubt.bound:
            parts.append(messages.DOUBT_BOUND.format(name=capital(doubt.name), u=shown(doubt.bound)))
    return (messages.DOUBT_TITLE, *parts, messages.DOUBT_SUM.format(u=shown(finding.uncertainty)))


def matrix_of(
    findings: Sequence[Finding],
    layout: Layout,
    system: System,
    standing: State | None,
    only: State = NOTHING_MOVES,
) -> tuple[MatrixTable, dict[tuple[str, str], Finding]]:
    """The state matrix, and the finding behind each of its cells by (row, column)."""
    told = matrix(findings, layout, system, standing=standing, only=only)
    rows, cells, behind = [], {}, {}
    for row in told.rows:
        row_id = ":".join((row.pair[0], *row.pair[1]))
        first, _, second = row.title.partition(" \u2013 ")
        rows.append(MatrixRow(id=row_id, first=first, second=second))
        for column, cell in zip(told.columns, row.cells, strict=True):
            if cell is None:
                continue
            key = (row_id, f"{column.axis}={column.stop}")
            behind[key] = cell.finding
            value = cell.finding.value
            cells[key] = MatrixCell(
                verdict=cell.verdict,
                value=cell.value if value is not None else "",
                margin=0.0 if value is None else margin(value, cell.finding.limit),
                stale=cell.finding.stale,
                tell=partial(cell_sentence, cell, layout, system),
            )
    return MatrixTable(groups=_groups(told.groups), rows=tuple(rows), cells=cells), behind


def _groups(told: Sequence[Group]) -> tuple[MatrixGroup, ...]:
    """Axes with their stops; what happens on the way of any stands behind them and folds first."""
    groups = [
        _group(group.title, [(one, one.title) for one in group.columns if not is_leg(one.stop)])
        for group in told
    ]
    ways = [(group, one) for group in told for one in group.columns if is_leg(one.stop)]
    groups.append(_group(messages.ON_THE_WAY, [(one, _way(group, one)) for group, one in ways]))
    return tuple(group for group in groups if group.columns)


def _group(word: str, columns: Iterable[tuple[Column, str]]) -> MatrixGroup:
    return MatrixGroup(
        word=word,
        columns=tuple(MatrixColumn(id=f"{one.axis}={one.stop}", word=told) for one, told in columns),
    )


def _way(group: Group, column: Column) -> str:
    """A way by its ends, with its axis but for the gate, whose ways are the most and known by their gears."""
    if axis_name(column.axis) == "gear":
        return column.title
    return messages.ON_THE_WAY_OF.format(axis=group.title, stop=column.title)
