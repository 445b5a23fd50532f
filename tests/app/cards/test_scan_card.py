"""Scan: how good it is, its unit, which way it faces, and the box it is cropped to."""

from dataclasses import replace

import pytest
from PySide6.QtWidgets import QLabel

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, choose, escape, press, settle, told_beside, write
from floorpan import edits
from floorpan.layout import Box, Layout, ScanRef
from floorpan.progress import finish
from floorpan_app.cards import words
from floorpan_app.cards.scan_card import ScanCard
from floorpan_app.desk import Desk

BOX = Box(least_mm=(-300.0, -200.0, -10.0), greatest_mm=(300.0, 200.0, 150.0))


def scan_card(show: Show, layout: Layout = LAYOUT) -> ScanCard:
    card = show("scan", layout)
    assert isinstance(card, ScanCard)
    return card


def scan_of(desk: Desk) -> ScanRef:
    return desk.layout.scans[0]


def shown_facts(card: ScanCard) -> dict[str, str]:
    """What stands at the right of each name."""
    texts = [label.text() for label in card.facts.findChildren(QLabel) if label.isVisible()]
    return dict(zip(texts[::2], texts[1::2], strict=True))


def test_how_good_it_is_is_typed_in_either_unit(desk: Desk, show: Show) -> None:
    """25.4 mm to the inch."""
    card = scan_card(show)
    field = card.form.fields["good_to_mm"]
    settle(field, "1,5")
    assert scan_of(desk).good_to_mm == 1.5
    settle(field, "1/8 in")
    assert scan_of(desk).good_to_mm == pytest.approx(3.175)
    settle(card.form.fields["good_to_note"], "sill to sill taped")
    assert scan_of(desk).good_to_note == "sill to sill taped"
    for _ in range(3):
        desk.document.undo()
    assert desk.layout == LAYOUT
    assert field.line_edit().text() == "2 mm"


@pytest.mark.parametrize("typed", ["0", "21", "good", "1 in"])
def test_a_refused_one_changes_nothing_and_is_told(desk: Desk, show: Show, typed: str) -> None:
    card = scan_card(show)
    field = card.form.fields["good_to_mm"]
    settle(field, typed)
    assert desk.layout is LAYOUT
    assert told_beside(card.form) == [card.form.fault("good_to_mm")] != [""]
    assert field.line_edit().text() == typed
    escape(field)
    assert field.line_edit().text() == "2 mm"
    assert told_beside(card.form) == []


def test_escape_brings_the_old_name_back(desk: Desk, show: Show) -> None:
    card = scan_card(show)
    write(card.form.fields["name"], "other")
    escape(card.form.fields["name"])
    assert card.form.fields["name"].text() == "floor"
    assert desk.layout is LAYOUT


def test_another_unit_says_first_what_goes(desk: Desk, show: Show) -> None:
    card = scan_card(show)
    choose(card.form.fields["unit"], "in")
    assert desk.layout is LAYOUT, "nothing is done before the answer"
    assert card.unit_notice.said() == "Read as in, what was pointed at in mm goes: the axes."
    press(card._unit_leave)
    assert card.form.fields["unit"].key() == "mm"
    assert not card.unit_notice.isVisible()
    assert desk.layout is LAYOUT
    choose(card.form.fields["unit"], "in")
    press(card._unit_take)
    assert (scan_of(desk).unit, scan_of(desk).pose) == ("in", None)
    assert not card.unit_notice.isVisible()
    desk.document.undo()
    assert desk.layout == LAYOUT


def test_everything_that_goes_is_named(desk: Desk, show: Show) -> None:
    layout = edits.add_area(edits.crop(LAYOUT, "scan-1", BOX), "scan-1", "dash", BOX)
    card = scan_card(show, layout)
    choose(card.form.fields["unit"], "cm")
    assert card.unit_notice.said().endswith("goes: the axes, the crop box, the named parts.")
    choose(card.form.fields["unit"], "mm")
    assert not card.unit_notice.isVisible(), "the unit there is asks nothing"
    assert desk.layout is layout


def test_where_nothing_was_pointed_at_another_unit_is_taken_at_once(desk: Desk, show: Show) -> None:
    bare = edits.change_scan(LAYOUT, "scan-1", pose=None)
    card = scan_card(show, bare)
    choose(card.form.fields["unit"], "in")
    assert scan_of(desk).unit == "in"
    desk.document.undo()
    assert desk.layout == bare
    assert card.form.fields["unit"].key() == "mm"


def test_it_is_turned_over_and_back(desk: Desk, show: Show) -> None:
    """The level sheet of the small case faces up with all of its area."""
    finish(desk.judging.bench.prepare(LAYOUT.scans[0]))
    card = scan_card(show)
    assert card._facing.text() == words.FACING.format(n=100)
    press(card.flip)
    assert scan_of(desk).flipped
    assert card._facing.text() == words.FACING_DOWN.format(n=0)
    desk.document.undo()
    assert desk.layout == LAYOUT
    assert not card.flip.isChecked()


def test_a_crop_that_leaves_nothing_is_refused(desk: Desk, show: Show) -> None:
    layout = edits.crop(LAYOUT, "scan-1", BOX)
    card = scan_card(show, layout)
    settle(card.box.faces["front"], "-300")
    assert desk.layout is layout
    [told] = told_beside(card.box)
    assert told == "The crop leaves nothing. Move a grip, or start the crop again."
    escape(card.box.faces["front"])
    assert card.box.faces["front"].line_edit().text() == "300 mm"


def test_the_crop_is_typed_in_inches_and_given_up(desk: Desk, show: Show) -> None:
    """25.4 mm to the inch."""
    layout = edits.crop(LAYOUT, "scan-1", BOX)
    card = scan_card(show, layout)
    desk.use_system("in")
    settle(card.box.faces["right"], "10")
    crop = scan_of(desk).crop
    assert crop is not None
    assert crop.greatest_mm == pytest.approx((300.0, 254.0, 150.0))
    assert crop.least_mm == BOX.least_mm
    press(card.whole)
    assert scan_of(desk).crop is None
    assert not card.whole.isEnabled()
    desk.document.undo()
    desk.document.undo()
    assert desk.layout == layout


def test_faces_have_letters_until_the_axes_are_set(desk: Desk, show: Show) -> None:
    layout = edits.change_scan(edits.crop(LAYOUT, "scan-1", BOX), "scan-1", pose=None)
    card = scan_card(show, layout)
    assert card.box.faces["front"].line_edit().accessibleName() == "Box, Side C"
    assert card._crop_note.text() == words.SIDES_OPEN
    desk.change("axes", lambda before: edits.set_axes(before, "scan-1", LAYOUT.scans[0].pose))
    assert card.box.faces["front"].line_edit().accessibleName() == "Box, Front"


def test_the_crop_tool_is_taken_and_put_away(desk: Desk, show: Show) -> None:
    card = scan_card(show)
    press(card.drag)
    assert desk.tool == "crop box"
    press(card.drag)
    assert desk.tool == ""
    assert not card.drag.isChecked()


def test_what_was_read_is_told_once_it_is_ready(desk: Desk, show: Show) -> None:
    """The sheet: 1.4 m square, 12 by 12 cells of two triangles, flat, in one piece with one rim."""
    card = scan_card(show)
    assert shown_facts(card)[words.SIZE] == words.READY_SOON
    finish(desk.judging.bench.prepare(LAYOUT.scans[0]))
    card.show_findings(())
    told = shown_facts(card)
    assert told[words.FILE] == "floor.ply"
    assert told[words.SIZE] == "1\u2009400 \u00d7 1\u2009400 \u00d7 0 mm"
    assert told[words.TRIANGLES] == "288"
    assert told[words.PIECES] == "1"


def test_a_file_that_is_not_there_is_told(desk: Desk, show: Show) -> None:
    card = scan_card(show, edits.change_scan(LAYOUT, "scan-1", sha256="0" * 64))
    assert shown_facts(card)[words.SIZE] == words.NO_FILE


def test_the_start_is_asked_for_where_there_is_no_scan(desk: Desk, show: Show) -> None:
    card = scan_card(show, replace(LAYOUT, scans=()))
    deeds: list[str] = []
    card.asked.connect(deeds.append)
    assert card.next.said() == words.NEED_SCAN_HERE
    [start] = [one for one in card.next.findChildren(type(card.whole)) if one.isVisible()]
    press(start)
    assert deeds == ["start"]
    assert not card.form.isVisible()
    assert not card.can_accept()
