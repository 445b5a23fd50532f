"""Report: what is wished for, and what the papers will say first."""

from dataclasses import replace

import pytest
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.cards.conftest import Show
from app.cards.hands import KEY, LAYOUT, press
from floorpan.report.rows import pair_of
from floorpan_app.cards import words
from floorpan_app.cards.report_card import ReportCard
from floorpan_app.desk import Desk
from floorpan_app.paper_wishes import PaperWishes


@pytest.fixture
def card(judged: Desk, show: Show) -> ReportCard:
    card = show("report")
    assert isinstance(card, ReportCard)
    return card


@pytest.fixture
def asked(card: ReportCard) -> list[PaperWishes]:
    wishes: list[PaperWishes] = []
    card.report_asked.connect(wishes.append)
    return wishes


def test_papers_are_asked_for_as_they_are_wished(
    desk: Desk, card: ReportCard, asked: list[PaperWishes]
) -> None:
    press(card.write)
    assert asked == [PaperWishes(edition="myself", size="A4", system="mm")]
    press(card.edition.buttons[2])
    press(card.paper.buttons[1])
    press(card.lengths.buttons[1])
    press(card.write)
    assert asked[1:] == [PaperWishes(edition="inspector", size="letter", system="in")]
    assert desk.layout is LAYOUT, "a wish is no change"
    assert desk.system == "mm", "the bench speaks as before"


@pytest.mark.parametrize("place", range(4))
def test_every_edition_can_be_wished(card: ReportCard, asked: list[PaperWishes], place: int) -> None:
    press(card.edition.buttons[place])
    press(card.write)
    assert asked[0].edition == ("myself", "customer", "inspector", "workshop")[place]


def test_lengths_follow_the_bench(desk: Desk, card: ReportCard) -> None:
    desk.use_system("in")
    assert card.wishes().system == "in"
    press(card.lengths.buttons[0])
    card.refresh()
    assert card.wishes().system == "mm", "what somebody wished stays"


def test_arrows_walk_and_space_chooses(card: ReportCard, qtbot: QtBot) -> None:
    card.activateWindow()
    qtbot.waitUntil(card.isActiveWindow, timeout=5000)
    first, second = card.paper.buttons
    first.setFocus()
    QTest.keyClick(first, KEY.Key_Right)
    assert second.hasFocus()
    QTest.keyClick(second, KEY.Key_Space)
    assert card.wishes().size == "letter"


def test_what_fails_is_told_before_it_is_written(judged: Desk, card: ReportCard) -> None:
    short = [found for found in judged.judging.findings if found.verdict == "short"]
    count = f"{len(short)} states of {len({pair_of(found) for found in short})} pairs"
    assert card.notice.said() == f"{count} fail and nothing is unseen. The report says so on its first page."
    one = next(found for found in judged.judging.findings if found.verdict == "short")
    card.show_findings((one,))
    assert card.notice.said().startswith("1 state of 1 pair fails and nothing is unseen.")
    card.show_findings((replace(one, verdict="unseen"), replace(one, verdict="unseen")))
    assert card.notice.said().startswith("Nothing fails and 2 states of 1 pair are unseen.")


def test_without_findings_there_is_nothing_to_write(desk: Desk, show: Show) -> None:
    card = show("report")
    assert isinstance(card, ReportCard)
    assert not card.write.isEnabled()
    assert not card.notice.isVisible()
    assert card.next.said() == words.NEED_FINDINGS
    assert not card.can_accept()
