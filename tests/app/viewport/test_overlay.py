"""What is written over the picture: tickets, grips, verdicts that get worse."""

from collections.abc import Iterator
from itertools import combinations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.viewport import made_up_cabin as cabin
from floorpan_app.theme.record import Theme, Verdict
from floorpan_app.tools.crop_box import CropBox, CropBoxTool
from floorpan_app.tools.events import ToolEvent
from floorpan_app.viewport.eye import Eye
from floorpan_app.viewport.mark_painting import ghost_outline
from floorpan_app.viewport.marks import (
    CropBoxMark,
    GapLine,
    Ghost,
    Marks,
    PickMark,
    SideWords,
    SteelRule,
    Tripod,
)
from floorpan_app.viewport.overlay import Overlay
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.scale_painting import bar_length_mm
from floorpan_app.viewport.view import Viewport
from floorpan_app.widgets.ticket import WORSE_MS

SIZE = (860, 600)
FREE = Projection(
    eye=Eye(target_mm=(600.0, 0.0, 200.0), heading_deg=118.0, rise_deg=-26.0, distance_mm=2600.0),
    width=860.0,
    height=600.0,
)
ABOVE = Projection(
    eye=Eye(target_mm=(600.0, 0.0, 0.0), heading_deg=90.0, rise_deg=-90.0, distance_mm=2600.0, parallel=True),
    width=860.0,
    height=600.0,
)
WORDS = ("front 180", "rear 1180", "driver side 330", "passenger side 330", "down 60", "up 240")
CROP = CropBoxMark(least_mm=(100.0, -330.0, -60.0), greatest_mm=(1180.0, 330.0, 240.0), words=WORDS)


def gap(
    name: str, x: float, verdict: Verdict = "close", value: str = "17", *, stale: bool = False
) -> GapLine:
    return GapLine(
        id=name,
        verdict=verdict,
        a_mm=(x, -20.0, 300.0),
        b_mm=(x, 40.0, 330.0),
        u_mm=3.0,
        value_text=value,
        u_text="± 3" if value else "",
        part="dash",
        stale=stale,
    )


@pytest.fixture
def overlay(qapp: QApplication, theme: Theme) -> Iterator[Overlay]:
    parent = QWidget()
    overlay = Overlay(parent, theme, lambda points: points[:, 2] < 0.0)
    overlay.resize(*SIZE)
    overlay.project(FREE, fixed=False)
    yield overlay
    overlay.stop()
    parent.deleteLater()


def blank() -> QImage:
    image = QImage(*SIZE, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    return image


def painted(overlay: Overlay) -> QImage:
    image = blank()
    painter = QPainter(image)
    overlay.paint(painter)
    painter.end()
    return image


def inked(image: QImage, colour: str) -> int:
    """How many pixels have exactly this colour."""
    whole = image.convertToFormat(QImage.Format.Format_ARGB32)
    pixels = np.frombuffer(whole.constBits(), dtype=np.uint32)
    return int((pixels == QColor(colour).rgba()).sum())


def test_tickets_do_not_overlap_and_stay_in_the_picture(overlay: Overlay) -> None:
    overlay.set_marks(Marks(gaps=tuple(gap(f"gap-{n}", 560.0 + 12.0 * n) for n in range(6))))
    rooms = overlay.ticket_rooms()
    assert len(rooms) == 6
    assert not any(one.intersects(other) for one, other in combinations(rooms.values(), 2))
    assert all(overlay.rect().contains(room.toAlignedRect()) for room in rooms.values())


def test_a_gap_out_of_the_picture_or_behind_the_eye_has_no_ticket(overlay: Overlay) -> None:
    overlay.set_marks(Marks(gaps=(gap("aside", 9000.0), gap("behind", -9000.0), gap("near", 600.0))))
    assert set(overlay.ticket_rooms()) == {"near"}


@pytest.mark.parametrize("verdict", ["hits", "short", "unseen", "close", "clear"])
def test_every_verdict_is_drawn_in_its_colour_on_a_halo(
    overlay: Overlay, theme: Theme, verdict: Verdict
) -> None:
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, verdict),)))
    image = painted(overlay)
    assert inked(image, theme.verdict(verdict)) > 40
    assert inked(image, theme.paper) > 40


def line_only(overlay: Overlay, colour: str) -> int:
    """Pixels of a colour away from tickets."""
    image = painted(overlay)
    painter = QPainter(image)
    for room in overlay.ticket_rooms().values():
        painter.fillRect(room, Qt.GlobalColor.black)
    painter.end()
    return inked(image, colour)


def test_a_hit_has_a_ring(overlay: Overlay, theme: Theme) -> None:
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, "short"),)))
    without = line_only(overlay, theme.hits)
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, "hits"),)))
    # A ring 60 pixels across is 188 pixels round.
    assert line_only(overlay, theme.hits) > without + 100


def test_a_pending_gap_has_a_ticket_and_no_line(overlay: Overlay, theme: Theme) -> None:
    before = blank()
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, "pending", ""),)))
    assert set(overlay.ticket_rooms()) == {"one"}
    at = FREE.pixel((600.0, -20.0, 300.0))
    assert at is not None
    jaw = (round(at[0]) - 3, round(at[1]) - 3, 6, 6)
    assert painted(overlay).copy(*jaw) == before.copy(*jaw)
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, "clear"),)))
    assert painted(overlay).copy(*jaw) != before.copy(*jaw)


def test_a_verdict_that_gets_worse_doubles_its_border_once(overlay: Overlay, qtbot: QtBot) -> None:
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, "clear"),)))
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, "hits"),)))
    doubled = painted(overlay)
    qtbot.waitUntil(lambda: painted(overlay) != doubled, timeout=5000)
    settled = painted(overlay)
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, "hits", "−6"),)))
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, "hits"),)))
    assert painted(overlay) == settled
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, "clear"),)))
    better = painted(overlay)
    qtbot.wait(WORSE_MS + 50)
    assert painted(overlay) == better


def test_a_stale_value_is_no_worse_verdict(overlay: Overlay) -> None:
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, "hits", stale=True),)))
    stale = painted(overlay)
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, "clear"),)))
    overlay.set_marks(Marks(gaps=(gap("one", 600.0, "hits", stale=True),)))
    assert painted(overlay) == stale


def test_a_grip_is_grabbed_within_24_pixels(overlay: Overlay) -> None:
    overlay.set_marks(Marks(crop_box=CROP))
    place = FREE.pixel(CROP.grips()["x-greatest"])
    assert place is not None
    for away, found in ((0.0, True), (11.5, True), (12.5, False)):
        target = overlay.target(place[0] + away, place[1])
        assert (target is not None and target.id == "crop:x-greatest") is found


def test_a_ticket_can_be_found_by_the_mouse(overlay: Overlay) -> None:
    overlay.set_marks(Marks(gaps=(gap("one", 600.0),)))
    middle = overlay.ticket_rooms()["one"].center()
    target = overlay.target(middle.x(), middle.y())
    assert target is not None
    assert (target.kind, target.id) == ("ticket", "one")
    assert overlay.target(2.0, 2.0) is None


def test_edge_words_and_the_bar_stand_in_fixed_views_only(overlay: Overlay) -> None:
    overlay.set_sides(SideWords())
    assert painted(overlay) == blank()
    overlay.project(ABOVE, fixed=True)
    fixed = painted(overlay)
    for left, top in ((0, 285), (780, 285), (390, 0), (390, 570), (700, 0)):
        assert fixed.copy(left, top, 80, 30) != blank().copy(left, top, 80, 30)


def test_before_axes_the_sides_have_letters() -> None:
    right, up, forward = ABOVE.eye.axes()
    plain = SideWords()
    words = [plain.along(way) for way in (right, -right, up, -up, -forward)]
    assert words == ["rear", "front", "passenger side", "driver side", "up"]
    letters = SideWords(front="A", rear="B", left="C", right="D")
    assert [letters.along(way) for way in (right, up)] == ["B", "D"]


@pytest.mark.parametrize(("per_mm", "length"), [(0.9, 200.0), (1.0, 100.0), (10.0, 10.0), (500.0, 5.0)])
def test_the_bar_has_the_longest_round_length_that_fits(per_mm: float, length: float) -> None:
    assert bar_length_mm(per_mm, (5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)) == length


def test_a_ghost_is_one_outline_round_all_its_solids() -> None:
    outline = ghost_outline(Ghost(body=cabin.bottle(600.0, 30.0, 150.0)), FREE)
    assert len(outline.toSubpathPolygons()) == 1
    box = outline.boundingRect()
    # 200 mm tall, seen from 26 degrees above: the height is foreshortened, foot and lid add half their ellipses.
    scale = FREE.pixels_per_mm((600.0, 30.0, 250.0))
    expected = (200.0 * 0.899 + (33.0 + 14.0) * 0.438) * scale
    # Each outline is 0.8 pixels wider than its solid, so that solids that only touch become one.
    assert box.height() == pytest.approx(expected + 1.6, rel=0.03)
    assert box.width() == pytest.approx(66.0 * scale + 1.6, rel=0.03)


def test_marks_of_every_kind_are_painted(overlay: Overlay) -> None:
    for marks in (
        Marks(crop_box=CROP),
        Marks(picks=(PickMark(letter="D", at_mm=(700.0, 100.0, 0.0), text="1.9", verdict="close"),)),
        Marks(tripod=Tripod(at_mm=(600.0, 0.0, 0.0), words=("X rear", "Y right", "Z up"))),
        Marks(rule=SteelRule(at_mm=(500.0, -100.0, 0.0), along=(1.0, 0.0, 0.0), across=(0.0, -1.0, 0.0))),
        Marks(ghosts=(Ghost(body=cabin.bottle(600.0, 30.0, 150.0)),)),
    ):
        overlay.set_marks(marks)
        assert painted(overlay) != blank()


@pytest.mark.real_view
def test_dragging_a_grip_moves_its_face_along_the_axis(view: Viewport) -> None:
    tool = CropBoxTool(CropBox(least_mm=CROP.least_mm, greatest_mm=CROP.greatest_mm))
    view.overlay.set_marks(Marks(crop_box=CROP))
    view.pressed.connect(tool.press)
    view.moved.connect(tool.move)
    done: list[object] = []

    def let_go(event: ToolEvent) -> None:
        done.append(tool.release(event))

    view.released.connect(let_go)
    eye = view.camera.eye
    start = view.projection().pixel(CROP.grips()["x-greatest"])
    goal = view.projection().pixel((1040.0, 0.0, 90.0))
    assert start is not None
    assert goal is not None
    first, last = QPoint(round(start[0]), round(start[1])), QPoint(round(goal[0]), round(goal[1]))
    QTest.mousePress(view, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, first)
    for share in (0.3, 0.7, 1.0):
        QTest.mouseMove(view, first + (last - first) * share)
    QTest.mouseRelease(view, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, last)
    assert view.camera.eye == eye
    # Rounded to whole pixels at both ends, so to about a pixel's worth along the axis.
    assert tool.box.greatest_mm[0] == pytest.approx(1040.0, abs=6.0)
    assert tool.box.greatest_mm[1:] == CROP.greatest_mm[1:]
    assert tool.box.least_mm == CROP.least_mm
    assert len(done) == 1


@pytest.mark.real_view
def test_clicking_a_ticket_gives_its_finding_and_leaves_the_tool_alone(view: Viewport) -> None:
    view.overlay.set_marks(Marks(gaps=(gap("hand-clear:gear=R", 600.0),)))
    chosen: list[str] = []
    pressed: list[ToolEvent] = []
    view.ticket_clicked.connect(chosen.append)
    view.pressed.connect(pressed.append)
    middle = view.overlay.ticket_rooms()["hand-clear:gear=R"].center().toPoint()
    QTest.mouseClick(view, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, middle)
    assert chosen == ["hand-clear:gear=R"]
    assert pressed == []
    # The ticket goes with its gap when the view slides.
    before = view.overlay.ticket_rooms()["hand-clear:gear=R"]
    view.camera.slide(-120.0, 0.0)
    after = view.overlay.ticket_rooms()["hand-clear:gear=R"]
    assert after.center().x() > before.center().x() + 20.0
