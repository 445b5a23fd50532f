"""Verbs hang on things: the tool roll and the part tag."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from floorpan_app.theme.record import load_theme
from floorpan_app.widgets.part_tag import DRAG, LOCK, MIRROR, TAG_VERBS, TURN, PartTag, TagText
from floorpan_app.widgets.tool_roll import ToolRoll
from floorpan_app.widgets.verb_button import VerbButton
from look.pictures import of_colour, picture
from look.samples import VERBS

LEFT = Qt.MouseButton.LeftButton
TALL = TagText(name="Tall bottle, 0.5 l", place="640 rear, 30 passenger side, 212 up")


def shown(qtbot: QtBot, widget: QWidget) -> None:
    qtbot.addWidget(widget)
    widget.show()
    widget.activateWindow()
    qtbot.waitExposed(widget)


def test_a_verb_of_the_roll_is_chosen_and_its_owner_says_what_is_in_hand(qtbot: QtBot) -> None:
    roll = ToolRoll(VERBS)
    shown(qtbot, roll)
    with qtbot.waitSignal(roll.verbChosen) as chosen:
        qtbot.mouseClick(roll.button("measure"), LEFT)
    assert chosen.args == ["measure"]
    assert roll.in_hand() == ""
    roll.set_in_hand("measure")
    assert roll.in_hand() == "measure"
    assert of_colour(picture(roll.button("measure")), load_theme("light").wash, 2).mean() > 0.4
    roll.set_in_hand("")
    assert roll.in_hand() == ""


def test_arrows_walk_the_roll_past_what_cannot_be_done(qtbot: QtBot) -> None:
    roll = ToolRoll(VERBS)
    shown(qtbot, roll)
    roll.button("handbrake").setFocus()
    qtbot.waitUntil(roll.button("handbrake").hasFocus)
    qtbot.keyClick(roll.button("handbrake"), Qt.Key.Key_Right)
    assert roll.button("measure").hasFocus()
    with qtbot.waitSignal(roll.verbChosen) as chosen:
        qtbot.keyClick(roll.button("measure"), Qt.Key.Key_Space)
    assert chosen.args == ["measure"]


def test_a_verb_that_cannot_be_done_is_dashed_and_silent(qtbot: QtBot) -> None:
    roll = ToolRoll(VERBS)
    shown(qtbot, roll)
    button = roll.button("buckle")
    with qtbot.assertNotEmitted(roll.verbChosen):
        qtbot.mouseClick(button, LEFT)
    upper_edge = of_colour(picture(button, 2.0)[:2], load_theme("light").off, 80).any(axis=0)[20:-20]
    assert 0.25 <= upper_edge.mean() <= 0.8


def test_the_roll_keeps_what_is_in_hand_when_only_abilities_change(qtbot: QtBot) -> None:
    roll = ToolRoll(VERBS)
    shown(qtbot, roll)
    roll.set_in_hand("place")
    roll.set_verbs(tuple(replace(verb, enabled=True) for verb in VERBS))
    assert roll.in_hand() == "place"
    assert roll.button("buckle").isEnabled()
    roll.set_verbs(VERBS[:2])
    assert [verb.id for verb in roll.verbs()] == ["place", "shifter"]
    assert roll.in_hand() == ""
    roll.set_verbs(())
    assert not roll.isVisible()


def test_seams_part_the_verbs(qtbot: QtBot) -> None:
    roll = ToolRoll(VERBS)
    shown(qtbot, roll)
    sheet = picture(roll, 2.0)
    left, right = roll.button("place").geometry().right(), roll.button("shifter").geometry().left()
    seam = of_colour(sheet[:, 2 * (left + 2) : 2 * (right - 1)], load_theme("light").edge, 60).any(axis=1)
    dots = (seam[1:] & ~seam[:-1]).sum()
    assert dots >= 4


@pytest.mark.parametrize("verb", [verb.id for verb in TAG_VERBS])
def test_each_verb_of_the_tag_answers(qtbot: QtBot, verb: str) -> None:
    tag = PartTag(TALL)
    shown(qtbot, tag)
    with qtbot.waitSignal(tag.verbChosen) as chosen:
        qtbot.mouseClick(tag.button(verb), LEFT)
    assert chosen.args == [verb]


def test_a_locked_thing_can_only_be_unlocked(qtbot: QtBot) -> None:
    tag = PartTag(TALL)
    shown(qtbot, tag)
    tag.set_text(replace(TALL, locked=True))
    assert [tag.button(verb).isEnabled() for verb in (DRAG, TURN, MIRROR, LOCK)] == [
        False,
        False,
        False,
        True,
    ]
    assert tag.button(LOCK).accessibleName() == "Unlock"
    tag.set_text(TALL)
    assert tag.button(DRAG).isEnabled()
    assert tag.button(LOCK).accessibleName() == "Lock"


def test_the_tag_says_name_and_place_and_is_as_wide_as_they_are(qtbot: QtBot) -> None:
    tag = PartTag(TALL)
    shown(qtbot, tag)
    assert tag.accessibleName() == "Tall bottle, 0.5 l, 640 rear, 30 passenger side, 212 up"
    before = tag.width()
    tag.set_text(replace(TALL, place=f"{TALL.place} · 28 rearward of where it stood"))
    assert tag.width() > before
    buttons = tag.findChildren(VerbButton)
    assert all(tag.rect().contains(button.geometry()) for button in buttons)


def test_the_string_is_tied_to_the_eyelet(qtbot: QtBot) -> None:
    parent = QWidget()
    parent.resize(600, 300)
    tag = PartTag(TALL, parent)
    shown(qtbot, parent)
    tag.move(100, 50)
    tie = tag.tie_point()
    assert tag.geometry().contains(tie)
    inside = tie - QPoint(100, 50)
    ring = picture(tag)[inside.y() - 5 : inside.y() + 6, inside.x() - 5 : inside.x() + 6]
    assert of_colour(ring, load_theme("light").accent, 40).sum() > 12
    assert tag.in_hand() == ""
    tag.set_in_hand(DRAG)
    assert tag.in_hand() == DRAG
