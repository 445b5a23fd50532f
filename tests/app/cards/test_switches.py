"""Controls: switches and buttons, set down, in hand, and how far they are from the hand."""

import pytest

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, RAW, choose, press, press_row, settle
from floorpan import edits
from floorpan.checks import evaluate
from floorpan.derive import Bench
from floorpan.items import Control, Place
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan_app.cards.controls_card import ControlsCard
from floorpan_app.desk import Desk

NEAR = Place(x_mm=100.0, y_mm=-200.0, z_mm=500.0)
FAR = Place(x_mm=-500.0, y_mm=300.0, z_mm=300.0)


def with_two() -> Layout:
    layout, _ = edits.add(LAYOUT, Control(id="new", name="Horn", place=NEAR))
    layout, _ = edits.add(layout, Control(id="new", name="Blower", place=FAR, hand="other hand"))
    return layout


@pytest.fixture
def card(show: Show) -> ControlsCard:
    card = show("controls", with_two())
    assert isinstance(card, ControlsCard)
    return card


def test_without_a_switch_it_is_told_what_they_are_for(show: Show) -> None:
    card = show("controls")
    assert isinstance(card, ControlsCard)
    part = card.switches
    assert part.add.isVisible()
    assert not part.rows.isVisible()
    assert not part.form.isVisible()


def test_setting_one_down_takes_the_tool_in_hand(desk: Desk, card: ControlsCard) -> None:
    press(card.switches.add)
    assert desk.tool == "place switch"


def test_one_is_set_down_without_a_mouse_and_typed_where_it_is(desk: Desk, show: Show) -> None:
    finish(desk.judging.bench.make_floors(LAYOUT))
    card = show("controls")
    assert isinstance(card, ControlsCard)
    press(card.switches.middle)
    [switch] = desk.layout.of(Control)
    assert desk.selection == switch.id
    assert switch.place.z_mm == pytest.approx(0.0)
    settle(card.switches.form.place.fields["z_mm"], "480")
    assert desk.layout.of(Control)[0].place.z_mm == 480.0
    desk.document.undo()
    desk.document.undo()
    assert desk.layout == LAYOUT


def test_each_is_told_with_the_reach_to_it(desk: Desk, card: ControlsCard) -> None:
    found = finish(evaluate(desk.layout, Bench({RAW.sha256: RAW})))
    card.show_findings(found)
    near, far = card.switches.rows.rows()
    assert (near.title, near.mark, near.second) == ("Horn", "clear", "a fingertip of the shifting hand")
    assert (far.title, far.mark, far.second) == ("Blower", "short", "a fingertip of the other hand")
    worst = {
        id: min(one.value for one in found if one.check == "reach-for" and one.subjects[1] == id)  # type: ignore[type-var]
        for id in ("switch-1", "switch-2")
    }
    assert worst["switch-1"] > 0.0 > worst["switch-2"]  # type: ignore[operator]
    assert far.spoken.startswith("The blower is ")


def test_the_one_pressed_is_in_hand_and_its_touch_is_chosen(desk: Desk, card: ControlsCard) -> None:
    press_row(card.switches.rows, "switch-2")
    assert desk.selection == "switch-2"
    form = card.switches.form
    assert form.isVisible()
    choose(form.form.fields["touch"], "whole hand")
    choose(form.form.fields["hand"], "shifting hand")
    switch = desk.layout.thing("switch-2")
    assert isinstance(switch, Control)
    assert (switch.touch, switch.hand) == ("whole hand", "shifting hand")
    press_row(card.switches.rows, "switch-2")
    assert desk.selection == ""
    assert not form.isVisible()
