"""Picking, placing, turning and measuring."""

import math

import pytest

from app.tools.sights import at
from floorpan_app.tools.events import Modifiers, Sight, Vector
from floorpan_app.tools.measure import Measure
from floorpan_app.tools.pick_point import PickPoint
from floorpan_app.tools.place import Place
from floorpan_app.tools.snapping import SnapLine, snapped
from floorpan_app.tools.turn import Turn


def test_a_click_on_the_scan_picks_a_point() -> None:
    tool = PickPoint(frozenset({"scan-1"}))
    event = at((300.0, -300.0, 4.0), hit="scan-1")
    assert tool.press(event) is None
    done = tool.release(event)
    assert done is not None
    assert (done.kind, done.value.point_mm) == ("done", (300.0, -300.0, 4.0))


def test_a_click_on_something_else_picks_nothing() -> None:
    tool = PickPoint(frozenset({"scan-1"}))
    assert tool.release(at((0.0, 0.0, 0.0), hit="seat-1")) is None
    assert tool.release(at((0.0, 0.0, 0.0))) is None


def test_a_ghost_follows_the_mouse_and_a_click_sets_it_down() -> None:
    tool = Place(frozenset({"scan-1"}), level_mm=10.0)
    ghost = tool.move(at((500.0, 40.0, 18.0), hit="scan-1", held=False))
    assert ghost is not None
    assert (ghost.kind, ghost.value.point_mm, ghost.value.on) == ("preview", (500.0, 40.0, 18.0), "scan-1")
    done = tool.release(at((520.0, 40.0, 19.0), hit="scan-1"))
    assert done is not None
    assert (done.kind, done.value.point_mm) == ("done", (520.0, 40.0, 19.0))


def test_beside_the_floor_the_ghost_keeps_to_a_level() -> None:
    tool = Place(frozenset({"scan-1"}), level_mm=10.0)
    ghost = tool.move(at((700.0, -200.0, 10.0), held=False))
    assert ghost is not None
    assert ghost.value.point_mm == pytest.approx((700.0, -200.0, 10.0))
    assert ghost.value.on is None


def test_a_thing_set_down_takes_hold_of_the_centre_plane_unless_alt_is_held() -> None:
    tool = Place(frozenset({"scan-1"}), snaps=(SnapLine(axis="y", at_mm=0.0),))
    near = at((500.0, 4.0, 18.0), hit="scan-1")
    done = tool.release(near)
    assert done is not None
    assert done.value.point_mm == (500.0, 0.0, 18.0)
    free = tool.move(at((500.0, 4.0, 18.0), hit="scan-1", modifiers=Modifiers(alt=True)))
    assert free is not None
    assert free.value.point_mm == (500.0, 4.0, 18.0)


def on_circle(degrees: float, radius: float = 100.0) -> Vector:
    return (
        500.0 + radius * math.cos(math.radians(degrees)),
        radius * math.sin(math.radians(degrees)),
        200.0,
    )


def test_it_turns_with_the_mouse_past_half_a_turn() -> None:
    turn = Turn((500.0, 0.0, 200.0), snap_deg=0.0)
    turn.press(at(on_circle(10.0), hit="shifter-1"))
    for degrees in (80.0, 150.0, 220.0):
        turn.move(at(on_circle(degrees)))
    done = turn.release(at(on_circle(220.0)))
    assert done is not None
    assert done.value == pytest.approx(210.0)


def test_it_takes_hold_of_round_angles_within_six_pixels() -> None:
    turn = Turn((500.0, 0.0, 200.0))
    turn.press(at(on_circle(0.0), hit="shifter-1"))
    # At 100 mm and 1 mm a pixel six pixels are 3.44 degrees.
    near = turn.move(at(on_circle(18.3)))
    assert near is not None
    assert near.value == 15.0
    far = turn.move(at(on_circle(19.0)))
    assert far is not None
    assert far.value == pytest.approx(19.0)


def test_keys_turn_by_a_degree_and_escape_puts_it_back() -> None:
    turn = Turn((500.0, 0.0, 200.0), 30.0)
    left = turn.key("left", Modifiers(shift=True))
    assert left is not None
    assert left.value == pytest.approx(40.0)
    turn.press(at(on_circle(0.0), hit="shifter-1"))
    turn.move(at(on_circle(70.0)))
    back = turn.key("escape", Modifiers())
    assert back is not None
    assert (back.kind, back.value) == ("back", pytest.approx(40.0))


def test_two_clicks_measure_a_distance_and_its_parts() -> None:
    tool = Measure()
    tool.release(at((100.0, 20.0, 5.0), hit="scan-1"))
    preview = tool.move(at((130.0, 20.0, 45.0), hit="scan-1", held=False))
    assert preview is not None
    # A 3-4-5 triangle.
    assert preview.value.distance_mm == pytest.approx(50.0)
    done = tool.release(at((112.0, -4.0, -27.0), hit="scan-1"))
    assert done is not None
    assert done.kind == "done"
    assert done.value.step_mm == pytest.approx((12.0, -24.0, -32.0))
    # 12-24-32: 4 times 3-6-8.
    assert done.value.distance_mm == pytest.approx(4.0 * math.sqrt(109.0))


def test_escape_forgets_the_first_point() -> None:
    tool = Measure()
    tool.release(at((100.0, 20.0, 5.0), hit="scan-1"))
    back = tool.key("escape", Modifiers())
    assert back is not None
    assert back.kind == "back"
    assert tool.key("escape", Modifiers()) is None
    fresh = tool.release(at((1.0, 2.0, 3.0), hit="scan-1"))
    assert fresh is not None
    assert fresh.kind == "preview"


def test_of_two_lines_the_nearer_is_taken() -> None:
    lines = (SnapLine(axis="x", at_mm=100.0), SnapLine(axis="x", at_mm=104.0))
    place, caught = snapped((103.0, 7.0, 9.0), lines, 1.0)
    assert place == (104.0, 7.0, 9.0)
    assert caught == (lines[1],)


def test_a_pixel_grows_with_the_distance_in_perspective() -> None:
    ray = Sight(
        origin_mm=(0.0, 0.0, 0.0), direction=(0.8, 0.6, 0.0), forward=(1.0, 0.0, 0.0), pixel_growth=0.001
    )
    assert ray.mm_per_pixel((2000.0, 5.0, 0.0)) == pytest.approx(2.0)
    assert ray.mm_per_pixel((-5.0, 0.0, 0.0)) == 0.0
