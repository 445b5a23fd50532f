"""How much further the knob got since the old seat, for the design driver."""

from dataclasses import replace

from floorpan.derive.people import sitting_in
from floorpan.derive.scene import Scene
from floorpan.driver import Person
from floorpan.driver.moved_away import MovedAway, SeatLine, moved_away
from floorpan.frames import Vector
from floorpan.items import Seat, Shifter, h_point
from floorpan.items.shifter import GEAR
from floorpan.layout import Before, record_of


def knob_in_neutral(shifter: Shifter) -> Vector:
    """The knob's centre in neutral, in car axes [mm]."""
    record = record_of(shifter)
    return record.grips(shifter, {GEAR: record.axes(shifter)[0].rest})[0].at_mm


def as_it_stands(scene: Scene, notch: int) -> Before:
    """The design driver's seat at a notch, and the knob, as they stand now: to be kept as the old ones."""
    person = scene.layout.driver()
    seat = scene.seat_of(person) if person is not None else None
    shifter = next(iter(scene.layout.of(Shifter)), None)
    if seat is not None:
        x, y, z = h_point(seat, notch)
        seat = replace(seat, place=replace(seat.place, x_mm=x, y_mm=y, z_mm=z), notch_here=notch)
    return Before(
        seat=seat,
        knob_mm=knob_in_neutral(shifter) if shifter is not None else None,
    )


def moved_since(scene: Scene, notch: int) -> MovedAway | None:
    """What the change of seat did to the way from shoulder to knob, belts tight.

    notch : where the driver sits in the new seat; in the old one at the notch it was kept at
    None where the old seat or the old knob was not kept, or nobody drives. Without a shifter the knob stayed.
    """
    before, person = scene.layout.before, scene.layout.driver()
    seat = scene.seat_of(person) if person is not None else None
    if before.seat is None or before.knob_mm is None or person is None or seat is None:
        return None
    shifter = next(iter(scene.layout.of(Shifter)), None)
    return moved_away(
        _line(person, before.seat, int(before.seat.notch_here)),
        _line(person, seat, notch),
        before.knob_mm,
        knob_in_neutral(shifter) if shifter is not None else None,
        shoulder_mm=person.shoulder_mm,
        shoulder_out_mm=person.shoulder_out_mm,
        hand_side=scene.hand_side(),
    )


def _line(person: Person, seat: Seat, notch: int) -> SeatLine:
    sitting = sitting_in(person, seat, notch)
    return SeatLine(h_point=sitting.h_point, back_deg=sitting.back_deg, turn_deg=sitting.turn_deg)
