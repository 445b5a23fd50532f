"""What lever a wanted knob needs, on the controls card: by mouse and keys, in mm and inches, undone and done again."""

import math

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.cards.conftest import Show
from app.cards.hands import KEY, LAYOUT, escape, press, settle, told_beside, write
from floorpan import edits
from floorpan.items import Shifter, gate_table
from floorpan.report import lever_words as told
from floorpan_app.cards import lever_part
from floorpan_app.cards import lever_words as said
from floorpan_app.cards.controls_card import ControlsCard
from floorpan_app.cards.lever_part import LeverPart
from floorpan_app.desk import Desk


@pytest.fixture
def part(show: Show, monkeypatch: pytest.MonkeyPatch) -> LeverPart:
    monkeypatch.setattr(lever_part, "SETTLE_AFTER_MS", 5)
    card = show("controls")
    assert isinstance(card, ControlsCard)
    card.resize(344, 3000)
    return card.lever


def shifter_of(desk: Desk) -> Shifter:
    [shifter] = desk.layout.of(Shifter)
    return shifter


def knob(desk: Desk) -> tuple[float, float, float]:
    return gate_table(shifter_of(desk))[0].knob_mm


def worked_out(qtbot: QtBot, part: LeverPart) -> None:
    qtbot.waitUntil(lambda: part.answer() is not None and part.told() == "", timeout=20_000)


def type_place(part: LeverPart, *lengths: str) -> None:
    """As a hand does: a length, Tab, a length, Tab, a length, Enter."""
    fields = part.place.fields["knob"]
    for field, length in zip(fields, lengths, strict=True):
        write(field, length)
        if field is not fields[-1]:
            QTest.keyClick(field, KEY.Key_Tab)
            assert part.place.fault() == "", "half a place is no fault while the next length is in hand"
    QTest.keyClick(fields[-1], KEY.Key_Return)


def test_nothing_is_asked_until_somebody_says_where_the_knob_shall_be(part: LeverPart) -> None:
    assert part.answer() is None
    assert not part.freedom.isVisible()
    assert not part.build.isVisible()
    assert not part.forget.isVisible()


def test_a_raised_knob_is_answered_and_built(qtbot: QtBot, desk: Desk, part: LeverPart) -> None:
    """Only the box may rise: 50 up is spacers of 50 and nothing else."""
    x, y, z = knob(desk)
    type_place(part, f"{x:.1f}", f"{y:.1f}", f"{z + 50:.1f}")
    assert desk.layout.knob_target_mm == pytest.approx((x, y, z + 50), abs=0.06)
    part.place.fields["knob"][0].clearFocus()
    for name in ("length_free", "bend_free", "tilt_free", "move_free"):
        press(part.freedom.boxes[name])
    worked_out(qtbot, part)
    # A tenth of a mm is lost in the typing and the box may do nothing but rise: that is no word of being short.
    assert part.said() == ("Raise the box 50 mm and nothing else.", "")
    before = shifter_of(desk)
    press(part.build)
    assert shifter_of(desk).place.z_mm == pytest.approx(before.place.z_mm + 50.0, abs=0.2)
    desk.document.undo()
    assert shifter_of(desk) == before
    assert desk.layout.knob_target_mm is not None
    desk.document.redo()
    assert shifter_of(desk).stands_on == "none"


def test_a_bent_lever_is_built_in_one_step_and_then_nothing_is_left_to_do(
    qtbot: QtBot, desk: Desk, part: LeverPart
) -> None:
    press(part.use_now)
    assert desk.layout.knob_target_mm == pytest.approx(knob(desk), abs=0.06)
    x, y, z = desk.layout.knob_target_mm or (0.0, 0.0, 0.0)
    settle(part.place.fields["knob"][0], f"{x + 55:g}")
    worked_out(qtbot, part)
    answer = part.answer()
    assert answer is not None
    assert answer.bend is not None
    assert "bent" in part.said()[0]
    rows = {what: (now, then) for what, now, then in part.table.texts()}
    assert rows[told.LENGTH][0] == "240 mm"
    assert rows[told.EFFORT][0] == "\u00d7 1"
    assert "common practice, no source" in part.small()
    press(part.build)
    built = shifter_of(desk)
    assert built.bend_deg == pytest.approx(answer.bend.deg)
    assert math.dist(knob(desk), (x + 55, y, z)) < 1e-5
    worked_out(qtbot, part)
    assert part.said()[0] == told.NO_CHANGE
    assert not part.build.isEnabled()
    desk.document.undo()
    assert shifter_of(desk).bend_deg == 0.0


def test_what_may_change_is_ticked_and_ranged(qtbot: QtBot, desk: Desk, part: LeverPart) -> None:
    press(part.use_now)
    x, _, _ = knob(desk)
    settle(part.place.fields["knob"][0], f"{x + 400:g}")
    worked_out(qtbot, part)
    assert "short: " in part.said()[0]
    assert part.said()[1].startswith("The nearest it comes: ")
    first = part.answer()
    press(part.freedom.fold)
    settle(part.freedom.forms["length_free"].fields["length_most_mm"], "300")
    assert part.answer() is None, "another question has no answer yet"
    assert part.told() in (said.WORKING, "")
    worked_out(qtbot, part)
    second = part.answer()
    assert first is not None
    assert second is not None
    assert second.readings.rod_mm <= 300.001 < first.readings.rod_mm
    press(part.freedom.boxes["bend_free"])
    assert not part.freedom.forms["bend_free"].isVisible()
    worked_out(qtbot, part)
    third = part.answer()
    assert third is not None
    assert third.bend is None


def test_a_refused_range_and_a_refused_length_are_told_beside_their_fields(
    desk: Desk, part: LeverPart
) -> None:
    press(part.use_now)
    press(part.freedom.fold)
    least = part.freedom.forms["length_free"].fields["length_least_mm"]
    settle(least, "400")
    assert told_beside(part) == [least.fault()] != [""]
    assert "longer than the longest" in least.fault()
    escape(least)
    assert part.freedom.free().length_least_mm == 150.0
    before = desk.layout
    field = part.place.fields["knob"][1]
    settle(field, "over there")
    assert desk.layout is before
    assert "not a length" in part.place.fault()


def test_half_a_place_is_refused_once_it_is_settled(desk: Desk, part: LeverPart) -> None:
    settle(part.place.fields["knob"][0], "300")
    assert part.place.fault() != ""
    assert desk.layout is LAYOUT


def test_inches_are_read_and_shown(qtbot: QtBot, desk: Desk, part: LeverPart) -> None:
    press(part.use_now)
    desk.use_system("in")
    worked_out(qtbot, part)
    z = part.place.fields["knob"][2]
    settle(z, "14 1/2")
    assert desk.layout.knob_target_mm is not None
    assert desk.layout.knob_target_mm[2] == pytest.approx(14.5 * 25.4)
    worked_out(qtbot, part)
    rows = {what: (now, then) for what, now, then in part.table.texts()}
    assert rows[told.LENGTH][0] == "9\u20097\u204416 in"
    assert " in " in part.said()[0]
    assert " mm" not in part.said()[0] + part.small()
    assert " 0 in " not in part.small()


def test_forgetting_takes_the_question_away_and_is_undone(qtbot: QtBot, desk: Desk, part: LeverPart) -> None:
    press(part.use_now)
    worked_out(qtbot, part)
    QTest.mouseClick(part.forget, Qt.MouseButton.LeftButton)
    assert desk.layout.knob_target_mm is None
    assert not part.build.isVisible()
    assert part.place.fields["knob"][0].text() == ""
    desk.document.undo()
    assert desk.layout.knob_target_mm is not None
    assert part.build.isVisible()


def test_a_drag_marks_the_answer_and_works_nothing_out(qtbot: QtBot, desk: Desk, part: LeverPart) -> None:
    press(part.use_now)
    worked_out(qtbot, part)
    desk.preview(lambda layout: edits.move(layout, "shifter-1", x_mm=30.0))
    assert part.told() == said.STALE
    assert not part.build.isEnabled()
    assert part.answer() is None
    desk.document.drop_preview()
    assert part.answer() is not None
    assert part.told() == ""


def test_what_cannot_be_worked_out_is_told(qtbot: QtBot, desk: Desk, part: LeverPart) -> None:
    desk.change("boot", lambda layout: edits.change(layout, "shifter-1", boot_mm=20.0))
    press(part.use_now)
    qtbot.waitUntil(lambda: "comes under the pivot" in part.told(), timeout=20_000)
    assert not part.build.isVisible()
    press(part.freedom.boxes["bend_free"])
    worked_out(qtbot, part)


def test_a_lever_on_the_gearbox_begins_with_its_box_fast(desk: Desk, part: LeverPart) -> None:
    desk.change("family", lambda layout: edits.change(layout, "shifter-1", family="gearbox"))
    press(part.use_now)
    ticked = [name for name, box in part.freedom.boxes.items() if box.isChecked()]
    assert ticked == ["length_free", "bend_free"]


def test_a_locked_box_that_would_move_is_told(qtbot: QtBot, desk: Desk, part: LeverPart) -> None:
    desk.change("lock", lambda layout: edits.lock(layout, "shifter-1", True))
    press(part.use_now)
    x, _, _ = knob(desk)
    settle(part.place.fields["knob"][0], f"{x + 40:g}")
    for name in ("length_free", "bend_free", "tilt_free", "raise_free"):
        press(part.freedom.boxes[name])
    worked_out(qtbot, part)
    before = desk.layout
    press(part.build)
    assert desk.layout is before
    assert "is locked" in part.told()


def test_an_opening_that_is_too_small_for_the_new_lever_is_told(
    qtbot: QtBot, desk: Desk, part: LeverPart
) -> None:
    press(part.use_now)
    x, _, _ = knob(desk)
    worked_out(qtbot, part)
    assert part.lacks() == ""
    settle(part.place.fields["knob"][0], f"{x + 50:g}")
    for name in ("length_free", "bend_free", "tilt_free", "raise_free"):
        press(part.freedom.boxes[name])
    worked_out(qtbot, part)
    assert part.said()[0].startswith("Move the box 50 mm rearward")
    assert part.lacks().endswith("on its worst side.")
