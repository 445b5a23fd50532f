"""Which findings get a line over the picture, and what their tickets say. Made-up findings, no window."""

from dataclasses import replace
from typing import Any

import pytest

from floorpan.checks import Finding
from floorpan.checks.finding import rank, verdict_of
from floorpan.items import Seat, Shifter, vessel_of
from floorpan.items.states import State, state_of
from floorpan.layout import Layout
from floorpan.limits import LIMITS
from floorpan_app.stage.gap_marks import Question, gap_lines, told
from floorpan_app.stage.states import agrees

LAYOUT = Layout(
    items=(Shifter(id="shifter-1"), vessel_of("can-355", "vessel-1")), seats=(Seat(id="seat-1", name="Seat"),)
)
STOPS = {"shifter-1.gear": "3", "seat-1.notch": "6"}
ASKED = Question(layout=LAYOUT, system="mm", stops=STOPS)


def found(
    subjects: tuple[str, ...], value: float | None, check: str = "hand-vessel", **fields: Any
) -> Finding:
    """A gap of a value, or an unseen one."""
    gear = fields.pop("gear", "3")
    state: State = state_of({"shifter-1.gear": gear}) if gear else ()
    limit = LIMITS[check]
    verdict = "unseen" if value is None else verdict_of(value, 2.0, limit, is_gap=True)
    return replace(
        Finding(
            check=check,
            subjects=subjects,
            state=state,
            verdict=verdict,
            value=value,
            uncertainty=2.0,
            doubts=(),
            limit=limit,
            at_mm=((0.0, 0.0, 0.0), (value or 30.0, 0.0, 0.0)),
        ),
        **fields,
    )


def ordered(*findings: Finding) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=rank))


HAND_VESSEL = ("driver-1.hand", "vessel-1")


def test_a_state_agrees_where_it_is_shown_or_a_way_touches_it() -> None:
    for stop, holds in (("3", True), ("N-3", True), ("4", False), ("N-4", False)):
        assert agrees(state_of({"shifter-1.gear": stop}), STOPS) is holds
    for stop, holds in (("6", True), ("1-12", True), ("7", False), ("6-7", True), ("7-12", False)):
        assert agrees(state_of({"seat-1.notch": stop}), STOPS) is holds
    assert agrees(state_of({"vessel-9.place": "in"}), STOPS)
    assert agrees((), STOPS)


def test_the_shown_state_is_told_and_of_others_only_the_tight_spot() -> None:
    tight = found(HAND_VESSEL, -6.0, gear="R")
    other = found(("driver-1.hand", "scan-1.dash"), 5.0, "hand-scan", gear="4")
    here = found(("driver-1.hand", "scan-1"), 8.0, "hand-scan")
    clear = found(("shifter-1.lever", "vessel-1"), 90.0, "lever-vessel")
    assert told(ordered(clear, here, other, tight), ASKED) == (tight, here)


def test_of_a_pair_the_worst_is_told_and_of_all_seven_at_most() -> None:
    pairs = [found(("driver-1.hand", f"scan-1.area-{n}"), 3.0 + n, "hand-scan") for n in range(9)]
    twice = found(("driver-1.hand", "scan-1.area-0"), 12.0, "hand-scan", gear="N-3")
    lines = told(ordered(twice, *pairs), ASKED)
    assert lines == tuple(pairs[:7])


def test_what_is_not_seen_for_one_place_is_told_once_by_whoever_is_nearest() -> None:
    rim = (500.0, 0.0, 0.0)
    near = found(("driver-1.hand", "scan-1"), None, "hand-scan", at_mm=((400.0, 0.0, 0.0), rim))
    far = found(("shifter-1.lever", "scan-1"), None, "lever-scan", at_mm=((100.0, 0.0, 0.0), rim))
    elsewhere = found(
        ("seat-1", "scan-1"), None, "seat-scan", at_mm=((0.0, 0.0, 0.0), (0.0, 300.0, 0.0)), gear=""
    )
    tight = found(HAND_VESSEL, -6.0)
    lines = told(ordered(near, far, elsewhere, tight), ASKED)
    assert set(lines) == {tight, near, elsewhere}


def test_what_is_in_hand_shows_its_smallest_gap_even_a_clear_one() -> None:
    tight = found(HAND_VESSEL, -6.0, gear="R")
    wide = found(("seat-1", "vessel-1"), 120.0, "seat-vessel", gear="")
    wider = found(("shifter-1.lever", "vessel-1"), 140.0, "lever-vessel")
    in_hand = replace(ASKED, in_hand=frozenset({"vessel-1"}))
    assert told(ordered(tight, wide, wider), in_hand) == (tight, wide)
    stale = replace(wide, stale=True)
    dragged = replace(in_hand, dragged=True)
    assert told(ordered(tight, stale, wider), dragged) == (tight, wider)


def test_while_something_moves_what_was_judged_anew_speaks_for_its_pair() -> None:
    way = replace(found(HAND_VESSEL, -6.0, gear="N-R"), stale=True)
    now = found(HAND_VESSEL, 12.0, gear="R")
    other = replace(found(("driver-1.hand", "scan-1"), 8.0, "hand-scan"), stale=True)
    dragged = replace(ASKED, dragged=True)
    for asked in (dragged, ASKED):
        assert told(ordered(way, now, other), asked) == ordered(now, other)
    lines = gap_lines(ordered(way, now, other), dragged)
    assert [line.ring for line in lines] == [True, False]
    assert [line.stale for line in lines] == [finding.stale for finding in ordered(now, other)]


def test_the_chosen_one_is_told_and_alone_means_the_tight_spot_only() -> None:
    tight = found(HAND_VESSEL, -6.0, gear="R")
    clear = found(("shifter-1.lever", "vessel-1"), 90.0, "lever-vessel")
    short = found(("driver-1.hand", "scan-1"), 8.0, "hand-scan")
    held = ordered(tight, clear, short)
    assert told(held, replace(ASKED, chosen=clear.id)) == (tight, short, clear)
    assert told(held, replace(ASKED, alone=True)) == (tight,)
    assert told((), ASKED) == ()


def test_a_ticket_carries_value_give_or_take_and_the_other_part() -> None:
    tight = found(HAND_VESSEL, -6.2)
    (line,) = gap_lines((tight,), ASKED)
    assert (line.verdict, line.value_text, line.u_text, line.part) == ("hits", "\u22127", "\u00b1 2", "can")
    assert line.ring
    assert line.sentence.startswith("Knuckles hit the can in 3rd by 7 mm")
    (mine,) = gap_lines((tight,), replace(ASKED, in_hand=frozenset({"vessel-1"})))
    assert mine.part == "knuckles"
    (inches,) = gap_lines((tight,), replace(ASKED, system="in"))
    assert "\u2044" in inches.value_text


def test_an_unseen_ticket_says_probe_here_and_a_place_is_missing_nowhere() -> None:
    unseen = found(("driver-1.hand", "scan-1"), None, "hand-scan")
    nowhere = replace(found(HAND_VESSEL, -1.0), at_mm=None)
    (line,) = gap_lines(ordered(unseen, nowhere), ASKED)
    assert (line.verdict, line.value_text, line.doing) == ("unseen", "unseen", "probe here")


def test_a_reach_that_is_the_tight_spot_is_ringed_at_the_grip() -> None:
    grip = (50.0, 0.0, 300.0)
    reach = replace(
        found(("driver-1.hand", "shifter-1.knob"), -30.0, "reach"),
        is_gap=False,
        verdict="short",
        at_mm=((400.0, -300.0, 600.0), grip),
    )
    (line,) = gap_lines((reach,), ASKED)
    assert (line.a_mm, line.b_mm, line.ring) == (grip, grip, True)


@pytest.mark.parametrize("value", [29.0, 31.0])
def test_close_ones_are_told(value: float) -> None:
    limit = LIMITS["hand-scan"].value
    near = found(("driver-1.hand", "scan-1"), limit + (value - 30.0), "hand-scan")
    assert near.verdict == "close"
    assert told((near,), ASKED) == (near,)


def test_of_what_is_moved_nothing_from_before_the_move_stands_in_the_picture() -> None:
    """A hit where the bottle stood before is no hit where it is carried; of what stays it still is one."""
    old = found(HAND_VESSEL, -48.0, stale=True)
    other = found(("shifter-1.lever", "seat-1"), 4.0, "lever-seat", stale=True)
    near = found(("driver-1.hand", "seat-1"), 4.0, "hand-seat")
    every = ordered(old, other, near)
    dragged = replace(ASKED, in_hand=frozenset({"vessel-1"}), dragged=True)
    assert {one.id for one in told(every, dragged)} == {other.id, near.id}
    assert old in told(every, replace(dragged, dragged=False))
    assert old.id not in {line.id for line in gap_lines(every, dragged)}
