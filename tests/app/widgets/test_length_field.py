"""The length field: takes what the core takes, keeps what it cannot take, and says what to do."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from floorpan.errors import NotALength
from floorpan.units import parse_length, show_length
from floorpan_app.theme.record import load_theme
from floorpan_app.widgets.length_field import LengthField, LengthLimits
from look.pictures import of_colour, picture

LEVER = LengthLimits(least_mm=60, most_mm=600, told="A lever is 60 to 600 mm long.")


@pytest.fixture
def window(qtbot: QtBot) -> QWidget:
    window = QWidget()
    QVBoxLayout(window)
    qtbot.addWidget(window)
    return window


def field_in(qtbot: QtBot, window: QWidget, **named: object) -> LengthField:
    field = LengthField(
        parse_length, lambda mm: f"{mm:g} mm", faults=(NotALength,), name="Lever length", **named
    )
    window.layout().addWidget(field)
    window.layout().addWidget(QLineEdit("another field"))
    window.show()
    window.activateWindow()
    qtbot.waitExposed(window)
    field.setFocus()
    qtbot.waitUntil(field.line_edit().hasFocus)
    return field


def typed(qtbot: QtBot, field: LengthField, text: str) -> None:
    field.line_edit().selectAll()
    qtbot.keyClicks(field.line_edit(), text)


@pytest.mark.parametrize(
    # 25.4 mm an inch, exactly, by the international agreement of 1959.
    ("text", "value_mm"),
    [("89", 89.0), ("89 mm", 89.0), ("3 1/2 in", 88.9), ("3,5", 3.5), ("9 cm", 90.0)],
)
def test_enter_hands_on_millimetres(qtbot: QtBot, window: QWidget, text: str, value_mm: float) -> None:
    field = field_in(qtbot, window)
    typed(qtbot, field, text)
    with qtbot.waitSignal(field.valueChosen) as chosen:
        qtbot.keyClick(field.line_edit(), Qt.Key.Key_Return)
    assert chosen.args == [pytest.approx(value_mm)]
    assert field.value_mm() == pytest.approx(value_mm)
    assert field.fault() == ""


def test_leaving_the_field_hands_on_and_only_once(qtbot: QtBot, window: QWidget) -> None:
    field = field_in(qtbot, window, value_mm=237.0)
    chosen: list[float] = []
    field.valueChosen.connect(chosen.append)
    typed(qtbot, field, "240")
    qtbot.keyClick(field.line_edit(), Qt.Key.Key_Tab)
    assert chosen == [240.0]
    field.setFocus()
    qtbot.keyClick(field.line_edit(), Qt.Key.Key_Return)
    qtbot.keyClick(field.line_edit(), Qt.Key.Key_Tab)
    assert chosen == [240.0]


def test_a_value_shown_short_is_not_changed_by_looking_at_it(qtbot: QtBot, window: QWidget) -> None:
    field = LengthField(parse_length, lambda mm: f"{mm:.0f} mm", value_mm=236.6)
    window.layout().addWidget(field)
    window.show()
    field.setFocus()
    with qtbot.assertNotEmitted(field.valueChosen):
        qtbot.keyClick(field.line_edit(), Qt.Key.Key_Return)
    assert field.value_mm() == 236.6


def test_a_fault_is_told_below_and_the_typed_text_stays(qtbot: QtBot, window: QWidget) -> None:
    field = field_in(qtbot, window, value_mm=237.0)
    typed(qtbot, field, "3 1/")
    with qtbot.assertNotEmitted(field.valueChosen):
        qtbot.keyClick(field.line_edit(), Qt.Key.Key_Return)
    assert field.line_edit().text() == "3 1/"
    assert field.value_mm() == 237.0
    shown = [label.text() for label in field.findChildren(QLabel) if label.isVisible()]
    assert shown == [field.fault()]
    assert "3 1/" in field.fault()
    assert field.line_edit().accessibleDescription() == field.fault()
    assert of_colour(picture(field.line_edit()), load_theme("light").hits, 40).sum() > 100
    qtbot.keyClick(field.line_edit(), Qt.Key.Key_Escape)
    assert field.line_edit().text() == "237 mm"
    assert field.fault() == ""
    assert of_colour(picture(field.line_edit()), load_theme("light").hits, 40).sum() == 0


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("11", "A lever is 60 to 600 mm long. Inches? Type 11 in."),
        ("11 mm", "A lever is 60 to 600 mm long."),
        ("0,5", "A lever is 60 to 600 mm long."),
        ("900", "A lever is 60 to 600 mm long."),
    ],
)
def test_limits_are_told_in_words_with_the_way_out(
    qtbot: QtBot, window: QWidget, text: str, fault: str
) -> None:
    field = field_in(qtbot, window, limits=LEVER)
    typed(qtbot, field, text)
    qtbot.keyClick(field.line_edit(), Qt.Key.Key_Return)
    assert field.fault() == fault
    field.set_limits(None)
    with qtbot.waitSignal(field.valueChosen):
        qtbot.keyClick(field.line_edit(), Qt.Key.Key_Return)


def test_limits_without_a_sentence_of_their_own_are_written_out(qtbot: QtBot, window: QWidget) -> None:
    field = field_in(qtbot, window, limits=LengthLimits(least_mm=5, most_mm=40))
    typed(qtbot, field, "50")
    qtbot.keyClick(field.line_edit(), Qt.Key.Key_Return)
    assert field.fault() == "Between 5 mm and 40 mm."


@pytest.mark.parametrize(
    ("key", "held", "value_mm"),
    [
        (Qt.Key.Key_Up, Qt.KeyboardModifier.NoModifier, 101.0),
        (Qt.Key.Key_Down, Qt.KeyboardModifier.NoModifier, 99.0),
        (Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier, 110.0),
        (Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier, 99.9),
    ],
)
def test_arrows_step(
    qtbot: QtBot, window: QWidget, key: Qt.Key, held: Qt.KeyboardModifier, value_mm: float
) -> None:
    field = field_in(qtbot, window, value_mm=100.0, limits=LEVER)
    with qtbot.waitSignal(field.valueChosen) as chosen:
        qtbot.keyClick(field.line_edit(), key, held)
    assert chosen.args == [pytest.approx(value_mm)]


def test_a_step_stops_at_the_limit(qtbot: QtBot, window: QWidget) -> None:
    field = field_in(qtbot, window, value_mm=60.4, limits=LEVER)
    qtbot.keyClick(field.line_edit(), Qt.Key.Key_Down)
    assert field.value_mm() == 60.0
    with qtbot.assertNotEmitted(field.valueChosen):
        qtbot.keyClick(field.line_edit(), Qt.Key.Key_Down)


def test_another_unit_shows_the_same_value(qtbot: QtBot, window: QWidget) -> None:
    field = field_in(qtbot, window, value_mm=88.9)
    with qtbot.assertNotEmitted(field.valueChosen):
        field.set_units(lambda text: parse_length(text, "in"), lambda mm: show_length(mm, "in"))
    assert field.value_mm() == 88.9
    assert field.line_edit().text() == show_length(88.9, "in")
    typed(qtbot, field, "4")
    with qtbot.waitSignal(field.valueChosen) as chosen:
        qtbot.keyClick(field.line_edit(), Qt.Key.Key_Return)
    assert chosen.args == [pytest.approx(101.6)]


def test_an_unforeseen_failure_is_not_swallowed(qtbot: QtBot, window: QWidget) -> None:
    def broken(text: str) -> float:
        raise KeyError(text)

    field = LengthField(broken, str)
    window.layout().addWidget(field)
    window.show()
    field.line_edit().setText("12")
    with qtbot.captureExceptions() as raised:
        qtbot.keyClick(field.line_edit(), Qt.Key.Key_Return)
    assert [kind for kind, _, _ in raised] == [KeyError]
    field.line_edit().clear()


def test_a_fault_from_outside_and_the_name(qtbot: QtBot, window: QWidget) -> None:
    field = field_in(qtbot, window, value_mm=100.0)
    field.set_fault("The mount would stand on the seat bolts. Move it.")
    assert field.fault().startswith("The mount")
    assert field.line_edit().accessibleName() == "Lever length"
    field.set_value_mm(120.0)
    assert field.fault() == ""
