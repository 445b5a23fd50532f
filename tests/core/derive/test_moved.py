"""The old seat kept in a layout, and what the new one did to the way to the knob."""

import math
from dataclasses import replace

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.derive import Scene, as_it_stands, knob_in_neutral, moved_since, reach_from, sitting_in
from floorpan.derive.memory import Memory
from floorpan.items import Place, Seat, Shifter, h_point
from floorpan.layout import Before, Layout

LAYOUT = small_layout(raw_scan(level_floor(cells=4)))
TORSO, OUT = 550.0, 200.0


def scene_of(layout: Layout) -> Scene:
    return Scene(layout=layout, floors=(), memory=Memory())


def kept(layout: Layout, notch: int = 6) -> Layout:
    return edits.keep_before(layout, as_it_stands(scene_of(layout), notch))


def seat_of(layout: Layout) -> Seat:
    return layout.seats[0]


def set_seat(layout: Layout, **changes: float) -> Layout:
    """The seat with another place or another torso line."""
    seat = seat_of(layout)
    place = {name: value for name, value in changes.items() if hasattr(seat.place, name)}
    rest = {name: value for name, value in changes.items() if name not in place}
    new = replace(seat, place=replace(seat.place, **place), **rest)
    return replace(layout, seats=(new,))


def shares(layout: Layout, notch: int = 6) -> dict[str, float]:
    found = moved_since(scene_of(layout), notch)
    assert found is not None
    return {cause.kind: cause.share_mm for cause in found.causes}


def test_the_example_worked_by_hand_from_a_layout() -> None:
    """450 forward and 330 down: 558. Down 50 and back 30: 556. Five degrees more on a 550 torso: 598.

    The knob is typed, for there is no shifter: it stayed. Torso from 2.5 ahead of upright to 2.5 behind it.
    """
    person = replace(LAYOUT.people[0], shoulder_mm=TORSO, shoulder_out_mm=OUT)
    layout = set_seat(replace(LAYOUT, items=(), people=(person,)), back_deg=-2.5)
    x, y, z = h_point(seat_of(layout), 6)
    lean = math.radians(-2.5)
    knob = (x + TORSO * math.sin(lean) - 450.0, y + OUT, z + TORSO * math.cos(lean) - 330.0)
    layout = edits.keep_before(layout, replace(as_it_stands(scene_of(layout), 6), knob_mm=knob))
    place = seat_of(layout).place
    layout = set_seat(layout, x_mm=place.x_mm + 30.0, z_mm=place.z_mm - 50.0, back_deg=2.5)
    found = moved_since(scene_of(layout), 6)
    assert found is not None
    assert (round(found.before_mm), round(found.causes[1].distance_mm), round(found.after_mm)) == (
        558,
        556,
        598,
    )
    assert [round(cause.share_mm) for cause in found.causes] == [-28, 26, 0, 42, 0, 0]
    assert (found.causes[0].amount, found.raised_mm) == (pytest.approx(50.0), pytest.approx(50.0))


def test_kept_and_nothing_changed_nothing_moved() -> None:
    found = moved_since(scene_of(kept(LAYOUT)), 6)
    assert found is not None
    assert found.before_mm == found.after_mm
    assert all(cause.amount == cause.share_mm == 0.0 for cause in found.causes)


@pytest.mark.parametrize("notch", [2, 6, 11])
def test_the_seat_is_kept_where_the_driver_sat_in_it(notch: int) -> None:
    """At its own notch the kept seat's reference point is where the old one had it, rails and all."""
    before = as_it_stands(scene_of(LAYOUT), notch)
    assert before.seat is not None
    assert before.seat.notch_here == notch
    assert h_point(before.seat, notch) == pytest.approx(h_point(seat_of(LAYOUT), notch))
    # And at any other notch of the same rails.
    assert h_point(before.seat, 9) == pytest.approx(h_point(seat_of(LAYOUT), 9))


def test_another_notch_is_a_slide_along_the_rails() -> None:
    """Two notches back on rails that rise forward by 2 degrees: 30 mm along them."""
    seat = seat_of(LAYOUT)
    found = moved_since(scene_of(kept(LAYOUT, 6)), 4)
    assert found is not None
    amounts = {cause.kind: cause.amount for cause in found.causes}
    along, rail = 2 * seat.notch_mm, math.radians(seat.rail_deg)
    assert amounts["slide"] == pytest.approx(along * math.cos(rail))
    assert amounts["drop"] == found.raised_mm == pytest.approx(along * math.sin(rail))


def test_the_distances_are_those_that_reach_goes_by_foam_jacket_and_all() -> None:
    """The straight arm less what reach has to spare, in the old seat and in the new."""
    person = replace(LAYOUT.people[0], jacket_mm=15.0, hip_back_mm=12.0, hip_up_mm=-9.0, lean_off_deg=3.0)
    layout = kept(set_seat(replace(LAYOUT, people=(person,)), foam_mm=18.0))
    old, knob_then = seat_of(layout), knob_in_neutral(layout.of(Shifter)[0])
    layout = set_seat(layout, x_mm=450.0, y_mm=-390.0, z_mm=215.0, turn_deg=-4.0, back_deg=29.0, foam_mm=5.0)
    layout = edits.move(layout, layout.of(Shifter)[0].id, x_mm=-25.0)
    found = moved_since(scene_of(layout), 5)
    assert found is not None
    for seat, notch, knob, distance in (
        (old, 6, knob_then, found.before_mm),
        (seat_of(layout), 5, knob_in_neutral(layout.of(Shifter)[0]), found.after_mm),
    ):
        spare = reach_from(sitting_in(person, seat, notch), "tight", "right", knob).spare_mm
        assert person.shoulder_to_grip_mm - spare == pytest.approx(distance)
    assert sum(cause.share_mm for cause in found.causes) == pytest.approx(found.change_mm)


def test_a_knob_moved_alone_is_the_only_cause() -> None:
    layout = kept(LAYOUT)
    shifter = layout.of(Shifter)[0]
    moved = edits.move(layout, shifter.id, x_mm=shifter.place.x_mm - 40.0)
    found = shares(moved)
    assert found.pop("knob") > 0.0
    assert set(found.values()) == {0.0}
    taken_out = replace(layout, items=tuple(one for one in layout.items if not isinstance(one, Shifter)))
    assert set(shares(taken_out).values()) == {0.0}, "without a shifter the knob stayed"


def test_right_hand_drive_measures_from_the_other_shoulder() -> None:
    """The mirrored car gives the mirrored result."""
    seat = seat_of(LAYOUT)
    layout = replace(LAYOUT, items=())
    before = Before(seat=seat, knob_mm=(0.0, -60.0, 480.0))
    here = shares(set_seat(edits.keep_before(layout, before), z_mm=220.0, y_mm=-380.0, turn_deg=3.0))

    def across(place: Place) -> Place:
        return replace(place, y_mm=-place.y_mm, turn_deg=-place.turn_deg)

    other = edits.set_driver_side(layout, "right")
    other = set_seat(other, y_mm=-seat.place.y_mm)
    other = edits.keep_before(
        other, Before(seat=replace(seat, place=across(seat.place)), knob_mm=(0.0, 60.0, 480.0))
    )
    there = shares(set_seat(other, z_mm=220.0, y_mm=380.0, turn_deg=-3.0))
    assert there == pytest.approx(here)


@pytest.mark.parametrize(
    "layout",
    [
        LAYOUT,
        edits.keep_before(LAYOUT, Before(seat=seat_of(LAYOUT))),
        edits.keep_before(LAYOUT, Before(knob_mm=(0.0, 0.0, 500.0))),
        replace(kept(LAYOUT), people=()),
    ],
    ids=["nothing kept", "no knob kept", "no seat kept", "nobody drives"],
)
def test_where_something_is_missing_nothing_is_said(layout: Layout) -> None:
    assert moved_since(scene_of(layout), 6) is None


def test_what_is_kept_where_there_is_nothing() -> None:
    assert as_it_stands(scene_of(Layout()), 1) == Before()
