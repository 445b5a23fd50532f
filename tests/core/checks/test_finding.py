"""Verdicts and uncertainty: worked by hand from the rule; combination after JCGM 100 section 5."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.checks.finding import Doubt, Finding, combined, margin, rank, verdict_of
from floorpan.limits import Limit

AT_LEAST = Limit(id="t", value=30.0, sense="at_least", unit="mm", source="test")
BETWEEN = Limit(id="t", value=75.0, upper=160.0, sense="between", unit="deg", source="test")
AT_MOST = Limit(id="t", value=3.0, sense="at_most", unit="mm", source="test")


@pytest.mark.parametrize(
    ("value", "verdict"),
    [
        (-0.1, "hits"),
        (0.0, "hits"),
        (1.9, "short"),
        (27.9, "short"),
        (28.0, "close"),
        (31.9, "close"),
        (32.0, "clear"),
    ],
)
def test_gap_of_thirty_give_or_take_two(value: float, verdict: str) -> None:
    assert verdict_of(value, 2.0, AT_LEAST, is_gap=True) == verdict


def test_a_gap_that_cannot_be_told_from_touching_is_short_whatever_is_wanted() -> None:
    assert (
        verdict_of(1.5, 2.0, Limit(id="t", value=0.0, sense="at_least", unit="mm", source="t"), is_gap=True)
        == "short"
    )


@pytest.mark.parametrize(
    ("value", "verdict"),
    [(-40.0, "short"), (73.0, "close"), (100.0, "clear"), (159.0, "close"), (163.0, "short")],
)
def test_a_band_is_judged_on_both_sides_and_never_hits(value: float, verdict: str) -> None:
    assert verdict_of(value, 2.0, BETWEEN, is_gap=False) == verdict


def test_at_most() -> None:
    assert verdict_of(0.5, 1.0, AT_MOST, is_gap=False) == "clear"
    assert verdict_of(4.5, 1.0, AT_MOST, is_gap=False) == "short"
    assert margin(1.0, AT_MOST) == 2.0


def test_independent_doubts_add_as_squares_and_bounds_plainly() -> None:
    doubts = (Doubt("a", standard=0.3), Doubt("b", standard=0.4), Doubt("noise", bound=0.7))
    assert combined(doubts) == pytest.approx(2 * 0.5 + 0.7)


@given(st.floats(-50, 100), st.floats(0.1, 10), st.floats(0.0, 20.0))
def test_more_doubt_never_makes_a_verdict_better(value: float, u: float, more: float) -> None:
    order = ["hits", "short", "close", "clear"]
    before = verdict_of(value, u, AT_LEAST, is_gap=True)
    after = verdict_of(value, u + more, AT_LEAST, is_gap=True)
    if before == "clear":
        assert order.index(after) <= order.index(before)
    assert (before == "hits") == (after == "hits")


def _finding(verdict: str, value: float | None) -> Finding:
    return Finding(
        check="hand-vessel",
        subjects=("driver-1.hand", "vessel-1"),
        state=(("shifter-1.gear", "R"),),
        verdict=verdict,  # type: ignore[arg-type]
        value=value,
        uncertainty=2.0,
        doubts=(),
        limit=AT_LEAST,
    )


def test_worst_first() -> None:
    listed = [
        _finding("clear", 40.0),
        _finding("pending", None),
        _finding("close", 30.0),
        _finding("unseen", None),
        _finding("short", 10.0),
        _finding("short", 5.0),
        _finding("hits", -2.0),
        _finding("hits", -6.0),
    ]
    assert [f.value for f in sorted(listed, key=rank)] == [-6.0, -2.0, 5.0, 10.0, None, 30.0, None, 40.0]


def test_ids_name_check_subjects_and_state() -> None:
    assert _finding("hits", -6.0).id == "hand-vessel:driver-1.hand:vessel-1:shifter-1.gear=R"
