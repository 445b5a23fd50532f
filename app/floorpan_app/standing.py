"""How the car stands: every axis of everything at one stop."""

from floorpan.driver import BELT_STOPS, BELTS_AXIS
from floorpan.items.states import State, state_of
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
