"""What the state matrix shows, and how its columns fold when room runs out."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from floorpan_app.theme.record import VERDICTS, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class MatrixColumn:
    """One stop of an axis."""

    id: str
    word: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MatrixGroup:
    """One axis with its stops."""

    word: str
    columns: tuple[MatrixColumn, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MatrixRow:
    """One pair: what is judged, and against what."""

    id: str
    first: str
    second: str = ""

    def spoken(self) -> str:
        return f"{self.first} to {self.second}" if self.second else self.first


@dataclass(frozen=True, slots=True, kw_only=True)
class MatrixCell:
    """One finding. `margin` sorts cells of one verdict inside a folded column, smallest first.

    tell : its sentence, asked for only when somebody points at the cell or has it read out
    """

    verdict: Verdict
    value: str = ""
    margin: float = 0.0
    stale: bool = False
    tell: Callable[[], str] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MatrixTable:
    """Rows worst first, as given. A pair of ids without a cell does not apply."""

    groups: tuple[MatrixGroup, ...] = ()
    rows: tuple[MatrixRow, ...] = ()
    cells: Mapping[tuple[str, str], MatrixCell] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownColumn:
    """A column on the screen: one stop, or a whole axis folded to its worst."""

    group: int
    word: str
    members: tuple[str, ...]
    starts_group: bool

    def folded(self) -> bool:
        return len(self.members) > 1


def worst_member(table: MatrixTable, row_id: str, column: ShownColumn) -> str:
    """The column id whose cell speaks for a shown column, or nothing where none of them applies."""
    present = [member for member in column.members if (row_id, member) in table.cells]

    def rank(member: str) -> tuple[int, float]:
        cell = table.cells[row_id, member]
        return VERDICTS.index(cell.verdict), cell.margin

    return min(present, key=rank, default="")


def fold_groups(widths: Sequence[float], folded_widths: Sequence[float], room: float, keep: int) -> set[int]:
    """Which groups to fold so that all fit into `room`: from the last backwards, `keep` at the very end."""
    folded: set[int] = set()
    order = [group for group in reversed(range(len(widths))) if group != keep]
    if 0 <= keep < len(widths):
        order.append(keep)

    def total() -> float:
        return sum(folded_widths[g] if g in folded else widths[g] for g in range(len(widths)))

    for group in order:
        if total() <= room:
            break
        if widths[group] > folded_widths[group]:
            folded.add(group)
    return folded


def shown_columns(groups: Sequence[MatrixGroup], folded: set[int]) -> tuple[ShownColumn, ...]:
    """The columns on the screen, in order."""
    shown: list[ShownColumn] = []
    for number, group in enumerate(groups):
        if number in folded and len(group.columns) > 1:
            members = tuple(column.id for column in group.columns)
            word = f"worst of {len(members)}"
            shown.append(ShownColumn(group=number, word=word, members=members, starts_group=True))
            continue
        for place, column in enumerate(group.columns):
            shown.append(
                ShownColumn(group=number, word=column.word, members=(column.id,), starts_group=place == 0)
            )
    return tuple(shown)


def widened(
    widths: Sequence[int], shown: Sequence[ShownColumn], heads: Sequence[int], room: float
) -> tuple[int, ...]:
    """The widths of the shown columns, the last of an axis the wider by what its word needs, as long as room lasts."""
    wide, spare = list(widths), int(room) - sum(widths)
    for group in dict.fromkeys(column.group for column in shown):
        own = [place for place, column in enumerate(shown) if column.group == group]
        lacks = min(max(heads[group] - sum(widths[place] for place in own), 0), max(spare, 0))
        wide[own[-1]] += lacks
        spare -= lacks
    return tuple(wide)
