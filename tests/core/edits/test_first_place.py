"""Where a thing is set down that nobody pointed a place out for: beside what is there, never through it."""

from dataclasses import replace

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.console import Envelope
from floorpan.edits.first_place import driving_seat
from floorpan.frames import Vector
from floorpan.items import (
    Armrest,
    Control,
    CupHolder,
    DashEdge,
    Door,
    Flap,
    Handbrake,
    KeepOut,
    Place,
    Seat,
    Shifter,
    Wheel,
    gate_table,
)
from floorpan.layout import Layout, Thing, record_of

LEFT = small_layout(raw_scan(level_floor(cells=12)))
MIDDLE: Vector = (0.0, 0.0, 0.0)


def right_hand() -> Layout:
    """The same with the driver on the right."""
    layout = replace(LEFT, driver_side="right")
    return edits.move(layout, "seat-1", x_mm=420.0, y_mm=400.0, z_mm=260.0)


def flat(x: float, y: float) -> float | None:
    return 0.0


def first(kind: str, layout: Layout) -> tuple[Vector, Envelope | None]:
    return next(edits.first_places(kind, layout, MIDDLE, flat))


def made(kind: str, at: Vector, on: Envelope | None) -> Thing:
    place = Place(x_mm=at[0], y_mm=at[1], z_mm=at[2])
    stands_on = "console" if on is not None else "floor"
    return {
        "handbrake": Handbrake(id="new", place=place, stands_on=stands_on),
        "armrest": Armrest(id="new", place=place, stands_on=stands_on),
        "flap": Flap(id="new", place=place, stands_on=stands_on, length_mm=150.0),
        "switch": Control(id="new", place=place),
        "keep-out": KeepOut(id="new", place=place),
        "cup holder": CupHolder(id="new", place=place, stands_on=stands_on),
        "dash edge": DashEdge(id="new", place=replace(place, z_mm=500.0)),
        "door": Door(id="new", side="left" if at[1] < 0.0 else "right", place=replace(place, z_mm=150.0)),
    }[kind]


@pytest.mark.parametrize("layout", [LEFT, right_hand()], ids=["left", "right"])
def test_a_door_stands_at_the_driver_s_side_outside_the_seat(layout: Layout) -> None:
    [seat] = layout.seats
    out = np.sign(seat.place.y_mm)
    (x, y, _), _ = first("door", layout)
    door = made("door", (x, y, 0.0), None)
    assert isinstance(door, Door)
    assert door.side == layout.driver_side
    points = [solid.points() for part in record_of(seat).parts(seat)
              for solid in record_of(seat).envelope(seat, part.name, {"notch": str(seat.notch_here)})]  # fmt: skip
    widest = (np.vstack(points)[:, 1] * out).max()
    assert y * out - door.bulge_mm >= widest, "its pocket clears the seat"
    assert x < seat.place.x_mm < x + door.length_mm, "one gets in past its opening"
    layout, _ = edits.add(layout, door)
    (_, other, _), _ = first("door", layout)
    assert other * out < 0.0, "the second one is at the other side"


def test_a_dash_edge_is_ahead_of_knob_and_wheel() -> None:
    layout, _ = edits.add(LEFT, Wheel(id="new", place=Place(x_mm=-80.0, y_mm=-400.0, z_mm=600.0)))
    [shifter] = layout.of(Shifter)
    foremost = min(place.knob_mm[0] for place in gate_table(shifter))
    for one, wheel_front in ((LEFT, np.inf), (layout, -80.0)):
        (x, y, _), _ = first("dash edge", one)
        assert x < min(foremost, wheel_front) - 50.0
        assert y == 0.0
        assert edits.is_free(made("dash edge", (x, y, 0.0), None), one)


def test_a_wheel_and_a_buckle_belong_to_the_driving_seat() -> None:
    [seat] = LEFT.seats
    (x, y, _), _ = first("wheel", LEFT)
    assert (x < seat.place.x_mm, y) == (True, seat.place.y_mm)
    (_, y, _), _ = first("buckle", LEFT)
    assert y > seat.place.y_mm + seat.cushion_width_mm / 2, "at the tunnel's side"


@pytest.mark.parametrize("kind", ["handbrake", "armrest", "flap", "switch", "cup holder"])
def test_what_stands_on_a_console_stands_on_it_behind_the_lever(kind: str) -> None:
    """The console is 90 to 110 high over a foot at nought, from 100 ahead of the lever's foot to 200 behind."""
    long = edits.move(LEFT, "cup-holder-1", x_mm=200.0, y_mm=600.0, z_mm=60.0)
    stations = (*long.consoles[0].stations, replace(long.consoles[0].stations[-1], x_mm=900.0))
    long = edits.change(long, "console-1", stations=stations)
    (x, y, z), on = first(kind, long)
    assert on is not None
    assert (x > 0.0, y) == (True, 0.0)
    assert 90.0 <= z <= 110.0
    bare = replace(long, consoles=())
    (_, _, z), on = first(kind, bare)
    assert (z, on) == (0.0, None)


@pytest.mark.parametrize("kind", ["handbrake", "armrest", "flap", "switch", "keep-out", "cup holder"])
def test_one_after_the_other_is_set_down_beside_what_is_there(kind: str) -> None:
    layout = LEFT
    for _ in range(2):
        places = edits.first_places(kind, layout, MIDDLE, flat)
        thing = next(one for at, on in places if edits.is_free(one := made(kind, at, on), layout))
        layout, id = edits.add(layout, thing)
        assert not edits.is_free(layout.thing(id), layout), "it would meet itself"
    kinds = [one for one in layout.things() if record_of(one).kind == kind]
    places_taken = {(one.place.x_mm, one.place.y_mm) for one in kinds}
    assert len(places_taken) == len(kinds)


def test_where_nothing_was_scanned_the_next_place_is_tried() -> None:
    def seen(x: float, y: float) -> float | None:
        return -30.0 if x > 0.0 else None

    places = [at for at, _ in edits.first_places("keep-out", LEFT, MIDDLE, seen)]
    assert places[0] == (0.0, 0.0, 0.0), "the middle was seen"
    assert all(z == -30.0 and x > 0.0 for x, _, z in places[1:])


def test_the_driving_seat_is_the_design_driver_s_else_the_one_on_that_side() -> None:
    passenger = Seat(id="new", place=Place(x_mm=420.0, y_mm=400.0, z_mm=260.0))
    layout, right = edits.add(LEFT, passenger)
    seat = driving_seat(layout)
    assert seat is not None
    assert seat.id == "seat-1"
    assert driving_seat(replace(layout, people=(), driver_side="right")) == layout.thing(right)
    assert driving_seat(replace(layout, people=(), seats=())) is None
