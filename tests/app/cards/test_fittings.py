"""Controls: what else moves or must be got at, set down, in hand, and the worst that is said of each."""

import pytest

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, RAW, choose, press, press_row, settle
from floorpan import edits
from floorpan.checks import evaluate
from floorpan.derive import Bench
from floorpan.items import Armrest, Handbrake, Place, Wheel
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
    assert not any(form.isVisible() for form in part.forms.made.values())


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
    settle(card.fittings.forms.of(kind).place.fields["z_mm"], "480")
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
    form = card.fittings.forms.of("handbrake")
    assert form.isVisible()
    settle(form.form.fields["lever_mm"], "310")
    brake = desk.layout.thing("handbrake-1")
    assert isinstance(brake, Handbrake)
    assert brake.lever_mm == 310.0
    press_row(card.fittings.rows, "handbrake-1")
    assert desk.selection == ""
    assert not form.isVisible()


def test_the_armrest_in_hand_is_told_how_high_it_may_be_and_set_there(desk: Desk, show: Show) -> None:
    layout = edits.move(LAYOUT, "shifter-1", x_mm=100.0, y_mm=-100.0, z_mm=200.0)
    layout, id = edits.add(layout, Armrest(id="new", place=Place(x_mm=420.0, y_mm=-60.0, z_mm=150.0)))
    card = show("controls", layout)
    assert isinstance(card, ControlsCard)
    part = card.fittings.armrest
    finish(desk.judging.bench.make_floors(desk.layout))
    desk.judging.fresh = True
    desk.select(id)
    assert "rests the elbow in neutral" in part.told.text()
    assert "too low" in part.told.text()
    press(part.set)
    rest = desk.layout.thing(id)
    assert isinstance(rest, Armrest)
    assert part.set.text().endswith(f"{rest.height_mm:.0f} mm")
    assert rest.height_mm > 150.0
    assert not part.isEnabled(), "what is told stands greyed until everything is judged again"
    desk.judging.fresh = True
    desk.select("")
    assert not part.isVisible()
    desk.select(id)
    assert "it is in between" in part.told.text()
    assert not part.set.isVisible()


def test_a_wheel_off_the_driving_position_is_told_and_set_to_it(desk: Desk, show: Show) -> None:
    layout = edits.set_driving_position(LAYOUT, wheel_mm=(-100.0, -400.0, 650.0))
    wheel = edits.wheel_taken(layout)
    assert wheel is not None
    layout, id = edits.add(layout, wheel)
    card = show("controls", layout)
    assert isinstance(card, ControlsCard)
    part = card.fittings
    desk.select(id)
    assert not part.wheel_off.isVisible()
    settle(part.forms.of("wheel").place.fields["x_mm"], "-88")
    assert "12 mm off" in part.wheel_off.text()
    press(part.as_driven)
    set_back = desk.layout.thing(id)
    assert isinstance(set_back, Wheel)
    assert set_back.place.x_mm == -100.0
    assert not part.as_driven.isVisible()
