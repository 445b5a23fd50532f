"""A thing dragged over the floor, along an axis, and by keys."""

import math

import pytest

from app.tools.sights import at
from floorpan_app.tools.drag import Drag
from floorpan_app.tools.events import Modifiers, Vector
from floorpan_app.tools.snapping import SNAP_PX, Multiples, SnapLine

PLACE = (640.0, 30.0, 212.0)
CENTRE = SnapLine(axis="y", at_mm=0.0, word="centre plane")


def test_the_point_that_was_grabbed_stays_under_the_mouse() -> None:
    drag = Drag(PLACE)
    drag.press(at((650.0, 20.0, 300.0), hit="vessel-1"))
    proposed = drag.move(at((688.0, -15.0, 300.0)))
    assert proposed is not None
    assert proposed.kind == "preview"
    assert proposed.value == pytest.approx((678.0, -5.0, 212.0))


def test_one_entry_is_made_when_it_is_let_go() -> None:
    drag = Drag(PLACE)
    drag.press(at((640.0, 30.0, 300.0), hit="vessel-1"))
    drag.move(at((700.0, 30.0, 300.0)))
    done = drag.release(at((678.0, 30.0, 300.0)))
    assert done is not None
    assert (done.kind, done.value) == ("done", pytest.approx((678.0, 30.0, 212.0)))
    assert drag.move(at((900.0, 30.0, 300.0))) is None


def test_a_thing_put_back_by_hand_makes_no_entry() -> None:
    drag = Drag(PLACE)
    drag.press(at((640.0, 30.0, 300.0), hit="vessel-1"))
    assert drag.release(at((640.0, 30.0, 300.0))) is None


def test_escape_puts_it_back_where_it_stood() -> None:
    drag = Drag(PLACE)
    drag.press(at((640.0, 30.0, 300.0), hit="vessel-1"))
    drag.move(at((700.0, 60.0, 300.0)))
    back = drag.key("escape", Modifiers())
    assert back is not None
    assert (back.kind, back.value) == ("back", PLACE)
    assert drag.release(at((700.0, 60.0, 300.0))) is None
    assert drag.key("escape", Modifiers()) is None


@pytest.mark.parametrize("way", ["x", "y", "z"])
def test_along_an_axis_only_that_number_changes(way: str) -> None:
    drag = Drag(PLACE, way=way)  # type: ignore[arg-type]
    drag.press(at(PLACE, hit="vessel-1"))
    axis = "xyz".index(way)
    goal = list(PLACE)
    goal[axis] += 45.0
    proposed = drag.move(at((goal[0], goal[1], goal[2])))
    assert proposed is not None
    assert proposed.value == pytest.approx(tuple(goal))


def test_seen_from_the_side_it_moves_along_the_axis_across() -> None:
    drag = Drag(PLACE)
    # Level, along +Y, as the view from the driver's side.
    drag.press(at(PLACE, eye=(640.0, -5000.0, 212.0), hit="vessel-1"))
    proposed = drag.move(at((690.0, 30.0, 260.0), eye=(690.0, -5000.0, 260.0)))
    assert proposed is not None
    assert proposed.value == pytest.approx((690.0, 30.0, 212.0))


def test_it_takes_hold_of_a_line_within_six_pixels_and_shows_it() -> None:
    drag = Drag(PLACE, snaps=(CENTRE, Multiples(axis="x", step_mm=50.0, word="station")))
    drag.press(at(PLACE, hit="vessel-1", pixel_mm=0.5))
    near = drag.move(at((648.0, SNAP_PX * 0.5 - 0.1, 212.0), pixel_mm=0.5))
    assert near is not None
    assert near.value == pytest.approx((650.0, 0.0, 212.0))
    assert {line.word for line in near.caught} == {"centre plane", "station"}
    far = drag.move(at((630.0, SNAP_PX * 0.5 + 0.1, 212.0), pixel_mm=0.5))
    assert far is not None
    assert far.value == pytest.approx((630.0, 3.1, 212.0))
    assert far.caught == ()


def test_alt_moves_a_tenth_and_lets_go_of_lines() -> None:
    drag = Drag((640.0, 1.0, 212.0), snaps=(CENTRE,))
    drag.press(at((640.0, 1.0, 212.0), hit="vessel-1"))
    proposed = drag.move(at((740.0, 1.0, 212.0), modifiers=Modifiers(alt=True)))
    assert proposed is not None
    assert proposed.value == pytest.approx((650.0, 1.0, 212.0))
    assert proposed.caught == ()


def test_a_thing_that_stands_on_the_floor_keeps_touch_and_its_height_over_a_hole() -> None:
    def height(x: float, y: float) -> float | None:
        return None if x > 700.0 else 0.1 * x

    drag = Drag((600.0, 0.0, 60.0), height=height)
    drag.press(at((600.0, 0.0, 100.0), hit="seat-1"))
    on = drag.move(at((650.0, 0.0, 100.0)))
    assert on is not None
    assert on.value == pytest.approx((650.0, 0.0, 65.0))
    over = drag.move(at((720.0, 0.0, 100.0)))
    assert over is not None
    assert over.value == pytest.approx((720.0, 0.0, 65.0))


def test_a_limit_stops_it_with_a_reason() -> None:
    def limit(place: Vector) -> tuple[Vector, str]:
        return ((660.0, *place[1:]), "The seat ends there.") if place[0] > 660.0 else (place, "")

    drag = Drag(PLACE, limit=limit)
    drag.press(at(PLACE, hit="vessel-1"))
    proposed = drag.move(at((700.0, 30.0, 212.0)))
    assert proposed is not None
    assert proposed.value[0] == 660.0
    assert proposed.reason == "The seat ends there."


@pytest.mark.parametrize(
    ("name", "right", "step"),
    [
        ("right", (1.0, 0.0, 0.0), (1.0, 0.0, 0.0)),
        ("up", (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
        ("left", (0.1, -0.99, 0.0), (0.0, 1.0, 0.0)),
        ("up", (0.1, -0.99, 0.0), (1.0, 0.0, 0.0)),
        ("down", (-0.9, 0.3, 0.0), (0.0, 1.0, 0.0)),
        ("page up", (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
        ("page down", (0.0, 1.0, 0.0), (0.0, 0.0, -1.0)),
    ],
)
def test_keys_step_along_the_car_axis_nearest_to_the_arrow(name: str, right: Vector, step: Vector) -> None:
    for modifiers, times in ((Modifiers(), 1.0), (Modifiers(shift=True), 10.0), (Modifiers(alt=True), 0.1)):
        done = Drag(PLACE).key(name, modifiers, right)
        assert done is not None
        assert done.kind == "done"
        moved = tuple(a - b for a, b in zip(done.value, PLACE, strict=True))
        assert moved == pytest.approx(tuple(times * part for part in step))


def test_other_keys_are_not_taken() -> None:
    assert Drag(PLACE).key("enter", Modifiers()) is None


def test_height_keys_leave_the_floor() -> None:
    drag = Drag((600.0, 0.0, 60.0), height=lambda x, y: 60.0)
    up = drag.key("page up", Modifiers(shift=True))
    assert up is not None
    assert math.isclose(up.value[2], 70.0)
