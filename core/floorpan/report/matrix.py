"""The state matrix: pairs down, the stops of each axis across, in every cell the worst over all that is not named."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from floorpan.checks.finding import Finding, Verdict, rank
from floorpan.items.states import NOTHING_MOVES, State, state_of
from floorpan.layout import Layout
from floorpan.report import words
from floorpan.report.amounts import give_or_take_text, value_text
from floorpan.report.axis_words import axis_title, stop_rank, stop_title
from floorpan.report.naming import axis_name, axis_rank
from floorpan.report.only_with import holding, in_effect
from floorpan.report.rows import Pair, pair_of, title_of_pair
from floorpan.report.sentences import sentence
from floorpan.units import System


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One stop of an axis, or a leg between two."""

    axis: str
    stop: str
    title: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """The columns of one axis."""

    axis: str
    title: str
    columns: tuple[Column, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """The worst finding of a pair at a stop; `states` counts those it is the worst of."""

    finding: Finding
    verdict: Verdict
    value: str
    give_or_take: str
    states: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MatrixRow:
    """A pair; a cell is None where the axis does not move it or the stop was not judged."""

    pair: Pair
    title: str
    worst: Finding
    cells: tuple[Cell | None, ...]
    applies: tuple[bool, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Matrix:
    """Rows worst first; the cells of a row run through the columns of all groups in order.

    standing : the state it was made for, None for the worst over everything not named
    """

    groups: tuple[Group, ...]
    rows: tuple[MatrixRow, ...]
    standing: State | None

    @property
    def columns(self) -> tuple[Column, ...]:
        """All columns, group after group."""
        return tuple(column for group in self.groups for column in group.columns)


def matrix(
    findings: Iterable[Finding],
    layout: Layout,
    system: System = "mm",
    *,
    standing: State | None = None,
    only: State = NOTHING_MOVES,
) -> Matrix:
    """The state matrix of findings.

    With `standing` (a full state) every other axis stands as it says: a column then shows what would be if only
    its own axis moved. With `only` the axes it names stand at its stops, and cells are the worst over the rest.
    """
    told = tuple(findings)
    held = holding(told, only)
    if standing is not None:
        standing = state_of(dict(standing) | dict(in_effect(told, only)))
    groups = _groups(held, layout)
    columns = tuple(column for group in groups for column in group.columns)
    pairs: dict[Pair, list[Finding]] = {}
    for finding in sorted(held, key=rank):
        pairs.setdefault(pair_of(finding), []).append(finding)
    rows = tuple(_row(pair, own, columns, layout, system, standing) for pair, own in pairs.items())
    return Matrix(groups=groups, rows=rows, standing=standing)


def _groups(findings: Sequence[Finding], layout: Layout) -> tuple[Group, ...]:
    stops: dict[str, dict[str, None]] = {}
    for finding in findings:
        for axis, stop in finding.state:
            stops.setdefault(axis, {})[stop] = None
    owners = [axis_name(axis) for axis in stops]
    return tuple(
        Group(
            axis=axis,
            title=axis_title(axis, layout, several=owners.count(axis_name(axis)) > 1),
            columns=tuple(
                Column(axis=axis, stop=stop, title=stop_title(axis, stop))
                for stop in sorted(stops[axis], key=stop_rank)
            ),
        )
        for axis in sorted(stops, key=axis_rank)
    )


def _row(
    pair: Pair,
    own: list[Finding],
    columns: tuple[Column, ...],
    layout: Layout,
    system: System,
    standing: State | None,
) -> MatrixRow:
    there: dict[tuple[str, str], list[Finding]] = {}
    wanted = None if standing is None else dict(standing)
    for finding in own:
        for place in finding.state:
            if wanted is None or _stands(finding, place[0], wanted):
                there.setdefault(place, []).append(finding)
    axes = {axis for finding in own for axis, _ in finding.state}
    at = [there.get((column.axis, column.stop)) for column in columns]
    return MatrixRow(
        pair=pair,
        title=title_of_pair(own[0], layout),
        worst=own[0],
        cells=tuple(_cell(held, system) if held else None for held in at),
        applies=tuple(column.axis in axes for column in columns),
    )


def _stands(finding: Finding, but: str, wanted: Mapping[str, str]) -> bool:
    """Whether every axis but one stands as wanted."""
    return all(stop == wanted[axis] for axis, stop in finding.state if axis != but and axis in wanted)


def _cell(there: list[Finding], system: System) -> Cell:
    worst = there[0]
    return Cell(
        finding=worst,
        verdict=worst.verdict,
        value=value_text(worst, system),
        give_or_take=give_or_take_text(worst, system),
        states=len(there),
    )


def as_it_stands(findings: Iterable[Finding], state: State) -> tuple[Finding, ...]:
    """The findings that hold in a full state: every axis they name stands as it says. Worst first."""
    wanted = dict(state)
    held = (f for f in findings if all(wanted.get(axis, stop) == stop for axis, stop in f.state))
    return tuple(sorted(held, key=rank))


def cell_sentence(cell: Cell, layout: Layout, system: System = "mm") -> str:
    """A cell as one sentence, with how many states it is the worst of."""
    told = sentence(cell.finding, layout, system)
    return told if cell.states < 2 else f"{told} {words.WORST_OF.format(n=cell.states)}"
