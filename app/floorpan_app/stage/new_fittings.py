"""What else moves or must be got at, as it is set down: usual sizes, where the click was."""

from dataclasses import replace
from typing import Final

from floorpan import edits
from floorpan.console import Envelope
from floorpan.console.envelope import station_at
from floorpan.frames import Vector
from floorpan.items import Armrest, Buckle, DashEdge, Door, Flap, Handbrake, KeepOut, Place, Wheel
from floorpan.layout import Layout, Thing

NEW_FITTINGS: Final = ("handbrake", "buckle", "armrest", "wheel", "keep-out", "flap", "dash edge", "door")

# A wheel is clicked on the floor under it; common practice, no source.
_WHEEL_UP_MM = 650.0
# So do a dash's edge and a door's foot over what was clicked under them; common practice, no source.
_EDGE_UP_MM = 500.0
_DOOR_UP_MM = 150.0
# What is left of a console's top beside a flap in it; common practice, no source.
_RIM_MM = 30.0
_FLAP_LEAST_MM = 60.0


def new_fitting(kind: str, layout: Layout, at_mm: Vector, on: Thing | None) -> Thing:
    """A fitting of a kind at a point in car axes [mm], on a placed thing or (None) on the floor.

    A buckle holds the belt of the seat that it is set down beside; a wheel where somebody took one is that one, else
    it hangs over the click, as a dash edge and a door do; a keep-out has its face and a
    flap its hinge where it was clicked.
    """
    x, y, z = at_mm
    here, on_console = Place(x_mm=x, y_mm=y, z_mm=z), isinstance(on, Envelope)
    if kind == "handbrake":
        return Handbrake(id="new", stands_on="console" if on_console else "floor", place=here)
    if kind == "buckle":
        seats = sorted(layout.seats, key=lambda seat: abs(seat.place.y_mm - y))
        return Buckle(id="new", seat_id=seats[0].id if seats else "", place=here)
    if kind == "armrest":
        return Armrest(id="new", stands_on="console" if on_console else "floor", place=here)
    if kind == "wheel":
        return _wheel(layout, here)
    if kind == "flap":
        return _flap(here, on)
    if kind == "dash edge":
        return DashEdge(id="new", place=replace(here, z_mm=z + _EDGE_UP_MM))
    if kind == "door":
        return Door(id="new", side="left" if y < 0.0 else "right", place=replace(here, z_mm=z + _DOOR_UP_MM))
    return KeepOut(id="new", place=here)


def _flap(here: Place, on: Thing | None) -> Flap:
    """No longer than the console's top is wide."""
    flap = Flap(id="new", stands_on="console" if isinstance(on, Envelope) else "none", place=here)
    station = station_at(on, here.x_mm - on.place.x_mm) if isinstance(on, Envelope) else None
    if station is None:
        return flap
    return replace(flap, length_mm=max(_FLAP_LEAST_MM, min(flap.length_mm, station.top_width_mm() - _RIM_MM)))


def _wheel(layout: Layout, here: Place) -> Wheel:
    taken = edits.wheel_taken(layout)
    return taken or Wheel(id="new", place=replace(here, z_mm=here.z_mm + _WHEEL_UP_MM))
