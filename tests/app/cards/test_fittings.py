"""Controls: what else moves or must be got at, set down, in hand, and the worst that is said of each."""

import pytest

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, RAW, choose, press, press_row, settle
from floorpan import edits
from floorpan.checks import evaluate
from floorpan.derive import Bench
from floorpan.items import Handbrake, Place
from floorpan.layout import Layout, record_of
from floorpan.progress import finish
from floorpan_app.cards.controls_card import ControlsCard
from floorpan_app.cards.fitting_kinds import FITTING_KINDS, fittings_of
from floorpan_app.desk import Desk

BRAKE = Handbrake(id="new", place=Place(x_mm=500.0, y_mm=200.0))
KIND_NAMES = [one.kind for one in FITTING_KINDS]


def with_one_of_each() -> Layout:
    layout = LAYOUT
    for number, one in enumerate(FITTING_KINDS):
        layout, _ = edits.add(
            layout, one.model(id="new", place=Place(x_mm=500.0, y_mm=200.0 + 60.0 * number))
        )
    return layout


@pytest.fixture
def card(show: Show) -> ControlsCard:
    card = show("controls", with_one_of_each())
    assert isinstance(card, ControlsCard)
    return card


def test_without_one_it_is_told_what_they_are_for(show: Show) -> None:
    card = show("controls")
    assert isinstance(card, ControlsCard)
    part = card.fittings
    assert part.add.isVisible()
    assert not part.rows.isVisible()
    assert not any(form.isVisible() for form in part.forms.values())


@pytest.mark.parametrize("kind", KIND_NAMES)
def test_the_chosen_kind_takes_its_tool_in_hand(desk: Desk, card: ControlsCard, kind: str) -> None:
    choose(card.fittings.kind, kind)
    press(card.fittings.add)
    assert desk.tool == f"place {kind}"


@pytest.mark.parametrize("kind", KIND_NAMES)
def test_one_is_set_down_without_a_mouse_and_typed_where_it_is(desk: Desk, show: Show, kind: str) -> None:
    finish(desk.judging.bench.make_floors(LAYOUT))
    card = show("controls")
    assert isinstance(card, ControlsCard)
    choose(card.fittings.kind, kind)
    press(card.fittings.middle)
    [thing] = fittings_of(desk.layout)
    assert record_of(thing).kind == kind
    assert desk.selection == thing.id
    settle(card.fittings.forms[kind].place.fields["z_mm"], "480")
    assert fittings_of(desk.layout)[0].place.z_mm == 480.0
    desk.document.undo()
    desk.document.undo()
    assert desk.layout == LAYOUT


def test_each_is_told_with_the_worst_that_is_said_of_it(desk: Desk, card: ControlsCard) -> None:
    found = finish(evaluate(desk.layout, Bench({RAW.sha256: RAW})))
    card.show_findings(found)
    rows = {row.id: row for row in card.fittings.rows.rows()}
    assert set(rows) == {thing.id for thing in fittings_of(desk.layout)}
    brake = next(one for one in found if "handbrake-1" in {s.partition(".")[0] for s in one.subjects})
    assert rows["handbrake-1"].mark == brake.verdict
    assert rows["handbrake-1"].spoken


def test_the_one_pressed_is_in_hand_and_its_measures_are_typed(desk: Desk, card: ControlsCard) -> None:
    press_row(card.fittings.rows, "handbrake-1")
    assert desk.selection == "handbrake-1"
    form = card.fittings.forms["handbrake"]
    assert form.isVisible()
    settle(form.form.fields["lever_mm"], "310")
    brake = desk.layout.thing("handbrake-1")
    assert isinstance(brake, Handbrake)
    assert brake.lever_mm == 310.0
    press_row(card.fittings.rows, "handbrake-1")
    assert desk.selection == ""
    assert not form.isVisible()
