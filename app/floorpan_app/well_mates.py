"""Vessels that stand in one well in turn: one of them is drawn there, each is judged by itself."""

from collections.abc import Collection

from floorpan.items import CupHolder, Vessel
from floorpan.items.states import State, stops_of
from floorpan.items.vessels import IN, OUT, PLACE, height_mm
from floorpan.layout import Layout
from floorpan_app.desk import Desk


def well_mates(layout: Layout, state: State, chosen: Collection[str] = ()) -> dict[str, tuple[str, ...]]:
    """Of every well that holds several vessels as the car stands: the one to draw, and the ids of the others.

    The chosen one is drawn, else the one on its way out, else the tallest; the first of those that are alike.
    """
    found: dict[str, tuple[str, ...]] = {}
    for holder in layout.of(CupHolder):
        stops = {
            vessel.id: stops_of(state, vessel.id).get(PLACE, IN)
            for vessel in layout.of(Vessel)
            if vessel.stands_in == holder.id
        }
        there = [one for one in layout.of(Vessel) if stops.get(one.id, OUT) != OUT]
        if len(there) < 2:
            continue
        drawn = max(there, key=lambda one: (one.id in chosen, stops[one.id] != IN, height_mm(one)))
        found[drawn.id] = tuple(one.id for one in there if one is not drawn)
    return found


def left_out(layout: Layout, state: State, chosen: Collection[str] = ()) -> frozenset[str]:
    """Ids of the vessels that are not drawn, because another one is drawn in their well."""
    return frozenset(id for others in well_mates(layout, state, chosen).values() for id in others)


def chosen_in(desk: Desk) -> frozenset[str]:
    """What is in hand, else what the chosen finding is about."""
    if any(vessel.id == desk.selection for vessel in desk.layout.of(Vessel)):
        return frozenset((desk.selection,))
    found = next((one for one in desk.judging.findings if one.id == desk.finding), None)
    subjects = found.subjects if found is not None else ()
    return frozenset(subject.partition(".")[0] for subject in subjects)
