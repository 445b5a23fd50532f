"""Words over the viewport: one seen from, several shown."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QRadioButton, QWidget
from pytestqt.qtbot import QtBot

from floorpan_app.theme.record import load_theme
from floorpan_app.widgets.words import SeenFrom, Showing, Word
from look.pictures import of_colour, picture
from look.samples import SEEN_FROM, SHOWING

LEFT = Qt.MouseButton.LeftButton


def shown(qtbot: QtBot, widget: QWidget) -> QWidget:
    qtbot.addWidget(widget)
    widget.show()
    widget.activateWindow()
    qtbot.waitExposed(widget)
    return widget


def test_one_word_is_seen_from_and_underlined(qtbot: QtBot) -> None:
    seen = SeenFrom(SEEN_FROM)
    shown(qtbot, seen)
    assert seen.chosen() == "free"
    assert isinstance(seen.button("above"), QRadioButton)
    with qtbot.waitSignal(seen.wordChosen) as chosen:
        qtbot.mouseClick(seen.button("above"), LEFT)
    assert chosen.args == ["above"]
    accent = load_theme("light").accent
    assert of_colour(picture(seen.button("above"), 2.0), accent, 20).sum() > 60
    assert of_colour(picture(seen.button("free"), 2.0), accent, 20).sum() == 0
    with qtbot.assertNotEmitted(seen.wordChosen):
        seen.set_chosen("front")
    assert seen.chosen() == "front"
    assert seen.button("front").accessibleName() == "Seen from front"


def test_arrows_change_where_it_is_seen_from(qtbot: QtBot) -> None:
    seen = SeenFrom(SEEN_FROM)
    shown(qtbot, seen)
    seen.button("free").setFocus()
    qtbot.waitUntil(seen.button("free").hasFocus)
    with qtbot.waitSignal(seen.wordChosen) as chosen:
        qtbot.keyClick(seen.button("free"), Qt.Key.Key_Left)
    assert chosen.args == ["rear"]


@pytest.mark.parametrize("key", [False, True])
def test_what_is_shown_is_switched_word_by_word(qtbot: QtBot, key: bool) -> None:
    showing = Showing(SHOWING)
    shown(qtbot, showing)
    button = showing.button("driver")
    assert isinstance(button, QCheckBox)
    with qtbot.waitSignal(showing.showingChanged) as changed:
        if key:
            qtbot.keyClick(button, Qt.Key.Key_Space)
        else:
            qtbot.mouseClick(button, LEFT, pos=button.rect().center())
    assert changed.args == ["driver", True]
    assert all(word.on for word in showing.words())
    with qtbot.assertNotEmitted(showing.showingChanged):
        showing.set_on("seats", False)
    assert [word.id for word in showing.words() if not word.on] == ["seats"]


def test_an_eyelet_is_filled_or_open(qtbot: QtBot) -> None:
    showing = Showing((Word(id="scan", word="scan", on=True),))
    shown(qtbot, showing)
    eyelet = slice(10, 28)
    ink = load_theme("light").ink
    filled = of_colour(picture(showing.button("scan"), 2.0)[:, eyelet], ink, 60).sum()
    showing.set_on("scan", False)
    opened = of_colour(picture(showing.button("scan"), 2.0)[:, eyelet], ink, 60).sum()
    assert 0 < opened < 0.75 * filled


def test_other_words_take_the_place_of_the_old(qtbot: QtBot) -> None:
    showing = Showing(SHOWING)
    shown(qtbot, showing)
    showing.set_words((Word(id="noise", word="noise", on=True), Word(id="islands", word="islands")))
    assert [(word.id, word.on) for word in showing.words()] == [("noise", True), ("islands", False)]
    seen = SeenFrom(SEEN_FROM)
    shown(qtbot, seen)
    seen.set_words(SEEN_FROM[:2])
    assert seen.chosen() == ""


@pytest.mark.parametrize("make", [lambda: SeenFrom(SEEN_FROM), lambda: Showing(SHOWING)])
def test_words_are_high_enough_to_hit(qtbot: QtBot, make: object) -> None:
    row = make()
    shown(qtbot, row)
    assert row.height() >= 34
    assert all(row.button(word).height() >= 28 for word in row._buttons)
