"""Check: how many of each verdict there are, and which of them the list shows."""

from collections import Counter
from dataclasses import replace

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QPushButton
from pytestqt.qtbot import QtBot

from app.cards.conftest import Show
from app.cards.hands import KEY, LAYOUT, choose, press, press_row
from floorpan.report.rows import pair_of
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
    assert [(row.id, row.mark, row.value) for row in card.rows.rows()] == [
        (verdict, verdict, str(counted[verdict])) for verdict in order
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
