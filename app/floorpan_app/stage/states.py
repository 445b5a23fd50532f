"""Which stop every axis of the car is shown at, and which findings belong to that."""

from floorpan.driver import BELT_STOPS, BELTS_AXIS
from floorpan.items.states import State, is_leg, state_of
from floorpan.layout import Layout, record_of


def standing(layout: Layout, stops: State) -> State:
    """Every axis of everything: at its stop where it has one that exists, else where it rests."""
    asked = dict(stops)
    found: dict[str, str] = {}
    for thing in layout.things():
        for axis in record_of(thing).axes(thing):
            name = f"{thing.id}.{axis.name}"
            stop = asked.get(name, axis.rest)
            found[name] = stop if stop in axis.stops else axis.rest
    for person in layout.people:
        name = f"{person.id}.{BELTS_AXIS}"
        stop = asked.get(name, "")
        found[name] = stop if stop in BELT_STOPS else "tight"
    return state_of(found)


def agrees(state: State, shown: dict[str, str]) -> bool:
    """Whether a finding's state is the shown one, or a way that touches it; axes it does not name are free."""
    return all(_touches(stop, shown[axis]) for axis, stop in state if axis in shown)


def _touches(stop: str, shown: str) -> bool:
    if not is_leg(stop):
        return stop == shown
    first, _, last = stop.partition("-")
    if shown in (first, last):
        return True
    # A seat's travel is one leg over all its notches.
    numbers = (first, shown, last)
    return all(number.isdigit() for number in numbers) and int(first) < int(shown) < int(last)
