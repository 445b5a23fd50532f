"""The tight spot: one sentence that is never cut, in one place."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from pytestqt.qtbot import QtBot

from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import VERDICTS, Verdict, load_theme
from floorpan_app.widgets.tight_spot import EMPTY, TightSpot
from look.pictures import of_colour, picture
from look.samples import SPOT

LONG = replace(
    SPOT,
    sentence="Handbrake hand, with the lever half up and the seat in notch nine, comes within 12 mm of the console "
    "side in fourth: 18 short of 30.",
    cure="No single move clears it. Start with the handbrake, then take 6 mm off the side of the console.",
)


def spot_of(qtbot: QtBot, width: int = 344) -> TightSpot:
    spot = TightSpot(SPOT)
    qtbot.addWidget(spot)
    spot.resize(width, spot.heightForWidth(width))
    spot.show()
    spot.activateWindow()
    qtbot.waitExposed(spot)
    return spot


def test_it_is_164_high_with_or_without_a_finding(qtbot: QtBot) -> None:
    spot = spot_of(qtbot)
    assert spot.heightForWidth(344) == 164
    spot.set_spot(None)
    assert spot.heightForWidth(344) == 164
    assert spot.accessibleName() == f"Tight spot: {EMPTY}"


@pytest.mark.parametrize("percent", [100, 150, 200])
@pytest.mark.parametrize("width", [260, 344, 408])
def test_a_long_sentence_makes_it_higher_instead_of_being_cut(qtbot: QtBot, width: int, percent: int) -> None:
    use_fonts(percent)
    spot = spot_of(qtbot, width)
    spot.set_spot(LONG)
    height = spot.heightForWidth(width)
    assert height > spot.heightForWidth(3 * width)
    spot.resize(width, height)
    # The last line of the cure stands in the picture, with paper under it and no rule above its first line.
    sheet = of_colour(picture(spot), load_theme("light").ink2, 90)[:, 20:]
    inked = sheet.any(axis=1).nonzero()[0]
    assert height - inked[-1] >= 4


@pytest.mark.parametrize("verdict", VERDICTS)
def test_bar_and_word_have_the_colour_of_the_verdict(qtbot: QtBot, verdict: Verdict) -> None:
    spot, colour = spot_of(qtbot), load_theme("light").verdict(verdict)
    spot.set_spot(replace(SPOT, verdict=verdict, reading=None))
    sheet = of_colour(picture(spot), colour, 40)
    assert sheet[:, :4].all()
    assert sheet[4:30, 200:].sum() > 30
    assert spot.spot().verdict == verdict


def test_a_click_and_a_key_choose_it(qtbot: QtBot) -> None:
    spot = spot_of(qtbot)
    with qtbot.waitSignal(spot.spotChosen) as chosen:
        qtbot.mouseClick(spot, Qt.MouseButton.LeftButton)
    assert chosen.args == [SPOT.id]
    with qtbot.waitSignal(spot.spotChosen):
        qtbot.keyClick(spot, Qt.Key.Key_Return)
    spot.set_spot(None)
    with qtbot.assertNotEmitted(spot.spotChosen):
        qtbot.mouseClick(spot, Qt.MouseButton.LeftButton)


def test_it_says_its_sentence_and_cure_when_asked_and_politely(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[tuple[str, QAccessible.AnnouncementPoliteness]] = []

    def hear(event: QAccessibleAnnouncementEvent) -> None:
        said.append((event.message(), event.politeness()))

    monkeypatch.setattr(QAccessible, "updateAccessibility", hear)
    spot = spot_of(qtbot)
    said.clear()
    spot.set_spot(LONG)
    assert said == []
    spot.announce()
    assert said == [
        (f"Tight spot, hits: {LONG.sentence} {LONG.cure}", QAccessible.AnnouncementPoliteness.Polite)
    ]


def test_it_folds_to_one_line(qtbot: QtBot) -> None:
    spot = spot_of(qtbot)
    spot.set_folded(True)
    assert 28 <= spot.heightForWidth(344) <= 36
    spot.resize(600, spot.heightForWidth(600))
    assert of_colour(picture(spot), load_theme("light").ink, 60).sum() > 100
