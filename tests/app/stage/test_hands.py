"""The hand on things: choosing, dragging, keys, turning, the tag, measuring; one history entry each."""

import math

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.stage.bench import Bench
from app.stage.conftest import RAW, Open
from core.small_case import small_layout
from floorpan import edits
from floorpan.items import CupHolder, Place
from floorpan_app.tools.events import Modifiers

pytestmark = pytest.mark.real_view

SHIFT = Qt.KeyboardModifier.ShiftModifier
ON_BOX = (0.0, 30.0, 60.0)
"""On top of the shifter's box."""


def hide(bench: Bench, *words: str) -> None:
    for word in words:
        bench.stage.show(word, False)


def select_by_click(bench: Bench) -> QPoint:
    """Look down on the shifter's box, click it, and say where."""
    hide(bench, "driver", "console", "seats")
    bench.look((0.0, 0.0, 60.0), heading=110.0, rise=-50.0)
    at = bench.at(ON_BOX)
    bench.click(at)
    assert bench.desk.selection == "shifter-1"
    return at


def test_a_click_takes_in_hand_and_a_click_beside_lets_go(small: Bench) -> None:
    select_by_click(small)
    tag = small.stage.tag.widget
    assert tag.isVisible()
    assert tag.text().name == "Shifter"
    assert tag.text().place == "0 rear, on the centre plane, 0 up"
    assert small.marks.tether is not None
    assert small.hints[-1].startswith("Drag slides it on the floor.")
    small.click(small.at((-500.0, 400.0, 0.0)))
    assert small.desk.selection == ""
    assert not tag.isVisible()
    assert small.marks.tether is None


def test_a_drag_follows_the_mouse_on_the_level_it_was_grabbed_at_and_is_one_entry(small: Bench) -> None:
    at = select_by_click(small)
    grabbed = np.array(small.view.pick(at.x(), at.y()).point_mm)  # type: ignore[union-attr]
    end = at + QPoint(70, 40)
    small.press(at)
    small.glide(at, end)
    # The same two sights cut with a level plane, without any of the tools.
    way = small.on_level(end, grabbed[2]) - small.on_level(at, grabbed[2])
    assert small.place("shifter-1") == pytest.approx(way, abs=0.051)
    assert way[2] == pytest.approx(0.0)
    assert np.linalg.norm(way) > 50.0
    assert small.document.previewing
    # Its outline stays where it stood: the box about the origin.
    box = small.marks.ghosts[-1].body[0].box()
    assert box == pytest.approx(np.array([[-70.0, -55.0, 0.0], [70.0, 55.0, 60.0]]))
    assert "of where it stood" in small.stage.tag.widget.text().place
    small.release(end)
    assert not small.document.previewing
    assert small.entries() == 1
    assert small.document.undo_words() == "move Shifter"
    dropped = small.place("shifter-1")
    assert dropped == pytest.approx(way, abs=0.051)
    assert dropped == pytest.approx(np.round(dropped, 1))
    small.document.undo()
    assert tuple(small.place("shifter-1")) == (0.0, 0.0, 0.0)


def test_escape_puts_back_then_leaves_the_tool_then_lets_go(small: Bench) -> None:
    at = select_by_click(small)
    small.desk.use_tool("drag")
    small.press(at)
    small.glide(at, at + QPoint(60, 0))
    assert small.document.previewing
    small.key(Qt.Key.Key_Escape)
    assert not small.document.previewing
    assert tuple(small.place("shifter-1")) == (0.0, 0.0, 0.0)
    small.release(at + QPoint(60, 0))
    assert small.entries() == 0
    assert (small.desk.tool, small.desk.selection) == ("drag", "shifter-1")
    small.key(Qt.Key.Key_Escape)
    assert (small.desk.tool, small.desk.selection) == ("", "shifter-1")
    small.key(Qt.Key.Key_Escape)
    assert small.desk.selection == ""


def test_shift_in_a_drag_is_height_and_back_again_keeps_it(small: Bench) -> None:
    at = select_by_click(small)
    small.press(at)
    # The test library cannot hold a key while the mouse moves.
    for step in range(6):
        small.view._mouse.move((at - QPoint(0, 8 * step)).toPointF(), Modifiers(shift=True))
    raised = small.place("shifter-1")
    assert raised[:2] == pytest.approx([0.0, 0.0])
    assert raised[2] > 10.0
    small.glide(at - QPoint(0, 40), at + QPoint(30, -40))
    assert small.place("shifter-1")[2] == pytest.approx(raised[2])
    small.release(at + QPoint(30, -40))
    assert small.entries() == 1


def test_keys_move_along_car_axes_and_a_held_key_is_one_entry(small: Bench) -> None:
    select_by_click(small)
    small.look((0.0, 0.0, 60.0), heading=95.0, rise=-50.0)
    # The eye's right hand points rearward here: front is at the left.
    small.key(Qt.Key.Key_Right)
    assert tuple(small.place("shifter-1")) == (1.0, 0.0, 0.0)
    small.key(Qt.Key.Key_Up, SHIFT)
    assert tuple(small.place("shifter-1")) == (1.0, 10.0, 0.0)
    small.key(Qt.Key.Key_PageUp)
    assert tuple(small.place("shifter-1")) == (1.0, 10.0, 1.0)
    assert small.entries() == 3
    for _ in range(4):
        QTest.keyPress(small.view, Qt.Key.Key_Left)
    assert small.document.previewing
    QTest.keyRelease(small.view, Qt.Key.Key_Left)
    QApplication.processEvents()
    assert tuple(small.place("shifter-1")) == (-3.0, 10.0, 1.0)
    assert small.entries() == 4
    QTest.keyPress(small.view, Qt.Key.Key_Left)
    small.key(Qt.Key.Key_Escape)
    assert tuple(small.place("shifter-1")) == (-3.0, 10.0, 1.0)
    assert small.entries() == 4


def test_the_centre_plane_catches_a_thing_that_comes_near_and_shows_its_line(open_bench: Open) -> None:
    layout = edits.move(small_layout(RAW), "shifter-1", y_mm=40.0)
    bench = open_bench(layout, {RAW.sha256: RAW})
    hide(bench, "driver", "console", "seats")
    bench.look((0.0, 0.0, 60.0), heading=90.0, rise=-60.0)
    start = bench.at((0.0, 60.0, 60.0))
    bench.click(start)
    bench.press(start)
    end = bench.at((0.0, 21.0, 60.0))
    bench.glide(start, end)
    assert bench.place("shifter-1")[1] == 0.0
    assert [word.text for word in bench.marks.words] == ["centre plane"]
    bench.release(end)
    assert bench.place("shifter-1")[1] == 0.0
    assert not bench.marks.words


def test_what_is_locked_stays_and_says_why(small: Bench) -> None:
    at = select_by_click(small)
    small.stage.tag.widget.button("lock").click()
    assert small.layout.thing("shifter-1").locked
    assert small.document.undo_words() == "lock Shifter"
    small.drag(at, at + QPoint(60, 20))
    small.key(Qt.Key.Key_Right)
    assert tuple(small.place("shifter-1")) == (0.0, 0.0, 0.0)
    assert "locked" in small.hints[-1]
    assert small.entries() == 1
    small.stage.tag.widget.button("lock").click()
    assert not small.layout.thing("shifter-1").locked


def test_a_vessel_in_a_well_takes_its_holder_along(small: Bench) -> None:
    hide(small, "driver", "seats")
    small.look((200.0, 60.0, 120.0), heading=80.0, rise=-20.0, distance=1200.0)
    at = small.at((200.0, 60.0, 150.0))
    small.click(at)
    assert small.desk.selection == "vessel-1"
    end = at + QPoint(50, 10)
    small.drag(at, end)
    holder = small.layout.thing("cup-holder-1")
    assert isinstance(holder, CupHolder)
    assert holder.place.x_mm > 210.0
    assert small.document.undo_words() == "move Cup holder"
    stood = small.stage.scene().placed("vessel-1").place
    assert (stood.x_mm, stood.y_mm) == pytest.approx((holder.place.x_mm, holder.place.y_mm))


def test_through_a_see_through_console_what_stands_in_it_is_taken_and_dragged(open_bench: Open) -> None:
    layout = edits.change(small_layout(RAW), "console-1", place=Place(x_mm=-100.0, y_mm=0.0))
    bench = open_bench(layout, {RAW.sha256: RAW})
    hide(bench, "driver", "seats")
    bench.look((0.0, 0.0, 60.0), heading=110.0, rise=-35.0)
    at = bench.at((0.0, 0.0, 60.0))
    pick = bench.view.pick(at.x(), at.y())
    assert pick is not None
    assert pick.name == "console-1.shell"
    bench.click(at)
    assert bench.desk.selection == "shifter-1"
    bench.drag(at, at + QPoint(16, 4))
    assert bench.place("shifter-1")[0] > 10.0
    assert bench.place("console-1")[0] == -100.0
    bench.click(bench.at((150.0, 70.0, 40.0)))
    assert bench.desk.selection == "console-1"


def test_turning_by_the_mouse_and_by_keys(small: Bench) -> None:
    select_by_click(small)
    small.look((0.0, 0.0, 0.0), heading=90.0, rise=-89.0)
    small.desk.use_tool("turn")
    start = small.at((60.0, 20.0, 60.0))
    level = small.view.pick(start.x(), start.y()).point_mm[2]  # type: ignore[union-attr]
    end = small.at((20.0, 60.0, 60.0))
    small.drag(start, end)
    a, b = small.on_level(start, level), small.on_level(end, level)
    angle = math.degrees(math.atan2(b[1], b[0]) - math.atan2(a[1], a[0]))
    turned = small.layout.thing("shifter-1").place.turn_deg
    # It takes hold of every fifteenth degree within six pixels.
    assert turned == pytest.approx(angle, abs=7.5)
    assert turned > 20.0
    assert small.document.undo_words() == "turn Shifter"
    small.key(Qt.Key.Key_Left)
    assert small.layout.thing("shifter-1").place.turn_deg == pytest.approx(round(turned, 1) + 1.0)
    assert small.entries() == 2
    small.key(Qt.Key.Key_Escape)
    assert small.desk.tool == ""


def test_mirror_is_done_at_once_and_the_tag_says_where_it_went(small: Bench) -> None:
    small.desk.select("cup-holder-1")
    small.key(Qt.Key.Key_M)
    assert small.place("cup-holder-1") == pytest.approx([200.0, -60.0, 60.0])
    assert small.desk.tool == ""
    assert small.entries() == 1
    assert small.stage.tag.widget.text().place == "200 rear, 60 driver side, 60 up"
    small.stage.tag.widget.button("mirror").click()
    assert small.place("cup-holder-1") == pytest.approx([200.0, 60.0, 60.0])


def test_after_a_deed_the_hand_says_what_it_can_do_again(small: Bench) -> None:
    small.desk.select("cup-holder-1")
    hint = small.hints[-1]
    small.desk.hinted.emit("Nothing was scanned there.")
    small.key(Qt.Key.Key_M)
    assert small.entries() == 1
    assert small.hints[-1] == hint
    small.desk.hinted.emit("Nothing was scanned there.")
    small.document.undo()
    assert small.hints[-1] == hint
    small.desk.go_to("cup")
    assert small.hints[-1] == hint
    small.desk.select("")
    assert small.hints[-1] == ""


def test_measuring_from_one_point_to_another(small: Bench) -> None:
    hide(small, "driver", "seats")
    small.look((0.0, 0.0, 0.0), heading=100.0, rise=-60.0)
    small.desk.use_tool("measure")
    first, second = (-600.0, -300.0, 0.0), (-300.0, 100.0, 0.0)
    small.click(small.at(first))
    small.click(small.at(second))
    said = small.hints[-1]
    # A pixel here is about two millimetres.
    straight = float(said.split()[0])
    assert straight == pytest.approx(500.0, abs=4.0)
    assert "rearward" in said
    assert "to the passenger side" in said
    (dimension,) = small.marks.dimensions
    assert float(dimension.text) == straight
    assert np.subtract(dimension.b_mm, dimension.a_mm) == pytest.approx([300.0, 400.0, 0.0], abs=4.0)
    small.desk.use_system("in")
    (dimension,) = small.marks.dimensions
    assert "\u2044" in dimension.text or dimension.text.startswith("19")
    small.key(Qt.Key.Key_Escape)
    assert small.marks.dimensions == ()
    assert small.desk.tool == "measure"
    small.key(Qt.Key.Key_Escape)
    assert small.desk.tool == ""
    assert small.entries() == 0
