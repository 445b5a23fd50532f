"""The acceptance at the foot of a card: at once where all is clear, with a reason where it is not."""

from collections.abc import Iterator

import pytest
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.cards.conftest import Show
from app.cards.hands import KEY, escape, press, settle, write
from floorpan import edits
from floorpan_app.cards import words
from floorpan_app.cards.foot import Foot
from floorpan_app.desk import Desk


@pytest.fixture
def foot(qtbot: QtBot) -> Iterator[Foot]:
    foot = Foot("cup")
    qtbot.addWidget(foot)
    foot.show_state("open", "", "", "")
    with qtbot.waitActive(foot):
        foot.show()
        foot.activateWindow()
    return foot


@pytest.fixture
def accepted(foot: Foot) -> list[str]:
    """The reasons of what was accepted."""
    reasons: list[str] = []
    foot.accepted.connect(reasons.append)
    return reasons


def test_all_clear_is_accepted_at_once(foot: Foot, accepted: list[str]) -> None:
    assert foot.accept.text() == "Accept cup"
    assert not foot.reason.isVisible()
    assert not foot.left.isVisible()
    press(foot.accept)
    assert accepted == [""]


def test_what_is_not_clear_asks_for_a_reason(foot: Foot, accepted: list[str]) -> None:
    foot.show_state("open", "", "3 short", "")
    assert foot.accept.text() == "Accept as it is, with 3 short\u2026"
    press(foot.accept)
    assert accepted == []
    assert foot.is_asking()
    assert foot.reason.hasFocus()
    assert not foot.accept.isEnabled()
    settle(foot.reason, "   ")
    assert accepted == [], "blanks are no reason"
    settle(foot.reason, "  the boot gives way ")
    assert accepted == ["the boot gives way"]
    assert not foot.is_asking()


def test_the_reason_is_taken_by_the_button_too(foot: Foot, accepted: list[str]) -> None:
    foot.show_state("open", "", "1 unseen", "")
    press(foot.accept)
    write(foot.reason, "seen by eye")
    press(foot.accept)
    assert accepted == ["seen by eye"]
    foot.show_state("open", "", "1 unseen", "")
    press(foot.accept)
    assert foot.reason.text() == "", "the reason given before is not given again by mistake"


def test_escape_and_leave_it_open_accept_nothing(foot: Foot, accepted: list[str]) -> None:
    foot.show_state("open", "", "1 close", "")
    press(foot.accept)
    write(foot.reason, "it")
    escape(foot.reason)
    assert not foot.is_asking()
    assert foot.accept.hasFocus()
    press(foot.accept)
    press(foot.left)
    assert not foot.is_asking()
    assert not foot.left.isVisible()
    assert accepted == []


def test_what_lacks_is_told_and_cannot_be_accepted(foot: Foot, accepted: list[str]) -> None:
    foot.show_state("open", "", "", "There is no scan yet.")
    assert foot.said.isVisible()
    assert foot.said.text() == "There is no scan yet."
    assert not foot.accept.isEnabled()
    foot.press()
    assert accepted == []


def test_it_stops_asking_once_all_is_clear(foot: Foot, accepted: list[str]) -> None:
    foot.show_state("open", "", "1 short", "")
    press(foot.accept)
    foot.show_state("open", "", "", "")
    assert not foot.reason.isVisible()
    press(foot.accept)
    assert accepted == [""]


def test_what_stands_accepted_is_opened_again_only(foot: Foot, qtbot: QtBot) -> None:
    foot.show_state("accepted", "Accepted 25 November 2026", "", "")
    assert foot.said.text() == "Accepted 25 November 2026"
    assert not foot.accept.isVisible()
    with qtbot.waitSignal(foot.opened_again, timeout=100):
        press(foot.left)


def test_a_step_is_accepted_by_hand_and_opened_again(judged: Desk, show: Show) -> None:
    card = show("floor")
    press(card.foot().accept)
    assert edits.step_mark(judged.layout, "floor") == "accepted"
    assert card.foot().said.text() == "Accepted 25 November 2026"
    assert judged.document.undo_words() == "accept floor"
    press(card.foot().left)
    assert edits.step_mark(judged.layout, "floor") == "open"
    judged.document.undo()
    assert edits.step_mark(judged.layout, "floor") == "accepted"
    judged.document.undo()
    assert edits.step_mark(judged.layout, "floor") == "open"


def test_findings_that_are_not_clear_are_accepted_with_a_reason(judged: Desk, show: Show) -> None:
    card = show("check")
    verdicts = [found.verdict for found in judged.judging.findings]
    assert "hits" not in verdicts
    assert {"short", "close"} <= set(verdicts)
    short = verdicts.count("short")
    assert card.foot().accept.text() == words.ACCEPT_WITH.format(what=f"{short} states short"), (
        "the worst is counted"
    )
    press(card.foot().accept)
    assert edits.step_mark(judged.layout, "check") == "open"
    settle(card.foot().reason, "only a mock-up")
    [stamp] = judged.layout.accepted
    assert (stamp.step, stamp.reason, stamp.date) == ("check", "only a mock-up", "2026-11-25")
    assert edits.step_mark(judged.layout, "check") == "accepted as it is"
    assert card.foot().said.text() == "Accepted 25 November 2026: only a mock-up"


def test_a_step_that_stands_for_clear_findings_asks_nothing(judged: Desk, show: Show) -> None:
    judged.judging.findings = tuple(f for f in judged.judging.findings if f.verdict == "clear")
    card = show("check")
    assert card.foot().accept.text() == "Accept check"
    press(card.foot().accept)
    assert edits.step_mark(judged.layout, "check") == "accepted"


def test_a_change_after_it_says_look_again(judged: Desk, show: Show) -> None:
    card = show("floor")
    press(card.foot().accept)
    judged.change("carpet", lambda layout: edits.set_carpet(layout, 9.0))
    said = card.foot().said.text()
    assert said == "Look again: the scan or the carpet changed. Accepted 25 November 2026."
    assert card.foot().accept.isVisible()
    QTest.keyClick(card.foot().accept, KEY.Key_Space)
    assert edits.step_mark(judged.layout, "floor") == "accepted"
