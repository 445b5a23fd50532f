"""What a builder can change about placed things and people."""

import dataclasses
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from floorpan.console import Envelope
from floorpan.edits.ids import new_id
from floorpan.errors import BadValue, WrongStep
from floorpan.items import (
    Armrest,
    Buckle,
    Control,
    CupHolder,
    DashEdge,
    Door,
    Flap,
    Handbrake,
    KeepOut,
    MeshPart,
    Place,
    Seat,
    Shifter,
    Vessel,
    Wheel,
)
from floorpan.items.well_fit import vessel_place
from floorpan.layout import (
    Layout,
    Thing,
    record_of,
)

_ITEMS = (
    Shifter,
    Handbrake,
    Buckle,
    Armrest,
    Wheel,
    KeepOut,
    Flap,
    DashEdge,
    Door,
    MeshPart,
    Control,
    CupHolder,
    Vessel,
)
_SLOTS = ((Seat, "seats"), (Envelope, "consoles"), (_ITEMS, "items"))


def add(layout: Layout, thing: Thing) -> tuple[Layout, str]:
    """Place a thing; its id is given here, whatever it carried."""
    layout, id = new_id(layout, record_of(thing).kind.replace(" ", "-"))
    placed = replace(thing, id=id)
    _check_relations(layout, placed)
    slot = _slot(placed)
    return _with(layout, slot, (*getattr(layout, slot), placed)), id


def remove(layout: Layout, id: str) -> Layout:
    """Take a thing out. A seat that somebody sits in stays.

    A vessel whose holder goes keeps standing where it stood in it; a buckle loses its seat.
    """
    thing = layout.thing(id)
    if any(person.seat_id == id for person in layout.people):
        raise WrongStep("seat-taken", "Somebody sits in this seat.", "Give the driver another seat first.")
    slot = _slot(thing)
    left = tuple(t for t in getattr(layout, slot) if t.id != id)
    layout = _with(layout, slot, left)
    for vessel in layout.of(Vessel):
        if isinstance(thing, CupHolder) and vessel.stands_in == id:
            stays = replace(vessel, stands_in="", place=vessel_place(vessel, thing))
            layout = _swap(layout, stays)
    for buckle in layout.of(Buckle):
        if buckle.seat_id == id:
            layout = _swap(layout, replace(buckle, seat_id=""))
    return layout


def change(layout: Layout, id: str, **changes: Any) -> Layout:
    """A placed thing with other fields. Raises BadValue for a field it does not have or a value out of range."""
    thing = layout.thing(id)
    names = {field.name for field in dataclasses.fields(thing)} - {"id"}
    for name in changes:
        if name not in names:
            raise BadValue(
                "no-such-field", f"{thing.name} has no {name}.", f"Use one of {', '.join(sorted(names))}."
            )
    changed = replace(thing, **changes)
    _check_relations(layout, changed)
    return _swap(layout, changed)


def move(
    layout: Layout,
    id: str,
    *,
    x_mm: float | None = None,
    y_mm: float | None = None,
    z_mm: float | None = None,
) -> Layout:
    """Put a thing at other coordinates in car axes [mm]; what is not given stays."""
    return _placed(
        layout,
        id,
        lambda at: replace(
            at,
            x_mm=at.x_mm if x_mm is None else x_mm,
            y_mm=at.y_mm if y_mm is None else y_mm,
            z_mm=at.z_mm if z_mm is None else z_mm,
        ),
    )


def shift(layout: Layout, id: str, by_mm: tuple[float, float, float]) -> Layout:
    """Move a thing by three distances in car axes [mm]."""
    return _placed(
        layout,
        id,
        lambda at: replace(at, x_mm=at.x_mm + by_mm[0], y_mm=at.y_mm + by_mm[1], z_mm=at.z_mm + by_mm[2]),
    )


def turn(layout: Layout, id: str, by_deg: float) -> Layout:
    """Turn a thing about the upright line through its place, right hand rule [deg]."""
    return _placed(
        layout, id, lambda at: replace(at, turn_deg=(at.turn_deg + by_deg + 180.0) % 360.0 - 180.0)
    )


def mirror(layout: Layout, id: str) -> Layout:
    """Put a thing on the other side of the car's centre plane; a shift pattern does not mirror."""
    layout = _placed(layout, id, lambda at: replace(at, y_mm=-at.y_mm, turn_deg=-at.turn_deg))
    return _swap(layout, _other_hand(layout.thing(id)))


def _other_hand(thing: Thing) -> Thing:
    """A thing with what is told left from right the other way round."""
    if isinstance(thing, Buckle | MeshPart):
        return replace(thing, side_deg=-thing.side_deg)
    if isinstance(thing, Door):
        return replace(thing, side="right" if thing.side == "left" else "left")
    if isinstance(thing, DashEdge):
        return replace(thing, slant_mm=-thing.slant_mm, rise_mm=-thing.rise_mm)
    return thing


def lock(layout: Layout, id: str, locked: bool) -> Layout:
    """Hold a thing where it is, or let it go."""
    return change(layout, id, locked=locked)


def _slot(thing: Thing) -> str:
    return next(slot for kinds, slot in _SLOTS if isinstance(thing, kinds))


def _with(layout: Layout, slot: str, things: tuple[Any, ...]) -> Layout:
    changes: dict[str, Any] = {slot: things}
    return replace(layout, **changes)


def _swap(layout: Layout, thing: Thing) -> Layout:
    slot = _slot(thing)
    return _with(layout, slot, tuple(thing if t.id == thing.id else t for t in getattr(layout, slot)))


def _placed(layout: Layout, id: str, moved: Callable[[Place], Place]) -> Layout:
    thing = layout.thing(id)
    if isinstance(thing, Vessel) and thing.stands_in:
        raise WrongStep("stands-in-well", f"{thing.name} stands in its well.", "Move the cup holder.", id=id)
    if thing.locked:
        raise WrongStep("locked", f"{thing.name} is locked.", "Unlock it on its tag first.", id=id)
    return _swap(layout, replace(thing, place=moved(thing.place)))


def _check_relations(layout: Layout, thing: Thing) -> None:
    if (
        isinstance(thing, Buckle)
        and thing.seat_id
        and thing.seat_id not in {seat.id for seat in layout.seats}
    ):
        raise WrongStep("no-seat", f"{thing.name} holds a belt of no seat.", "Place a seat first.")
    if (
        isinstance(thing, Vessel)
        and thing.stands_in
        and thing.stands_in not in {h.id for h in layout.of(CupHolder)}
    ):
        raise WrongStep(
            "no-holder", f"{thing.name} stands in a holder that is not there.", "Place a cup holder first."
        )
