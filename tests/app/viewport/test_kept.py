"""While a thing moves before what stands still, the picture is the one that is drawn whole."""

from collections.abc import Callable

import numpy as np
import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from app.viewport import made_up_cabin as cabin
from app.viewport.hands import canvas_of
from floorpan_app.viewport import kept
from floorpan_app.viewport.kept import Kept
from floorpan_app.viewport.thing import Manner
from floorpan_app.viewport.view import Viewport

pytestmark = pytest.mark.real_view

BOTTLE = Manner(role="vessel", opacity=0.9)


def pixels(view: Viewport) -> np.ndarray:
    image = canvas_of(view).grabFramebuffer().convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : 3 * image.width()].reshape(image.height(), image.width(), 3).astype(int)


@pytest.fixture
def slowly(view: Viewport, monkeypatch: pytest.MonkeyPatch) -> Callable[[], None]:
    """Makes the viewport take drawing for slow, and something for moving."""
    monkeypatch.setattr(view._pace, "_whole_s", 1.0)
    monkeypatch.setattr(view._pace, "took", lambda seconds: None)

    def moving() -> None:
        view._pace._wait.stop()
        view._pace._still = False

    return moving


@pytest.fixture
def begun(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """How each picture was begun."""
    ways: list[str] = []
    for name in ("begin", "take"):
        plain = getattr(Kept, name)

        def noting(self: Kept, *given: object, plain: Callable[..., None] = plain, way: str = name) -> None:
            ways.append(way)
            plain(self, *given)

        monkeypatch.setattr(kept.Kept, name, noting)
    return ways


def stand(view: Viewport, x: float) -> None:
    view.scene.show_body("vessel-1", cabin.bottle(x, 30.0, 150.0), BOTTLE)


def test_a_dragged_thing_is_drawn_over_what_was_kept_just_as_in_a_whole_picture(
    view: Viewport, slowly: Callable[[], None], begun: list[str]
) -> None:
    view.scene.show_body("console-1", cabin.seat()[:1], Manner(role="console", opacity=0.3))
    QApplication.processEvents()
    slowly()
    pixels(view)
    begun.clear()
    for step in range(5):
        slowly()
        stand(view, 640.0 + 25.0 * step)
        slowly()
        drawn = pixels(view)
    assert begun[0] == "take"
    assert begun[1:] == ["begin"] * (len(begun) - 1)
    assert len(begun) >= 5
    view._kept.forget()
    view._last_projection = None
    slowly()
    whole = pixels(view)
    assert begun.count("take") == 1
    off = np.abs(drawn - whole).max(axis=2)
    # Depths are kept in a wider range than a whole picture has: a rim of pixels may fall to the other side.
    assert np.count_nonzero(off > 8) < 0.0005 * off.size


def test_where_something_else_changes_or_the_eye_moves_nothing_old_is_shown(
    view: Viewport, slowly: Callable[[], None], begun: list[str]
) -> None:
    slowly()
    pixels(view)
    for x in (650.0, 660.0):
        slowly()
        stand(view, x)
        slowly()
        pixels(view)
    begun.clear()
    slowly()
    view.scene.set_shown("seat-1", False)
    slowly()
    without = pixels(view)
    assert begun == ["take"]
    assert not view.scene._things["seat-1"].parts[0].actor.GetVisibility()
    begun.clear()
    view.camera.turn((600.0, 0.0, 100.0), 15.0, 0.0)
    slowly()
    turned = pixels(view)
    assert begun == []
    assert np.count_nonzero(np.abs(turned - without).max(axis=2) > 30) > 1000
    view._pace.be_still()
    pixels(view)
    assert view.scene._things["scan-1"].parts[0].actor.GetVisibility()
    assert canvas_of(view).lone_renderer().GetErase()


def test_a_smaller_picture_is_kept_anew(view: Viewport, slowly: Callable[[], None], begun: list[str]) -> None:
    slowly()
    pixels(view)
    for x in (650.0, 660.0):
        slowly()
        stand(view, x)
        slowly()
        pixels(view)
    view.resize(600, 420)
    QApplication.processEvents()
    begun.clear()
    slowly()
    pixels(view)
    slowly()
    stand(view, 670.0)
    slowly()
    drawn = pixels(view)
    assert begun == ["take"]
    assert drawn.shape[:2] == (420, 600)
    # The ground is there, not what was left in memory.
    assert np.ptp(drawn[:40, :40].reshape(-1, 3), axis=0).max() == 0
