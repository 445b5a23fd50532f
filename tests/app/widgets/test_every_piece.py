"""What holds for every painted piece: at 100, 150 and 200 %, in all three themes, with a name to be read aloud."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget
from pytestqt.qtbot import QtBot

from floorpan_app.theme.follow import apply_theme
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import THEME_NAMES, ThemeName, load_theme
from floorpan_app.widgets.gap_rule import GapRule
from floorpan_app.widgets.gate_card import GateCard
from floorpan_app.widgets.ledger import Ledger
from floorpan_app.widgets.matrix import StateMatrix
from floorpan_app.widgets.matrix_legend import ShapeLegend
from floorpan_app.widgets.measure_sketch import MeasureSketch
from floorpan_app.widgets.part_tag import PartTag, TagText
from floorpan_app.widgets.progress_strip import ProgressStrip, Work
from floorpan_app.widgets.step_strip import StepStrip
from floorpan_app.widgets.ticket import Ticket
from floorpan_app.widgets.tight_spot import TightSpot
from floorpan_app.widgets.tool_roll import ToolRoll
from floorpan_app.widgets.verdict_shape import VerdictMark
from floorpan_app.widgets.words import SeenFrom, Showing
from look.pictures import of_colour, picture
from look.samples import GEARS, READINGS, ROWS, SEEN_FROM, SHOWING, SPOT, STEPS, TICKETS, VERBS, matrix_table


def ledger() -> Ledger:
    piece = Ledger()
    piece.set_rows(ROWS)
    return piece


def progress() -> ProgressStrip:
    piece = ProgressStrip()
    piece.set_work(Work(doing="Sweeping seat notches", done=0.4))
    return piece


def taping() -> MeasureSketch:
    piece = MeasureSketch()
    piece.show_key("shoulder_to_grip_mm")
    return piece


def strip() -> StepStrip:
    piece = StepStrip(STEPS)
    piece.set_title("Tin coupé", "version B")
    return piece


PIECES: dict[str, Callable[[], QWidget]] = {
    "verdict mark": lambda: VerdictMark("short"),
    "step strip": strip,
    "ticket": lambda: Ticket(TICKETS[2]),
    "gap rule": lambda: GapRule(READINGS[1]),
    "gate card": lambda: GateCard(GEARS, "R"),
    "ledger": ledger,
    "tight spot": lambda: TightSpot(SPOT),
    "matrix": lambda: StateMatrix(matrix_table()),
    "legend": ShapeLegend,
    "seen from": lambda: SeenFrom(SEEN_FROM),
    "showing": lambda: Showing(SHOWING),
    "tool roll": lambda: ToolRoll(VERBS),
    "part tag": lambda: PartTag(TagText(name="Tall bottle", place="640 rear, 212 up")),
    "progress strip": progress,
    "measure sketch": taping,
}
# These take the room they are given; the others are as large as what they say.
ROOMY = ("ledger", "matrix", "gap rule")

piece = pytest.mark.parametrize("name", PIECES)


def shown(qtbot: QtBot, name: str) -> QWidget:
    widget = PIECES[name]()
    qtbot.addWidget(widget)
    hint = widget.sizeHint()
    widget.resize(max(hint.width(), 320), max(hint.height(), 200 if name in ("ledger", "matrix") else 0))
    widget.show()
    qtbot.waitExposed(widget)
    return widget


@piece
@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("theme_name", THEME_NAMES)
def test_a_piece_paints_itself_from_the_theme_at_every_scale(
    app: QApplication, qtbot: QtBot, name: str, theme_name: ThemeName, scale: float
) -> None:
    theme = load_theme(theme_name)
    apply_theme(app, theme)
    widget = shown(qtbot, name)
    sheet = picture(widget, scale)
    assert sheet.shape[0] == pytest.approx(widget.height() * scale, abs=1)
    assert sheet.shape[1] == pytest.approx(widget.width() * scale, abs=1)
    telling = [theme.ink, theme.ink2, *(theme.verdict(v) for v in ("hits", "short", "close", "clear"))]
    assert sum(of_colour(sheet, colour, 20).sum() for colour in telling) > 40 * scale
    grounds = [theme.paper, theme.raised, theme.bench, theme.wash]
    assert (
        sum(of_colour(sheet, ground, 8).sum() for ground in grounds) > 0.3 * sheet.shape[0] * sheet.shape[1]
    )


@piece
def test_a_piece_changes_with_the_theme_without_being_told(
    app: QApplication, qtbot: QtBot, name: str
) -> None:
    widget = shown(qtbot, name)
    before = picture(widget)
    apply_theme(app, load_theme("dark"))
    after = picture(widget)
    assert (before != after).any(axis=2).mean() > 0.5
    assert not of_colour(after, load_theme("light").paper, 2).any()


@piece
@pytest.mark.parametrize("percent", [150, 200])
def test_a_piece_grows_with_the_text(app: QApplication, qtbot: QtBot, name: str, percent: int) -> None:
    usual = PIECES[name]()
    qtbot.addWidget(usual)
    before = usual.sizeHint()
    use_fonts(percent)
    apply_theme(app, load_theme("light"))
    large = PIECES[name]()
    qtbot.addWidget(large)
    after = large.sizeHint()
    if name not in ROOMY:
        assert after.width() == pytest.approx(before.width() * percent / 100, rel=0.08)
    if name not in ("ledger", "matrix"):
        assert after.height() == pytest.approx(before.height() * percent / 100, rel=0.12)


@piece
@pytest.mark.parametrize("percent", [100, 200])
def test_nothing_is_painted_across_the_rim_of_a_piece(qtbot: QtBot, name: str, percent: int) -> None:
    use_fonts(percent)
    widget = shown(qtbot, name)
    sheet = picture(widget)
    ink = load_theme("light").ink
    # Letters run into no edge: text that was too long would.
    assert not of_colour(sheet[:, -1:], ink, 40).any()
    assert not of_colour(sheet[-1:], ink, 40).any()
    assert not of_colour(sheet[:, :1], ink, 40).any()


@piece
def test_a_piece_and_all_its_buttons_have_a_name(qtbot: QtBot, name: str) -> None:
    widget = shown(qtbot, name)
    named = [widget, *widget.findChildren(QWidget)]
    assert any(child.accessibleName() for child in named)
    for button in widget.findChildren(QAbstractButton):
        if button.isVisible() and type(button).__name__ != "QTableCornerButton":
            assert button.accessibleName() or button.text(), button


@piece
def test_every_button_of_a_piece_is_reached_without_a_mouse(qtbot: QtBot, name: str) -> None:
    widget = shown(qtbot, name)
    widget.activateWindow()
    qtbot.waitUntil(widget.isActiveWindow)
    buttons = [
        button
        for button in [widget, *widget.findChildren(QAbstractButton)]
        if isinstance(button, QAbstractButton) and button.isVisible() and button.isEnabled()
        # The toolkit's own, in the corner of every table; it does nothing here.
        and type(button).__name__ != "QTableCornerButton"
    ]  # fmt: skip
    reached = [button for button in buttons if button.focusPolicy() & Qt.FocusPolicy.TabFocus]
    for button in reached:
        for key in (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down):
            button.setFocus()
            qtbot.keyClick(button, key)
            now = widget.focusWidget()
            if now in buttons and now not in reached:
                reached.append(now)
    assert {button.text() or button.accessibleName() for button in buttons} == {
        button.text() or button.accessibleName() for button in reached
    }
