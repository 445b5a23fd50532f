"""Keys in the viewport: gears, tools, views, the whole car and the tight spot; letters can be turned off."""

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.stage.bench import Bench

pytestmark = pytest.mark.real_view

_Key = Qt.Key
SHIFT = Qt.KeyboardModifier.ShiftModifier


def test_figures_r_and_n_put_the_lever_there(small: Bench) -> None:
    for key, gear in ((_Key.Key_3, "3"), (_Key.Key_R, "R"), (_Key.Key_N, "N"), (_Key.Key_1, "1")):
        small.key(key)
        assert dict(small.stage.state)["shifter-1.gear"] == gear
    # Five gears: there is no sixth.
    small.key(_Key.Key_6)
    assert dict(small.stage.state)["shifter-1.gear"] == "1"
    assert small.entries() == 0


def test_letters_take_tools_and_with_shift_views(small: Bench) -> None:
    small.desk.select("shifter-1")
    for key, tool in ((_Key.Key_T, "turn"), (_Key.Key_K, "measure"), (_Key.Key_D, "drag")):
        small.key(key)
        assert small.desk.tool == tool
    small.key(_Key.Key_P)
    assert small.desk.tool == "place shifter"
    small.desk.go_to("driver")
    small.key(_Key.Key_P)
    assert small.desk.tool == "place seat"
    small.key(_Key.Key_Escape)
    for key, seen in (
        (_Key.Key_D, "driver"),
        (_Key.Key_P, "passenger"),
        (_Key.Key_A, "above"),
        (_Key.Key_F, "front"),
        (_Key.Key_R, "rear"),
    ):
        small.key(key, SHIFT)
        assert small.view.camera.seen_from == seen
    assert small.desk.tool == ""
    assert dict(small.stage.state)["shifter-1.gear"] == "N"
    small.key(_Key.Key_L)
    assert small.layout.thing("shifter-1").locked


def test_end_goes_to_the_tight_spot_and_home_to_the_whole_car(small: Bench) -> None:
    tight = small.judging.findings[0]
    assert tight.at_mm is not None
    small.look((900.0, 900.0, 900.0), heading=40.0, rise=-20.0)
    small.key(_Key.Key_End)
    # A reach is looked at where the hand is, a gap in its middle.
    middle = np.mean(np.array(tight.at_mm), axis=0) if tight.is_gap else tight.at_mm[1]
    assert small.view.camera.eye.target_mm == pytest.approx(tuple(middle), abs=1e-6)
    small.key(_Key.Key_Home)
    assert small.view.camera.eye.distance_mm > 1500.0


def test_space_held_looks_into_the_console(small: Bench) -> None:
    small.desk.go_to("check")

    def opacity() -> float:
        return small.view.scene._things["console-1.shell"].manner.opacity

    assert opacity() == 1.0
    QTest.keyPress(small.view, _Key.Key_Space)
    assert opacity() < 0.5
    QTest.keyRelease(small.view, _Key.Key_Space)
    assert opacity() == 1.0


def test_letters_can_be_turned_off_and_arrows_stay(small: Bench) -> None:
    small.stage.keys.letters = False
    small.desk.select("shifter-1")
    for key in (_Key.Key_3, _Key.Key_T, _Key.Key_P, _Key.Key_Space):
        small.key(key)
    small.key(_Key.Key_A, SHIFT)
    assert dict(small.stage.state)["shifter-1.gear"] == "N"
    assert small.desk.tool == ""
    assert small.view.camera.seen_from == "free"
    small.key(_Key.Key_Right)
    assert small.entries() == 1


def test_an_escape_that_means_nothing_here_goes_on_to_whoever_holds_the_viewport(small: Bench) -> None:
    heard = []

    class Holder(QWidget):
        def keyPressEvent(self, event: object) -> None:
            heard.append(event)

    holder = Holder()
    QVBoxLayout(holder).addWidget(small.view)
    holder.show()
    small.desk.select("shifter-1")
    small.key(_Key.Key_Escape)
    assert heard == []
    small.key(_Key.Key_Escape)
    assert len(heard) == 1
    small.view.setParent(None)
    holder.close()
    holder.deleteLater()
