"""Backrests that recline: whoever drives does so at the back angle as driven, so what a driver does is judged there."""

from collections.abc import Iterable, Iterator

from floorpan.checks.check import Group, Item
from floorpan.derive import Scene
from floorpan.items import Seat
from floorpan.items.seat import DRIVEN, RECLINE
from floorpan.items.states import State


def reclines(seat: Seat) -> bool:
    """Whether the backrest is used at more angles than the one it is driven at."""
    return seat.recline_less_deg > 0.0 or seat.recline_more_deg > 0.0


def slides(seat: Seat) -> str:
    """What of a seat stands for where one sits in it: the cushion, which slides with it and never leans."""
    return f"{seat.id}.cushion"


def as_driven(scene: Scene, items: Iterable[Item]) -> Iterator[Item]:
    """The readings in which no driver's backrest is anywhere but where it is driven at.

    The backrest of a seat that nobody drives from is judged at every angle.
    """
    fixed = _driven_from(scene)
    if not fixed:
        yield from items
        return
    for item in items:
        if isinstance(item, Group):
            kept = tuple(one for one in item.readings if drives(one.state, fixed))
            yield Group(item.subjects, item.mover, item.met, item.rest, lambda _, kept=kept: kept)  # type: ignore[misc]
        elif drives(item.state, fixed):
            yield item


def driven_states(scene: Scene, states: Iterable[State]) -> Iterable[State]:
    """As as_driven, of states."""
    fixed = _driven_from(scene)
    return (state for state in states if drives(state, fixed)) if fixed else states


def drives(state: State, fixed: frozenset[str]) -> bool:
    """Whether every axis of `fixed` that a state names is where it is driven at."""
    return all(stop == DRIVEN for axis, stop in state if axis in fixed)


def _driven_from(scene: Scene) -> frozenset[str]:
    """The recline axes of seats that somebody drives from."""
    taken = {person.seat_id for person in scene.drivers()}
    return frozenset(
        f"{seat.id}.{RECLINE}" for seat in scene.layout.seats if seat.id in taken and reclines(seat)
    )
