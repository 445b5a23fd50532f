"""The gap rule: everything stands where its number says, measured on pixels."""

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from floorpan_app.theme.record import load_theme
from floorpan_app.widgets.gap_rule import GapReading, GapRule
from look.pictures import Pixels, of_colour, picture

WIDTH = 323
SCALE = 2.0
# The band of the rule inside the widget: 1 px left, 2 px right of it, 80 mm in between.
PX_PER_MM = (WIDTH - 3) / 80.0


def x_of(value_mm: float) -> float:
    """Device pixels from the left for a value on the rule from -20 to 60 mm."""
    return (1 + (value_mm + 20) * PX_PER_MM) * SCALE


def sheet_of(qtbot: QtBot, reading: GapReading) -> Pixels:
    rule = GapRule(reading)
    qtbot.addWidget(rule)
    rule.resize(WIDTH, rule.sizeHint().height())
    return picture(rule, SCALE)


def columns(sheet: Pixels, colour: str) -> np.ndarray:
    """Columns of the band in which `colour` occurs."""
    return np.nonzero(of_colour(sheet[: int(19 * SCALE)], colour, 30).any(axis=0))[0]


@pytest.mark.parametrize(
    ("verdict", "value", "take"), [("hits", -6, 2), ("short", 14, 3), ("close", 27, 3), ("clear", 44, 2.5)]
)
def test_value_and_whisker_stand_at_their_millimetres(
    qtbot: QtBot, verdict: str, value: float, take: float
) -> None:
    theme = load_theme("light")
    reading = GapReading(verdict=verdict, value=value, give_or_take=take, wanted=30, wanted_text="30")
    inked = columns(sheet_of(qtbot, reading), theme.verdict(verdict))
    half_shape = 6 * SCALE
    assert inked[0] == pytest.approx(min(x_of(value - take), x_of(value) - half_shape), abs=3)
    assert inked[-1] == pytest.approx(max(x_of(value + take), x_of(value) + half_shape), abs=3)


def test_the_hatch_ends_at_touch_and_touch_is_a_heavy_line(qtbot: QtBot) -> None:
    theme = load_theme("light")
    sheet = sheet_of(qtbot, GapReading(verdict="clear", value=50, give_or_take=2, wanted=30))
    upper = sheet[int(5 * SCALE) : int(11 * SCALE)]
    hatched = np.nonzero(of_colour(upper, theme.edge, 20).any(axis=0))[0]
    assert hatched[-1] <= x_of(0) + 2
    assert hatched[0] <= x_of(-20) + 3 * SCALE
    assert columns(sheet, theme.ink).mean() == pytest.approx(x_of(0), abs=2.5)


def test_wanted_is_a_dotted_tick_at_its_value(qtbot: QtBot) -> None:
    theme = load_theme("light")
    sheet = sheet_of(qtbot, GapReading(verdict="clear", value=50, give_or_take=2, wanted=25))
    middle = round(x_of(25) + 1)
    tick = of_colour(sheet[: int(19 * SCALE), middle - 1 : middle + 2], theme.ink2, 40).any(axis=1)
    runs = np.count_nonzero(np.diff(tick.astype(int)) == 1)
    assert runs >= 3


@pytest.mark.parametrize(("value", "side"), [(140.0, 1), (-45.0, -1)])
def test_a_value_beyond_the_rule_says_so_with_an_arrow(qtbot: QtBot, value: float, side: int) -> None:
    verdict = "clear" if side > 0 else "hits"
    colour = load_theme("light").verdict(verdict)
    at_end = GapReading(verdict=verdict, value=60.0 if side > 0 else -20.0, give_or_take=2, wanted=30)
    beyond = GapReading(verdict=verdict, value=value, give_or_take=2, wanted=30)
    inked = columns(sheet_of(qtbot, beyond), colour)
    tip = inked[-1] if side > 0 else inked[0]
    assert tip == pytest.approx(x_of(60 if side > 0 else -20), abs=3)
    sheets = [of_colour(sheet_of(qtbot, reading), colour, 30) for reading in (at_end, beyond)]
    assert (sheets[0] != sheets[1]).sum() > 30


def test_unseen_is_dotted_to_the_right_with_its_shape_at_wanted(qtbot: QtBot) -> None:
    theme = load_theme("light")
    sheet = sheet_of(qtbot, GapReading(verdict="unseen", value=None, wanted=25))
    inked = columns(sheet, theme.unseen)
    assert inked[0] == pytest.approx(x_of(0) + 4, abs=4)
    assert inked[-1] > x_of(57)
    row = of_colour(sheet[int(9 * SCALE) : int(9 * SCALE) + 1], theme.unseen, 60)[0]
    gaps = np.count_nonzero(np.diff(row.astype(int)) == 1)
    assert gaps >= 15


def test_pending_draws_dots_and_no_number_line(qtbot: QtBot) -> None:
    sheet = sheet_of(qtbot, GapReading(verdict="pending", value=None, wanted=25))
    pending = load_theme("light").pending
    inked = np.nonzero(of_colour(sheet[: int(14 * SCALE)], pending, 8).any(axis=0))[0]
    assert inked[-1] - inked[0] <= 14 * SCALE
    assert (inked[0] + inked[-1]) / 2 == pytest.approx(x_of(25), abs=4)


def test_without_touch_nothing_is_hatched(qtbot: QtBot) -> None:
    theme = load_theme("light")
    reading = GapReading(verdict="short", value=0.62, wanted=0.8, touch=None, low=0, high=1.6, tick=0.1)
    sheet = sheet_of(qtbot, reading)
    assert of_colour(sheet[int(5 * SCALE) : int(9 * SCALE)], theme.edge, 20).sum() == 0


def test_the_rule_says_its_sentence_and_keeps_its_place_when_empty(qtbot: QtBot) -> None:
    rule = GapRule()
    qtbot.addWidget(rule)
    empty = rule.sizeHint()
    reading = GapReading(verdict="clear", value=44, sentence="Knuckles clear the dash by 44 mm.")
    rule.set_reading(reading)
    assert rule.sizeHint() == empty
    assert rule.accessibleName() == reading.sentence
    assert rule.reading() == reading


def test_touch_and_wanted_do_not_write_over_each_other(qtbot: QtBot) -> None:
    theme = load_theme("light")
    for wanted in (0.0, 4.0, 58.0, 60.0):
        reading = GapReading(verdict="clear", value=44, wanted=wanted, wanted_text=f"{wanted:g}")
        words = of_colour(sheet_of(qtbot, reading)[int(22 * SCALE) :], theme.ink2, 60).any(axis=0)
        inked = np.nonzero(words)[0]
        # The last letter ends inside the widget, and near touch only one of the two is written.
        assert inked[-1] < (WIDTH - 1) * SCALE
        if wanted < 10:
            assert inked[-1] - inked[0] < 70 * SCALE
