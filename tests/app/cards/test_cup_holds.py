"""How hard each vessel is held, on the cup's card: its rules, its words, what is asked, and what stands close."""

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton
from pytestqt.qtbot import QtBot

from app.cards.conftest import Show
from app.cards.hands import KEY, LAYOUT, choose, escape, press, press_row, settle, told_beside
from floorpan import edits
from floorpan.checks import Finding
from floorpan.checks.finding import rank
from floorpan.items import Vessel, library, vessel_of
from floorpan.items.finger_hold import MOST_G
from floorpan.items.held import held_free, held_in_well
from floorpan.limits import LIMITS
from floorpan_app.cards import cup_words as said
from floorpan_app.cards import words
from floorpan_app.cards.cup_card import CupCard
from floorpan_app.cards.cup_groups import group_of, groups, vessels_of
from floorpan_app.cards.cup_near_part import worst_of_each
from floorpan_app.cards.cup_rows import HoldRow
from floorpan_app.cards.cup_told import first_sentence, spill_text
from floorpan_app.cards.steps import of_step
from floorpan_app.desk import Desk
from floorpan_app.widgets.hold_rule import end_of

Tell = Callable[..., None]


@pytest.fixture
def card(show: Show) -> CupCard:
    card = show("cup")
    assert isinstance(card, CupCard)
    card.resize(344, 3000)
    return card


@pytest.fixture
def tell(desk: Desk) -> Tell:
    """Hands findings to the card as the judging does: worst first."""

    def told(*findings: Finding) -> None:
        desk.judging.findings = tuple(sorted(findings, key=rank))
        desk.judging.findings_changed.emit(desk.judging.findings)

    return told


def found(check: str, value: float | None, verdict: str = "clear", **other: object) -> Finding:
    finding = Finding(
        check=check,
        subjects=("vessel-1", "cup-holder-1"),
        state=(("vessel-1.place", "in"),),
        verdict=verdict,  # type: ignore[arg-type]
        value=value,
        uncertainty=0.02,
        doubts=(),
        limit=LIMITS.get(check, LIMITS["hand-vessel"]),
        is_gap=not check.startswith("cup-"),
    )
    return replace(finding, **other)


def row(card: CupCard) -> HoldRow:
    shown = card.rows.rows()[0]
    assert isinstance(shown, HoldRow)
    return shown


def test_until_it_is_worked_out_every_way_is_pending(card: CupCard) -> None:
    assert [(lane.name, lane.reading.verdict, lane.value) for lane in row(card).lanes] == [
        (said.SIDEWAYS, "pending", ""),
        (said.FORE_AFT, "pending", ""),
    ]
    assert (row(card).mark, row(card).word) == ("pending", "pending")
    assert row(card).spoken == "Can, 355 ml: pending, 70 mm deep, leans 11.6\u00b0"


def test_what_is_found_stands_on_its_rule_with_the_verdict_of_the_worst(card: CupCard, tell: Tell) -> None:
    note = "It leans out of its well there, 30 percent full. It leans 6 deg at 0.8 g."
    tell(found("cup-corner", 0.83, "close", note=note), found("cup-brake", 0.62, "short"))
    sideways, along = row(card).lanes
    assert (sideways.value, sideways.trust, sideways.reading.value) == ("0.83", "\u00b1 0.02", 0.83)
    assert (along.value, along.reading.verdict, along.reading.wanted) == ("0.62", "short", 0.8)
    assert (row(card).mark, row(card).word) == ("short", "short"), "the worst of them, as a shape and a word"
    assert row(card).second == "It leans out of its well there, 30 percent full"
    assert "0.83" in row(card).spoken


def test_an_open_cup_has_a_rule_for_its_drink_and_a_stale_one_says_so(
    desk: Desk, card: CupCard, tell: Tell
) -> None:
    press_row(card.rows, "vessel-1")
    press(card.vessel.open_top)
    assert desk.layout.of(Vessel)[0].open_top
    tell(found("cup-corner", MOST_G, at_least=True), found("cup-spill", 0.33, "short", stale=True))
    sideways, _, spill = row(card).lanes
    assert (sideways.value, sideways.trust) == (said.STAYS, "")
    tell(found("cup-corner", MOST_G, "close"), found("cup-spill", 0.33, "short", stale=True))
    assert row(card).lanes[0].value == "5", "held that far as taped, but not when taped a little large"
    assert (spill.name, spill.value, spill.stale) == (said.SPILLS, "0.33", True)
    QTest.keyClick(card.vessel.open_top, KEY.Key_Space)
    assert len(row(card).lanes) == 2


def test_the_small_layouts_can_is_told_as_the_core_finds_it(judged: Desk, card: CupCard) -> None:
    """The numbers are the core's own: that they reach the card unchanged is what is looked at."""
    judged.judging.findings_changed.emit(judged.judging.findings)
    [holder], [can] = judged.layout.of(type(judged.layout.thing("cup-holder-1"))), judged.layout.of(Vessel)
    held = held_in_well(holder, can)  # type: ignore[arg-type]
    sideways = row(card).lanes[0]
    assert sideways.reading.value == pytest.approx(held.cornering_g)
    assert (sideways.value == said.STAYS) is (held.cornering_g >= MOST_G)
    press_row(card.rows, can.id)
    free = held_free(can)
    assert said.DOES[free.how] in card.vessel.does.text()
    assert said.NEVER_SPILLS in card.vessel.does.text()
    assert [one.title for one in card.well.rows.rows()] == list(said.FIT_TITLES.values())


def test_when_it_spills_is_told_by_hydrostatics() -> None:
    """The surface stands across the pull: 15 mm of room at a brim of radius 45 is used up at 15 / 45 g, 18.43 deg."""
    cup = vessel_of("open-cup-12", "v")
    finding = found("cup-spill", 15.0 / 45.0, "short")
    assert math.degrees(math.atan(15.0 / 45.0)) == pytest.approx(18.43, abs=0.01)
    assert spill_text(cup, {"cup-spill": finding}, "mm") == (
        "It spills above 0.33\u2009g with 15 mm of room at the top; its drink then slopes by 18.4\u00b0."
    )
    assert "with 9\u204416 in of room" in spill_text(cup, {"cup-spill": finding}, "in")
    assert spill_text(cup, {}, "mm") == ""


def test_the_corner_is_asked_of_every_way_at_once_and_undone_at_once(desk: Desk, card: CupCard) -> None:
    field = card.corner.field
    assert field.line_edit().text() == "0.8\u2009g"
    settle(field, "1,0 g")
    changed = {change.id: change.value for change in desk.layout.limits}
    assert changed == {"cup-corner": 1.0, "cup-brake": 1.0, "cup-spill": 1.0}
    desk.document.undo()
    assert desk.layout == LAYOUT
    settle(field, "9")
    assert desk.layout == LAYOUT
    assert told_beside(card.corner) == ["A corner is 0.1\u2009g to 2\u2009g."]
    escape(field)
    assert field.line_edit().text() == "0.8\u2009g"


def test_the_rules_reach_past_what_is_asked(desk: Desk, card: CupCard) -> None:
    assert row(card).end == end_of(()) == 1.2
    settle(card.corner.field, "1.5")
    assert row(card).end == pytest.approx(1.8)
    assert "0.4\u2009g most drivers, 0.8\u2009g most cars, 1\u2009g sports tyres" in card.note.text()
    assert "takes 0.5\u2009g off" in card.note.text()


def test_vessels_are_walked_by_arrows_and_chosen_by_the_space_bar(
    qtbot: QtBot, desk: Desk, card: CupCard
) -> None:
    desk.change("more", lambda layout: edits.add(layout, vessel_of("bottle-500", "new"))[0])
    marks = [mark for mark in card.rows.findChildren(QAbstractButton) if mark.isVisible()]
    card.activateWindow()
    qtbot.waitUntil(card.isActiveWindow)
    marks[0].setFocus()
    QTest.keyClick(marks[0], KEY.Key_Down)
    assert marks[1].hasFocus()
    QTest.keyClick(marks[1], KEY.Key_Space)
    assert desk.selection == "vessel-2"
    assert card.rows.rows()[1].second == words.STANDS_FREE
    QTest.mouseClick(marks[0], Qt.MouseButton.LeftButton, pos=QPoint(200, marks[0].height() - 8))
    assert desk.selection == "vessel-1", "a row is pressed on its rules too"


def test_a_kind_of_vessel_then_one_of_it_stands_in_the_well(desk: Desk, card: CupCard) -> None:
    choose(card.group, "mug")
    choose(card.kind, "travel-mug")
    press(card.stand)
    assert desk.layout.of(Vessel)[-1].name == "Travel mug"
    assert desk.selection == desk.layout.of(Vessel)[-1].id
    assert card.well.fit.text().startswith("Travel mug sits")


def test_every_vessel_of_the_library_is_of_one_kind() -> None:
    assert {group_of(vessel) for vessel in library()} == set(said.GROUPS)
    listed = [key for group, _ in groups() for key, _ in vessels_of(group)]
    assert sorted(listed) == sorted(vessel.key for vessel in library())


def test_weights_and_the_fill_line_are_typed(desk: Desk, card: CupCard) -> None:
    press_row(card.rows, "vessel-1")
    fields = card.vessel.form.form.fields
    settle(fields["empty_kg"], "20 g")
    settle(fields["filled_to_mm"], "4 in")
    [can] = desk.layout.of(Vessel)
    assert (can.empty_kg, can.filled_to_mm) == pytest.approx((0.02, 101.6))


# --- what stands close ------------------------------------------------------------------------------------------


def test_the_worst_of_each_stands_close_and_a_row_shows_the_car_as_it_stands_then(
    desk: Desk, card: CupCard, tell: Tell
) -> None:
    about = ("driver-1.hand", "vessel-1")
    reverse = (("shifter-1.gear", "R"), ("vessel-1.place", "in"))
    hit = found("hand-vessel", -6.0, "hits", subjects=about, state=reverse)
    clear = found("hand-vessel", 50.0, "clear", subjects=about, state=(("shifter-1.gear", "1"),))
    elbow = found("forearm-vessel", 20.0, subjects=("driver-1.forearm", "vessel-1"))
    tell(
        clear,
        elbow,
        hit,
        found("well-side", 3.0),
        found("hand-scan", -3.0, "hits", subjects=("driver-1.hand",)),
    )
    rows = card.near.rows.rows()
    assert [one.id for one in rows] == [hit.id, elbow.id]
    assert (rows[0].mark, rows[0].second) == ("hits", "reverse")
    chosen: list[str] = []
    desk.finding_chosen.connect(chosen.append)
    press_row(card.near.rows, hit.id)
    assert chosen == [hit.id]
    assert dict(desk.state)["shifter-1.gear"] == "R"


@pytest.mark.parametrize("check", ["lift-out", "lift-out-hand", "drip-switch"])
def test_its_way_out_and_what_drips_have_rows_once_they_are_found(
    card: CupCard, tell: Tell, check: str
) -> None:
    tell(found("cup-corner", 0.9))
    assert not card.near.isVisible()
    one = found(check, -4.0, "hits", subjects=("driver-1.hand", "vessel-1"))
    tell(one)
    assert [row.id for row in card.near.rows.rows()] == [one.id]
    assert of_step(one, "cup")


def test_of_findings_worst_first_the_first_of_each_check_is_kept() -> None:
    ids = frozenset({"vessel-1"})
    first, later = found("vessel-scan", 1.0), found("vessel-scan", 9.0)
    other = found("lever-vessel", 9.0, subjects=("shifter-1.lever", "vessel-9"))
    assert worst_of_each((first, later, other, found("cup-corner", 0.1)), ids) == (first,)


def test_how_a_vessel_is_held_is_of_this_step() -> None:
    for check in ("cup-corner", "cup-brake", "cup-spill", "forearm-vessel"):
        assert of_step(found(check, 1.0), "cup"), check


# --- while something is dragged ---------------------------------------------------------------------------------


def test_a_drag_keeps_the_rows_and_shows_no_place_of_what_goes_where_its_well_goes(
    desk: Desk, card: CupCard, tell: Tell
) -> None:
    press_row(card.rows, "vessel-1")
    drawn = card.well.drawn()
    desk.preview(lambda layout: edits.move(layout, "cup-holder-1", x_mm=240.0))
    tell(found("cup-corner", 0.83, "close"), found("cup-brake", 0.83, "close"))
    before = row(card)
    assert not card.vessel.form.place.isVisible()
    assert card.well.form.place.fields["x_mm"].line_edit().text() == "240 mm"  # type: ignore[union-attr]
    tell(found("cup-corner", 0.83, "close"), found("cup-brake", 0.83, "close"))
    assert row(card) is before
    assert card.well.drawn() is drawn
    desk.document.drop_preview()


def test_the_first_sentence_of_a_remark() -> None:
    assert first_sentence("It stays put. It leans 3 deg at 0.8 g.") == "It stays put"
    assert first_sentence("It stays put.") == "It stays put"
