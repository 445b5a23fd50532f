"""What the stylesheet makes of stock widgets, with the traps it steps round."""

import numpy as np
import pytest
from PySide6.QtCore import QUrl
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QDoubleSpinBox,
    QLineEdit,
    QPushButton,
    QSpinBox,
    QWidget,
)
from pytestqt.qtbot import QtBot

from floorpan_app.theme.follow import apply_theme
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import THEME_NAMES, ThemeName, load_theme
from floorpan_app.theme.stylesheet import make_stylesheet, restyle
from look.pictures import of_colour, picture


def shown(qtbot: QtBot, widget: QWidget) -> QWidget:
    qtbot.addWidget(widget)
    widget.resize(180, widget.sizeHint().height())
    widget.show()
    qtbot.waitExposed(widget)
    return widget


@pytest.mark.parametrize("percent", [100, 200])
def test_fields_are_28_and_buttons_32_high_at_least(app: QApplication, qtbot: QtBot, percent: int) -> None:
    use_fonts(percent)
    apply_theme(app, load_theme("light"))
    for make, least in ((QLineEdit, 28), (QComboBox, 28), (QSpinBox, 28), (QPushButton, 32)):
        assert shown(qtbot, make()).height() >= round(least * percent / 100)


@pytest.mark.parametrize("make", [QSpinBox, QDoubleSpinBox])
def test_the_number_in_a_spin_box_has_its_room(app: QApplication, qtbot: QtBot, make: type[QSpinBox]) -> None:
    box = make()
    shown(qtbot, box)
    # With a border and no buttons the field inside came out 1 px wide.
    assert box.lineEdit().width() >= 160
    assert box.lineEdit().x() >= 6


@pytest.mark.parametrize("name", THEME_NAMES)
def test_a_combo_box_keeps_an_arrow_that_can_be_seen(
    app: QApplication, qtbot: QtBot, name: ThemeName
) -> None:
    theme = load_theme(name)
    apply_theme(app, theme)
    box = QComboBox()
    box.addItem("")
    shown(qtbot, box)
    right_end = picture(box)[6:-6, -22:-4]
    assert of_colour(right_end, theme.ink2, 24).sum() >= 10


@pytest.mark.parametrize("name", THEME_NAMES)
def test_a_button_that_cannot_be_pressed_has_a_dashed_border(
    app: QApplication, qtbot: QtBot, name: ThemeName
) -> None:
    theme = load_theme(name)
    apply_theme(app, theme)
    button = QPushButton("Write")
    button.setEnabled(False)
    shown(qtbot, button)
    upper_edge = of_colour(picture(button)[:2], theme.off, 60).any(axis=0)[10:-10]
    assert 0.25 <= upper_edge.mean() <= 0.8


@pytest.mark.parametrize("name", THEME_NAMES)
def test_the_button_that_accepts_is_filled_with_accent(
    app: QApplication, qtbot: QtBot, name: ThemeName
) -> None:
    theme = load_theme(name)
    apply_theme(app, theme)
    button = QPushButton("Accept")
    button.setProperty("role", "accept")
    shown(qtbot, button)
    assert of_colour(picture(button), theme.accent).mean() > 0.5


def test_a_fault_gives_a_field_its_border_and_takes_it_back(app: QApplication, qtbot: QtBot) -> None:
    field = QLineEdit("3 1/")
    shown(qtbot, field)
    theme = load_theme("light")
    for fault in (True, False):
        field.setProperty("fault", fault)
        restyle(field)
        assert bool(of_colour(picture(field), theme.hits).sum() > 100) is fault


def test_a_field_in_hand_has_the_accent_as_its_border(app: QApplication, qtbot: QtBot) -> None:
    field = QLineEdit("468")
    shown(qtbot, field)
    before = of_colour(picture(field), load_theme("light").accent).sum()
    field.activateWindow()
    field.setFocus()
    qtbot.waitUntil(field.hasFocus)
    after = of_colour(picture(field), load_theme("light").accent)
    assert after.sum() > before + 200
    assert np.asarray(after[0:2, 20:-20]).mean() > 0.9


def test_pictures_named_in_the_stylesheet_are_there(app: QApplication) -> None:
    sheet = make_stylesheet(load_theme("dark"))
    paths = [part.split('"')[0] for part in sheet.split('url("')[1:]]
    assert len(paths) == 3
    for path in paths:
        assert QUrl.fromLocalFile(path).isLocalFile()
        with open(path, encoding="utf-8") as file:
            assert "currentColor" not in file.read()
