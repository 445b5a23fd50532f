"""The gate card: the pattern as the lever goes, a verdict at every gear, keys that go where they point."""

import math
from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtWidgets import QAbstractButton
from pytestqt.qtbot import QtBot

from floorpan_app.theme.fonts import BODY, text_font
from floorpan_app.theme.record import load_theme
from floorpan_app.widgets.gate_card import GateCard
from floorpan_app.widgets.gate_pattern import Gear, gate_lines, next_gear, place_gears
from floorpan_app.widgets.lettering import BOLD, text_width
from look.pictures import of_colour, picture
from look.samples import GEARS

NEUTRAL = Gear(gear="N", column=1, row=0.5, verdict="clear")
IN_LINE = tuple(Gear(gear=gear, column=0, row=row, verdict="clear") for row, gear in enumerate("PRND"))


def card_of(qtbot: QtBot, width: int, gears: tuple[Gear, ...] = GEARS, in_hand: str = "R") -> GateCard:
    card = GateCard(gears, in_hand)
    qtbot.addWidget(card)
    card.resize(width, card.sizeHint().height())
    card.show()
    card.activateWindow()
    qtbot.waitExposed(card)
    return card


def mark(card: GateCard, gear: str) -> QAbstractButton:
    return next(
        b for b in card.findChildren(QAbstractButton) if b.accessibleName().startswith(f"Gear {gear},")
    )


def test_gears_lie_on_their_grid() -> None:
    places = place_gears((*GEARS, NEUTRAL), QRectF(10, 20, 200, 80))
    assert (places["1"].x(), places["1"].y()) == (10, 20)
    assert (places["R"].x(), places["R"].y()) == (210, 100)
    assert (places["N"].x(), places["N"].y()) == (110, 60)


def test_the_slots_join_every_gear_through_neutral() -> None:
    gears = (*GEARS, NEUTRAL)
    places = place_gears(gears, QRectF(0, 0, 200, 80))
    lines = gate_lines(gears, places)
    for gear in GEARS:
        ends = [math.dist((p.x(), p.y()), (places[gear.gear].x(), places[gear.gear].y()))
                for line in lines for p in (line.p1(), line.p2())]  # fmt: skip
        assert min(ends) == 0
    across = [line for line in lines if line.y1() == line.y2()]
    assert [(line.x1(), line.x2(), line.y1()) for line in across] == [(0, 200, 40)]


def test_a_lever_that_goes_to_and_fro_has_one_slot() -> None:
    places = place_gears(IN_LINE, QRectF(0, 0, 0, 90))
    [line] = gate_lines(IN_LINE, places)
    assert (line.y1(), line.y2()) == (0, 90)
    assert [next_gear(places, gear, 0, 1) for gear in "PRND"] == ["R", "N", "D", "D"]


@pytest.mark.parametrize(
    ("at", "step", "to"),
    [("R", (-1, 0), "4"), ("R", (0, -1), "5"), ("4", (-1, 0), "2"), ("1", (1, 0), "3"), ("1", (-1, 0), "1"),
     ("1", (0, 1), "2"), ("5", (1, 0), "5")],
)  # fmt: skip
def test_an_arrow_leads_to_the_next_gear_that_way(at: str, step: tuple[int, int], to: str) -> None:
    places = place_gears(GEARS, QRectF(0, 0, 120, 70))
    assert next_gear(places, at, *step) == to


def test_a_click_and_a_key_choose_a_gear(qtbot: QtBot) -> None:
    card = card_of(qtbot, 312)
    with qtbot.waitSignal(card.gearChosen) as chosen:
        qtbot.mouseClick(mark(card, "3"), Qt.MouseButton.LeftButton)
    assert chosen.args == ["3"]
    mark(card, "R").setFocus()
    qtbot.waitUntil(mark(card, "R").hasFocus)
    qtbot.keyClick(mark(card, "R"), Qt.Key.Key_Up)
    assert mark(card, "5").hasFocus()
    with qtbot.waitSignal(card.gearChosen) as chosen:
        qtbot.keyClick(mark(card, "5"), Qt.Key.Key_Space)
    assert chosen.args == ["5"]


def test_the_gear_in_hand_says_so_and_wears_the_ring(qtbot: QtBot) -> None:
    card = card_of(qtbot, 312)
    assert mark(card, "R").accessibleName() == "Gear R, in hand, hits −6 bottle"
    ringed = of_colour(picture(mark(card, "R"), 2.0), load_theme("light").accent, 30).sum()
    card.set_in_hand("1")
    assert card.in_hand() == "1"
    assert mark(card, "R").accessibleName() == "Gear R, hits −6 bottle"
    assert ringed > 100 > of_colour(picture(mark(card, "R"), 2.0), load_theme("light").accent, 30).sum()


def test_the_list_goes_when_there_is_no_room_and_the_gaps_move_to_the_gears(qtbot: QtBot) -> None:
    wide, narrow = card_of(qtbot, 312), card_of(qtbot, 240)
    assert wide.is_listing()
    assert not narrow.is_listing()
    assert mark(narrow, "1").width() > mark(wide, "1").width()
    wide.set_listing(False)
    assert not wide.is_listing()
    # Where there is room, the gap stands beside its letter, else below it.
    assert mark(wide, "1").width() > mark(narrow, "1").width()


@pytest.mark.parametrize("width", [236, 312, 408])
@pytest.mark.parametrize(
    "gears", [GEARS, (*GEARS, Gear(gear="6", column=3, row=0, verdict="unseen")), IN_LINE]
)
def test_no_mark_leaves_the_card_or_lies_on_another(
    qtbot: QtBot, width: int, gears: tuple[Gear, ...]
) -> None:
    card = card_of(qtbot, width, gears, gears[0].gear)
    marks = [mark(card, gear.gear) for gear in gears]
    assert all(card.rect().contains(one.geometry()) for one in marks)
    for one, two in combinations(marks, 2):
        # What is drawn keeps 4 px from the upper and right edges and 7 px from the left one.
        first, second = (m.geometry().adjusted(7, 4, -4, -4) for m in (one, two))
        assert not first.intersects(second)


def test_a_gap_wears_its_own_verdict_and_a_value_in_inches_is_whole(qtbot: QtBot) -> None:
    gears = tuple(replace(gear, value="1 15\u204416", gap_verdict="clear") for gear in GEARS)
    card = card_of(qtbot, 376, gears)
    assert card.is_listing()
    value = text_width("1 15\u204416", text_font(BODY, BOLD))
    assert card._value_width() >= value
    assert card._list_width() + card._pattern_width(56.0) <= 376
    hits = load_theme("light").verdict("hits")
    listed = card.width() - round(card._list_width())
    seen = of_colour(picture(card, 1.0), hits, 30)
    assert seen[:, :listed].any(), "the worst of reverse, in the pattern"
    assert not seen[:, listed:].any(), "its smallest gap is clear"


def test_what_is_from_before_the_move_has_a_dashed_ring(qtbot: QtBot) -> None:
    ink = load_theme("light").ink2
    fresh = card_of(qtbot, 312)
    stale = card_of(qtbot, 312, tuple(replace(gear, stale=True) for gear in GEARS))
    before, after = (of_colour(picture(mark(one, "1"), 2.0), ink, 40).sum() for one in (fresh, stale))
    assert after > before + 40
