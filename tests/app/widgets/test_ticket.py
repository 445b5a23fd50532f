"""Tickets: value, give or take and part on one slip, with the whole sentence spoken."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QEnterEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from floorpan_app.theme.follow import apply_theme
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import THEME_NAMES, ThemeName, load_theme
from floorpan_app.widgets.ticket import WORSE_MS, Ticket, TicketText, ticket_size
from look.pictures import of_colour, picture
from look.samples import TICKETS


def ticket_of(qtbot: QtBot, text: TicketText) -> Ticket:
    ticket = Ticket(text)
    qtbot.addWidget(ticket)
    ticket.show()
    qtbot.waitExposed(ticket)
    return ticket


@pytest.mark.parametrize("name", THEME_NAMES)
@pytest.mark.parametrize("text", TICKETS, ids=lambda text: text.id)
def test_a_ticket_has_border_and_shape_in_the_colour_of_its_verdict(
    app: QApplication, qtbot: QtBot, text: TicketText, name: ThemeName
) -> None:
    theme = load_theme(name)
    apply_theme(app, theme)
    sheet = picture(ticket_of(qtbot, text), 2.0)
    marked = of_colour(sheet, theme.verdict(text.verdict), 60)
    top = marked[:4].any(axis=0)
    if text.stale:
        assert 0.3 < top[20:-20].mean() < 0.85
    else:
        assert top[20:-20].mean() > 0.95
    assert marked[12:-12, 14:50].sum() > 20


def test_a_ticket_is_as_wide_as_what_it_says(qtbot: QtBot) -> None:
    short = TicketText(id="a", verdict="clear", value="41")
    longer = replace(short, give_or_take="± 3")
    longest = replace(longer, part="dash")
    widths = [ticket_size(text).width() for text in (short, longer, longest)]
    assert widths == sorted(set(widths))
    before = ticket_size(longest)
    use_fonts(200)
    assert ticket_size(longest).width() == pytest.approx(2 * before.width(), rel=0.03)


def test_a_ticket_speaks_its_sentence(qtbot: QtBot) -> None:
    ticket = ticket_of(qtbot, replace(TICKETS[2], sentence="Knuckles hit the bottle by 6 mm."))
    assert ticket.accessibleName() == "Knuckles hit the bottle by 6 mm."
    assert ticket_of(qtbot, TICKETS[0]).accessibleName() == "41 ± 3 dash"


def test_a_ticket_is_chosen_by_click_and_by_key_and_pointed_at(qtbot: QtBot) -> None:
    ticket = ticket_of(qtbot, TICKETS[0])
    with qtbot.waitSignal(ticket.ticketChosen) as chosen:
        qtbot.mouseClick(ticket, Qt.MouseButton.LeftButton)
    assert chosen.args == ["t1"]
    with qtbot.waitSignal(ticket.ticketChosen):
        qtbot.keyClick(ticket, Qt.Key.Key_Space)
    pointed: list[str] = []
    ticket.ticketPointed.connect(pointed.append)
    place = QPointF(5, 5)
    QApplication.sendEvent(ticket, QEnterEvent(place, place, place))
    QApplication.sendEvent(ticket, QEvent(QEvent.Type.Leave))
    assert pointed == ["t1", ""]


def test_the_underlined_offer_of_an_unseen_ticket_is_its_own_button(qtbot: QtBot) -> None:
    ticket = ticket_of(qtbot, TICKETS[4])
    asked, chosen = [], []
    ticket.doingAsked.connect(asked.append)
    ticket.ticketChosen.connect(chosen.append)
    qtbot.mouseClick(ticket, Qt.MouseButton.LeftButton, pos=QPoint(ticket.width() - 30, ticket.height() // 2))
    assert (asked, chosen) == (["t5"], [])
    qtbot.mouseClick(ticket, Qt.MouseButton.LeftButton, pos=QPoint(20, ticket.height() // 2))
    assert (asked, chosen) == (["t5"], ["t5"])


def test_a_lit_ticket_stands_on_the_wash(qtbot: QtBot) -> None:
    ticket, theme = ticket_of(qtbot, TICKETS[0]), load_theme("light")
    assert not of_colour(picture(ticket), theme.wash, 2).mean() > 0.3
    ticket.set_lit(True)
    assert ticket.is_lit()
    assert of_colour(picture(ticket), theme.wash, 2).mean() > 0.3


def test_a_verdict_that_gets_worse_doubles_the_border_once(qtbot: QtBot) -> None:
    ticket = ticket_of(qtbot, TICKETS[1])
    worse = replace(TICKETS[1], verdict="hits", value="−1")
    colour = load_theme("light").hits
    ticket.set_ticket(worse, got_worse=True)
    doubled = of_colour(picture(ticket), colour, 60).sum()
    qtbot.waitUntil(
        lambda: of_colour(picture(ticket), colour, 60).sum() < 0.8 * doubled, timeout=10 * WORSE_MS
    )
    plain = of_colour(picture(ticket), colour, 60).sum()
    ticket.set_ticket(worse)
    assert of_colour(picture(ticket), colour, 60).sum() == plain
    assert ticket.ticket() == worse
