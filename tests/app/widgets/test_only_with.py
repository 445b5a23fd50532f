"""What the matrix is held to: chosen in a menu, shown as words, taken off by mouse and keys."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QMenu
from pytestqt.qtbot import QtBot

from app.widgets.menu_hand import press_line
from floorpan.items.states import State
from floorpan.report.only_with import Choice, Stop, with_stop
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.widgets.matrix import StateMatrix
from floorpan_app.widgets.only_with import ANY, OnlyWith
from look.samples import matrix_table

KEY, LEFT = Qt.Key, Qt.MouseButton.LeftButton


def choice(axis: str, title: str, **stops: str) -> Choice:
    told = tuple(Stop(axis=axis, stop=stop, words=words) for stop, words in stops.items())
    return Choice(axis=axis, title=title, stops=told)


OFFERED = (
    choice("shifter-1.gear", "Gear", N="in neutral", R="in reverse"),
    choice(
        "handbrake-1.lever", "Handbrake", down="handbrake down", half="handbrake half up", up="handbrake up"
    ),
    choice("vessel-1.place", "Bottle", **{"in": "bottle in", "out": "bottle out"}),
)


class Keeper:
    """Keeps what is held to, as whoever keeps the findings does."""

    def __init__(self, matrix: StateMatrix) -> None:
        self.only: State = ()
        self.matrix = matrix
        matrix.only_with.onlyChanged.connect(self.hold)
        self.hold(())

    def hold(self, only: State) -> None:
        self.only = only
        self.matrix.set_only(OFFERED, only, "2 pairs were not judged so")


@pytest.fixture
def kept(qtbot: QtBot) -> Keeper:
    matrix = StateMatrix(matrix_table())
    qtbot.addWidget(matrix)
    matrix.resize(1022, 420)
    matrix.show()
    matrix.activateWindow()
    qtbot.waitExposed(matrix)
    return Keeper(matrix)


def held_buttons(held: OnlyWith) -> list[QAbstractButton]:
    return sorted(
        (one for one in held.findChildren(QAbstractButton) if one.isVisible() and one.text() in held.held()),
        key=lambda one: one.x(),
    )


def opened(qtbot: QtBot, held: OnlyWith) -> QMenu:
    QTest.mouseClick(held.button, LEFT)
    qtbot.waitUntil(held.menu.isVisible)
    return held.menu


def test_the_menu_offers_every_axis_and_says_what_each_is_held_to(qtbot: QtBot, kept: Keeper) -> None:
    held = kept.matrix.only_with
    kept.hold((("shifter-1.gear", "R"),))
    menu = opened(qtbot, held)
    assert [action.text() for action in menu.actions()] == [
        "Gear: in reverse",
        f"Handbrake: {ANY}",
        f"Bottle: {ANY}",
    ]
    lower = menu.actions()[0].menu()
    assert isinstance(lower, QMenu)
    assert [(one.text(), one.isChecked()) for one in lower.actions()] == [
        (ANY, False),
        ("in neutral", False),
        ("in reverse", True),
    ]
    menu.close()


def test_a_stop_is_chosen_with_the_mouse_and_another_with_the_keys(qtbot: QtBot, kept: Keeper) -> None:
    held = kept.matrix.only_with
    assert held.isHidden()
    menu = opened(qtbot, held)
    brake = menu.actions()[1]
    press_line(qtbot, menu, brake)
    lower = brake.menu()
    assert isinstance(lower, QMenu)
    press_line(qtbot, lower, lower.actions()[3])
    assert kept.only == (("handbrake-1.lever", "up"),)
    qtbot.waitUntil(menu.isHidden)
    held.button.setFocus()
    QTest.keyClick(held.button, KEY.Key_Space)
    qtbot.waitUntil(held.menu.isVisible)
    for key in (KEY.Key_Down, KEY.Key_Right, KEY.Key_Down, KEY.Key_Down, KEY.Key_Return):
        at = held.menu.actions()[0].menu()
        assert isinstance(at, QMenu)
        QTest.keyClick(at if at.isVisible() else held.menu, key)
    assert kept.only == (("handbrake-1.lever", "up"), ("shifter-1.gear", "R"))
    assert held.held() == ("in reverse", "handbrake up")
    assert held.isVisible()


def test_a_word_is_taken_off_by_a_click_on_it(kept: Keeper) -> None:
    kept.hold((("shifter-1.gear", "R"), ("vessel-1.place", "in")))
    first, second = held_buttons(kept.matrix.only_with)
    QTest.mouseClick(first, LEFT)
    assert kept.only == (("vessel-1.place", "in"),)
    [second] = held_buttons(kept.matrix.only_with)
    QTest.mouseClick(second, LEFT)
    assert kept.only == ()
    assert kept.matrix.only_with.isHidden()


def test_keys_walk_along_the_words_and_take_them_off(qtbot: QtBot, kept: Keeper) -> None:
    held = kept.matrix.only_with
    kept.hold((("shifter-1.gear", "R"), ("vessel-1.place", "in"), ("handbrake-1.lever", "up")))
    qtbot.waitUntil(kept.matrix.isActiveWindow, timeout=5000)
    first, second, _ = held_buttons(held)
    first.setFocus()
    QTest.keyClick(first, KEY.Key_Right)
    assert second.hasFocus()
    QTest.keyClick(second, KEY.Key_Delete)
    assert held.held() == ("in reverse", "bottle in")
    now = held_buttons(held)[1]
    assert now.hasFocus(), "the keyboard stays in the row"
    QTest.keyClick(now, KEY.Key_Return)
    QTest.keyClick(held_buttons(held)[0], KEY.Key_Space)
    assert kept.only == ()
    assert held.button.hasFocus()


def test_all_are_taken_off_at_once(kept: Keeper) -> None:
    kept.hold((("shifter-1.gear", "R"), ("vessel-1.place", "in")))
    [off] = [
        one for one in kept.matrix.only_with.findChildren(QAbstractButton) if one.text() == "Take all off"
    ]
    QTest.mouseClick(off, LEFT)
    assert kept.only == ()


def test_what_it_is_held_to_is_spoken_with_the_matrix(kept: Keeper) -> None:
    view = kept.matrix.view()
    kept.hold((("shifter-1.gear", "R"), ("vessel-1.place", "in")))
    assert "Only in reverse, bottle in" in view.accessibleName()
    assert kept.matrix.only_with.note.text() == "2 pairs were not judged so"
    [gear, _] = held_buttons(kept.matrix.only_with)
    assert gear.accessibleName() == "Only in reverse. Take it off"
    kept.hold(())
    assert "Only" not in view.accessibleName()


@pytest.mark.parametrize("percent", [100, 150, 200])
def test_the_row_fits_and_its_words_are_large_enough_to_hit(qtbot: QtBot, percent: int) -> None:
    use_fonts(percent)
    matrix = StateMatrix(matrix_table())
    qtbot.addWidget(matrix)
    matrix.resize(1022 * percent // 100, 420 * percent // 100)
    matrix.show()
    qtbot.waitExposed(matrix)
    only: State = ()
    for one in OFFERED:
        only = with_stop(only, one.axis, one.stops[-1].stop)
    matrix.set_only(OFFERED, only, "12 pairs were not judged so")
    qtbot.wait(10)
    for button in held_buttons(matrix.only_with):
        corner = button.mapTo(matrix, QPoint(button.width(), button.height()))
        assert corner.x() <= matrix.width()
        assert button.height() >= 28 * percent // 100
        assert button.width() >= button.sizeHint().width(), "nothing is shortened"
    use_fonts(100)
