"""Controls: the shifter's measures, and knob places taped in the car."""

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QRect
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QScrollArea, QToolButton, QWidget
from pytestqt.qtbot import QtBot

from app.cards.conftest import Show
from app.cards.hands import KEY, LAYOUT, choose, escape, press, press_row, settle, told_beside
from floorpan import edits
from floorpan.checks import Finding
from floorpan.items import GatePlace, Handbrake, KnobPoint, Shifter
from floorpan.items.shifter_gate import gate_table
from floorpan_app.cards.controls_card import ControlsCard
from floorpan_app.cards.in_sight import bring_to_sight
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.setting_down import set_down
from floorpan_app.desk import Desk


@pytest.fixture
def card(show: Show) -> ControlsCard:
    card = show("controls")
    assert isinstance(card, ControlsCard)
    return card


def shifter_of(desk: Desk) -> Shifter:
    [shifter] = desk.layout.of(Shifter)
    return shifter


def test_a_gear_is_taped_where_the_lever_puts_it_and_then_typed(desk: Desk, card: ControlsCard) -> None:
    card.gate.gearChosen.emit("3")
    assert card.tape.text() == "Tape gear 3"
    press(card.fold)
    press(card.tape)
    [knob] = shifter_of(desk).knobs
    [place] = [one for one in gate_table(shifter_of(desk)) if one.gear == "3"]
    # The shifter's foot stands at the origin, so that the knob lies where it is taped from.
    assert shifter_of(desk).place.pose().shift_mm == (0.0, 0.0, 0.0)
    assert (knob.x_mm, knob.y_mm, knob.z_mm) == pytest.approx(place.knob_mm, abs=0.05)
    assert card.tape.text() == "Tape gear 4", "this gear is taped, the next is not"
    settle(card.table.cells[0]["z_mm"], "10 in")
    assert shifter_of(desk).knobs[0].z_mm == pytest.approx(254.0)
    [taped] = [one for one in gate_table(shifter_of(desk)) if one.gear == "3"]
    assert np.asarray(taped.knob_mm)[2] == pytest.approx(254.0), "what is taped wins"
    desk.document.undo()
    desk.document.undo()
    assert desk.layout == LAYOUT
    assert card.tape.text() == "Tape gear 4", "the one in hand now"


def seen(card: ControlsCard, widget: QWidget) -> bool:
    """Whether all of a piece lies in the scrolled window of the card."""
    [area] = card.findChildren(QScrollArea)
    view = area.viewport()
    return view.rect().contains(QRect(widget.mapTo(view, QPoint(0, 0)), widget.size()))


def place_of(desk: Desk, gear: str) -> GatePlace:
    return next(one for one in gate_table(shifter_of(desk)) if one.gear == gear)


def test_gear_after_gear_is_taped_with_the_keyboard_alone(
    qtbot: QtBot, desk: Desk, card: ControlsCard
) -> None:
    """Enter in a gear's last measure goes on to the next gear; the card is too low to show it all."""
    card.resize(344, 420)
    card.activateWindow()
    qtbot.waitUntil(card.isActiveWindow, timeout=5000)
    card.gate.gearChosen.emit("2")
    press(card.fold)
    card.tape.setFocus()
    QTest.keyClick(card.tape, KEY.Key_Space)
    order = [one.gear for one in gate_table(shifter_of(desk))]
    gears = [*order[order.index("2") :], *order[: order.index("2")]]
    for row, gear in enumerate(gears):
        first, last = card.table.cells[row]["x_mm"], card.table.cells[row]["z_mm"]
        qtbot.waitUntil(lambda first=first: first.line_edit().hasFocus(), timeout=2000)
        qtbot.waitUntil(lambda first=first: seen(card, first), timeout=2000)
        assert dict(desk.state)["shifter-1.gear"] == gear
        taped = [knob.gear for knob in shifter_of(desk).knobs]
        assert taped == gears[: max(row, 1)], "a row that is open only is not taped"
        assert card.begun_note.isVisible() == (row > 0)
        QTest.keyClicks(first.line_edit(), str(row + 10))
        QTest.keyClick(first.line_edit(), KEY.Key_Tab)
        QTest.keyClick(card.table.cells[row]["y_mm"].line_edit(), KEY.Key_Tab)
        assert last.line_edit().hasFocus()
        QTest.keyClick(last.line_edit(), KEY.Key_Return)
    knobs = shifter_of(desk).knobs
    assert [(knob.gear, knob.x_mm) for knob in knobs] == [
        (gear, row + 10.0) for row, gear in enumerate(gears)
    ]
    assert not card.tape.isEnabled()
    assert card.table.cells[-1]["z_mm"].line_edit().hasFocus(), "there is nothing further to go on to"


def test_gear_after_gear_is_taped_with_the_mouse_alone(qtbot: QtBot, desk: Desk, card: ControlsCard) -> None:
    card.resize(344, 420)
    card.activateWindow()
    qtbot.waitUntil(card.isActiveWindow, timeout=5000)
    card.gate.gearChosen.emit("1")
    press(card.fold)
    bring_to_sight(card.tape)
    for row, gear in enumerate(("1", "2", "3")):
        qtbot.waitUntil(lambda: seen(card, card.tape), timeout=2000)
        assert card.tape.text() == f"Tape gear {gear}"
        press(card.tape)
        assert shifter_of(desk).knobs[row].gear == gear
        first = card.table.cells[row]["x_mm"]
        assert first.line_edit().hasFocus()
        qtbot.waitUntil(lambda first=first: seen(card, first), timeout=2000)


def test_a_row_that_nobody_typed_into_is_left_and_taken_out_without_a_trace(
    desk: Desk, card: ControlsCard
) -> None:
    card.gate.gearChosen.emit("1")
    press(card.fold)
    press(card.tape)
    settle(card.table.cells[0]["z_mm"], "260")
    taped = desk.layout
    assert [field.isVisible() for field in card.table.cells[1].values()] == [True] * 3
    assert card.table.cells[1]["z_mm"].value_mm() == pytest.approx(place_of(desk, "2").knob_mm[2], abs=0.05)
    outs = [one for one in card.table.findChildren(QToolButton) if one.isVisible()]
    press(outs[1])
    assert desk.layout is taped
    assert not card.table.cells[1]["x_mm"].isVisible()
    settle(card.table.cells[0]["z_mm"], "261")
    assert card.table.cells[1]["x_mm"].isVisible(), "and it is open again"
    card.gate.gearChosen.emit("5")
    assert not card.table.cells[1]["x_mm"].isVisible()
    assert [knob.gear for knob in shifter_of(desk).knobs] == ["1"]
    assert card.tape.text() == "Tape gear 5"


def test_a_refused_knob_place_changes_nothing_and_is_told(desk: Desk, card: ControlsCard) -> None:
    card.gate.gearChosen.emit("R")
    press(card.fold)
    press(card.tape)
    before = desk.layout
    field = card.table.cells[0]["x_mm"]
    shown = field.line_edit().text()
    settle(field, "near")
    assert desk.layout is before
    assert told_beside(card.table) == [field.fault()] != [""]
    escape(field)
    assert field.line_edit().text() == shown
    assert told_beside(card.table) == []


def test_a_shifter_is_moved_turned_and_locked_by_its_card(desk: Desk, card: ControlsCard) -> None:
    """25.4 mm to the inch."""
    place = card.shifter.place.fields
    settle(place["x_mm"], "-2 in")
    settle(place["turn_deg"], "15 deg")
    assert shifter_of(desk).place.x_mm == pytest.approx(-50.8)
    assert shifter_of(desk).place.turn_deg == 15.0
    press(card.shifter.lock)
    assert shifter_of(desk).locked
    assert not place["x_mm"].isEnabled()
    for _ in range(3):
        desk.document.undo()
    assert desk.layout == LAYOUT


def test_a_straight_gate_is_chosen_by_key_typed_and_shown(desk: Desk, card: ControlsCard) -> None:
    first = card.shifter.form.fields
    gate = first["gate"]
    assert isinstance(gate, QuietCombo)
    assert first["gears"].isVisible()
    assert not first["places"].isVisible()
    choose(gate, "straight")
    assert shifter_of(desk).gate == "straight"
    assert first["places"].isVisible()
    assert not any(first[name].isVisible() for name in ("gears", "reverse", "throw_deg", "plane_deg"))
    settle(first["places"], "P R N D 2")
    assert [one.gear for one in gate_table(shifter_of(desk))] == ["N", "P", "R", "D", "2"]
    card.show_findings(())
    assert [gear.gear for gear in card.gate.gears()] == ["P", "R", "N", "D", "2"]
    assert len({gear.column for gear in card.gate.gears()}) == 1
    before = desk.layout
    settle(first["places"], "P R D")
    assert desk.layout is before, "no gate without neutral"
    assert any("neutral" in told for told in told_beside(card.shifter))
    escape(first["places"])
    card.gate.gearChosen.emit("D")
    assert dict(desk.state)["shifter-1.gear"] == "D"


def test_a_knob_s_own_measures_show_with_its_shape(desk: Desk, card: ControlsCard) -> None:
    press(card.shifter.fold)
    more = card.shifter.more.fields
    knob = more["knob"]
    assert isinstance(knob, QuietCombo)
    for shape, length, neck in (("pear", True, True), ("cylinder", True, False), ("sphere", False, False)):
        choose(knob, shape)
        assert shifter_of(desk).knob == shape
        assert (more["knob_length_mm"].isVisible(), more["knob_neck_radius_mm"].isVisible()) == (length, neck)


def test_the_gate_is_fitted_to_taped_knobs_by_a_press_and_undone(desk: Desk, card: ControlsCard) -> None:
    """Knobs of a lever of 300 at 15 deg: the gate that made them comes back."""
    made = replace(shifter_of(desk), lever_mm=300.0, lean_deg=4.0, throw_deg=15.0, plane_deg=5.0)
    knobs = tuple(
        KnobPoint(gear=one.gear, x_mm=one.knob_mm[0], y_mm=one.knob_mm[1], z_mm=one.knob_mm[2])
        for one in gate_table(made)
        if one.gear != "2"
    )
    press(card.fold)
    assert not card.fit.fit.isEnabled(), "nothing is taped"
    desk.change("tape", lambda layout: edits.change(layout, "shifter-1", knobs=knobs[:2]))
    press(card.fit.fit)
    assert "plane" in card.fit.fault.text()
    assert card.fit.fault.isVisible()
    desk.change("tape", lambda layout: edits.change(layout, "shifter-1", knobs=knobs))
    assert not card.fit.fault.isVisible()
    press(card.fit.fit)
    fitted = shifter_of(desk)
    assert (fitted.lever_mm, fitted.throw_deg) == pytest.approx((300.0, 15.0), abs=1e-4)
    assert fitted.knobs == knobs
    assert "they follow: 2" in card.fit.said.text()
    desk.document.undo()
    assert shifter_of(desk).lever_mm == 240.0
    assert not card.fit.said.isVisible()


def test_the_card_says_what_opening_the_lever_needs(desk: Desk, card: ControlsCard) -> None:
    assert "over the foot" in card.opening.text()
    more = card.shifter.more.fields
    press(card.shifter.fold)
    settle(more["ring_radius_mm"], "55")
    settle(more["boot_cloth_mm"], "150")
    assert "Boot:" in card.opening.text()


def test_measures_of_the_shifter_make_way_for_what_else_is_in_hand(
    qtbot: QtBot, desk: Desk, card: ControlsCard
) -> None:
    qtbot.waitUntil(lambda: desk.judging.bench.floors_ready(desk.layout), timeout=60_000)
    set_down(desk, "handbrake")
    brake = desk.layout.of(Handbrake)[0]
    desk.select("")
    parts = (card.facts, card.shifter, card.knobs, card.lever)
    assert all(part.isVisible() for part in parts)
    assert not card.measures.isVisible()
    press_row(card.fittings.rows, brake.id)
    assert not any(part.isVisible() for part in parts)
    assert card.gate.isVisible()
    assert card.fittings.forms.of("handbrake").isVisible()
    desk.document.preview(edits.shift(desk.layout, brake.id, (5.0, 0.0, 0.0)))
    assert not any(part.isVisible() for part in parts)
    desk.document.drop_preview()
    press(card.measures)
    assert desk.selection == "shifter-1"
    assert all(part.isVisible() for part in parts)
    assert not card.measures.isVisible()


def test_the_gear_that_is_shown_is_told_by_its_gap_reach_and_elbow(
    judged: Desk, show: Show, findings: tuple[Finding, ...]
) -> None:
    card = show("controls")
    assert isinstance(card, ControlsCard)
    card.gate.gearChosen.emit("3")
    rows = {row.id: row for row in card.gear_told.rows.rows()}
    mine = [one for one in findings if dict(one.state).get("shifter-1.gear") == "3"]
    reach = max((one for one in mine if one.check == "reach"), key=lambda one: -(one.value or 0.0))
    assert [row.title for row in rows.values()].count("Reach, to spare") == 1
    assert any(row.title == "Elbow" and row.value.endswith("\u00b0") for row in rows.values())
    assert any(row.tail == "smallest gap" for row in rows.values())
    assert reach.check in {id.partition(":")[0] for id in rows}
    first = next(iter(rows))
    press_row(card.gear_told.rows, first)
    assert judged.finding == first
    gears = {gear.gear: gear for gear in card.gate.gears()}
    [gap] = [row for row in rows.values() if row.tail == "smallest gap"]
    assert gears["3"].value == gap.value
    assert gears["3"].gap_verdict == gap.mark


def test_what_is_from_before_the_move_says_so(judged: Desk, show: Show) -> None:
    card = show("controls")
    assert isinstance(card, ControlsCard)
    stale = tuple(replace(one, stale=True) for one in judged.judging.findings)
    judged.judging.findings = stale
    judged.judging.findings_changed.emit(stale)
    gears = card.gate.gears()
    assert gears
    assert all(gear.stale and gear.gap_stale for gear in gears)
    assert {row.tail for row in card.gear_told.rows.rows()} == {"before the move"}
