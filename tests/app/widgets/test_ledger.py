"""The ledger: rows that say what they mean and stay where they are while somebody aims at them."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QPushButton, QWidget
from pytestqt.qtbot import QtBot

from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import load_theme
from floorpan_app.widgets.ledger import TITLE, Ledger
from floorpan_app.widgets.ledger_paint import row_height
from floorpan_app.widgets.ledger_rows import LedgerRow, keep_places
from look.pictures import of_colour, picture
from look.samples import ROWS

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def ledger(qtbot: QtBot) -> Ledger:
    ledger = Ledger()
    qtbot.addWidget(ledger)
    ledger.resize(344, 420)
    ledger.set_rows(ROWS)
    ledger.show()
    ledger.activateWindow()
    qtbot.waitExposed(ledger)
    return ledger


def ids(ledger: Ledger) -> list[str]:
    return [row.id for row in ledger.rows()]


def place(ledger: Ledger, row: int, x: float = 0.4, y: float = 0.3) -> QPoint:
    rect = ledger.view().visualRect(ledger.view().model().index(row, 0))
    return QPoint(round(rect.left() + x * rect.width()), round(rect.top() + y * rect.height()))


def test_a_click_chooses_a_row_and_enter_does_too(qtbot: QtBot, ledger: Ledger) -> None:
    with qtbot.waitSignal(ledger.rowChosen) as chosen:
        qtbot.mouseClick(ledger.view().viewport(), LEFT, pos=place(ledger, 1))
    assert chosen.args == ["r2"]
    assert ledger.chosen() == "r2"
    qtbot.keyClick(ledger.view(), Qt.Key.Key_Down)
    with qtbot.waitSignal(ledger.rowChosen) as chosen:
        qtbot.keyClick(ledger.view(), Qt.Key.Key_Return)
    assert chosen.args == ["r3"]


def test_give_or_take_and_the_offer_of_a_row_answer_for_themselves(qtbot: QtBot, ledger: Ledger) -> None:
    chosen: list[str] = []
    ledger.rowChosen.connect(chosen.append)
    with qtbot.waitSignal(ledger.giveOrTakeAsked) as asked:
        qtbot.mouseClick(ledger.view().viewport(), LEFT, pos=place(ledger, 0, 0.93, 0.7))
    assert asked.args == ["r1"]
    with qtbot.waitSignal(ledger.doingAsked) as asked:
        qtbot.mouseClick(ledger.view().viewport(), LEFT, pos=place(ledger, 3, 0.8, 0.7))
    assert asked.args == ["r4"]
    with qtbot.waitSignal(ledger.doingAsked) as asked:
        qtbot.keyClick(ledger.view(), Qt.Key.Key_Return, Qt.KeyboardModifier.ShiftModifier)
    assert asked.args == ["r4"]
    assert chosen == []


def test_a_row_stays_put_while_the_mouse_is_down(qtbot: QtBot, ledger: Ledger) -> None:
    better = (*ROWS[1:], replace(ROWS[0], verdict="clear", value="38"))
    viewport = ledger.view().viewport()
    qtbot.mousePress(viewport, LEFT, pos=place(ledger, 0))
    ledger.set_rows(better)
    assert ids(ledger) == [row.id for row in ROWS]
    assert ledger.rows()[0].value == "38"
    with qtbot.waitSignal(ledger.rowChosen) as chosen:
        qtbot.mouseRelease(viewport, LEFT, pos=place(ledger, 0))
    assert chosen.args == ["r1"]
    assert ids(ledger) == [row.id for row in better]


def test_a_row_stays_put_while_something_is_dragged(ledger: Ledger) -> None:
    new = LedgerRow(id="r9", verdict="hits", title="Elbow hits the bolster", value="−1")
    ledger.set_held(True)
    ledger.set_rows((new, *ROWS[2:]))
    assert ids(ledger) == ["r1", "r2", "r3", "r4", "r5", "r6", "r9"]
    assert [row.stale for row in ledger.rows()[:2]] == [True, True]
    ledger.set_held(False)
    assert ids(ledger) == ["r9", "r3", "r4", "r5", "r6"]


def test_keeping_places_never_loses_what_is_wanted() -> None:
    kept = keep_places(ROWS[:3], (ROWS[5], ROWS[1], ROWS[0]))
    assert [row.id for row in kept] == ["r1", "r2", "r3", "r6"]
    assert kept[2] == replace(ROWS[2], stale=True)


def test_the_chosen_row_stays_chosen_when_rows_change(ledger: Ledger) -> None:
    ledger.set_chosen("r4")
    ledger.set_rows(tuple(reversed(ROWS)))
    assert ledger.chosen() == "r4"
    ledger.set_rows(ROWS[:2])
    assert ledger.chosen() == ""


def test_the_chosen_row_wears_the_wash_and_a_bar_of_accent(ledger: Ledger) -> None:
    theme = load_theme("light")
    ledger.set_chosen("r2")
    view = picture(ledger.view().viewport())
    bars = of_colour(view[:, :3], theme.accent).all(axis=1)
    rect = ledger.view().visualRect(ledger.view().model().index(1, 0))
    assert bars[rect.top() : rect.bottom() + 1].all()
    assert bars.sum() == rect.height()
    assert not of_colour(view[:, 3:4], theme.accent).any()
    washed = of_colour(view[rect.top() + 3 : rect.bottom() - 3, 8:12], theme.wash, 1)
    assert washed.all()


def test_a_ticket_lights_its_row_without_choosing_it(ledger: Ledger) -> None:
    ledger.set_lit("r3")
    rect = ledger.view().visualRect(ledger.view().model().index(2, 0))
    view = picture(ledger.view().viewport())
    assert of_colour(view[rect.top() + 3 : rect.bottom() - 3, :12], load_theme("light").wash, 1).all()
    assert ledger.chosen() == ""
    ledger.set_lit("")
    view = picture(ledger.view().viewport())
    assert not of_colour(view[rect.top() + 3 : rect.bottom() - 3, :12], load_theme("light").wash, 1).any()


def test_pointing_at_a_row_says_which(qtbot: QtBot, ledger: Ledger) -> None:
    with qtbot.waitSignal(ledger.rowPointed, check_params_cb=lambda row: row == "r2"):
        qtbot.mouseMove(ledger.view().viewport(), place(ledger, 0))
        qtbot.mouseMove(ledger.view().viewport(), place(ledger, 1))


def test_a_row_speaks_whole_sentences(ledger: Ledger) -> None:
    def spoken(row: int) -> str:
        return str(ledger.view().model().index(row, 0).data(Qt.ItemDataRole.AccessibleTextRole))

    assert (
        spoken(0) == "Knuckles hit the bottle in reverse, hits −6, give or take 2, Cure: bottle rearward 38"
    )
    assert "from before the last change" in spoken(2)
    assert spoken(3).startswith("Lever mount, driver side front foot, unseen")
    ledger.set_rows((replace(ROWS[0], sentence="Knuckles hit the bottle by 6 mm."),))
    assert spoken(0) == "Knuckles hit the bottle by 6 mm."


@pytest.mark.parametrize("percent", [100, 150, 200])
def test_rows_are_46_high_at_least_and_grow_with_the_text(qtbot: QtBot, percent: int) -> None:
    use_fonts(percent)
    assert row_height() >= 46 * percent / 100
    ledger = Ledger()
    qtbot.addWidget(ledger)
    ledger.set_rows(ROWS)
    rect = ledger.view().visualRect(ledger.view().model().index(0, 0))
    assert rect.height() == round(row_height())
    assert ledger.natural_height(3) - ledger.natural_height(2) == round(row_height())


def test_what_is_clear_is_a_click_away_and_the_list_folds_to_its_count(qtbot: QtBot, ledger: Ledger) -> None:
    ledger.set_rows(ROWS, "2 states fail, 1 unseen", left_out="Clear in 32 states of 9 pairs.")
    button = ledger.findChild(QPushButton)
    assert button.text() == "Clear in 32 states of 9 pairs. Show all"
    with qtbot.waitSignal(ledger.showAllAsked):
        qtbot.mouseClick(button, LEFT)
    heads = [child.accessibleName() for child in ledger.findChildren(QWidget)]
    assert f"{TITLE}: 2 states fail, 1 unseen" in heads
    ledger.set_folded(True)
    assert not ledger.view().isVisible()
    assert not button.isVisible()
    ledger.set_folded(False)
    assert button.isVisible()
    ledger.set_rows(ROWS)
    assert not button.isVisible()
