"""The named views, the whole car, and going to a point, without a window."""

import math

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from floorpan_app.viewport.camera import Camera
from floorpan_app.viewport.eye import Vector
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.views import SEEN_FROM, SeenFrom, Side

CORNERS = np.array([[x, y, z] for x in (-60, 1450) for y in (-690, 690) for z in (-40, 790)], dtype=float)


@pytest.fixture
def camera(qapp: QApplication) -> Camera:
    camera = Camera(lambda: CORNERS)
    camera.set_shape(1.5)
    return camera


def projection(camera: Camera) -> Projection:
    return Projection(eye=camera.eye, width=900.0, height=600.0)


@pytest.mark.parametrize(
    ("seen_from", "side", "left", "top"),
    [
        ("driver", "left", (-1, 0, 0), (0, 0, 1)),
        ("driver", "right", (1, 0, 0), (0, 0, 1)),
        ("passenger", "left", (1, 0, 0), (0, 0, 1)),
        ("above", "left", (-1, 0, 0), (0, 1, 0)),
        ("above", "right", (1, 0, 0), (0, -1, 0)),
        ("front", "left", (0, 1, 0), (0, 0, 1)),
        ("rear", "right", (0, -1, 0), (0, 0, 1)),
    ],
)
def test_the_fixed_views(camera: Camera, seen_from: SeenFrom, side: Side, left: Vector, top: Vector) -> None:
    camera.set_driver_side(side)
    camera.see_from(seen_from)
    right, up, _ = camera.eye.axes()
    assert -right == pytest.approx(left, abs=1e-12)
    assert up == pytest.approx(top, abs=1e-12)
    assert camera.eye.parallel


@pytest.mark.parametrize("seen_from", SEEN_FROM)
def test_every_view_shows_the_whole_car(camera: Camera, seen_from: SeenFrom) -> None:
    camera.see_from(seen_from)
    assert camera.seen_from == seen_from
    pixels, before = projection(camera).pixels(CORNERS)
    assert before.all()
    assert pixels.min() > 0.0
    assert (pixels.max(axis=0) < (900.0, 600.0)).all()


def test_the_free_view_is_seen_from_the_drivers_side_above(camera: Camera) -> None:
    for side, sign in (("left", -1.0), ("right", 1.0)):
        camera.set_driver_side(side)  # type: ignore[arg-type]
        camera.see_from("free")
        assert math.copysign(1.0, camera.eye.position()[1]) == sign
        assert camera.eye.position()[2] > 800.0


def test_the_whole_car_again_from_where_one_looks(camera: Camera) -> None:
    camera.see_from("free")
    whole = camera.eye
    camera.slide(500.0, 300.0)
    camera.zoom((0.0, 0.0, 0.0), 0.4)
    camera.see_whole_car()
    assert camera.eye.target_mm == pytest.approx(whole.target_mm)
    assert camera.eye.distance_mm == pytest.approx(whole.distance_mm)


def test_without_anything_to_see_there_is_room_for_a_cabin(qapp: QApplication) -> None:
    camera = Camera(lambda: None)
    camera.see_from("driver")
    assert 1000.0 < camera.eye.height_mm() < 2500.0


def test_turning_from_a_fixed_view_leaves_it_without_a_jump(camera: Camera) -> None:
    camera.see_from("above")
    point = (400.0, -300.0, 120.0)
    place, size = projection(camera).pixel(point), projection(camera).pixels_per_mm(point)
    camera.turn(point, 0.0, 0.0)
    assert camera.seen_from == "free"
    assert not camera.eye.parallel
    assert projection(camera).pixel(point) == pytest.approx(place, abs=1e-6)
    assert projection(camera).pixels_per_mm(point) == pytest.approx(size)


def test_going_to_a_finding_takes_a_quarter_of_a_second_or_no_time(camera: Camera, qtbot: QtBot) -> None:
    goal = (640.0, 30.0, 300.0)
    camera.turn_to(goal, (0.0, 1.0, 0.0), animate=False)
    assert camera.eye.target_mm == goal
    camera.see_from("free")
    camera.turn_to(goal, (0.0, 1.0, 0.0))
    assert camera.eye.target_mm != goal
    qtbot.waitUntil(lambda: camera.eye.target_mm == goal, timeout=5000)
    assert camera.eye.axes()[2] == pytest.approx((0.0, 1.0, 0.0), abs=1e-12)


def test_the_hand_stops_a_walk(camera: Camera, qtbot: QtBot) -> None:
    camera.see_from("free")
    camera.turn_to((640.0, 30.0, 300.0), (0.0, 1.0, 0.0))
    camera.slide(10.0, 0.0)
    stopped = camera.eye
    qtbot.wait(60)
    assert camera.eye == stopped
