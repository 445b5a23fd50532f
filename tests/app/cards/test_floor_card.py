"""Floor: the carpet, parts of the scan by their boxes, and what this car does not have."""

import pytest

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, choose, escape, press, press_row, settle, told_beside, write
from floorpan import edits
from floorpan.layout import Area, Box, Layout
from floorpan.progress import finish
from floorpan.scan.carpet import BARE, Carpet, Layer
from floorpan_app.cards import words
from floorpan_app.cards.floor_card import FloorCard
from floorpan_app.desk import Desk

BOX = Box(least_mm=(-300.0, -200.0, -10.0), greatest_mm=(300.0, 200.0, 150.0))


def floor_card(show: Show, layout: Layout = LAYOUT) -> FloorCard:
    card = show("floor", layout)
    assert isinstance(card, FloorCard)
    return card


@pytest.fixture
def named() -> Layout:
    """A scan with two parts by the same box."""
    layout = edits.crop(LAYOUT, "scan-1", BOX)
    layout = edits.add_area(layout, "scan-1", "tunnel top", BOX)
    return edits.add_area(layout, "scan-1", "handbrake", BOX)


def areas(desk: Desk) -> tuple[Area, ...]:
    return desk.layout.scans[0].areas


def test_the_carpet_is_typed_in_either_unit(desk: Desk, show: Show) -> None:
    """25.4 mm to the inch."""
    card = floor_card(show)
    field = card.form.fields["carpet_mm"]
    settle(field, "9,5")
    assert desk.layout.carpet_mm == 9.5
    settle(field, "1/2 in")
    assert desk.layout.carpet_mm == pytest.approx(12.7)
    desk.use_system("in")
    settle(field, "1/4")
    assert desk.layout.carpet_mm == pytest.approx(6.35)
    for _ in range(3):
        desk.document.undo()
    assert desk.layout == LAYOUT


@pytest.mark.parametrize("typed", ["-1", "41", "thick", "2 in"])
def test_a_refused_carpet_changes_nothing_and_is_told(desk: Desk, show: Show, typed: str) -> None:
    card = floor_card(show)
    field = card.form.fields["carpet_mm"]
    settle(field, typed)
    assert desk.layout is LAYOUT
    assert told_beside(card.form) == [card.form.fault("carpet_mm")] != [""]
    assert desk.document.undo_words() == ""
    escape(field)
    assert told_beside(card.form) == []
    write(field, "3")
    escape(field)
    assert desk.layout is LAYOUT


def test_a_part_is_named_shaped_and_forgotten(desk: Desk, show: Show) -> None:
    cropped = edits.crop(LAYOUT, "scan-1", BOX)
    card = floor_card(show, cropped)
    choose(card.kind, "tunnel top")
    press(card.name_one)
    [area] = areas(desk)
    assert (area.kind, area.box) == ("tunnel top", BOX), "it begins as the crop box"
    assert card.rows.chosen() == area.id
    settle(card.box.faces["left"], "120")
    settle(card.box.faces["up"], "4 in")
    assert areas(desk)[0].box.least_mm == (-300.0, -120.0, -10.0)
    assert areas(desk)[0].box.greatest_mm == pytest.approx((300.0, 200.0, 101.6))
    press(card.forget)
    assert desk.layout.scans[0].areas == ()
    assert not card.part.isVisible()
    for _ in range(4):
        desk.document.undo()
    assert desk.layout == cropped


def test_a_part_that_holds_nothing_is_refused(desk: Desk, show: Show, named: Layout) -> None:
    card = floor_card(show, named)
    press_row(card.rows, areas(desk)[0].id)
    settle(card.box.faces["down"], "-200")
    assert desk.layout is named
    assert told_beside(card.box) == [words.PART_INSIDE_OUT]
    escape(card.box.faces["down"])
    assert card.box.faces["down"].line_edit().text() == "10 mm"
    assert told_beside(card.box) == []


def test_what_was_typed_for_one_part_does_not_pass_to_the_next(desk: Desk, show: Show, named: Layout) -> None:
    card = floor_card(show, named)
    one, other = (area.id for area in areas(desk))
    press_row(card.rows, one)
    settle(card.box.faces["rear"], "far")
    press_row(card.rows, other)
    assert card.box.faces["rear"].line_edit().text() == "300 mm"
    assert told_beside(card.box) == []
    assert desk.layout is named


def test_a_part_pressed_again_is_put_away(desk: Desk, show: Show, named: Layout) -> None:
    card = floor_card(show, named)
    one = areas(desk)[0].id
    press_row(card.rows, one)
    assert card.part.isVisible()
    press_row(card.rows, one)
    assert not card.part.isVisible()
    assert card.rows.chosen() == ""


def test_a_placed_thing_stands_for_a_part(desk: Desk, show: Show, named: Layout) -> None:
    card = floor_card(show, named)
    one, other = areas(desk)
    press_row(card.rows, one.id)
    choose(card.stands_for, "console-1")
    assert [area.stands_for for area in areas(desk)] == ["console-1", ""]
    assert areas(desk)[1] == other
    assert card.rows.rows()[0].second == "Console stands for it"
    choose(card.stands_for, "")
    assert desk.layout == named
    desk.document.undo()
    assert card.stands_for.key() == "console-1"


def test_what_the_car_does_not_have_is_ticked(desk: Desk, show: Show) -> None:
    card = floor_card(show)
    assert card.absent["dash"].isChecked()
    press(card.absent["handbrake"])
    assert set(desk.layout.absent) == {"dash", "handbrake"}
    press(card.absent["dash"])
    assert desk.layout.absent == ("handbrake",)
    desk.document.undo()
    desk.document.undo()
    assert desk.layout == LAYOUT
    assert not card.absent["handbrake"].isChecked()


def test_a_part_of_an_uncropped_scan_waits_until_it_is_ready(desk: Desk, show: Show) -> None:
    card = floor_card(show)
    assert not card.name_one.isEnabled()
    finish(desk.judging.bench.prepare(LAYOUT.scans[0]))
    card.refresh()
    press(card.name_one)
    [area] = areas(desk)
    assert area.kind == "dash"
    # The sheet of 1.4 m with 10 mm all round.
    assert area.box == Box(least_mm=(-710.0, -710.0, -10.0), greatest_mm=(710.0, 710.0, 10.0))


def test_sides_are_called_after_the_driver(desk: Desk, show: Show, named: Layout) -> None:
    card = floor_card(show, named)
    press_row(card.rows, areas(desk)[0].id)
    left = card.box.faces["left"].line_edit()
    assert left.accessibleName() == "Box, Driver side"
    desk.change("sit", lambda layout: edits.set_driver_side(layout, "right"))
    assert left.accessibleName() == "Box, Passenger side"


def test_without_axes_the_next_step_is_offered(desk: Desk, show: Show) -> None:
    card = floor_card(show, edits.change_scan(LAYOUT, "scan-1", pose=None))
    assert card.next.said() == words.NEED_AXES
    [go] = [button for button in card.next.findChildren(type(card.forget)) if button.isVisible()]
    press(go)
    assert desk.step == "axes"


def test_carpet_layer_by_layer_adds_up_and_squeezed_is_never_thicker(desk: Desk, show: Show) -> None:
    card = floor_card(show)
    card.fold.click()
    (deadening, insulator, carpet) = card.layers.table.cells
    settle(deadening["loose_mm"], "3")
    settle(deadening["squeezed_mm"], "3")
    settle(insulator["loose_mm"], "10")
    settle(insulator["squeezed_mm"], "4")
    settle(carpet["loose_mm"], "8")
    settle(carpet["squeezed_mm"], "2")
    assert [(layer.kind, layer.loose_mm) for layer in desk.layout.layers] == [
        ("deadening", 3.0),
        ("insulator", 10.0),
        ("carpet", 8.0),
    ]
    assert desk.layout.carpet_mm == 21.0
    assert desk.layout.carpet().squeezed_mm == 9.0
    settle(insulator["loose_mm"], "3")
    assert desk.layout.layers[1].squeezed_mm == 3.0
    settle(insulator["loose_mm"], "0")
    assert [layer.kind for layer in desk.layout.layers] == ["deadening", "carpet"]
    # 60 degrees doubles it: 11 mm down a panel make 22. Closed form.
    assert "22 at 60" in card.layers._all.text()


def test_a_part_carries_its_own_carpet_or_none(desk: Desk, show: Show, named: Layout) -> None:
    card = floor_card(show, edits.set_carpet(named, 12.0))
    press_row(card.rows, areas(desk)[0].id)
    choose(card.lies, "none")
    assert areas(desk)[0].carpet == BARE
    assert desk.layout.carpet_on(areas(desk)[0].id).loose_mm == 0.0
    choose(card.lies, "own")
    own = areas(desk)[0].carpet
    assert own is not None
    assert own.loose_mm == desk.layout.carpet_mm
    settle(card.own_carpet.table.cells[2]["loose_mm"], "6")
    settle(card.own_carpet.table.cells[2]["squeezed_mm"], "5")
    assert desk.layout.carpet_on(areas(desk)[0].id) == Carpet(layers=(Layer(loose_mm=6.0, squeezed_mm=5.0),))
    assert desk.layout.carpet_on("scan-1").loose_mm == desk.layout.carpet_mm
    choose(card.lies, "rest")
    assert areas(desk)[0].carpet is None
