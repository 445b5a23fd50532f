"""Rounding: to what a number can be trusted for, and always towards the worse."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.report.made_up import WANTED, finding
from floorpan.limits import Limit
from floorpan.report.amounts import (
    give_or_take_text,
    step_of,
    trust,
    trust_text,
    value_text,
    wanted_text,
    worse,
)
from floorpan.units import System

GAP = WANTED["hand-vessel"]
AT_MOST = WANTED["stands"]
BETWEEN = WANTED["elbow"]

values = st.floats(-500.0, 500.0)
doubts = st.floats(0.0, 40.0)
systems = st.sampled_from(["mm", "in"])


@given(values, doubts, systems)
def test_a_gap_is_never_shown_larger_than_it_is(value: float, u: float, system: System) -> None:
    shown = worse(value, u, GAP, system)
    step = step_of(u, "mm", system)
    assert shown <= value + 1e-5 * step + 1e-9
    assert value - shown < step * (1 + 1e-5)


@given(values, doubts, systems)
def test_what_may_be_at_most_is_never_shown_smaller(value: float, u: float, system: System) -> None:
    assert worse(value, u, AT_MOST, system) >= value - 1e-5 * step_of(u, "mm", system) - 1e-9


@given(st.floats(0.0, 200.0))
def test_a_value_between_two_bounds_moves_towards_the_nearer_one(value: float) -> None:
    shown = worse(value, 4.0, BETWEEN)
    nearer_upper = 160.0 - value < value - 75.0
    assert shown >= value - 1e-5 if nearer_upper else shown <= value + 1e-5


@given(doubts, systems)
def test_a_give_or_take_is_never_shown_smaller(u: float, system: System) -> None:
    assert trust(u, "mm", system) >= u - 1e-5


@given(st.integers(-4000, 4000), st.floats(1.0, 20.0))
def test_inches_are_the_sixteenth_below(thirty_seconds: int, u: float) -> None:
    """Against exact arithmetic: 25.4 mm to the inch is 127/5, floor taken of a fraction."""
    mm = Fraction(thirty_seconds, 32) * Fraction(127, 5)
    sixteenths = (mm / Fraction(127, 5) * 16).__floor__()
    assert worse(float(mm), u, GAP, "in") == pytest.approx(float(Fraction(sixteenths, 16) * Fraction(127, 5)))


@pytest.mark.parametrize(
    ("value", "u", "shown", "trusted"),
    [
        (14.03, 1.5, "14", "± 1.5"),
        (14.7, 1.5, "14.5", "± 1.5"),
        (52.9, 3.0, "52", "± 3"),
        (-5.6, 2.0, "\u22126", "± 2"),
        (26.0, 2.1, "26", "± 2.5"),
        (4.0, 13.7, "4", "± 14"),
        (3.17, 0.23, "3.1", "± 0.3"),
        (-0.01, 2.0, "\u22121", "± 2"),
        (1234.5, 2.0, "1\u2009234", "± 2"),
    ],
)
def test_the_usual_cases(value: float, u: float, shown: str, trusted: str) -> None:
    told = finding("hand-vessel", ("driver-1.hand", "vessel-1"), value, u)
    assert value_text(told) == shown
    assert give_or_take_text(told) == trusted


@pytest.mark.parametrize(
    ("value", "u", "shown", "trusted"),
    [
        (52.4, 3.0, "2\u20091\u204416", "1\u20448"),
        (-6.0, 2.0, "\u22121\u20444", "1\u20448"),
        (25.4, 1.5, "1", "1\u204416"),
        (3.2, 0.5, "1\u20448", "1\u204432"),
    ],
)
def test_the_usual_cases_in_inches(value: float, u: float, shown: str, trusted: str) -> None:
    """52.4 mm is 33.007 sixteenths; 6 mm 3.78, away from touching 4; 3 mm of doubt 1.89, up to 2."""
    told = finding("hand-vessel", ("driver-1.hand", "vessel-1"), value, u)
    assert value_text(told, "in") == shown
    assert trust_text(told, "in") == trusted


def test_other_units() -> None:
    assert value_text(finding("elbow", ("driver-1.hand", "shifter-1.knob"), 141.7, 4.0)) == "142°"
    assert value_text(finding("elbow", ("driver-1.hand", "shifter-1.knob"), 96.9, 4.0)) == "96°"
    assert value_text(finding("console-seen", ("console-1", "scan-1"), 97.96, 0.1)) == "97.9\u2009%"
    spill = Limit(id="spill", value=0.4, sense="at_least", unit="g", source="x")
    told = finding("spill", ("vessel-1",), 0.187, 0.012, limit=spill, is_gap=False)
    assert value_text(told) == "0.18\u2009g"
    assert give_or_take_text(told) == "± 0.02"


def test_what_has_no_number_shows_its_word() -> None:
    told = finding("hand-vessel", ("driver-1.hand", "vessel-1"), None)
    assert (value_text(told), give_or_take_text(told)) == ("unseen", "")


@pytest.mark.parametrize(
    ("limit", "system", "text"),
    [
        (GAP, "mm", "30 mm"),
        (GAP, "in", "1\u20093\u204416 in"),
        (AT_MOST, "mm", "3 mm at most"),
        (BETWEEN, "mm", "75 to 160 deg"),
        (WANTED["well-side"], "mm", "2 to 4 mm"),
        (WANTED["console-seen"], "mm", "98 percent"),
    ],
)
def test_what_is_wanted(limit: Limit, system: System, text: str) -> None:
    assert wanted_text(limit, system) == text
