"""Plain dimensions, strings, the silhouettes of what is not drawn solid, and what is met behind a see-through thing."""

import numpy as np
import pytest
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication

from app.viewport import made_up_cabin as cabin
from app.viewport.hands import pixel
from floorpan_app.theme.record import Theme
from floorpan_app.viewport.marks import Dimension, GapLine, Ghost, Marks, Tether
from floorpan_app.viewport.scene import height_of
from floorpan_app.viewport.surfaces import rgb
from floorpan_app.viewport.thing import Manner
from floorpan_app.viewport.view import Viewport

pytestmark = pytest.mark.real_view

A, B = (300.0, -500.0, 0.0), (900.0, -500.0, 0.0)


def written(view: Viewport, marks: Marks) -> np.ndarray:
    """What is written over the picture, as red, green, blue and how much of it."""
    view.overlay.set_marks(marks)
    image = QImage(view.size(), QImage.Format.Format_RGBA8888)
    image.fill(0)
    painter = QPainter(image)
    view.overlay.paint(painter)
    painter.end()
    rows = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : 4 * image.width()].reshape(image.height(), image.width(), 4).astype(int)


def near(picture: np.ndarray, colour: str) -> np.ndarray:
    wanted = np.round(np.array(rgb(colour)) * 255.0)
    return np.asarray((np.abs(picture[..., :3] - wanted).max(axis=2) < 24) & (picture[..., 3] > 200))


def test_a_dimension_runs_in_ink_between_its_points_and_its_value_breaks_it(
    view: Viewport, theme: Theme
) -> None:
    bare = written(view, Marks(dimensions=(Dimension(a_mm=A, b_mm=B),)))
    inked = near(bare, theme.ink)
    a, b = np.array(pixel(view, A)), np.array(pixel(view, B))
    for share in (0.02, 0.3, 0.5, 0.98):
        x, y = np.round(a + share * (b - a)).astype(int)
        assert inked[y - 2 : y + 3, x - 2 : x + 3].any()
    columns = np.nonzero(inked)[1]
    ends = np.array([a, b])
    assert columns.min() >= ends[:, 0].min() - 3
    assert columns.max() <= ends[:, 0].max() + 3
    told = written(view, Marks(dimensions=(Dimension(a_mm=A, b_mm=B, text="600"),)))
    x, y = np.round((a + b) / 2).astype(int)
    # Paper lies under the value, where the line went through before.
    assert near(told, theme.paper)[y - 8 : y + 9, x - 14 : x + 15].sum() > 150


def test_a_short_dimension_has_its_value_beside_it(view: Viewport, theme: Theme) -> None:
    close = (310.0, -500.0, 0.0)
    told = written(view, Marks(dimensions=(Dimension(a_mm=A, b_mm=close, text="10"),)))
    x, y = np.round(pixel(view, A)).astype(int)
    assert near(told, theme.ink)[y - 3 : y + 4, x - 4 : x + 12].any()
    assert near(told, theme.paper)[y - 34 : y - 12, x - 14 : x + 24].sum() > 80


def test_a_string_goes_from_the_thing_to_its_tag_which_no_ticket_covers(view: Viewport, theme: Theme) -> None:
    knot, tag = np.array(pixel(view, A)), (500.0, 300.0)
    tether = Tether(at_mm=A, to_px=tag, room_px=(500.0, 280.0, 200.0, 80.0))
    string = near(written(view, Marks(tether=tether)), theme.accent)
    for share in (0.2, 0.5, 0.8):
        x, y = np.round(knot + share * (np.array(tag) - knot)).astype(int)
        assert string[y - 2 : y + 3, x - 2 : x + 3].any()
    # A gap right under the tag: its ticket goes elsewhere.
    sight = view.sight(600.0, 320.0)
    at = tuple(float(v) for v in np.array(sight.origin_mm) + 2000.0 * np.array(sight.direction))
    gap = GapLine(id="gap", verdict="close", a_mm=at, b_mm=(at[0], at[1], at[2] + 4.0), value_text="4")
    view.overlay.set_marks(Marks(gaps=(gap,), tether=tether))
    room = view.overlay.ticket_rooms()["gap"]
    assert not room.intersects(type(room)(*tether.room_px))


def test_ghosts_are_dashed_in_accent_and_silhouettes_drawn_out_in_their_own_ink(
    view: Viewport, theme: Theme
) -> None:
    body = cabin.seat()[:1]
    dashed = written(view, Marks(ghosts=(Ghost(body=body),)))
    solid = written(view, Marks(ghosts=(Ghost(body=body, role="ink2", stroke="solid"),)))
    assert near(dashed, theme.accent).sum() > 100
    assert near(solid, theme.accent).sum() == 0
    assert near(solid, theme.ink2).sum() > 1.4 * near(dashed, theme.accent).sum()


def test_what_is_in_hand_is_met_behind_what_one_looks_through(view: Viewport) -> None:
    place = (645.0, 30.0, 250.0)
    view.scene.show_body("console-1", cabin.bottle(640.0, 30.0, 150.0), Manner(role="console", opacity=0.3))
    view.scene.show_body("vessel-1", cabin.bottle(640.0, 32.0, 150.0), Manner(role="vessel", opacity=0.9))
    QApplication.processEvents()
    view.camera.see_from("driver")
    x, y = pixel(view, place)
    first = view.pick(x, y)
    assert first is not None
    assert first.name == "console-1"
    view.set_in_hand(frozenset({"vessel-1"}), frozenset({"console-1"}))
    behind = view.pick(x, y)
    assert behind is not None
    assert behind.name == "vessel-1"
    view.set_in_hand(frozenset({"seat-1"}), frozenset({"console-1"}))
    other = view.pick(x, y)
    assert other is not None
    assert other.name == "console-1"


def test_the_height_of_a_thing_at_a_place(view: Viewport) -> None:
    x, y = 640.0, -300.0
    height = height_of(view.scene, "scan-1", x, y)
    assert height is not None
    # The made-up floor is noisy by some millimetres.
    assert height == pytest.approx(float(cabin.height(np.array(x), np.array(y))), abs=6.0)
    assert height_of(view.scene, "scan-1", 5000.0, 0.0) is None


def test_the_camera_knows_whether_it_looks_as_it_was_told(view: Viewport) -> None:
    camera = view.camera
    camera.see_from("above")
    assert camera.as_told
    camera.slide(10.0, 0.0)
    assert not camera.as_told
    camera.see_from("free")
    camera.turn_to((0.0, 0.0, 0.0), animate=False)
    assert not camera.as_told
    far = np.array([[x, y, z] for x in (0.0, 9000.0) for y in (-900.0, 900.0) for z in (0.0, 900.0)])
    camera.see_all(far)
    seen, before = view.projection().pixels(far)
    assert before.all()
    assert (seen.min(axis=0) >= 0.0).all()
    assert (seen.max(axis=0) <= [view.width(), view.height()]).all()
