"""A new thing as it is set down: usual sizes, standing where the click was."""

from dataclasses import replace
from typing import Final

from floorpan.console import Envelope
from floorpan.frames import Vector
from floorpan.items import Control, CupHolder, Place, Seat, Shifter, vessel_of
from floorpan.layout import Layout, Thing
from floorpan_app.stage import words
from floorpan_app.stage.new_fittings import NEW_FITTINGS, new_fitting

KINDS: Final = ("seat", "shifter", *NEW_FITTINGS, "switch", "cup holder", "vessel", "console")
VESSEL: Final = "bottle-500"


def new_thing(kind: str, layout: Layout, at_mm: Vector, on: Thing | None) -> Thing:
    """A thing of a kind standing at a point in car axes [mm], on a placed thing or (None) on the floor.

    A seat's place is its hip point, over the floor by what it stands; a well let into a console ends at its top;
    a switch is where it was clicked, half sunk in, for that is where the hand goes;
    a vessel clicked on a cup holder stands in it.
    """
    x, y, z = at_mm
    thing: Thing
    if kind == "seat":
        driver = y < 0.0 if layout.driver_side == "left" else y >= 0.0
        name = words.DRIVERS_SEAT if driver else words.PASSENGERS_SEAT
        thing = Seat(id="new", name=name, for_whom="driver" if driver else "passenger")
        thing = replace(thing, place=Place(x_mm=x, y_mm=y, z_mm=z + thing.stand_mm))
    elif kind == "shifter":
        thing = Shifter(id="new", place=Place(x_mm=x, y_mm=y, z_mm=z))
    elif kind in NEW_FITTINGS:
        thing = new_fitting(kind, layout, at_mm, on)
    elif kind == "switch":
        thing = Control(id="new", stands_on="console" if isinstance(on, Envelope) else "none")
        thing = replace(thing, place=Place(x_mm=x, y_mm=y, z_mm=z))
    elif kind == "cup holder":
        thing = CupHolder(id="new", stands_on="console" if isinstance(on, Envelope) else "floor")
        bottom = z - thing.depth_mm if isinstance(on, Envelope) else z + thing.wall_mm
        thing = replace(thing, place=Place(x_mm=x, y_mm=y, z_mm=bottom))
    elif kind == "vessel":
        holder = on.id if isinstance(on, CupHolder) else ""
        thing = vessel_of(VESSEL, "new", Place(x_mm=x, y_mm=y, z_mm=z), holder)
    else:
        thing = Envelope(id="new")
        middle = (thing.stations[0].x_mm + thing.stations[-1].x_mm) / 2
        thing = replace(thing, place=Place(x_mm=x - middle, y_mm=y, z_mm=z))
    return replace(thing, name=unused_name(thing.name, layout))


def unused_name(name: str, layout: Layout) -> str:
    """The name, or with the first number that nothing carries yet."""
    taken = {thing.name for thing in layout.things()}
    if name not in taken:
        return name
    number = next(
        n for n in range(2, len(taken) + 3) if words.NAMED_AGAIN.format(name=name, n=n) not in taken
    )
    return words.NAMED_AGAIN.format(name=name, n=number)
