"""The old seat on the driver's card: kept, typed, forgotten, and told cause by cause."""

import itertools
import math
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from app.cards.hands import LAYOUT, press, settle, told_beside
from floorpan import edits
from floorpan.items import Shifter, h_point
from floorpan.layout import Before, Layout
from floorpan_app.cards import driver_words as said
from floorpan_app.cards.moved_part import MovedPart
from floorpan_app.desk import Desk
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.cause_bars import CauseRow

SEAT, SHIFTER = LAYOUT.seats[0], LAYOUT.of(Shifter)[0]


@pytest.fixture
def part(qtbot: QtBot, desk: Desk) -> MovedPart:
    """The part as the driver's card keeps it up to date."""
    part = MovedPart(desk)
    qtbot.addWidget(part)
    desk.go_to("driver")

    def changed(*_: object) -> None:
        if desk.document.previewing:
            part.follow()
        else:
            part.refresh()

    for signal in (desk.document.layout_changed, desk.system_changed, desk.state_changed):
        signal.connect(changed)
    part.resize(314, 600)
    part.refresh()
    part.show()
    return part


def rows(part: MovedPart) -> list[tuple[str, str]]:
    shown = [row.reading() for row in part.bars.rows if row.isVisible()]
    return [(one.label, one.figure) for one in shown if one is not None]


def visible(part: MovedPart) -> list[CauseRow]:
    return [row for row in part.bars.rows if row.isVisible()]


def lowered(layout: Layout) -> Layout:
    """Down 50, back 30 and 5 degrees further back."""
    layout = edits.move(layout, SEAT.id, x_mm=SEAT.place.x_mm + 30.0, z_mm=SEAT.place.z_mm - 50.0)
    return edits.change(layout, SEAT.id, back_deg=SEAT.back_deg + 5.0)


def test_nothing_kept_says_what_to_do(part: MovedPart) -> None:
    assert part.told() == said.NOTHING_KEPT
    assert rows(part) == []
    assert not part.forget.isVisible()
    assert part.keep.text() == said.KEEP


def test_kept_then_changed_the_split_is_told(desk: Desk, part: MovedPart) -> None:
    """By Pythagoras from the shoulder over the hip, step by step; the seat leans from 24 to 29."""
    press(part.keep)
    assert desk.document.undo_words() == said.KEEP_ENTRY
    assert part.told().startswith("Seat and knob stand as the old ones did")
    desk.change("lower the seat", lowered)
    person, knob = LAYOUT.people[0], desk.layout.before.knob_mm
    assert knob is not None
    x, y, z = h_point(SEAT, 6)
    spans = []
    for dx, dz, back in ((0, 0, 24.0), (0, -50, 24.0), (30, -50, 24.0), (30, -50, 29.0)):
        lean = math.radians(back)
        up, out = person.shoulder_mm, person.shoulder_out_mm
        shoulder = (x + dx + up * math.sin(lean), y + out, z + dz + up * math.cos(lean))
        spans.append(math.dist(shoulder, knob))
    shares = [after - before for before, after in itertools.pairwise(spans)]
    signed = [f"{round(abs(share))}" for share in shares]
    found = rows(part)
    assert [label for label, _ in found] == ["seat down 50", "seat back 30", "reclined 5\u00b0"]
    assert [figure.lstrip("+\u2212") for _, figure in found] == signed
    assert [figure[0] for _, figure in found] == ["+" if share > 0 else "\u2212" for share in shares]
    assert part.told() == f"{round(spans[0])} mm then, {round(spans[-1])} mm now."
    assert part.raised() == "Everything fixed to the car stands 50 mm higher against the elbow."


def test_bars_go_left_for_nearer_and_right_for_further_and_speak(desk: Desk, part: MovedPart) -> None:
    press(part.keep)
    desk.change("lower the seat", lowered)
    shown = visible(part)
    for row in shown:
        reading = row.reading()
        assert reading is not None
        middle = visible(part)[0].bar().right() if reading.share_mm < 0 else row.bar().left()
        assert middle == pytest.approx(round(0.58 * row.width()))
        assert row.accessibleName() == reading.sentence
    names = [row.accessibleName() for row in shown]
    assert names[0].startswith("Seat down 50 mm: ")
    assert names[0].endswith(" mm nearer")
    assert names[2].startswith("Reclined 5\u00b0: ")
    assert names[2].endswith(" mm further")
    longest = max(shown, key=lambda row: row.bar().width())
    shares = [abs(row.reading().share_mm) for row in shown if row.reading() is not None]  # type: ignore[union-attr]
    assert shown.index(longest) == shares.index(max(shares))


def test_the_bar_is_seen(desk: Desk, part: MovedPart) -> None:
    """The pixel in the middle of a bar has the theme's second ink, the one mirrored about the middle has not."""
    press(part.keep)
    desk.change("lower the seat", lowered)
    row = visible(part)[2]
    image = row.grab().toImage()
    bar, ratio = row.bar(), image.devicePixelRatio()
    x, y = bar.center().x() * ratio, bar.center().y() * ratio
    assert image.pixelColor(round(x), round(y)).name() == theme_in_use().ink2.lower()
    across = 2 * bar.left() * ratio - x
    assert image.pixelColor(round(across), round(y)).name() != theme_in_use().ink2.lower()


def test_it_follows_a_drag_and_goes_back(desk: Desk, part: MovedPart) -> None:
    press(part.keep)
    desk.preview(lambda layout: edits.move(layout, SHIFTER.id, x_mm=SHIFTER.place.x_mm - 60.0))
    assert [label for label, _ in rows(part)] == ["knob moved 60"]
    assert rows(part)[0][1].startswith("+")
    desk.preview(lambda layout: edits.move(layout, SEAT.id, z_mm=SEAT.place.z_mm + 20.0))
    assert [label for label, _ in rows(part)] == ["seat up 20"]
    assert part.raised() == "Everything fixed to the car stands 20 mm lower against the elbow."
    desk.document.drop_preview()
    assert rows(part) == []
    assert part.raised() == ""


def test_in_inches(desk: Desk, part: MovedPart) -> None:
    """25.4 mm to the inch."""
    press(part.keep)
    desk.change("lower the seat", lambda layout: edits.move(layout, SEAT.id, z_mm=SEAT.place.z_mm - 50.8))
    desk.use_system("in")
    [(label, _)] = rows(part)
    assert label == "seat down 2"
    assert part.raised() == "Everything fixed to the car stands 2 in higher against the elbow."
    assert " in then, " in part.told()


def test_the_notch_shown_is_the_one_that_is_kept(desk: Desk, part: MovedPart) -> None:
    desk.show_stops({f"{SEAT.id}.notch": "3"})
    press(part.keep)
    before = desk.layout.before.seat
    assert before is not None
    assert before.notch_here == 3
    assert h_point(before, 3) == pytest.approx(h_point(SEAT, 3))
    desk.show_stops({f"{SEAT.id}.notch": "5"})
    assert [label for label, _ in rows(part)] == ["seat up 1", "seat forward 30"]


def test_kept_anew_and_forgotten_and_taken_back(desk: Desk, part: MovedPart) -> None:
    press(part.keep)
    first = desk.layout.before
    desk.change("lower the seat", lowered)
    assert part.keep.text() == said.KEEP_INSTEAD
    press(part.keep)
    assert desk.layout.before != first
    assert rows(part) == []
    desk.document.undo()
    assert len(rows(part)) == 3
    press(part.forget)
    assert desk.layout.before == Before()
    assert part.told() == said.NOTHING_KEPT
    desk.document.undo()
    assert desk.layout.before == first
    for _ in range(3):
        desk.document.undo()
    assert desk.layout == LAYOUT


def test_an_old_seat_that_is_gone_is_typed(desk: Desk, part: MovedPart) -> None:
    """Where nothing was kept the fields begin with seat and knob as they stand."""
    press(part.fold)
    assert part.old_seat.fields["x_mm"].line_edit().text() == "420 mm"
    settle(part.old_seat.fields["x_mm"], "390")
    settle(part.old_seat.fields["z_mm"], "12 in")
    settle(part.old_back.fields["back_deg"], "19")
    settle(part.old_knob.fields["x_mm"], "5")
    before = desk.layout.before
    assert before.seat is not None
    assert (before.seat.place.x_mm, before.seat.place.z_mm) == pytest.approx((390.0, 304.8))
    assert before.seat.back_deg == 19.0
    assert before.knob_mm is not None
    assert before.knob_mm[0] == 5.0
    labels = [label for label, _ in rows(part)]
    assert labels[:3] == ["seat down 44.8", "seat back 30", "reclined 5\u00b0"]
    assert labels[3].startswith("knob moved")
    assert part.old_seat.isVisible(), "a change folds nothing away"
    assert desk.document.undo_words() == said.OLD_ENTRY
    for _ in range(4):
        desk.document.undo()
    assert desk.layout == LAYOUT
    press(part.fold)
    assert not part.old_seat.isVisible()


@pytest.mark.parametrize("typed", ["90", "leaning"])
def test_a_refused_lean_is_told_beside_the_field(desk: Desk, part: MovedPart, typed: str) -> None:
    press(part.fold)
    settle(part.old_back.fields["back_deg"], typed)
    assert desk.layout is LAYOUT
    assert len(told_beside(part)) == 1


def test_without_a_shifter_the_old_knob_is_typed(desk: Desk, part: MovedPart) -> None:
    bare = replace(LAYOUT, items=())
    desk.document.replace_all(bare)
    press(part.keep)
    assert desk.layout.before.knob_mm is None
    assert part.told() == said.NO_OLD_KNOB
    press(part.fold)
    settle(part.old_knob.fields["z_mm"], "480")
    assert desk.layout.before.knob_mm == (0.0, 0.0, 480.0)
    assert part.told().startswith("Seat and knob stand as")
    press(part.forget)
    settle(part.old_seat.fields["z_mm"], "300")
    assert desk.layout.before.knob_mm is None, "a seat that is typed makes no knob up"


def test_nobody_drives_nothing_is_shown(desk: Desk, part: MovedPart) -> None:
    desk.document.replace_all(replace(LAYOUT, people=()))
    assert not part.isVisible()
    part.follow()
