"""Where the gears of a shift pattern lie, and which one is next in a direction."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF

from floorpan_app.theme.record import Verdict

NEUTRAL_ROW = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Gear:
    """One stop of the lever as the gate card shows it.

    Column counts from the driver's left, row from the front: 0 ahead of neutral, 1 behind it, 0.5 in it; a
    pattern of one column may have more rows. The verdict is the worst of the gear, `sentence` tells it; value and part
    are of its smallest gap, which has its own verdict.
    """

    gear: str
    column: float
    row: float
    verdict: Verdict
    value: str = ""
    part: str = ""
    gap_verdict: Verdict | None = None
    gap_stale: bool = False
    stale: bool = False
    sentence: str = ""


def place_gears(gears: Sequence[Gear], rect: QRectF) -> dict[str, QPointF]:
    """The middle of every gear inside `rect`."""
    columns = [gear.column for gear in gears]
    rows = [gear.row for gear in gears]
    across = max(columns) - min(columns) or 1.0
    along = max(rows) - min(rows) or 1.0
    return {
        gear.gear: QPointF(
            rect.left() + (gear.column - min(columns)) / across * rect.width(),
            rect.top() + (gear.row - min(rows)) / along * rect.height(),
        )
        for gear in gears
    }


def gate_lines(gears: Sequence[Gear], places: dict[str, QPointF]) -> list[QLineF]:
    """The slots of the gate: up and down each column, and across through neutral."""
    columns = sorted({gear.column for gear in gears})
    by_column = {column: [gear for gear in gears if gear.column == column] for column in columns}
    if len(columns) == 1:
        line = sorted((places[gear.gear] for gear in gears), key=lambda point: point.y())
        return [QLineF(line[0], line[-1])] if len(line) > 1 else []
    ys = {gear.row: places[gear.gear].y() for gear in gears}
    front, rear = min(ys), max(ys)
    share = (NEUTRAL_ROW - front) / (rear - front) if rear > front else 0.0
    neutral = ys[front] + share * (ys[rear] - ys[front])
    xs = {column: places[members[0].gear].x() for column, members in by_column.items()}
    lines = [QLineF(xs[columns[0]], neutral, xs[columns[-1]], neutral)]
    for column, members in by_column.items():
        reach = [places[gear.gear].y() for gear in members] + [neutral]
        if max(reach) > min(reach):
            lines.append(QLineF(xs[column], min(reach), xs[column], max(reach)))
    return lines


def next_gear(places: dict[str, QPointF], at: str, dx: int, dy: int) -> str:
    """The gear that an arrow key leads to from `at`; `at` itself where there is none that way."""
    here = places[at]
    best, least = at, float("inf")
    for gear, place in places.items():
        ahead = (place.x() - here.x()) * dx + (place.y() - here.y()) * dy
        aside = abs((place.x() - here.x()) * dy) + abs((place.y() - here.y()) * dx)
        if gear != at and ahead > 0.5 and ahead + 2 * aside < least:
            best, least = gear, ahead + 2 * aside
    return best
