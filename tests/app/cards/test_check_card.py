"""Check: how many of each verdict there are, and which of them the list shows."""

from collections import Counter
from dataclasses import replace

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QPushButton
from pytestqt.qtbot import QtBot

from app.cards.conftest import Show
from app.cards.hands import KEY, LAYOUT, choose, press, press_row
from floorpan.checks import Cure, Finding
from floorpan.items.states import state_of
from floorpan.report.cure_told import cure_text
from floorpan.report.only_with import holding
from floorpan.report.rows import pair_of
from floorpan.report.tally import Count, count_text
from floorpan_app.cards import words
from floorpan_app.cards.check_card import CheckCard
from floorpan_app.desk import Desk


@pytest.fixture
def card(judged: Desk, show: Show) -> CheckCard:
    card = show("check")
    assert isinstance(card, CheckCard)
    return card


def test_every_verdict_is_counted_worst_first(judged: Desk, card: CheckCard) -> None:
    counted = Counter(found.verdict for found in judged.judging.findings)
    order = [
        verdict for verdict in ("hits", "short", "unseen", "close", "pending", "clear") if counted[verdict]
    ]
    pairs = {
        verdict: len({pair_of(found) for found in judged.judging.findings if found.verdict == verdict})
        for verdict in order
    }
    assert [(row.id, row.mark, row.tail) for row in card.rows.rows()] == [
        (verdict, verdict, count_text(Count(states=counted[verdict], pairs=pairs[verdict])))
        for verdict in order
    ]
    assert len(order) == 3, "the small layout has short, close and clear ones"


def test_a_verdict_pressed_lists_it_and_pressed_again_lists_all(judged: Desk, card: CheckCard) -> None:
    findings = judged.judging.findings
    press_row(card.rows, "close")
    assert judged.listed_verdict == "close"
    assert card.rows.chosen() == "close"
    assert {found.verdict for found in judged.listed(findings)} == {"close"}
    press_row(card.rows, "close")
    assert judged.listed_verdict == ""
    assert card.rows.chosen() == ""
    assert judged.listed(findings) == findings


def test_a_pair_is_chosen_and_narrows_further(judged: Desk, card: CheckCard) -> None:
    findings = judged.judging.findings
    first = next(found for found in findings if found.check == "reach")
    choose(card.pair, repr(pair_of(first)))
    assert judged.listed_pair == pair_of(first)
    press_row(card.rows, "short")
    listed = judged.listed(findings)
    assert listed
    assert all(pair_of(found) == pair_of(first) and found.verdict == "short" for found in listed)
    choose(card.pair, "")
    assert judged.listed_pair is None
    assert judged.listed_verdict == "short", "one choice leaves the other"


def test_every_pair_is_offered_once_the_worst_first(judged: Desk, card: CheckCard) -> None:
    pairs = {repr(pair_of(found)) for found in judged.judging.findings}
    keys = [card.pair.itemData(place) for place in range(card.pair.count())]
    assert keys[0] == ""
    assert len(keys) == len(set(keys)) == len(pairs) + 1
    assert set(keys[1:]) == pairs
    worst = {repr(pair_of(found)) for found in judged.judging.findings if found.verdict == "short"}
    assert set(keys[1 : len(worst) + 1]) == worst


def test_arrows_walk_along_the_verdicts_and_space_presses(
    judged: Desk, card: CheckCard, qtbot: QtBot
) -> None:
    card.activateWindow()
    qtbot.waitUntil(card.isActiveWindow, timeout=5000)
    first, second, *_ = [one for one in card.rows.findChildren(QAbstractButton) if one.isVisible()]
    first.setFocus()
    QTest.keyClick(first, KEY.Key_Down)
    assert second.hasFocus()
    QTest.keyClick(second, KEY.Key_Space)
    assert judged.listed_verdict == "close"


def test_nothing_placed_sends_to_the_controls(desk: Desk, show: Show) -> None:
    card = show("check", replace(LAYOUT, people=(), seats=(), items=(), consoles=()))
    assert card.next.said() == words.NEED_FINDINGS
    assert not card.can_accept()
    [go] = [one for one in card.next.findChildren(QPushButton) if one.isVisible()]
    press(go)
    assert desk.step == "controls"


# --- what to do about the worst ---------------------------------------------------------------------------------


def cured(desk: Desk) -> tuple[Finding, Finding]:
    """The worst two findings, the second with a move that clears it."""
    first, second, *rest = desk.judging.findings
    mended = replace(second, cure=Cure(subject="cup-holder-1", move_mm=(40.0, 0.0, -12.0)))
    desk.judging.findings = (first, mended, *rest)
    desk.judging.findings_changed.emit(desk.judging.findings)
    return first, mended


def test_a_cure_is_told_for_what_is_chosen_and_tried_as_one_change(
    judged: Desk, card: CheckCard, qtbot: QtBot
) -> None:
    first, second = cured(judged)
    assert card.cure.finding() == first
    assert card.cure.try_it.isHidden()
    judged.choose_finding(second.id)
    assert card.cure.finding() == second
    assert card.cure.said.text() == cure_text(second, judged.layout)
    assert "40 mm rearward" in card.cure.said.text()
    before = judged.layout
    press(card.cure.try_it)
    at, was = judged.layout.thing("cup-holder-1").place, before.thing("cup-holder-1").place
    assert (at.x_mm - was.x_mm, at.y_mm - was.y_mm, at.z_mm - was.z_mm) == pytest.approx((40.0, 0.0, -12.0))
    assert not card.cure.try_it.isEnabled(), "until it is judged anew there is nothing to try"
    judged.document.undo()
    assert judged.layout is before


def test_a_cure_is_tried_with_the_keyboard(judged: Desk, card: CheckCard, qtbot: QtBot) -> None:
    _, second = cured(judged)
    judged.choose_finding(second.id)
    card.activateWindow()
    qtbot.waitUntil(card.isActiveWindow, timeout=5000)
    card.cure.try_it.setFocus()
    before = judged.layout
    QTest.keyClick(card.cure.try_it, KEY.Key_Space)
    assert judged.layout is not before


def test_the_state_that_the_matrix_holds_to_counts_here_too(judged: Desk, card: CheckCard) -> None:
    findings = judged.judging.findings
    only = state_of({"shifter-1.gear": "R"})
    judged.list_only("", None, only)
    held = holding(findings, only)
    assert len(held) < len(findings)
    assert sum(int(row.tail.split()[0]) for row in card.rows.rows()) == len(held)
    assert card.every_state.isVisible()
    assert "in reverse" in card.held_to.text()
    press_row(card.rows, "short")
    assert judged.only_with == only, "one choice leaves the other"
    press(card.every_state)
    assert judged.only_with == ()
    assert judged.listed_verdict == "short"
    assert card.every_state.isHidden()
    assert sum(int(row.tail.split()[0]) for row in card.rows.rows()) == len(findings)
