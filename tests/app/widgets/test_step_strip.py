"""The step strip: words, marks, shortening, and the way through it by keyboard."""

from dataclasses import replace
from itertools import pairwise

import pytest
from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtWidgets import QAbstractButton
from pytestqt.qtbot import QtBot

from floorpan_app.theme.fonts import use_fonts
from floorpan_app.widgets.step_mark import paint_mark
from floorpan_app.widgets.step_strip import StepStrip
from look.pictures import drawn
from look.samples import STEPS


def strip_of(qtbot: QtBot, width: int) -> StepStrip:
    strip = StepStrip(STEPS)
    strip.set_title("Tin coupé", "version B")
    qtbot.addWidget(strip)
    strip.resize(width, strip.sizeHint().height())
    strip.show()
    strip.activateWindow()
    qtbot.waitExposed(strip)
    return strip


def cells(strip: StepStrip) -> list[QAbstractButton]:
    found = strip.findChildren(QAbstractButton)
    return sorted(found, key=lambda cell: cell.x())


def test_every_cell_says_word_state_and_place(qtbot: QtBot) -> None:
    strip = strip_of(qtbot, 1366)
    names = [cell.accessibleName() for cell in cells(strip)]
    assert names[0] == "Scan, accepted, step 1 of 10"
    assert names[2] == "Floor, as it is, step 3 of 10"
    assert names[3] == "Driver, look again, step 4 of 10"
    assert names[4] == "Controls, in hand, step 5 of 10"
    assert names[9] == "Report, open, step 10 of 10"


def test_a_click_on_any_step_chooses_it(qtbot: QtBot) -> None:
    strip = strip_of(qtbot, 1366)
    for cell, step in zip(cells(strip), STEPS, strict=True):
        with qtbot.waitSignal(strip.stepChosen) as chosen:
            qtbot.mouseClick(cell, Qt.MouseButton.LeftButton)
        assert chosen.args == [step.id]


def test_arrows_walk_and_enter_chooses(qtbot: QtBot) -> None:
    strip = strip_of(qtbot, 1366)
    row = cells(strip)
    row[4].setFocus()
    qtbot.waitUntil(row[4].hasFocus)
    for key, expected in (
        (Qt.Key.Key_Right, 5), (Qt.Key.Key_Left, 4), (Qt.Key.Key_End, 9), (Qt.Key.Key_Right, 9), (Qt.Key.Key_Home, 0),
    ):  # fmt: skip
        qtbot.keyClick(strip.focusWidget(), key)
        assert row[expected].hasFocus()
    with qtbot.waitSignal(strip.stepChosen) as chosen:
        qtbot.keyClick(row[0], Qt.Key.Key_Space)
    assert chosen.args == ["scan"]


def test_tab_stops_once_in_the_whole_strip(qtbot: QtBot) -> None:
    strip = strip_of(qtbot, 1366)
    row = cells(strip)
    stops = [cell.accessibleName() for cell in row if cell.focusPolicy() & Qt.FocusPolicy.TabFocus]
    assert stops == ["Controls, in hand, step 5 of 10"]


@pytest.mark.parametrize("percent", [100, 150, 200])
@pytest.mark.parametrize("width", [700, 1366, 1920])
def test_cells_share_the_width_without_overlap(qtbot: QtBot, width: int, percent: int) -> None:
    use_fonts(percent)
    width = width * percent // 100
    strip = strip_of(qtbot, width)
    row = cells(strip)
    edges = [(cell.x(), cell.x() + cell.width()) for cell in row]
    assert all(right == left for (_, right), (left, _) in pairwise(edges))
    assert edges[-1][1] == width
    assert min(cell.height() for cell in row) >= 28


def test_when_room_runs_out_only_the_step_in_hand_keeps_its_word(qtbot: QtBot) -> None:
    wide, narrow = strip_of(qtbot, 1366), strip_of(qtbot, 700)
    assert all(cell.toolTip() == "" for cell in cells(wide))
    tips = [cell.toolTip() for cell in cells(narrow)]
    assert tips[4] == ""
    assert tips[3] == "Driver: look again"
    in_hand = cells(narrow)[4]
    assert in_hand.width() >= in_hand.sizeHint().width()
    assert narrow.minimumSizeHint().width() <= 700


def test_a_step_accepted_elsewhere_changes_its_mark_in_place(qtbot: QtBot) -> None:
    strip = strip_of(qtbot, 1366)
    before = cells(strip)
    done = tuple(replace(step, mark="accepted", in_hand=step.id == "cup") for step in STEPS)
    strip.set_steps(done)
    assert cells(strip) == before
    assert strip.steps() == done
    assert before[5].accessibleName() == "Cup, in hand, step 6 of 10"


def test_the_four_marks_differ_by_shape() -> None:
    sheets = {
        mark: drawn(QSize(18, 18), lambda p, mark=mark: paint_mark(p, QRectF(3, 3, 12, 12), mark))[:, :, 3]
        / 255.0
        for mark in ("accepted", "as it is", "open", "look again")
    }
    for one in sheets:
        for two in sheets:
            if one < two:
                least = 0.15 if {one, two} == {"accepted", "as it is"} else 0.5
                differing = abs(sheets[one] - sheets[two]).sum()
                assert differing / (sheets[one] + sheets[two]).clip(0, 1).sum() >= least
