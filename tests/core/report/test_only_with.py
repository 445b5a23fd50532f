"""The matrix of some states only: with the bottle in, the seat full back, in reverse."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.report.made_up import finding, findings, layout
from core.report.test_rows import AXES, judged
from floorpan.checks.finding import Finding, rank
from floorpan.items import Seat, Vessel
from floorpan.items.states import State, state_of
from floorpan.report.matrix import matrix
from floorpan.report.only_with import choices, holding, in_effect, not_judged, only_words, with_stop
from floorpan.report.rows import pair_of

HAND = ("driver-1.hand", "vessel-1")
CONSOLE = ("seat-1", "console-1")
wanted = st.dictionaries(st.sampled_from(sorted(AXES)), st.integers(0, 2)).map(
    lambda picked: state_of({axis: AXES[axis][min(n, len(AXES[axis]) - 1)] for axis, n in picked.items()})
)


def at(check: str, subjects: tuple[str, ...], value: float, **stops: str) -> Finding:
    named = {"gear": "shifter-1.gear", "notch": "seat-1.notch", "belts": "driver-1.belts"}
    state = state_of({named[axis]: stop for axis, stop in stops.items()})
    return finding(check, subjects, value, state=state)


@given(judged(), wanted)
def test_what_holds_stands_at_every_named_stop_and_is_the_worst_over_the_rest(
    held: list[Finding], only: State
) -> None:
    """Against the definition, written out: a finding holds where each named axis it names is at that stop."""
    named = dict(in_effect(held, only))
    by_hand = [one for one in held if all(named.get(axis, stop) == stop for axis, stop in one.state)]
    assert list(holding(held, only)) == by_hand
    made = matrix(held, layout(), only=only)
    assert {row.pair for row in made.rows} == {pair_of(one) for one in by_hand}
    for row in made.rows:
        own = [one for one in by_hand if pair_of(one) == row.pair]
        assert row.worst == min(own, key=rank)
        for column, cell in zip(made.columns, row.cells, strict=True):
            there = [one for one in own if (column.axis, column.stop) in one.state]
            assert (None if cell is None else cell.finding) == min(there, key=rank, default=None)
    assert not_judged(held, only) == {pair_of(one) for one in held} - {pair_of(one) for one in by_hand}


def test_nothing_named_holds_everything() -> None:
    assert holding(findings(), ()) == findings()
    assert not_judged(findings(), ()) == frozenset()


def test_a_pair_that_the_axis_does_not_move_stays() -> None:
    told = (at("hand-vessel", HAND, -6.0, gear="R"), finding("console-seen", ("console-1", "scan-1"), 99.0))
    assert holding(told, state_of({"shifter-1.gear": "R"})) == told


def test_several_together_hold_what_all_of_them_hold() -> None:
    told = [
        at("hand-vessel", HAND, value, gear=gear, belts=belts)
        for gear, belts, value in (("R", "tight", 1.0), ("R", "loose", 2.0), ("1", "tight", 3.0))
    ]
    only = state_of({"shifter-1.gear": "R", "driver-1.belts": "tight"})
    assert [one.value for one in holding(told, only)] == [1.0]


@pytest.mark.parametrize("notch", ["1", "6", "12"])
def test_a_pair_judged_on_the_way_only_is_told_by_the_way(notch: str) -> None:
    """A seat over the whole of its rails passes every notch; where a notch was judged, that is the answer."""
    way = at("seat-console", CONSOLE, 14.0, notch="1-12")
    there = at("seat-console", CONSOLE, 20.0, notch="6")
    only = state_of({"seat-1.notch": notch})
    assert holding((way,), only) == (way,)
    assert holding((way, there), only) == ((there,) if notch == "6" else (way,))


def test_a_pair_judged_elsewhere_only_is_counted_and_not_shown() -> None:
    told = (at("hand-scan", HAND, 9.0, notch="6"), at("seat-console", CONSOLE, 14.0, notch="1-12"))
    only = state_of({"seat-1.notch": "1"})
    assert holding(told, only) == told[1:]
    assert not_judged(told, only) == {pair_of(told[0])}


def test_a_stop_that_is_gone_asks_for_nothing() -> None:
    told = (at("hand-vessel", HAND, -6.0, gear="R"), at("hand-vessel", HAND, 9.0, gear="1"))
    only = state_of({"shifter-1.gear": "6", "armrest-1.lid": "open"})
    assert in_effect(told, only) == ()
    assert holding(told, only) == told
    assert matrix(told, layout(), only=only) == matrix(told, layout())


def test_as_the_car_stands_but_for_what_is_named() -> None:
    told = [
        at("hand-vessel", HAND, float(n), gear=gear, belts=belts)
        for n, (gear, belts) in enumerate((g, b) for g in ("N", "R") for b in ("tight", "loose"))
    ]
    standing = state_of({"shifter-1.gear": "N", "driver-1.belts": "tight"})
    made = matrix(told, layout(), standing=standing, only=state_of({"shifter-1.gear": "R"}))
    cells = {(c.stop, cell.value) for c, cell in zip(made.columns, made.rows[0].cells, strict=True) if cell}
    assert cells == {("R", "2"), ("tight", "2"), ("loose", "3")}


def test_choices_are_said_as_a_builder_says_them() -> None:
    told = [
        finding("hand-vessel", HAND, 9.0, state=state_of(state))
        for state in (
            {"shifter-1.gear": "R", "seat-1.notch": "1-12", "driver-1.belts": "tight"},
            {"handbrake-1.lever": "down-half", "vessel-1.place": "in", "armrest-1.lid": "open"},
            {"handbrake-1.lever": "up"},
        )
    ]
    offered = {choice.axis: [stop.words for stop in choice.stops] for choice in choices(told, layout())}
    assert offered == {
        "shifter-1.gear": ["in reverse"],
        "driver-1.belts": ["belts tight"],
        "seat-1.notch": ["seat full back", "seat full forward"],
        "handbrake-1.lever": ["handbrake down", "handbrake half up", "handbrake up"],
        "armrest-1.lid": ["lid open"],
        "vessel-1.place": ["bottle in"],
    }


def test_two_of_a_kind_are_told_apart() -> None:
    [seat], vessel = layout().seats, next(one for one in layout().items if isinstance(one, Vessel))
    assert isinstance(seat, Seat)
    held = layout(
        seats=(seat, replace(seat, id="seat-2", name="Passenger seat")),
        items=(*layout().items, replace(vessel, id="vessel-2", name="Flask")),
    )
    told = [
        finding("hand-vessel", HAND, 9.0, state=state_of({axis: stop}))
        for axis, stop in (
            ("seat-1.notch", "1"),
            ("seat-2.notch", "1"),
            ("vessel-1.place", "in"),
            ("vessel-2.place", "in"),
            ("driver-1.belts", "tight"),
            ("driver-2.belts", "tight"),
        )
    ]
    words = [stop.words for choice in choices(told, held) for stop in choice.stops]
    assert len(set(words)) == len(words), words
    assert "driver seat full back" in words
    short = {stop.words: stop.short for choice in choices(told, held) for stop in choice.stops}
    assert short["driver seat full back"] == "full back"
    assert "flask in" in words


def test_what_is_named_is_said_in_the_order_of_the_work() -> None:
    offered = choices(findings(), layout())
    only = with_stop(with_stop((), "vessel-1.place", "in"), "shifter-1.gear", "R")
    assert only_words(offered, only) == ("in reverse", "bottle in")
    assert with_stop(only, "vessel-1.place", "") == (("shifter-1.gear", "R"),)
    assert dict(with_stop(only, "shifter-1.gear", "1"))["shifter-1.gear"] == "1"
