"""The sketch of how a field is taped: it follows the field, in every theme, and is read aloud."""

from itertools import pairwise

import numpy as np
import pytest
from PySide6.QtCore import QRect, QRectF
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from floorpan.driver.measuring import SKETCHED, TAPED_POINTS, sketch
from floorpan.driver.sketch import Dimension
from floorpan_app.theme.follow import apply_theme
from floorpan_app.theme.fonts import SECOND, text_font, use_fonts
from floorpan_app.theme.record import THEME_NAMES, ThemeName, load_theme
from floorpan_app.widgets.measure_sketch import MeasureSketch
from look.pictures import of_colour, picture

COLUMN = 320


def piece(qtbot: QtBot, wide: int = COLUMN) -> MeasureSketch:
    widget = MeasureSketch()
    qtbot.addWidget(widget)
    widget.resize(wide, widget.heightForWidth(wide))
    return widget


def test_it_shows_the_field_in_hand(qtbot: QtBot) -> None:
    widget = piece(qtbot)
    seen = []
    for key in ("shoulder_to_grip_mm", "upper_arm_mm", "shoulder_mm", "knuckle_point"):
        widget.show_key(key)
        assert widget.key() == key
        assert widget.accessibleName() == sketch(key).label
        assert sketch(key).how in widget.accessibleDescription()
        assert sketch(key).says in widget.accessibleDescription()
        seen.append(picture(widget))
    assert all(not np.array_equal(one, other) for one, other in pairwise(seen))


def test_nothing_is_shown_while_no_field_with_a_sketch_is_in_hand(qtbot: QtBot) -> None:
    widget = piece(qtbot)
    empty = picture(widget)
    assert len(np.unique(empty.reshape(-1, 4), axis=0)) == 1
    widget.show_key("upper_arm_mm")
    high = widget.heightForWidth(COLUMN)
    for key in ("", "seat_id"):
        widget.show_key("upper_arm_mm")
        widget.show_key(key)
        assert widget.key() == ""
        assert widget.accessibleName() == widget.accessibleDescription() == ""
        assert np.array_equal(picture(widget), empty)
        assert widget.heightForWidth(COLUMN) == high


@pytest.mark.parametrize("name", THEME_NAMES)
def test_length_and_landmarks_stand_out_in_every_theme(
    qtbot: QtBot, app: QApplication, name: ThemeName
) -> None:
    theme = load_theme(name)
    apply_theme(app, theme)
    widget = piece(qtbot)
    widget.show_key("stature_mm")
    sheet = picture(widget, 2.0)
    accent = of_colour(sheet, theme.accent, within=6)
    # The marked length runs over most of the picture's height, in one column.
    assert accent.sum(axis=0).max() > 2.0 * 170 * 0.8
    assert of_colour(sheet, theme.raised, within=2).any()


def test_the_marked_length_is_drawn_where_the_sketch_has_it(qtbot: QtBot) -> None:
    """Pixels of the marked line against the sketch's own millimetres."""
    widget = piece(qtbot)
    held = sketch("buttock_to_knee_mm")
    mark = held.mark
    assert isinstance(mark, Dimension)
    widget.show_key(held.key)
    accent = of_colour(picture(widget, 4.0), load_theme("light").accent, within=8)
    row = int(np.argmax(accent.sum(axis=1)))
    columns = np.flatnonzero(accent[row])
    per_mm = 4.0 * (COLUMN - 2.0) / (held.greatest[0] - held.least[0])
    # The dots at both ends add their radius.
    assert columns.max() - columns.min() == pytest.approx(mark.length_mm() * per_mm, abs=4.0 * 5.0)
    level = (held.greatest[1] - mark.ends()[0][1]) * per_mm + 4.0
    assert row == pytest.approx(level, abs=4.0 * 1.5)


@pytest.mark.parametrize("percent", [100, 150, 200])
@pytest.mark.parametrize("wide", [240, 320, 384])
def test_every_sentence_has_room(qtbot: QtBot, percent: int, wide: int) -> None:
    use_fonts(percent)
    widget = piece(qtbot, wide)
    metrics = QFontMetrics(text_font(SECOND))
    room = widget.height() - widget.picture_rect().bottom() - QFontMetrics(text_font(SECOND)).height()
    for key in (*SKETCHED[:8], *TAPED_POINTS):
        told = metrics.boundingRect(QRect(0, 0, wide - 2, 10_000), 0x1000, sketch(key).how)
        assert told.height() <= room


def test_its_picture_is_as_large_as_was_asked(qtbot: QtBot) -> None:
    rect = piece(qtbot, 302).picture_rect()
    assert (rect.width(), rect.height()) == pytest.approx((300.0, 170.0), abs=1.0)
    assert QRectF(0, 0, 302, 172).contains(rect)
