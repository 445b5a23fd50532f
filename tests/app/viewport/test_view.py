"""The real viewport under the hand: turning, zooming, sliding, picking, keys, closing."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.viewport import made_up_cabin as cabin
from app.viewport.hands import canvas_of, drag, picked, pixel, vtk_up, wheel
from floorpan.geometry.mesh import Mesh
from floorpan_app.tools.events import Modifiers, ToolEvent
from floorpan_app.viewport.thing import Manner
from floorpan_app.viewport.view import Viewport

pytestmark = pytest.mark.real_view

Settle = Callable[[], None]
ON_SCAN = QPoint(330, 420)
"""A pixel of the free view where the floor is."""
ON_BOTTLE = (640.0, 30.0, 250.0)


def test_a_left_drag_turns_about_the_point_under_the_mouse_and_keeps_z_up(
    view: Viewport, settle: Settle
) -> None:
    pick = picked(view, ON_SCAN)
    before = view.camera.eye
    drag(view, ON_SCAN, ON_SCAN + QPoint(140, -60), Qt.MouseButton.LeftButton)
    settle()
    assert view.camera.eye.heading_deg != pytest.approx(before.heading_deg, abs=5.0)
    assert view.camera.eye.rise_deg != pytest.approx(before.rise_deg, abs=5.0)
    assert pixel(view, pick.point_mm) == pytest.approx((ON_SCAN.x(), ON_SCAN.y()), abs=1e-6)
    # What the toolkit drew with agrees: no roll, and Z up.
    camera = canvas_of(view).lone_renderer().GetActiveCamera()
    across = np.cross(np.array(camera.GetDirectionOfProjection()), vtk_up(view))
    assert across[2] == pytest.approx(0.0, abs=1e-9)
    assert vtk_up(view)[2] > 0.0


def test_a_drag_on_the_bare_bench_turns_too_and_over_the_top_it_stops_upright(view: Viewport) -> None:
    assert view.pick(8.0, 590.0) is None
    before = view.camera.eye.heading_deg
    drag(view, QPoint(8, 590), QPoint(108, 590), Qt.MouseButton.LeftButton)
    assert view.camera.eye.heading_deg != pytest.approx(before, abs=5.0)
    drag(view, ON_SCAN, ON_SCAN + QPoint(0, 170), Qt.MouseButton.LeftButton)
    drag(view, ON_SCAN, ON_SCAN + QPoint(0, 170), Qt.MouseButton.LeftButton)
    assert view.camera.eye.rise_deg == -90.0
    assert view.camera.eye.axes()[1][2] == pytest.approx(0.0, abs=1e-9)


def test_a_right_or_middle_drag_slides(view: Viewport) -> None:
    for button in (Qt.MouseButton.RightButton, Qt.MouseButton.MiddleButton):
        view.camera.see_from("free")
        pick = picked(view, ON_SCAN)
        before = view.camera.eye
        drag(view, ON_SCAN, ON_SCAN + QPoint(90, -40), button)
        after = view.camera.eye
        assert (after.heading_deg, after.rise_deg) == (before.heading_deg, before.rise_deg)
        assert pixel(view, pick.point_mm) == pytest.approx((ON_SCAN.x() + 90, ON_SCAN.y() - 40), abs=1e-6)


def test_the_wheel_zooms_to_the_mouse(view: Viewport) -> None:
    for seen_from in ("free", "above"):
        view.camera.see_from(seen_from)
        pick = picked(view, ON_SCAN)
        before = view.projection().pixels_per_mm(pick.point_mm)
        for _ in range(4):
            wheel(view, ON_SCAN, 120)
        assert pixel(view, pick.point_mm) == pytest.approx((ON_SCAN.x(), ON_SCAN.y()), abs=1e-6)
        assert view.projection().pixels_per_mm(pick.point_mm) > 1.5 * before
        assert view.camera.seen_from == seen_from
        for _ in range(4):
            wheel(view, ON_SCAN, -120)
        assert view.projection().pixels_per_mm(pick.point_mm) == pytest.approx(before)


def test_a_double_click_goes_to_the_point(view: Viewport) -> None:
    view.set_animated(False)
    pick = picked(view, ON_SCAN)
    QTest.mouseDClick(canvas_of(view), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, ON_SCAN)
    assert pixel(view, pick.point_mm) == pytest.approx((view.width() / 2, view.height() / 2))


# Picking.


def nearest_hit(mesh: Mesh, origin: np.ndarray, direction: np.ndarray) -> float:
    """Distance to the first triangle by trying them all. Source: Moeller and Trumbore, Fast, minimum storage
    ray/triangle intersection, Journal of Graphics Tools 2 (1997)."""
    a, b, c = (mesh.points[mesh.faces[:, corner]] for corner in range(3))
    one, two = b - a, c - a
    across = np.cross(direction, two)
    size = np.einsum("ij,ij->i", one, across)
    inverse = np.divide(1.0, size, out=np.zeros_like(size), where=np.abs(size) > 1e-12)
    away = origin - a
    u = np.einsum("ij,ij->i", away, across) * inverse
    other = np.cross(away, one)
    v = other @ direction * inverse
    t = np.einsum("ij,ij->i", two, other) * inverse
    met = (inverse != 0.0) & (u >= 0.0) & (v >= 0.0) & (u + v <= 1.0) & (t > 0.0)
    return float(t[met].min(initial=math.inf))


def test_picks_are_where_a_ray_meets_the_scan_first(view: Viewport) -> None:
    scan, _ = cabin.floor_and_patches(20_000)
    for name in view.scene.names() - {"scan-1"}:
        view.scene.set_shown(name, False)
    for seen_from in ("free", "driver", "above"):
        view.camera.see_from(seen_from)
        met = [
            compared_with_every_triangle(view, scan, x, y)
            for x, y in np.random.default_rng(4).uniform((0, 0), (view.width(), view.height()), (40, 2))
        ]
        assert sum(met) > 5


def compared_with_every_triangle(view: Viewport, scan: Mesh, x: float, y: float) -> bool:
    sight = view.sight(x, y)
    origin, direction = np.array(sight.origin_mm), np.array(sight.direction)
    away = nearest_hit(scan, origin, direction)
    pick = view.pick(x, y)
    assert (pick is not None) == math.isfinite(away)
    if pick is None:
        return False
    assert pick.name == "scan-1"
    assert pick.point_mm == pytest.approx(origin + away * direction, abs=1e-5)
    corners = scan.points[scan.faces[pick.cell]]
    flat = np.cross(corners[1] - corners[0], corners[2] - corners[0])
    assert abs(np.array(pick.normal) @ flat) == pytest.approx(np.linalg.norm(flat))
    assert np.array(pick.normal) @ direction <= 0.0
    return True


def test_a_thing_is_picked_where_it_stands_after_a_move(view: Viewport) -> None:
    view.scene.set_shown("driver-1", False)
    x, y = pixel(view, ON_BOTTLE)
    assert picked(view, QPoint(round(x), round(y))).name == "vessel-1"
    matrix = np.eye(4)
    matrix[:3, 3] = (0.0, -400.0, 0.0)
    view.scene.move("vessel-1", matrix)
    x, y = pixel(view, (ON_BOTTLE[0], ON_BOTTLE[1] - 400.0, ON_BOTTLE[2]))
    pick = view.pick(x, y)
    assert pick is not None
    assert pick.name == "vessel-1"
    # Somewhere on a bottle of 33 mm at most about its new place.
    assert math.dist(pick.point_mm[:2], (640.0, -370.0)) < 34.0


def test_what_is_hidden_or_not_to_be_picked_is_passed_over(view: Viewport) -> None:
    x, y = pixel(view, (1315.0, -370.0, 500.0))
    assert picked(view, QPoint(round(x), round(y))).name == "seat-1"
    view.scene.set_shown("seat-1", False)
    below = view.pick(x, y)
    assert below is None or below.name != "seat-1"
    view.scene.show_body("seat-1", cabin.seat(), Manner(role="seat", pickable=False))
    below = view.pick(x, y)
    assert below is None or below.name != "seat-1"


# The tool's side.


@pytest.fixture
def told(view: Viewport) -> list[tuple[str, ToolEvent]]:
    heard: list[tuple[str, ToolEvent]] = []
    view.pressed.connect(lambda event: heard.append(("pressed", event)))
    view.moved.connect(lambda event: heard.append(("moved", event)))
    view.released.connect(lambda event: heard.append(("released", event)))
    return heard


def test_a_click_goes_to_the_tool_and_a_drag_does_not(
    view: Viewport, told: list[tuple[str, ToolEvent]]
) -> None:
    pick = picked(view, ON_SCAN)
    QTest.mouseClick(canvas_of(view), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.AltModifier, ON_SCAN)
    clicks = [(what, event) for what, event in told if what != "moved"]
    assert [what for what, _ in clicks] == ["pressed", "released"]
    assert clicks[1][1].hit == pick
    assert clicks[1][1].modifiers == Modifiers(alt=True)
    told.clear()
    drag(view, ON_SCAN, ON_SCAN + QPoint(60, 10), Qt.MouseButton.LeftButton)
    assert [what for what, _ in told if what != "moved"] == []


def test_a_drag_on_the_thing_in_hand_goes_to_the_tool_and_leaves_the_camera(
    view: Viewport, told: list[tuple[str, ToolEvent]]
) -> None:
    view.scene.set_shown("driver-1", False)
    view.set_in_hand(frozenset({"vessel-1"}))
    x, y = pixel(view, ON_BOTTLE)
    start = QPoint(round(x), round(y))
    eye = view.camera.eye
    drag(view, start, start + QPoint(40, 12), Qt.MouseButton.LeftButton, steps=4)
    assert view.camera.eye == eye
    assert [what for what, _ in told] == ["pressed", *["moved"] * 4, "released"]
    first, *others = [event for _, event in told]
    assert first.hit is not None
    assert first.hit.name == "vessel-1"
    assert all(event.hit is None or event.hit.name != "vessel-1" for event in others)
    assert all(event.held for event in others)


def test_the_bare_mouse_is_told_with_what_it_is_on(view: Viewport, told: list[tuple[str, ToolEvent]]) -> None:
    nothing = Qt.MouseButton.NoButton
    move = QMouseEvent(
        QEvent.Type.MouseMove,
        QPointF(ON_SCAN),
        QPointF(view.mapToGlobal(ON_SCAN)),
        nothing,
        nothing,
        Qt.KeyboardModifier.NoModifier,
    )
    QApplication.sendEvent(view, move)
    moves = [event for what, event in told if what == "moved"]
    assert moves
    assert not moves[-1].held
    assert moves[-1].hit == picked(view, ON_SCAN)


# Keys.


def test_arrows_turn_the_view_or_go_to_the_thing_in_hand(view: Viewport) -> None:
    keys: list[tuple[str, Modifiers]] = []
    view.key_pressed.connect(lambda name, modifiers: keys.append((name, modifiers)))
    before = view.camera.eye.heading_deg
    QTest.keyClick(view, Qt.Key.Key_Left)
    assert view.camera.eye.heading_deg == pytest.approx(before + 3.0)
    QTest.keyClick(view, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    assert view.camera.eye.heading_deg == pytest.approx(before + 33.0)
    QTest.keyClick(view, Qt.Key.Key_PageUp)
    QTest.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.ControlModifier)
    assert keys == []
    view.set_in_hand(frozenset({"vessel-1"}))
    eye = view.camera.eye
    QTest.keyClick(view, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClick(view, Qt.Key.Key_PageDown)
    QTest.keyClick(view, Qt.Key.Key_Escape)
    assert view.camera.eye == eye
    assert keys == [("up", Modifiers(shift=True)), ("page down", Modifiers()), ("escape", Modifiers())]


def test_no_stock_key_or_style_is_alive(view: Viewport, settle: Settle) -> None:
    canvas = canvas_of(view)
    settle()
    view.scene.set_shown("driver-1", True)
    before = view.screenshot()
    eye = view.camera.eye
    for letter in "qwertyuiopasdfghjklzxcvbnm1234567890+-":
        QTest.keyClick(canvas, letter)
        QTest.keyClick(view, letter)
        QTest.keyClick(canvas, letter, Qt.KeyboardModifier.ShiftModifier)
    settle()
    assert view.isVisible()
    assert view.camera.eye == eye
    assert view.screenshot() == before
    interactor = canvas.GetRenderWindow().GetInteractor()
    assert interactor.GetInteractorStyle() is None
    for event in (
        "KeyPressEvent",
        "CharEvent",
        "LeftButtonPressEvent",
        "MouseMoveEvent",
        "MouseWheelForwardEvent",
    ):
        assert not interactor.HasObserver(event), event
    assert not canvas.acceptDrops()


def test_each_step_of_the_mouse_makes_one_picture(view: Viewport, settle: Settle) -> None:
    settle()
    made = []
    renderer = canvas_of(view).lone_renderer()
    tag = renderer.AddObserver("StartEvent", lambda *_: made.append(1))
    QTest.mousePress(canvas_of(view), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, ON_SCAN)
    made.clear()
    for step in range(1, 11):
        QTest.mouseMove(canvas_of(view), ON_SCAN + QPoint(6 * step, 2 * step))
        QApplication.processEvents()
    renderer.RemoveObserver(tag)
    QTest.mouseRelease(canvas_of(view), Qt.MouseButton.LeftButton)
    # The last of them may be followed by a careful one when the machine is slow.
    assert 10 <= len(made) <= 12
