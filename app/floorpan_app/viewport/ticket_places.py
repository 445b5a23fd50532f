"""Where tickets go: beside their place, never over each other; who finds no room keeps only its shape."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

MOST_TICKETS = 7

_NEAREST_PX = 34.0
_STEP_PX = 22.0
_STEPS = 7
_BETWEEN_PX = 6.0
# Tried in this order, as turns away from the direction first asked for.
_TURNS_DEG = (0.0, 30.0, -30.0, 60.0, -60.0, 95.0, -95.0, 135.0, -135.0, 180.0)


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle in pixels."""

    left: float
    top: float
    width: float
    height: float

    @property
    def middle(self) -> tuple[float, float]:
        return self.left + self.width / 2, self.top + self.height / 2

    def clear_of(self, other: "Box", between: float = 0.0) -> bool:
        """Whether two boxes keep apart by at least `between`."""
        return (
            self.left + self.width + between <= other.left
            or other.left + other.width + between <= self.left
            or self.top + self.height + between <= other.top
            or other.top + other.height + between <= self.top
        )

    def within(self, other: "Box") -> bool:
        return (
            self.left >= other.left
            and self.top >= other.top
            and self.left + self.width <= other.left + other.width
            and self.top + self.height <= other.top + other.height
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A ticket that asks for a place: where its line's middle is, how large it is, which way its tail goes first.

    avoids : what belongs to its gap and should stay free, of its own ticket and of others
    """

    id: str
    anchor: tuple[float, float]
    size: tuple[float, float]
    tail_deg: float
    avoids: tuple["Box", ...] = ()


@dataclass(frozen=True, slots=True)
class Tail:
    """Where a ticket was put, seen from its anchor; kept from picture to picture so that tickets stay calm."""

    turn_deg: float
    away_px: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A ticket's place; without a box only its shape is drawn, at the anchor."""

    id: str
    anchor: tuple[float, float]
    box: Box | None
    tail: Tail | None


def place_tickets(
    wanted: list[Wanted],
    picture: Box,
    taken: list[Box],
    before: Mapping[str, Tail],
) -> list[Placed]:
    """Places for tickets, most urgent first: the first that fits along the tail, farther out, then turned.

    taken  : what tickets keep clear of, beside each other and what belongs to gaps
    before : tails of the picture before, tried first
    At most MOST_TICKETS get a box.
    """
    placed: list[Placed] = []
    boxes = list(taken)
    free = [box for ticket in wanted[:MOST_TICKETS] for box in ticket.avoids]
    for order, ticket in enumerate(wanted):
        found = None
        if order < MOST_TICKETS:
            found = _find(ticket, picture, boxes, free, before.get(ticket.id))
        if found is None:
            placed.append(Placed(id=ticket.id, anchor=ticket.anchor, box=None, tail=None))
            continue
        box, tail = found
        boxes.append(box)
        placed.append(Placed(id=ticket.id, anchor=ticket.anchor, box=box, tail=tail))
    return placed


def _find(
    ticket: Wanted, picture: Box, boxes: list[Box], free: list[Box], kept: Tail | None
) -> tuple[Box, Tail] | None:
    tails = [Tail(turn, _NEAREST_PX + step * _STEP_PX) for step in range(_STEPS) for turn in _TURNS_DEG]
    if kept is not None:
        tails.insert(0, kept)
    # Rather over a line than nowhere.
    for avoided in (boxes + free, boxes):
        for tail in tails:
            box = _box(ticket, tail)
            if box.within(picture) and all(box.clear_of(other, _BETWEEN_PX) for other in avoided):
                return box, tail
    return None


def _box(ticket: Wanted, tail: Tail) -> Box:
    """The ticket whose near edge is `away_px` from the anchor along the tail."""
    angle = math.radians(ticket.tail_deg + tail.turn_deg)
    x, y = math.cos(angle), math.sin(angle)
    width, height = ticket.size
    # From the middle of the box to its edge along the tail.
    reach = min(
        width / 2 / abs(x) if abs(x) > 1e-9 else math.inf, height / 2 / abs(y) if abs(y) > 1e-9 else math.inf
    )
    away = tail.away_px + reach
    middle_x, middle_y = ticket.anchor[0] + away * x, ticket.anchor[1] + away * y
    return Box(middle_x - width / 2, middle_y - height / 2, width, height)
