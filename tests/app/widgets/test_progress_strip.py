"""The progress strip and the focus ring."""

from dataclasses import dataclass

import pytest
import shiboken6
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton, QScrollArea, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from floorpan_app.theme.record import load_theme
from floorpan_app.widgets.focus_ring import FocusRing
from floorpan_app.widgets.progress_strip import ProgressStrip, Work
from look.pictures import of_colour, picture


@pytest.mark.parametrize(
    ("work", "line"),
    [
        (Work(doing="Sweeping seat notches", done=0.5), "Sweeping seat notches"),
        (Work(doing="Thinning", left="about 20 s left", others=2), "Thinning, and 2 more, about 20 s left"),
    ],
)
def test_work_is_one_line(work: Work, line: str) -> None:
    assert work.line() == line


@pytest.mark.parametrize("done", [0.0, 0.25, 0.62, 1.0])
def test_the_strip_is_filled_as_far_as_the_work_is_done(qtbot: QtBot, done: float) -> None:
    strip = ProgressStrip()
    qtbot.addWidget(strip)
    strip.set_work(Work(doing="Sweeping", done=done))
    strip.show()
    qtbot.waitExposed(strip)
    assert strip.accessibleName() == f"Sweeping, {round(done * 100)} %"
    bar = strip.stop_button().x() - 10 - 180
    row = picture(strip)[strip.height() // 2 : strip.height() // 2 + 1, bar : bar + 180]
    assert of_colour(row, load_theme("light").accent, 30).sum() == pytest.approx(180 * done, abs=4)


def test_stop_is_asked_by_click_and_key(qtbot: QtBot) -> None:
    strip = ProgressStrip()
    qtbot.addWidget(strip)
    assert not strip.isVisible()
    strip.set_work(Work(doing="Sweeping"))
    strip.show()
    qtbot.waitExposed(strip)
    with qtbot.waitSignal(strip.stopAsked):
        qtbot.mouseClick(strip.stop_button(), Qt.MouseButton.LeftButton)
    with qtbot.waitSignal(strip.stopAsked):
        qtbot.keyClick(strip.stop_button(), Qt.Key.Key_Space)
    strip.set_work(None)
    assert not strip.isVisible()
    assert strip.work() is None


def test_the_ring_goes_round_stock_buttons_and_nothing_else(qtbot: QtBot) -> None:
    window = QWidget()
    layout = QVBoxLayout(window)
    layout.setContentsMargins(12, 12, 12, 12)
    button, field = QPushButton("Start over"), QLineEdit()
    layout.addWidget(button)
    layout.addWidget(field)
    ring = FocusRing(window)
    qtbot.addWidget(window)
    window.show()
    window.activateWindow()
    qtbot.waitExposed(window)
    button.setFocus()
    qtbot.waitUntil(lambda: ring.ringed() is button)
    assert ring.isVisible()
    around = QRect(button.mapTo(window, QPoint(0, 0)), button.size())
    assert ring.geometry() == around.adjusted(-4, -4, 4, 4)
    accent = of_colour(picture(window), load_theme("light").accent, 40)
    above = accent[around.top() - 4 : around.top(), around.left() + 10 : around.right() - 10]
    # 2 px of ring, then 2 px of paper.
    assert above[:2].all()
    assert not above[2:].any()
    window.resize(window.width() + 60, window.height())
    qtbot.waitUntil(lambda: ring.width() == button.width() + 8)
    field.setFocus()
    qtbot.waitUntil(lambda: not ring.isVisible())
    assert ring.ringed() is None


def test_the_ring_lets_go_of_a_button_that_is_taken_away(qtbot: QtBot) -> None:
    window = QWidget()
    layout = QVBoxLayout(window)
    buttons = [QPushButton(text) for text in ("one", "two")]
    for button in buttons:
        layout.addWidget(button)
    ring = FocusRing(window)
    qtbot.addWidget(window)
    window.show()
    window.activateWindow()
    qtbot.waitExposed(window)
    buttons[0].setFocus()
    qtbot.waitUntil(lambda: ring.ringed() is buttons[0])
    shiboken6.delete(buttons[0])
    qtbot.waitUntil(lambda: ring.ringed() is not buttons[0])
    buttons[1].setFocus()
    qtbot.waitUntil(lambda: ring.ringed() is buttons[1])
    buttons[1].hide()
    qtbot.waitUntil(lambda: not ring.isVisible())


# --- where the ring goes ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Card:
    """A window with a part that scrolls, a button deep inside it, and a button below that does not scroll."""

    window: QWidget
    area: QScrollArea
    above: QLabel
    part: QWidget
    button: QPushButton
    below: QPushButton
    ring: FocusRing

    def around(self) -> QRect:
        corner = self.button.mapTo(self.window, QPoint(0, 0))
        return QRect(corner, self.button.size()).adjusted(-4, -4, 4, 4)

    def seen_in(self) -> QRect:
        view = self.area.viewport()
        return QRect(view.mapTo(self.window, QPoint(0, 0)), view.size())


@pytest.fixture
def card(qtbot: QtBot) -> _Card:
    window, part, inside = QWidget(), QWidget(), QWidget()
    above, button, below = QLabel("one line"), QPushButton("Find"), QPushButton("Accept")
    rows = QVBoxLayout(part)
    rows.addWidget(button)
    column = QVBoxLayout(inside)
    column.addWidget(above)
    column.addWidget(part)
    for _ in range(12):
        column.addWidget(QLabel("more"))
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setWidget(inside)
    outer = QVBoxLayout(window)
    outer.addWidget(area)
    outer.addWidget(below)
    made = _Card(window, area, above, part, button, below, FocusRing(window))
    qtbot.addWidget(window)
    window.resize(260, 300)
    window.show()
    window.activateWindow()
    qtbot.waitExposed(window)
    button.setFocus()
    qtbot.waitUntil(lambda: made.ring.ringed() is button)
    assert made.ring.geometry() == made.around()
    return made


def test_the_ring_goes_with_its_button_when_what_stands_above_grows(qtbot: QtBot, card: _Card) -> None:
    before = card.ring.y()
    card.above.setText("one\ntwo\nthree")
    qtbot.waitUntil(lambda: card.ring.y() > before + 10)
    assert card.ring.geometry() == card.around()
    card.above.hide()
    qtbot.waitUntil(lambda: card.ring.y() < before)
    assert card.ring.geometry() == card.around()


def test_the_ring_scrolls_with_its_button_and_ends_where_the_scrolling_part_does(card: _Card) -> None:
    bar = card.area.verticalScrollBar()
    bar.setValue(10)
    assert card.ring.geometry() == card.around()
    # Half of the button is scrolled away.
    bar.setValue(bar.value() + card.around().center().y() - card.seen_in().top())
    assert card.ring.isVisible()
    assert card.ring.geometry() == card.around().intersected(card.seen_in())
    assert card.ring.y() == card.seen_in().top()
    accent = of_colour(picture(card.window), load_theme("light").accent, 40)
    left, right = card.around().left() + 12, card.around().right() - 12
    # Its lower edge is seen, its upper one neither at its own place nor where it is cut.
    assert accent[card.around().bottom(), left:right].all()
    assert not accent[: card.seen_in().top() + 1, left:right].any()
    bar.setValue(bar.maximum())
    assert not card.ring.isVisible()
    bar.setValue(0)
    assert card.ring.isVisible()
    assert card.ring.geometry() == card.around()


def test_the_ring_is_never_painted_over_what_stands_below_the_scrolling_part(
    qtbot: QtBot, card: _Card
) -> None:
    card.above.setMinimumHeight(card.area.height() - card.button.height())
    qtbot.waitUntil(lambda: not card.seen_in().contains(card.around()))
    assert not card.ring.isVisible() or card.seen_in().contains(card.ring.geometry())
    card.above.setMinimumHeight(card.area.height() + 60)
    qtbot.waitUntil(lambda: not card.seen_in().intersects(card.around()))
    assert not card.ring.isVisible()


def test_the_ring_follows_a_button_into_another_part(qtbot: QtBot, card: _Card) -> None:
    card.window.layout().addWidget(card.part)  # type: ignore[union-attr]
    card.part.show()
    card.button.setFocus()
    qtbot.waitUntil(lambda: card.ring.isVisible() and card.ring.geometry() == card.around())
    assert not card.seen_in().intersects(card.ring.geometry())
    card.part.hide()
    qtbot.waitUntil(lambda: not card.ring.isVisible() or card.ring.ringed() is not card.button)


def test_the_ring_goes_when_what_holds_its_button_is_hidden(qtbot: QtBot, card: _Card) -> None:
    card.area.hide()
    qtbot.waitUntil(lambda: card.ring.ringed() is not card.button or not card.ring.isVisible())
