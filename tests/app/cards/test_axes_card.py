"""Axes: points typed and chosen, the fit, axes by the file, and who sits where."""

from dataclasses import replace

import pytest
from PySide6.QtTest import QTest

from app.cards.conftest import Show
from app.cards.hands import KEY, LAYOUT, RAW, choose, escape, press, press_row, settle, told_beside, write
from core.small_case import small_layout
from floorpan import edits
from floorpan.frames import Pose, Vector
from floorpan.layout import Layout, ScanRef
from floorpan.scan.axes import AxisPick
from floorpan_app.cards import words
from floorpan_app.cards.axes_card import AxesCard
from floorpan_app.desk import Desk

# A car that stands in its file turned by 180 degrees about Z: its front along the file's +X, its right along -Y.
POINTS: tuple[tuple[str, str, Vector], ...] = (
    ("A", "level", (-200.0, -200.0, 5.0)),
    ("B", "level", (200.0, -200.0, 5.0)),
    ("C", "level", (-200.0, 200.0, 5.0)),
    ("D", "level", (200.0, 200.0, 5.0)),
    ("E", "centre", (-300.0, 0.0, 0.0)),
    ("F", "centre", (300.0, 0.0, 0.0)),
    ("G", "origin", (10.0, 0.0, 5.0)),
    ("H", "front", (500.0, 0.0, 0.0)),
    ("I", "above", (0.0, 0.0, 300.0)),
)


def with_points(*changed: AxisPick) -> Layout:
    picks = {letter: AxisPick(id=letter, role=role, at_mm=at) for letter, role, at in POINTS}  # type: ignore[arg-type]
    picks |= {pick.id: pick for pick in changed}
    layout = edits.set_picks(LAYOUT, "scan-1", tuple(picks.values()))
    return edits.change_scan(layout, "scan-1", pose=None)


def axes_card(show: Show, layout: Layout = LAYOUT) -> AxesCard:
    card = show("axes", layout)
    assert isinstance(card, AxesCard)
    return card


def scan_of(desk: Desk) -> ScanRef:
    return desk.layout.scans[0]


def test_points_set_the_axes_and_undo_takes_them_back(desk: Desk, show: Show) -> None:
    layout = with_points()
    card = axes_card(show, layout)
    assert card.foot().said.text() == "The axes are not set yet."
    press(card.set_button)
    pose = scan_of(desk).pose
    assert pose is not None
    # The turn and the origin that the points were made with.
    half_turn = Pose(rotation=(-1, 0, 0, 0, -1, 0, 0, 0, 1), shift_mm=(10.0, 0.0, -5.0))
    assert pose.rotation == pytest.approx(half_turn.rotation, abs=1e-9)
    assert pose.shift_mm == pytest.approx(half_turn.shift_mm, abs=1e-9)
    assert not card.set_button.isEnabled(), "they are set from these points"
    assert not card.foot().said.isVisible()
    desk.document.undo()
    assert desk.layout == layout
    assert card.set_button.isEnabled()


def test_a_point_is_typed_in_inches_and_a_wrong_one_changes_nothing(desk: Desk, show: Show) -> None:
    card = axes_card(show)
    press(card.type_one)
    [pick] = scan_of(desk).picks
    assert (pick.id, pick.role, pick.at_mm) == ("A", "level", (0.0, 0.0, 0.0))
    settle(card.point.name, "left sill, front")
    settle(card.point.at["x"], "10 in")
    [pick] = scan_of(desk).picks
    assert pick.name == "left sill, front"
    assert pick.at_mm == pytest.approx((254.0, 0.0, 0.0))
    before = desk.layout
    settle(card.point.at["y"], "there")
    assert desk.layout is before
    assert told_beside(card.point) == [card.point.at["y"].fault()] != [""]
    settle(card.point.at["z"], "3")
    assert scan_of(desk).picks[0].at_mm == pytest.approx((254.0, 0.0, 3.0))
    assert told_beside(card.point) == [card.point.at["y"].fault()] != [""], "it is still wrong"
    escape(card.point.at["y"])
    assert card.point.at["y"].line_edit().text() == "0 mm"
    assert told_beside(card.point) == []
    write(card.point.name, "something else")
    escape(card.point.name)
    assert card.point.name.text() == "left sill, front"


def test_far_out_points_can_be_typed_again(desk: Desk, show: Show) -> None:
    """A car in its file often stands metres from the origin: thousands are written with a thin space."""
    card = axes_card(show)
    press(card.type_one)
    field = card.point.at["x"]
    settle(field, "1234,5")
    edit = field.line_edit()
    assert edit.text() == "1\u2009234.5 mm"
    for key in (KEY.Key_End, *[KEY.Key_Left] * 3, KEY.Key_Backspace, KEY.Key_6, KEY.Key_Return):
        QTest.keyClick(edit, key)
    assert field.fault() == ""
    assert scan_of(desk).picks[0].at_mm[0] == pytest.approx(1234.6)
    QTest.keyClick(edit, KEY.Key_Up)
    assert scan_of(desk).picks[0].at_mm[0] == pytest.approx(1235.6)


def test_roles_mates_and_sides_are_chosen(desk: Desk, show: Show) -> None:
    card = axes_card(show)
    for _ in range(2):
        press(card.type_one)
        choose(card.point.role, "pair")
    assert [(p.id, p.side, p.partner) for p in scan_of(desk).picks] == [
        ("A", "left", "B"),
        ("B", "right", "A"),
    ]
    choose(card.point.side, "left")
    assert [p.side for p in scan_of(desk).picks] == ["right", "left"]
    choose(card.point.role, "pair")
    assert [p.partner for p in scan_of(desk).picks] == ["B", "A"], "it is one of a pair already"
    choose(card.point.partner, "")
    assert [p.partner for p in scan_of(desk).picks] == ["", ""]
    desk.document.undo()
    assert [p.partner for p in scan_of(desk).picks] == ["B", "A"]
    assert card.point.partner.key() == "A"
    choose(card.point.role, "origin")
    assert not card.point.side.isVisible()


def test_what_was_typed_for_one_point_does_not_pass_to_the_next(desk: Desk, show: Show) -> None:
    card = axes_card(show, with_points())
    before = desk.layout
    press_row(card.rows, "E")
    settle(card.point.at["y"], "there")
    press_row(card.rows, "F")
    assert card.point.at["y"].line_edit().text() == "0 mm"
    assert told_beside(card.point) == []
    assert desk.layout is before


def test_points_are_left_out_and_started_over(desk: Desk, show: Show) -> None:
    layout = with_points()
    card = axes_card(show, layout)
    press_row(card.rows, "C")
    press(card.point.out)
    assert [row.id for row in card.rows.rows()] == list("ABDEFGHI")
    assert not card.point.isVisible()
    press(card.over)
    assert scan_of(desk).picks == ()
    assert card.next.said() == words.NEED_POINTS
    desk.document.undo()
    desk.document.undo()
    assert desk.layout == layout


def test_points_that_are_too_few_say_which_are_missing(desk: Desk, show: Show) -> None:
    card = axes_card(show)
    assert not card.notice.isVisible()
    press(card.type_one)
    assert card.notice.said().startswith("1 level point picked; a plane takes three.")
    assert not card.set_button.isEnabled()


def test_a_point_that_is_off_is_marked_and_wants_a_reason(desk: Desk, show: Show) -> None:
    # A fifth level point, 20 mm too high.
    card = axes_card(show, with_points(AxisPick(id="J", role="level", at_mm=(0.0, 300.0, 25.0))))
    marked = {row.id for row in card.rows.rows() if row.mark == "close"}
    assert marked == {"J"}
    assert card.notice.isVisible()
    press(card.set_button)
    press(card.foot().accept)
    assert edits.step_mark(desk.layout, "axes") == "open"
    settle(card.foot().reason, "dented there")
    assert edits.step_mark(desk.layout, "axes") == "accepted as it is"


def test_axes_by_the_file(desk: Desk, show: Show) -> None:
    card = axes_card(show, edits.change_scan(LAYOUT, "scan-1", pose=None))
    before = desk.layout
    press(card.fold)
    choose(card.up, "+Y")
    assert card.front.findData("+Y") == card.front.findData("\u2212Y") == -1, "front lies square to up"
    choose(card.front, "\u2212Z")
    press(card.by_file_button)
    pose = scan_of(desk).pose
    assert pose is not None
    assert pose.apply([[0.0, 1.0, 0.0], [0.0, 0.0, -1.0]]).tolist() == [[0.0, 0.0, 1.0], [-1.0, 0.0, 0.0]]
    desk.document.undo()
    assert desk.layout == before


def test_the_driver_sits_at_the_right_and_back(desk: Desk, show: Show) -> None:
    card = axes_card(show)
    press(card.side.buttons[1])
    assert desk.layout.driver_side == "right"
    desk.document.undo()
    assert desk.layout == LAYOUT
    assert card.side.key() == "left"


def test_a_tool_is_taken_and_put_away(desk: Desk, show: Show) -> None:
    card = axes_card(show)
    press(card.tools["pair"])
    assert desk.tool == "pick pair"
    press(card.tools["front"])
    assert desk.tool == "pick front"
    assert not card.tools["pair"].isChecked()
    press(card.tools["front"])
    assert desk.tool == ""
    assert not card.tools["front"].isChecked()


def test_without_a_scan_nothing_can_be_done(show: Show) -> None:
    card = axes_card(show, replace(small_layout(RAW), scans=()))
    for button in (*card.tools.values(), card.type_one, card.over, card.set_button, card.fold):
        assert not button.isEnabled()
    assert card.foot().said.text() == words.NOTHING_YET
