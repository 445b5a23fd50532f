"""A real viewport with a made-up cabin in it, under the tests' own display."""

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.viewport import made_up_cabin as cabin
from floorpan_app.theme.follow import apply_theme
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import Theme, load_theme
from floorpan_app.viewport.thing import Manner
from floorpan_app.viewport.view import Viewport

SIZE = (860, 600)


@pytest.fixture
def theme(qapp: QApplication) -> Theme:
    use_fonts(100)
    theme = load_theme("light")
    apply_theme(qapp, theme)
    return theme


@pytest.fixture
def view(qtbot: QtBot, theme: Theme) -> Iterator[Viewport]:
    """A shown viewport with a scan of about 20,000 triangles, a seat, a lever and a bottle."""
    view = Viewport(theme)
    view.resize(*SIZE)
    with qtbot.waitExposed(view):
        view.show()
    fill(view)
    view.camera.see_from("free")
    QApplication.processEvents()
    yield view
    view.close()
    view.deleteLater()


def fill(view: Viewport, triangles: int = 20_000) -> None:
    scan, patches = cabin.floor_and_patches(triangles)
    view.scene.show_mesh("scan-1", scan, Manner(role="scan"))
    view.scene.show_patches("scan-1.unseen", patches)
    view.scene.show_body("seat-1", cabin.seat(), Manner(role="seat"))
    view.scene.show_body("shifter-1", cabin.lever(), Manner(role="steel"))
    view.scene.show_body("shifter-1.knob", cabin.knob(), Manner(role="knob"))
    view.scene.show_body("driver-1", cabin.arm(), Manner(role="driver", opacity=0.86))
    view.scene.show_body("vessel-1", cabin.bottle(640.0, 30.0, 150.0), Manner(role="vessel", opacity=0.9))


@pytest.fixture
def settle(qtbot: QtBot) -> Callable[[], None]:
    """Let every paint and timer that is due happen."""

    def wait() -> None:
        QApplication.processEvents()
        qtbot.wait(20)

    return wait
