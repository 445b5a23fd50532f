"""What the real viewport draws, and what is left of it afterwards."""

import gc
import weakref
from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication, QDockWidget, QMainWindow, QWidget
from pytestqt.qtbot import QtBot

from app.viewport import made_up_cabin as cabin
from app.viewport.hands import canvas_of, pixel
from floorpan_app.theme.record import Theme, load_theme
from floorpan_app.viewport.thing import Manner
from floorpan_app.viewport.view import Viewport

pytestmark = pytest.mark.real_view

Settle = Callable[[], None]


def colour_at(view: Viewport, x: float, y: float) -> tuple[int, int, int]:
    colour = view.screenshot().pixelColor(round(x), round(y))
    return colour.red(), colour.green(), colour.blue()


def test_the_ground_is_the_bench_colour_of_the_theme(view: Viewport) -> None:
    for name in ("dark", "contrast", "light"):
        theme = load_theme(name)
        view.set_theme(theme)
        red, green, blue = colour_at(view, 6, 590)
        assert f"#{red:02X}{green:02X}{blue:02X}" == theme.bench


def test_unseen_patches_show_paper_and_their_ink(view: Viewport, theme: Theme) -> None:
    view.camera.see_from("above")
    image = view.screenshot()
    x, y = pixel(view, (700.0, 430.0, 0.0))
    around = {
        image.pixelColor(round(x) + i, round(y) + j).name().upper()
        for i in range(-9, 10)
        for j in range(-9, 10)
    }
    assert theme.paper in around
    # A line of 1.3 pixels hardly ever fills one: the darkest is near its ink.
    ink = QColor(theme.unseen)
    darkest = min((QColor(name) for name in around), key=lambda colour: colour.lightness())
    assert abs(darkest.lightness() - ink.lightness()) < 0.4 * (
        QColor(theme.paper).lightness() - ink.lightness()
    )


def test_the_same_hulls_elsewhere_only_move(view: Viewport) -> None:
    forms = [part.form for part in view.scene._things["vessel-1"].parts]
    actors = [part.actor for part in view.scene._things["vessel-1"].parts]
    view.scene.show_body("vessel-1", cabin.bottle(700.0, 30.0, 150.0), Manner(role="vessel", opacity=0.9))
    assert [part.form for part in view.scene._things["vessel-1"].parts] == forms
    assert [part.actor for part in view.scene._things["vessel-1"].parts] == actors
    assert actors[0].GetUserMatrix().GetElement(0, 3) == 700.0


def test_a_screenshot_is_a_png_of_the_viewport(view: Viewport) -> None:
    data = view.screenshot_png()
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    assert view.screenshot().size() == view.size() * view.devicePixelRatioF()


def test_the_picture_survives_a_move_to_another_window(view: Viewport, settle: Settle) -> None:
    """Moved to another top level its GL context goes; shared contexts keep what it drew."""
    window = QMainWindow()
    dock = QDockWidget()
    window.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, dock)
    before = view.size()
    dock.setWidget(view)
    window.resize(before.width() + 40, before.height() + 60)
    window.show()
    settle()
    dock.setFloating(True)
    settle()
    dock.setFloating(False)
    settle()
    picture = view.screenshot()
    colours = {
        picture.pixel(x, y) for x in range(0, picture.width(), 9) for y in range(0, picture.height(), 9)
    }
    assert len(colours) > 100
    dock.setWidget(QWidget())
    view.setParent(None)
    window.close()
    window.deleteLater()


def test_closing_leaves_nothing_alive(qtbot: QtBot, theme: Theme) -> None:
    view = Viewport(theme)
    with qtbot.waitExposed(view):
        view.show()
    view.scene.show_body("seat-1", cabin.seat(), Manner(role="seat"))
    actor = weakref.ref(view.scene._things["seat-1"].parts[0].actor)
    canvas = weakref.ref(canvas_of(view))
    view.camera.turn_to((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    view.close()
    view.close()
    view.deleteLater()
    del view
    for _ in range(3):
        QApplication.sendPostedEvents(None, 52)
        QApplication.processEvents()
        gc.collect()
    assert actor() is None
    assert canvas() is None
