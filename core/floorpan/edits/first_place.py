"""Where a thing is set down that nobody pointed a place out for: by its kind, from what is there already.

The places and distances here are where such a thing usually is; common practice, no source. They are a start to be
typed over, never a judgement.
"""

from collections.abc import Callable, Iterator
from typing import Final

import numpy as np

from floorpan.console import Envelope
from floorpan.console.envelope import top_z_at
from floorpan.frames import Floats, Vector
from floorpan.items import CupHolder, Door, Seat, Shifter, Vessel, Wheel, gate_table
from floorpan.items.well_fit import vessel_in
from floorpan.layout import Layout, Thing, record_of

Ground = Callable[[float, float], float | None]
"""Height of the floor under (x, y) in car axes [mm]; None where nothing was scanned."""

_STEP_MM: Final = 40.0
_STEPS: Final = 20
# A dash's edge ahead of the wheel's rim and of the knob in the gear farthest forward.
_EDGE_AHEAD_MM: Final = 120.0
# A door's hinge ahead of the hip, and its inner face outside the seat: beyond its pocket.
_HINGE_AHEAD_MM: Final = 700.0
_DOOR_OUT_MM: Final = 110.0
_WHEEL_AHEAD_MM: Final = 480.0
_BUCKLE_BESIDE_MM: Final = 40.0
_BEHIND_LEVER_MM: Final = 220.0
_AT_THE_CAR: Final = ("door", "dash edge", "wheel", "buckle")
_EITHER_WAY: Final = ("switch", "keep-out")
_ON_CONSOLE: Final = ("handbrake", "armrest", "flap", "switch", "cup holder")
_BOXES_KEPT_APART_MM: Final = 5.0


def first_places(
    kind: str, layout: Layout, middle_mm: Vector, ground: Ground
) -> Iterator[tuple[Vector, Envelope | None]]:
    """Places to try in turn, the usual one first, then rearward of it: a point, and the console it is on.

    What may as well be ahead of the lever is tried forward too; what hangs at the car itself has the usual one only.

    middle_mm : the middle of the floor in car axes [mm], taken where nothing tells better
    """
    x, y = _usual(kind, layout, middle_mm)
    steps = [_STEP_MM * number for number in range(_STEPS + 1)]
    if kind in _EITHER_WAY:
        steps = sorted((*steps, *(-step for step in steps[1:])), key=abs)
    for step in steps if kind not in _AT_THE_CAR else steps[:1]:
        on, z = _under(kind, layout, x + step, y, ground)
        if z is not None or not step:
            yield (x + step, y, middle_mm[2] if z is None else z), on


def is_free(thing: Thing, layout: Layout) -> bool:
    """Whether the box round a thing at all its stops keeps clear of those of all that is placed.

    What it stands on does not count, nor does a console where a thing is let into it or hangs from no floor.
    """
    box = _box(thing)
    for other in layout.things():
        if isinstance(other, Envelope) and thing.stands_on in ("console", "none"):
            continue
        if isinstance(other, Vessel) and other.stands_in:
            holder = layout.thing(other.stands_in)
            other = vessel_in(other, holder) if isinstance(holder, CupHolder) else other
        if box is not None and (theirs := _box(other)) is not None and _meet(box, theirs):
            return False
    return True


def _usual(kind: str, layout: Layout, middle_mm: Vector) -> tuple[float, float]:
    """(x, y) where one usually is."""
    x, y, _ = middle_mm
    seat, out = driving_seat(layout), -1.0 if layout.driver_side == "left" else 1.0
    shifters = layout.of(Shifter)
    if kind == "door":
        taken = {door.side for door in layout.of(Door)}
        return _door(layout, (x, y), -out if ("left" if out < 0.0 else "right") in taken else out)
    if kind == "dash edge":
        ahead = _front_of_controls(layout)
        if ahead is not None:
            return ahead - _EDGE_AHEAD_MM, 0.0
        return (seat.place.x_mm - _HINGE_AHEAD_MM if seat is not None else x), 0.0
    if kind == "wheel" and seat is not None:
        return seat.place.x_mm - _WHEEL_AHEAD_MM, seat.place.y_mm
    if kind == "buckle" and seat is not None:
        half = max(seat.cushion_width_mm, seat.back_width_mm) / 2
        return seat.place.x_mm, seat.place.y_mm - out * (half + _BUCKLE_BESIDE_MM)
    if kind in _ON_CONSOLE and shifters:
        at = shifters[0].place
        return at.x_mm + _BEHIND_LEVER_MM, at.y_mm
    if kind in _ON_CONSOLE and layout.consoles:
        at, stations = layout.consoles[0].place, layout.consoles[0].stations
        return at.x_mm + (stations[0].x_mm + stations[-1].x_mm) / 2, at.y_mm
    return x, y


def driving_seat(layout: Layout) -> Seat | None:
    """The design driver's seat, else one on the driver's side, else none."""
    driver = layout.driver()
    own = [seat for seat in layout.seats if driver is not None and seat.id == driver.seat_id]
    left = layout.driver_side == "left"
    beside = [seat for seat in layout.seats if (seat.place.y_mm < 0.0) == left]
    return next(iter((*own, *beside)), None)


def _door(layout: Layout, middle: tuple[float, float], out: float) -> tuple[float, float]:
    """Outside the seat of that side, its hinge ahead of the hip; without a seat as far out as one would be."""
    seats = [seat for seat in layout.seats if seat.place.y_mm * out > 0.0]
    if not seats:
        x = layout.seats[0].place.x_mm - _HINGE_AHEAD_MM if layout.seats else middle[0] - _HINGE_AHEAD_MM / 2
        far = abs(layout.seats[0].place.y_mm) if layout.seats else _HINGE_AHEAD_MM / 2
        return x, out * (far + 250.0 + _DOOR_OUT_MM)
    outermost = max(seats, key=lambda seat: seat.place.y_mm * out)
    box = _box(outermost)
    edge = out * outermost.place.y_mm if box is None else float((box[:, 1] * out).max())
    return outermost.place.x_mm - _HINGE_AHEAD_MM, out * (edge + _DOOR_OUT_MM)


def _front_of_controls(layout: Layout) -> float | None:
    """The least x of the knob in any gear and of the wheel; None while there is neither."""
    least = [
        place.knob_mm[0] - shifter.knob_radius_mm
        for shifter in layout.of(Shifter)
        for place in gate_table(shifter)
    ]
    least += [float(box[0, 0]) for wheel in layout.of(Wheel) if (box := _box(wheel)) is not None]
    taken = layout.driving_position
    if taken.wheel_mm is not None:
        lean = float(np.sin(np.radians(taken.wheel_deg)))
        least.append(taken.wheel_mm[0] - (taken.wheel_across_mm / 2 * lean + taken.rim_mm))
    return min(least, default=None)


def _under(
    kind: str, layout: Layout, x: float, y: float, ground: Ground
) -> tuple[Envelope | None, float | None]:
    """What a thing of a kind stands on at (x, y), and how high that is there."""
    if kind in _ON_CONSOLE:
        for console in layout.consoles:
            top = top_z_at(console, x, y)
            if top is not None:
                return console, top
    return None, ground(x, y)


def _box(thing: Thing) -> Floats | None:
    """Least and greatest corner (2, 3) of a thing over every stop of each of its axes, rounding included [mm]."""
    record = record_of(thing)
    rest = {axis.name: axis.rest for axis in record.axes(thing)}
    boxes = []
    for part in record.parts(thing):
        moved = [axis for axis in record.axes(thing) if axis.name in part.moved_by]
        for stops in (rest, *(rest | {axis.name: stop} for axis in moved for stop in axis.stops)):
            for solid in record.envelope(thing, part.name, stops):
                around = solid.hull.radius_mm
                boxes.append(solid.box() + np.array([[-around], [around]]))
    if not boxes:
        return None
    held = np.stack(boxes)
    return np.stack([held[:, 0].min(axis=0), held[:, 1].max(axis=0)])


def _meet(a: Floats, b: Floats) -> bool:
    return bool((a[0] < b[1] + _BOXES_KEPT_APART_MM).all() and (b[0] < a[1] + _BOXES_KEPT_APART_MM).all())
