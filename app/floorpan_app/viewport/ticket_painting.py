"""Tickets over the picture: laid out, tied to their gaps, and painted."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from floorpan_app.theme.fonts import scaled
from floorpan_app.theme.record import Theme
from floorpan_app.viewport.gap_painting import JAW_PX, RING_PX, SeenGap, is_ringed
from floorpan_app.viewport.marks import GapLine
from floorpan_app.viewport.strokes import stroke_line
from floorpan_app.viewport.ticket_places import Box, Tail, Wanted, place_tickets
from floorpan_app.widgets.ticket import paint_ticket, ticket_size
from floorpan_app.widgets.verdict_shape import paint_verdict

_SHAPE_PX = 16.0
_TAIL_PX = 1.4
# Up and to the right, as one writes beside a thing.
_TAIL_DEG = -50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A ticket where it lies; without a box only its shape is drawn at the anchor."""

    gap: GapLine
    anchor: QPointF
    box: QRectF | None
    tail: Tail | None
    ringed: bool

    def room(self) -> QRectF:
        """What can be clicked."""
        if self.box is not None:
            return self.box
        half = max(scaled(_SHAPE_PX), 24.0) / 2
        return QRectF(self.anchor.x() - half, self.anchor.y() - half, 2 * half, 2 * half)


def lay_tickets(
    seen: list[SeenGap], picture: Box, before: Mapping[str, Tail], taken: Sequence[Box] = ()
) -> list[Sheet]:
    """A place for the ticket of each gap that lies in the picture, worst first as given, clear of what is taken."""
    inside = [gap for gap in seen if _within(gap.middle, picture)]
    wanted = []
    for gap in inside:
        size = ticket_size(gap.gap.ticket())
        wanted.append(
            Wanted(
                id=gap.gap.id,
                anchor=gap.middle,
                size=(math.ceil(size.width()), math.ceil(size.height())),
                tail_deg=_TAIL_DEG,
                avoids=drawn_boxes(gap),
            )
        )
    placed = place_tickets(wanted, picture, list(taken), before)
    return [
        Sheet(
            gap=gap.gap,
            anchor=QPointF(*place.anchor),
            box=_rect(place.box) if place.box else None,
            tail=place.tail,
            ringed=is_ringed(gap.gap),
        )
        for gap, place in zip(inside, placed, strict=True)
    ]


def paint_tickets(
    painter: QPainter, sheets: list[Sheet], theme: Theme, *, lit: frozenset[str], doubled: frozenset[str]
) -> None:
    """Tails under every ticket, then the tickets."""
    for sheet in sheets:
        if sheet.box is not None:
            _paint_tail(painter, sheet, theme)
    for sheet in reversed(sheets):
        ticket = sheet.gap.ticket()
        if sheet.box is not None:
            known = sheet.gap.id
            paint_ticket(painter, sheet.box, ticket, lit=known in lit, doubled=known in doubled)
        else:
            _paint_shape(painter, sheet, theme)


def _paint_tail(painter: QPainter, sheet: Sheet, theme: Theme) -> None:
    assert sheet.box is not None
    line = QLineF(sheet.anchor, sheet.box.center())
    if sheet.ringed and line.length() > RING_PX / 2:
        line.setP1(line.pointAt(RING_PX / 2 / line.length()))
    stroke_line(painter, line, theme.verdict(sheet.gap.verdict), _TAIL_PX, theme.paper)


def _paint_shape(painter: QPainter, sheet: Sheet, theme: Theme) -> None:
    side = scaled(_SHAPE_PX)
    box = QRectF(sheet.anchor.x() - side / 2, sheet.anchor.y() - side / 2, side, side)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(theme.paper))
    painter.drawEllipse(box.adjusted(-4, -4, 4, 4))
    paint_verdict(painter, box, sheet.gap.verdict)


def drawn_boxes(gap: SeenGap) -> tuple[Box, ...]:
    """Boxes along what is drawn of a gap: its line and jaws, and its ring."""
    if is_ringed(gap.gap):
        x, y = gap.middle
        return (Box(x - RING_PX / 2, y - RING_PX / 2, RING_PX, RING_PX),)
    if gap.gap.verdict == "pending":
        return ()
    count = max(2, math.ceil(math.dist(gap.a, gap.b) / JAW_PX) + 1)
    shares = [step / (count - 1) for step in range(count)]
    middles = [(gap.a[0] + s * (gap.b[0] - gap.a[0]), gap.a[1] + s * (gap.b[1] - gap.a[1])) for s in shares]
    return tuple(Box(x - JAW_PX / 2, y - JAW_PX / 2, JAW_PX, JAW_PX) for x, y in middles)


def _within(point: tuple[float, float], picture: Box) -> bool:
    x, y = point
    return (
        picture.left <= x <= picture.left + picture.width and picture.top <= y <= picture.top + picture.height
    )


def _rect(box: Box) -> QRectF:
    return QRectF(box.left, box.top, box.width, box.height)
