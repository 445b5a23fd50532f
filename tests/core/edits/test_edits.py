"""Every edit gives a new layout or refuses and changes nothing."""

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.derive import Bench
from floorpan.driver import Person
from floorpan.errors import BadValue, NoSuchThing, WrongStep
from floorpan.frames import Pose
from floorpan.items import CupHolder, Place, Seat, Shifter, Vessel, vessel_of
from floorpan.items.states import NOTHING_MOVES
from floorpan.layout import Area, Box, Layout, ScanRef
from floorpan.scan.axes import AxisPick

LAYOUT = small_layout(raw_scan(level_floor(cells=4)))
UNIT_BOX = Box(least_mm=(0.0, 0.0, 0.0), greatest_mm=(1.0, 1.0, 1.0))


def test_ids_are_kind_and_number_and_never_used_twice() -> None:
    layout, first = edits.add(Layout(), Shifter(id="whatever"))
    layout = edits.remove(layout, first)
    layout, second = edits.add(layout, Shifter(id="shifter-1"))
    assert (first, second) == ("shifter-1", "shifter-2")
    layout, holder = edits.add(layout, CupHolder(id="x"))
    assert holder == "cup-holder-1"


def test_a_move_changes_one_thing_and_leaves_the_very_others() -> None:
    moved = edits.move(LAYOUT, "shifter-1", x_mm=33.0)
    assert moved.thing("shifter-1").place == Place(x_mm=33.0)
    for id in ("seat-1", "cup-holder-1", "vessel-1", "console-1"):
        assert moved.thing(id) is LAYOUT.thing(id)
    assert moved.scans is LAYOUT.scans


def test_shift_turn_and_mirror() -> None:
    layout = edits.shift(LAYOUT, "cup-holder-1", (1.0, 2.0, 3.0))
    assert layout.thing("cup-holder-1").place == Place(x_mm=201.0, y_mm=62.0, z_mm=63.0)
    layout = edits.turn(layout, "cup-holder-1", 350.0)
    assert layout.thing("cup-holder-1").place.turn_deg == pytest.approx(-10.0)
    layout = edits.mirror(layout, "cup-holder-1")
    assert layout.thing("cup-holder-1").place == Place(x_mm=201.0, y_mm=-62.0, z_mm=63.0, turn_deg=10.0)
    assert edits.mirror(edits.mirror(LAYOUT, "shifter-1"), "shifter-1") == LAYOUT


def test_what_is_locked_or_stands_in_a_well_does_not_move() -> None:
    locked = edits.lock(LAYOUT, "shifter-1", locked=True)
    with pytest.raises(WrongStep, match="locked"):
        edits.move(locked, "shifter-1", x_mm=1.0)
    with pytest.raises(WrongStep, match="Move the cup holder"):
        edits.move(LAYOUT, "vessel-1", x_mm=1.0)
    assert edits.lock(locked, "shifter-1", locked=False) == LAYOUT


def test_a_holder_that_goes_frees_its_vessels_and_a_taken_seat_stays() -> None:
    without = edits.remove(LAYOUT, "cup-holder-1")
    vessel = without.thing("vessel-1")
    assert isinstance(vessel, Vessel)
    assert vessel.stands_in == ""
    assert vessel.place == Place(x_mm=200.0, y_mm=60.0, z_mm=60.0)
    with pytest.raises(WrongStep, match="sits in this seat"):
        edits.remove(LAYOUT, "seat-1")
    with pytest.raises(WrongStep, match="Place a cup holder first"):
        edits.add(without, vessel_of("can-355", "new", stands_in="cup-holder-1"))


def test_vessels_stay_where_they_stood_when_a_turned_holder_goes() -> None:
    """On the bottom of its well for one; 24 over it for one of 70 that hangs in a taper of 64 to 84 over 80."""
    turned = edits.turn(
        edits.move(LAYOUT, "cup-holder-1", x_mm=310.0, y_mm=-45.0, z_mm=120.0), "cup-holder-1", 37.0
    )
    turned = edits.change(turned, "cup-holder-1", depth_mm=80.0, mouth_mm=84.0, base_mm=64.0)
    turned = edits.change(turned, "vessel-1", profile=((0.0, 30.0), (120.0, 30.0)))
    hanging = Vessel(id="new", stands_in="cup-holder-1", profile=((0.0, 35.0), (120.0, 35.0)))
    turned, second = edits.add(turned, hanging)
    left = edits.remove(turned, "cup-holder-1")
    assert left.of(CupHolder) == ()
    first, other = left.thing("vessel-1"), left.thing(second)
    assert isinstance(first, Vessel)
    assert isinstance(other, Vessel)
    assert (first.stands_in, other.stands_in) == ("", "")
    assert (first.place.x_mm, first.place.y_mm, first.place.z_mm) == (310.0, -45.0, 120.0)
    assert (other.place.x_mm, other.place.y_mm) == (310.0, -45.0)
    assert first.place.turn_deg == pytest.approx(37.0)
    assert other.place.z_mm == pytest.approx(144.0, abs=1e-6)
    assert other.place.turn_deg == pytest.approx(37.0)
    scene, before = (Bench({}).scene(layout) for layout in (left, turned))
    for id in ("vessel-1", second):
        stood = before.body(id, NOTHING_MOVES)
        for one, then in zip(scene.body(id, NOTHING_MOVES), stood, strict=True):
            np.testing.assert_allclose(one.points(), then.points(), atol=1e-9)


def test_wrong_numbers_and_names_are_refused() -> None:
    with pytest.raises(BadValue, match="Lever length is 60 to 700 mm"):
        edits.change(LAYOUT, "shifter-1", lever_mm=11.0)
    with pytest.raises(BadValue, match="has no colour"):
        edits.change(LAYOUT, "shifter-1", colour="red")
    with pytest.raises(NoSuchThing):
        edits.change(LAYOUT, "shifter-9", lever_mm=200.0)
    with pytest.raises(BadValue):
        edits.move(LAYOUT, "shifter-1", x_mm=float("nan"))
    with pytest.raises(BadValue):
        edits.set_carpet(LAYOUT, 41.0)


def test_people_sit_in_seats_that_exist_at_notches_they_have() -> None:
    with pytest.raises(WrongStep, match="no seat"):
        edits.add_person(Layout(), Person(id="new", seat_id="seat-1"))
    with pytest.raises(BadValue, match="notches 1 to 12"):
        edits.change_person(LAYOUT, "driver-1", notches_used=(6, 13))
    changed = edits.change_person(LAYOUT, "driver-1", notches_used=(5, 6))
    assert changed.people[0].notches_used == (5, 6)


def test_a_new_unit_drops_what_was_pointed_at_in_the_old_one() -> None:
    picks = (AxisPick(id="A", at_mm=(1.0, 2.0, 3.0)),)
    layout = edits.set_picks(edits.crop(LAYOUT, "scan-1", UNIT_BOX), "scan-1", picks)
    again = edits.change_scan(layout, "scan-1", unit="in").scan("scan-1")
    assert (again.picks, again.pose, again.crop, again.areas) == ((), None, None, ())
    with pytest.raises(BadValue, match="same letter"):
        edits.set_picks(LAYOUT, "scan-1", picks * 2)


def test_a_crop_that_leaves_nothing_is_refused() -> None:
    with pytest.raises(BadValue, match="crop leaves nothing"):
        edits.crop(LAYOUT, "scan-1", Box(least_mm=(0.0, 5.0, 0.0), greatest_mm=(1.0, 5.0, 1.0)))
    assert edits.crop(edits.crop(LAYOUT, "scan-1", UNIT_BOX), "scan-1", None) == LAYOUT


def test_areas_are_named_and_numbered() -> None:
    layout = edits.add_area(LAYOUT, "scan-1", "tunnel top", UNIT_BOX)
    layout = edits.add_area(layout, "scan-1", "tunnel top", UNIT_BOX, stands_for="seat-1")
    assert [area.id for area in layout.scans[0].areas] == ["scan-1.tunnel-top", "scan-1.tunnel-top-2"]
    assert edits.remove_area(layout, "scan-1", "scan-1.tunnel-top").scans[0].areas == (
        Area(id="scan-1.tunnel-top-2", kind="tunnel top", box=UNIT_BOX, stands_for="seat-1"),
    )


def test_a_limit_is_changed_with_a_note_and_goes_back() -> None:
    changed = edits.set_limit(LAYOUT, "hand-scan", 40.0, note="gloves")
    assert changed.limits[0].value == 40.0
    assert edits.set_limit(changed, "hand-scan", 15.0) == LAYOUT
    with pytest.raises(NoSuchThing):
        edits.set_limit(LAYOUT, "hand-moon", 1.0)


def test_look_again_is_derived_from_what_a_step_rests_on() -> None:
    accepted = edits.accept(LAYOUT, "controls", date="2026-11-25")
    assert edits.step_mark(accepted, "controls") == "accepted"
    moved = edits.move(accepted, "shifter-1", x_mm=5.0)
    assert edits.step_mark(moved, "controls") == "look again"
    assert edits.step_mark(edits.move(moved, "shifter-1", x_mm=0.0), "controls") == "accepted"
    assert edits.step_mark(edits.move(accepted, "cup-holder-1", x_mm=5.0), "controls") == "accepted"
    as_it_is = edits.accept(LAYOUT, "controls", date="2026-11-25", reason="knob goes next week")
    assert edits.step_mark(as_it_is, "controls") == "accepted as it is"
    assert edits.step_mark(edits.open_again(accepted, "controls"), "controls") == "open"


def test_setting_axes_moves_the_scan_and_nothing_else() -> None:
    layout = edits.set_axes(LAYOUT, "scan-1", Pose(shift_mm=(5.0, 0.0, 0.0)))
    assert layout.items is LAYOUT.items
    assert layout.scans[0].picks == LAYOUT.scans[0].picks


def test_values_are_checked_where_they_are_made() -> None:
    with pytest.raises(BadValue):
        ScanRef(id="scan-1", name="x", sha256="0", suffix=".ply", original_name="x", unit="yd")
    with pytest.raises(BadValue):
        Seat(id="seat-1", back_deg=90.0)
