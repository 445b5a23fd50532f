"""The hand on the scan: cropping by grips, picking points for the axes, setting new things down."""

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt

from app.stage.bench import Bench
from app.stage.conftest import RAW, Open
from core.small_case import small_layout
from floorpan import edits
from floorpan.frames import Pose, Vector
from floorpan.items import Control, CupHolder, Seat, Shifter, Vessel
from floorpan.layout import Box, Layout, ScanRef
from floorpan_app.stage.hands.picking import letters
from floorpan_app.tools.events import NONE_HELD
from floorpan_app.viewport.crop_painting import grip_places
from floorpan_app.viewport.marks import CropBoxMark

pytestmark = pytest.mark.real_view

# A scan that was read lying askew: its own axes are turned and shifted against the car's.
ASKEW = Pose.turned((0.0, 0.0, 1.0), 30.0).after(Pose(shift_mm=(120.0, -80.0, 35.0)))
"""From the scan's own coordinates into car axes."""


def bare(pose: Pose | None) -> Layout:
    """A layout with nothing but the level scan."""
    ref = ScanRef(
        id="new", name="floor", sha256=RAW.sha256, suffix=".ply", original_name="floor.ply", unit="mm"
    )
    layout = edits.add_scan(Layout(title="Bare"), ref)
    return layout if pose is None else edits.set_axes(layout, "scan-1", pose)


def crop_mark(bench: Bench) -> CropBoxMark:
    mark = bench.marks.crop_box
    assert mark is not None
    return mark


def cropping(bench: Bench) -> CropBoxMark:
    bench.desk.go_to("scan")
    bench.desk.use_tool("crop box")
    bench.settle()
    bench.look((0.0, 0.0, 0.0), heading=120.0, rise=-40.0, distance=4200.0)
    return crop_mark(bench)


def grip(bench: Bench, face: str) -> QPoint:
    x, y = grip_places(crop_mark(bench), bench.view.projection())[face]
    return QPoint(round(x), round(y))


def test_a_grip_is_dragged_and_let_go_for_one_edit(open_bench: Open) -> None:
    bench = open_bench(bare(Pose()), {RAW.sha256: RAW})
    mark = cropping(bench)
    assert bench.hints[-1].startswith("Drag a grip to crop.")
    assert mark.least_mm[:2] == (-710.0, -710.0)
    assert mark.words[:4] == ("front 710", "rear 710", "driver side 710", "passenger side 710")
    start = grip(bench, "x-greatest")
    bench.press(start)
    end = bench.at((400.0, 0.0, 0.0))
    bench.glide(start, end)
    moved = crop_mark(bench)
    assert moved.lit == "x-greatest"
    assert moved.greatest_mm[0] == pytest.approx(400.0, abs=6.0)
    assert moved.least_mm == mark.least_mm
    assert bench.layout.scans[0].crop is None
    # The cut is drawn on the scan where the face stands, within the other faces.
    (cut,) = bench.marks.paths
    across = cut.points_mm[:, :, 0]
    assert across == pytest.approx(np.full_like(across, moved.greatest_mm[0]))
    assert np.ptp(cut.points_mm[:, :, 1]) == pytest.approx(1400.0)
    bench.release(end)
    crop = bench.layout.scans[0].crop
    assert crop is not None
    assert crop.greatest_mm == crop_mark(bench).greatest_mm
    assert bench.document.undo_words() == "crop the scan"
    assert bench.entries() == 1
    bench.settle()
    bounds = bench.view.scene._things["scan-1"].parts[0].form.shape.bounds
    assert bounds.x_max == pytest.approx(crop.greatest_mm[0])
    bench.document.undo()
    assert crop_mark(bench).greatest_mm[0] == 710.0


def test_escape_puts_a_face_back_and_arrows_move_the_one_last_taken(open_bench: Open) -> None:
    bench = open_bench(bare(Pose()), {RAW.sha256: RAW})
    cropping(bench)
    start = grip(bench, "y-least")
    bench.press(start)
    bench.glide(start, start + QPoint(60, -30))
    assert crop_mark(bench).least_mm[1] != -710.0
    bench.key(Qt.Key.Key_Escape)
    assert crop_mark(bench).least_mm[1] == -710.0
    bench.release(start + QPoint(60, -30))
    assert bench.entries() == 0
    bench.drag(start, start + QPoint(40, -20))
    before = crop_mark(bench).least_mm[1]
    bench.key(Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert crop_mark(bench).least_mm[1] == pytest.approx(before + 10.0)
    assert bench.entries() == 2
    bench.key(Qt.Key.Key_Escape)
    assert bench.desk.tool == ""
    assert bench.marks.crop_box is None


def test_the_box_lies_along_the_cars_axes_and_is_kept_in_the_scans(open_bench: Open) -> None:
    own = Box(least_mm=(-100.0, -100.0, -20.0), greatest_mm=(100.0, 100.0, 20.0))
    bench = open_bench(edits.crop(bare(ASKEW), "scan-1", own), {RAW.sha256: RAW})
    mark = cropping(bench)
    # The corners of the old box in car axes, boxed again: by hand, a square of half-width 100 turned by 30 degrees.
    half = 100.0 * (np.cos(np.radians(30.0)) + np.sin(np.radians(30.0)))
    middle = ASKEW.apply(np.zeros(3))
    assert mark.least_mm[:2] == pytest.approx(middle[:2] - half, abs=0.01)
    assert mark.greatest_mm[:2] == pytest.approx(middle[:2] + half, abs=0.01)
    start = grip(bench, "z-greatest")
    bench.drag(start, start + QPoint(0, -30))
    crop = bench.layout.scans[0].crop
    assert crop is not None
    assert crop.frame == ASKEW.inverse()
    corner = ASKEW.apply(crop.frame.apply(np.array(crop.least_mm)))
    assert corner == pytest.approx(np.array(crop.least_mm), abs=1e-6)


def test_before_axes_the_box_lies_along_the_scans_own(open_bench: Open) -> None:
    bench = open_bench(bare(None), {RAW.sha256: RAW})
    mark = cropping(bench)
    assert mark.words[:4] == ("side C 710", "side D 710", "side A 710", "side B 710")
    start = grip(bench, "x-least")
    bench.drag(start, bench.at((-300.0, 0.0, 0.0)))
    crop = bench.layout.scans[0].crop
    assert crop is not None
    assert crop.frame == Pose()
    assert crop.least_mm[0] == pytest.approx(-300.0, abs=8.0)


# Picks.


def test_picked_points_set_the_axes_that_a_builder_means(open_bench: Open) -> None:
    """Points picked on a scan in its own axes: front is at -Y there, so X rearward is its +Y, and Y right its -X."""
    bench = open_bench(bare(None), {RAW.sha256: RAW})
    bench.desk.go_to("axes")
    bench.settle()
    bench.look((0.0, 0.0, 0.0), heading=90.0, rise=-89.0, distance=3400.0)

    def pick(tool: str, *points: Vector) -> None:
        bench.desk.use_tool(tool)
        for point in points:
            bench.click(bench.at(point))

    pick("pick level", (-400.0, -400.0, 0.0), (400.0, -400.0, 0.0), (0.0, 500.0, 0.0))
    assert [mark.letter for mark in bench.marks.picks] == ["A", "B", "C"]
    pick("pick pair", (500.0, 0.0, 0.0))
    assert [mark.letter for mark in bench.marks.picks] == ["A", "B", "C", "D"]
    assert len(bench.layout.scans[0].picks) == 3
    assert bench.hints[-1].startswith("Now its mate")
    bench.key(Qt.Key.Key_Escape)
    assert [mark.letter for mark in bench.marks.picks] == ["A", "B", "C"]
    pick("pick pair", (500.0, 0.0, 0.0), (-500.0, 0.0, 0.0), (500.0, 300.0, 0.0), (-500.0, 300.0, 0.0))
    pick("pick origin", (100.0, 100.0, 0.0), (0.0, -200.0, 0.0))
    pick("pick front", (0.0, -600.0, 0.0))
    scan = bench.layout.scans[0]
    assert [(pick.id, pick.role) for pick in scan.picks] == [
        *((letter, "level") for letter in "ABC"),
        *((letter, "pair") for letter in "DEFG"),
        ("H", "origin"),
        ("I", "front"),
    ]
    fit = bench.judging.bench.axes_fit(scan)
    assert fit is not None
    # A pixel is about three millimetres here.
    assert fit.pose.apply(np.array([0.0, -200.0, 0.0])) == pytest.approx([0.0, 0.0, 0.0], abs=3.0)
    assert fit.pose.apply(np.array([0.0, 300.0, 0.0])) == pytest.approx([500.0, 0.0, 0.0], abs=6.0)
    assert fit.pose.apply(np.array([-500.0, -200.0, 0.0])) == pytest.approx([0.0, 500.0, 0.0], abs=6.0)
    bench.desk.change("set axes", lambda layout: edits.set_axes(layout, "scan-1", fit.pose))
    bench.settle()
    origin = next(mark for mark in bench.marks.picks if mark.letter == "H")
    # Nought in X and Z; Y is nought on the middle line, which the pick only nearly is.
    assert origin.at_mm == pytest.approx((0.0, 0.0, 0.0), abs=3.0)
    assert bench.marks.tripod is not None
    assert [word.text for word in bench.marks.words] == ["centre line"]
    # The order of the points in car axes says driver left of passenger, front ahead.
    left, right = (next(m for m in bench.marks.picks if m.letter == letter).at_mm for letter in "DE")
    assert left[1] < -400.0
    assert right[1] > 400.0


def test_a_pick_on_a_scan_set_into_the_car_is_kept_in_the_scans_own_coordinates(open_bench: Open) -> None:
    bench = open_bench(bare(ASKEW), {RAW.sha256: RAW})
    bench.desk.go_to("axes")
    bench.settle()
    bench.look((0.0, 0.0, 35.0), heading=100.0, rise=-70.0)
    bench.desk.use_tool("pick centre")
    at = bench.at((150.0, 200.0, 35.0))
    met = bench.on_level(at, 35.0)
    bench.click(at)
    (pick,) = bench.layout.scans[0].picks
    assert pick.at_mm == pytest.approx(ASKEW.inverse().apply(met), abs=1e-3)
    (mark,) = bench.marks.picks
    assert mark.at_mm == pytest.approx(met, abs=1e-3)
    bench.click(QPoint(5, 5))
    assert "not on the scan" in bench.hints[-1]
    assert bench.entries() == 1


def test_letters_go_on_after_z() -> None:
    taken = letters(bare(None).scans[0])
    made = [next(taken) for _ in range(28)]
    assert made[:2] + made[25:] == ["A", "B", "Z", "AA", "AB"]


# Placing.


def test_things_are_set_down_where_the_click_meets_the_floor(open_bench: Open) -> None:
    pose = Pose(shift_mm=(0.0, 0.0, 35.0))
    bench = open_bench(bare(pose), {RAW.sha256: RAW})
    bench.desk.go_to("controls")
    bench.settle()
    bench.look((0.0, 0.0, 35.0), heading=100.0, rise=-60.0, distance=3000.0)
    bench.desk.use_tool("place shifter")
    at = bench.at((-100.0, 50.0, 35.0))
    bench.view._mouse.move(at.toPointF(), NONE_HELD)
    (ghost,) = bench.marks.ghosts
    met = bench.on_level(at, 35.0)
    assert ghost.body[0].box().mean(axis=0)[:2] == pytest.approx(met[:2], abs=0.01)
    bench.click(at)
    (shifter,) = bench.layout.of(Shifter)
    assert bench.place(shifter.id) == pytest.approx(met, abs=0.01)
    assert (bench.desk.selection, bench.desk.tool) == (shifter.id, "")
    assert bench.document.undo_words() == "place Shifter"
    assert bench.entries() == 1
    assert bench.stage.holding.drawn().ghosts == ()
    bench.desk.use_tool("place seat")
    bench.click(bench.at((200.0, -350.0, 35.0)))
    (seat,) = bench.layout.of(Seat)
    assert seat.name == "Driver's seat"
    assert seat.place.z_mm == pytest.approx(35.0 + seat.stand_mm, abs=0.01)
    bench.desk.use_tool("place seat")
    bench.click(QPoint(3, 3))
    assert "Nothing was scanned there" in bench.hints[-1]
    assert len(bench.layout.seats) == 1
    bench.key(Qt.Key.Key_Escape)
    assert bench.desk.tool == ""


def test_a_well_is_let_into_the_console_and_a_vessel_stood_in_the_well(open_bench: Open) -> None:
    layout = edits.remove(edits.remove(small_layout(RAW), "vessel-1"), "cup-holder-1")
    bench = open_bench(layout, {RAW.sha256: RAW})
    for word in ("driver", "seats"):
        bench.stage.show(word, False)
    bench.desk.go_to("cup")
    bench.look((100.0, 0.0, 100.0), heading=100.0, rise=-60.0)
    bench.desk.use_tool("place cup holder")
    bench.click(bench.at((120.0, 40.0, 103.0)))
    (holder,) = bench.layout.of(CupHolder)
    # The console's top rises evenly from 90 at -100 to 110 at 200.
    top = 90.0 + 20.0 * (holder.place.x_mm + 100.0) / 300.0
    assert holder.place.z_mm + holder.depth_mm == pytest.approx(top, abs=0.5)
    assert holder.stands_on == "console"
    bench.look((120.0, 40.0, 100.0), heading=100.0, rise=-70.0, distance=900.0)
    bench.desk.use_tool("place vessel")
    bench.click(bench.at((holder.place.x_mm, holder.place.y_mm, holder.place.z_mm)))
    (vessel,) = bench.layout.of(Vessel)
    assert vessel.stands_in == holder.id


def test_a_switch_is_set_down_on_the_console_and_on_the_scan(small: Bench) -> None:
    bench = small
    for word in ("driver", "seats", "controls", "cup"):
        bench.stage.show(word, False)
    bench.desk.go_to("controls")
    bench.look((100.0, 0.0, 100.0), heading=100.0, rise=-60.0)
    bench.desk.use_tool("place switch")
    bench.click(bench.at((120.0, 0.0, 104.67)))
    bench.desk.use_tool("place switch")
    bench.click(bench.at((-300.0, 200.0, 0.0)))
    on_console, on_scan = bench.layout.of(Control)
    # The console's top rises evenly from 90 at -100 to 110 at 200.
    top = 90.0 + 20.0 * (on_console.place.x_mm + 100.0) / 300.0
    assert on_console.place.z_mm == pytest.approx(top, abs=0.5)
    assert on_scan.place.z_mm == pytest.approx(0.0, abs=0.5)
    assert (on_console.stands_on, on_scan.stands_on) == ("console", "none")
    assert (on_console.name, on_scan.name) == ("Switch", "Switch 2")


def test_nothing_is_placed_before_the_scan_is_set_straight(open_bench: Open) -> None:
    bench = open_bench(bare(None), {RAW.sha256: RAW})
    bench.desk.use_tool("place shifter")
    bench.settle()
    bench.click(bench.at((0.0, 0.0, 0.0)))
    assert bench.layout.items == ()
    assert bench.hints[-1].startswith("Set the scan straight first")
