"""A desk with one of everything on a level floor, and cards shown on it."""

from collections.abc import Callable, Iterator

import pytest
from pytestqt.qtbot import QtBot

from app.cards.hands import LAYOUT, RAW
from floorpan.checks import Finding, evaluate
from floorpan.derive import Bench
from floorpan.layout import Layout, Step
from floorpan.progress import finish
from floorpan_app.cards.card import Card
from floorpan_app.cards.catalogue import CARDS
from floorpan_app.desk import Desk
from floorpan_app.document import Document
from floorpan_app.judging import Judging

Show = Callable[..., Card]


@pytest.fixture
def desk(qtbot: QtBot) -> Iterator[Desk]:
    document = Document(LAYOUT)
    judging = Judging(document, {RAW.sha256: RAW})
    made = Desk(document, judging)
    made.today = lambda: "2026-11-25"
    yield made
    judging.close()


@pytest.fixture
def show(qtbot: QtBot, desk: Desk) -> Show:
    """Shows the card of a step, on the small layout or another one."""

    def shown(step: Step, layout: Layout = LAYOUT) -> Card:
        if layout is not LAYOUT:
            desk.document.replace_all(layout)
        desk.go_to(step)
        card = CARDS[step](desk)
        qtbot.addWidget(card)
        card.resize(344, 900)
        card.show()
        return card

    return shown


@pytest.fixture(scope="session")
def findings() -> tuple[Finding, ...]:
    """All that is found on the small layout."""
    return finish(evaluate(LAYOUT, Bench({RAW.sha256: RAW})))


@pytest.fixture
def judged(desk: Desk, findings: tuple[Finding, ...]) -> Desk:
    """The desk once everything was judged."""
    desk.judging.findings, desk.judging.fresh = findings, True
    return desk
