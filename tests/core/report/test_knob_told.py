"""Where the knob should be, in words: the move, what is short, the sides, and no place."""

import functools
from dataclasses import replace

import numpy as np
import pytest

from core.advice.test_knob_for_driver import a_layout, advice_on
from floorpan import edits
from floorpan.advice.knob_costs import Worse
from floorpan.advice.knob_for_driver import LOOKED_AT_MM, NOT_LOOKED, KnobAdvice
from floorpan.advice.knob_question import Cause
from floorpan.advice.knob_region import KnobSide, Roomiest
from floorpan.checks import Finding, Verdict
from floorpan.items.states import state_of
from floorpan.layout import Layout
from floorpan.limits import LIMITS
from floorpan.report.blocks import Heading, Prose, Table
from floorpan.report.knob_told import (
    answer_text,
    cause_text,
    knob_blocks,
    note_text,
    now_text,
    side_rows,
    told_sides,
    ways_text,
    worse_text,
)
from floorpan.report.naming import capital, small
from floorpan.report.sentences import short_title
from floorpan.units import System

LAYOUT = a_layout(x_mm=20.0)
RIGHT = replace(LAYOUT, driver_side="right")
NONE_DO = edits.change_person(
    edits.change(a_layout(), "seat-1", notches=12, notch_mm=25.0),
    "driver-1",
    notches_used=(1, 12),
    elbow_least_deg=110.0,
    elbow_most_deg=125.0,
)


@functools.cache
def advice(layout: Layout = LAYOUT) -> KnobAdvice:
    return advice_on(layout)


def moved(*by: int) -> KnobAdvice:
    """The same answer with another move."""
    move = advice().move
    assert move is not None
    x, y, z = by
    return replace(advice(), move=replace(move, move_mm=(x, y, z)))


def test_a_move_is_told_by_the_ways_of_the_car() -> None:
    assert answer_text(moved(9, -4, 4), LAYOUT, "mm") == "Move it 9 rearward, 4 to the driver side, 4 up."
    assert (
        answer_text(moved(-12, 7, -30), LAYOUT, "mm")
        == "Move it 12 forward, 7 to the passenger side, 30 down."
    )
    assert answer_text(moved(0, 7, 0), LAYOUT, "mm") == "Move it 7 to the passenger side."


def test_with_the_driver_at_the_right_the_sides_change_places() -> None:
    assert ways_text((0.0, 7.0, 0.0), RIGHT, "mm") == "7 to the driver side"
    assert ways_text((0.0, -7.0, 0.0), RIGHT, "mm") == "7 to the passenger side"


def test_in_inches_every_length_has_its_unit() -> None:
    told = answer_text(moved(51, 0, -13), LAYOUT, "in")
    assert told == "Move it 2 in rearward, 1\u20442 in down."


def test_the_answer_is_the_found_move_and_what_is_short_now_the_found_room() -> None:
    move = advice().move
    assert move is not None
    assert move.move_mm is not None
    assert answer_text(advice(), LAYOUT, "mm").startswith(f"Move it {move.move_mm[0]} rearward")
    assert now_text(advice(), "mm") == (
        f"Where it is now, {'5th' if move.cause.gear == '5' else '3rd'} misses by {-move.margin_mm:.0f} mm: "
        "elbow too straight."
    )


def test_a_knob_inside_is_well_placed_and_nothing_is_short() -> None:
    move = advice().move
    assert move is not None
    assert move.move_mm is not None
    layout = edits.shift(LAYOUT, "shifter-1", (move.move_mm[0] + 12, *move.move_mm[1:]))
    found = advice(layout)
    assert found.move is not None
    assert found.move.inside
    room, cause = found.move.margin_mm, cause_text(found.move.cause)
    assert answer_text(found, layout, "mm") == f"It is well placed: {room:.0f} mm to spare to {cause}."
    assert now_text(found, "mm") == ""
    assert found.by_mm == (0.0, 0.0, 0.0)


def test_causes_are_told_by_their_gear() -> None:
    assert cause_text(Cause(name="elbow too straight", gear="5", arm="x")) == "elbow too straight in 5th"
    assert cause_text(Cause(name="thigh", gear="1")) == "thigh in 1st"
    assert cause_text(Cause(name="wheel rim", gear="R")) == "wheel rim in reverse"
    assert cause_text(Cause(name="scan", gear="N")) == "the rest of the scan in neutral"


def no_place(*causes: Cause, margin: float = -14.0, at_most: float = -13.0) -> KnobAdvice:
    region = advice(NONE_DO).region
    x, y, z = region.question.present_mm
    roomiest = Roomiest(place_mm=(x + 30.0, y, z - 20.0), margin_mm=margin, at_most_mm=at_most, causes=causes)
    return replace(advice(NONE_DO), region=replace(region, roomiest=roomiest))


STRAIGHT, BENT = Cause(name="elbow too straight", gear="5", arm="a"), Cause(name="elbow too bent", gear="2")
THIGH, FAR = Cause(name="thigh", gear="1"), Cause(name=NOT_LOOKED, gear="neutral")


def test_no_place_names_what_clashes_and_the_least_bad() -> None:
    told = answer_text(no_place(STRAIGHT, THIGH), LAYOUT, "mm")
    assert told == (
        "No place: elbow too straight in 5th and thigh in 1st clash by 14 mm; least bad 30 rearward, 20 down."
    )
    told = answer_text(no_place(STRAIGHT, BENT, THIGH, replace(STRAIGHT, gear="3")), LAYOUT, "mm")
    assert "elbow too straight in 5th, elbow too bent in 2nd and thigh in 1st clash" in told
    assert answer_text(no_place(STRAIGHT), LAYOUT, "mm") == (
        "No place: 5th misses by 14 mm, elbow too straight; least bad 30 rearward, 20 down."
    )
    assert answer_text(no_place(THIGH), LAYOUT, "mm").startswith(
        "No place: 1st misses by 14 mm, too near the thigh;"
    )
    assert "too near the rest of the scan" in answer_text(no_place(replace(THIGH, name="scan")), LAYOUT, "mm")


def test_what_was_not_looked_at_is_no_limit_of_the_driver() -> None:
    told = answer_text(no_place(STRAIGHT, FAR), LAYOUT, "mm")
    assert told == (
        "No place within 200 mm of it: the best there, 30 rearward, 20 down, is 14 mm short for elbow too straight "
        "in 5th."
    )
    assert NOT_LOOKED not in told


def test_a_search_that_is_not_sure_says_so() -> None:
    told = answer_text(no_place(STRAIGHT, margin=-0.2, at_most=0.6), LAYOUT, "mm")
    assert told == (
        "No place was found; if there is one, it has 1 mm to spare at most. Least bad 30 rearward, 20 down."
    )


def test_no_place_of_a_real_layout() -> None:
    found = advice(NONE_DO)
    told = answer_text(found, NONE_DO, "mm")
    assert told.startswith("No place")
    assert f"{-found.region.roomiest.margin_mm:.0f} mm" in told
    assert side_rows(found, NONE_DO, "mm") == ()
    place = np.array(found.region.roomiest.place_mm)
    assert found.place_mm == pytest.approx(tuple(place))


def test_the_sides_are_named_by_where_they_lie() -> None:
    layout = a_layout(x_mm=200.0)
    rows = {row.what: row for row in side_rows(advice(layout), layout, "mm")}
    assert rows["elbow too straight"].side == "front"
    assert rows["elbow too straight"].detail.startswith("in ")
    assert rows["elbow too straight"].detail.endswith(("notch 1", "notch 3"))
    # Too bent is towards the shoulder: the side that lies most that way.
    region, bent = advice(layout).region, next(one for one in advice(layout).sides if "bent" in one.name)
    arm = next(one for one in region.question.arms if one.name == bent.cause.arm)
    grip = region.question.grips_mm[region.question.gears.index(bent.cause.gear)]
    way = np.array(arm.shoulder_mm) - grip - np.array(bent.at_mm)
    assert rows["elbow too bent"].side == ("rear", "driver side", "above")[int(np.abs(way).argmax())]
    assert rows["thigh"].side in ("below", "driver side")
    shares = [side.share for side in told_sides(advice())]
    assert told_sides(advice())[-1].name == NOT_LOOKED, "that is no limit of the driver"
    assert shares[:-1] == sorted(shares[:-1], reverse=True)
    assert [row.share for row in side_rows(advice(), LAYOUT, "mm")] == [f"{100 * one:.0f}" for one in shares]


def test_where_nobody_looked_is_told_by_the_ends_of_the_search() -> None:
    row = next(row for row in side_rows(advice(), LAYOUT, "mm") if not row.limits)
    assert (row.what, row.detail) == (NOT_LOOKED, "over 200 mm off")
    region = advice().region
    off = region.field.places(np.argwhere(region.field.margin >= 0.0)) - np.array(region.question.present_mm)
    end = LOOKED_AT_MM - region.field.spacing_mm
    assert ("rear" in row.side) == bool(off[:, 0].max() >= end)
    assert ("above" in row.side) == bool(off[:, 2].max() >= end)
    both = bool(off[:, 1].max() >= end and off[:, 1].min() <= -end)
    assert ("both sides" in row.side) == both


def test_two_drivers_are_told_apart() -> None:
    people = (*LAYOUT.people, replace(LAYOUT.people[0], id="driver-2", name="Other"))
    details = [row.detail for row in side_rows(advice(), replace(LAYOUT, people=people), "mm")]
    assert any("Driver, notch" in detail for detail in details)


def test_a_sliver_of_the_surface_is_no_side() -> None:
    sliver = KnobSide(name="dash", cause=advice().region.causes[0], at_mm=(0.0, 0.0, 0.0), share=0.004)
    found = replace(advice(), sides=(*advice().sides, sliver))
    assert "dash" not in [side.name for side in told_sides(found)]


def test_the_note_says_for_whom_and_how_far() -> None:
    note = note_text(advice(), "mm")
    assert "belts tight" in note
    assert "the hand 15 mm clear" in note
    assert "within 200 mm of the knob" in note
    assert "beyond that nothing is said" in note


def test_the_section_of_the_papers() -> None:
    blocks = knob_blocks(advice(), LAYOUT, "mm")
    heading, answer, table, note = blocks
    assert isinstance(heading, Heading)
    assert heading.text == "Where the knob should be"
    assert isinstance(answer, Prose)
    assert answer.text == f"{answer_text(advice(), LAYOUT, 'mm')} {now_text(advice(), 'mm')}"
    assert isinstance(table, Table)
    assert sum(column.share for column in table.columns) == pytest.approx(1.0)
    rows = side_rows(advice(), LAYOUT, "mm")
    assert [[cell.text for cell in row] for row in table.rows] == [
        [capital(row.side), capital(row.what), row.detail, row.share] for row in rows
    ]
    # What limits stands out; where nobody looked does not.
    assert [row[1].bold for row in table.rows] == [row.limits for row in rows]
    assert isinstance(note, Prose)
    assert note.text == note_text(advice(), "mm")


def lost(value: float, now: float, gear: str = "R", verdict: Verdict = "hits") -> Worse:
    """The hand to the can, in a gear."""
    state = state_of({"shifter-1.gear": gear, "vessel-1.place": "in"})
    there = Finding(
        check="hand-vessel",
        subjects=("driver-1.hand", "vessel-1"),
        state=state,
        verdict=verdict,
        value=None if verdict == "unseen" else value,
        uncertainty=1.5,
        doubts=(),
        limit=LIMITS["hand-vessel"],
    )
    return Worse(there, replace(there, value=now, verdict="hits"))


def test_what_gets_worse_there_is_one_line() -> None:
    def told(*worse: Worse, system: System = "mm") -> str:
        return worse_text(moved(9, -4, 4), worse, LAYOUT, system)

    first, fourth = lost(-15.0, -6.5), lost(3.0, 9.0, "4", "short")
    unseen = lost(0.0, 9.0, "2", "unseen")
    can = small(short_title(first.there, LAYOUT))
    assert can.startswith("knuckles \u2013 ")
    assert can.endswith(", reverse")
    assert told(first) == f"There, {can} gets worse: \u221215 (\u22126.5 now)."
    assert told(first, fourth) == f"There, {can} gets worse: \u221215 (\u22126.5 now); and 1 more."
    assert told(first, fourth, unseen).endswith("; and 1 more; 1 becomes unseen.")
    assert told(unseen, first, unseen).endswith("now); 2 become unseen.")
    assert told() == "No other gap gets worse there."
    assert told(unseen) == "No other gap gets worse there; 1 becomes unseen."
    assert told(first, system="in").endswith(" in now).")


def test_where_it_stays_or_nobody_looked_nothing_is_said_to_get_worse() -> None:
    assert worse_text(advice(), None, LAYOUT, "mm") == ""
    assert worse_text(moved(0, 0, 0), (lost(-15.0, -6.5),), LAYOUT, "mm") == ""


def test_the_papers_tell_what_gets_worse_after_the_answer() -> None:
    worse = (lost(-15.0, -6.5),)
    answer = knob_blocks(advice(), LAYOUT, "mm", worse)[1]
    assert isinstance(answer, Prose)
    assert answer.text.endswith(f"{now_text(advice(), 'mm')} {worse_text(advice(), worse, LAYOUT, 'mm')}")


def test_a_section_without_a_region_has_no_table_and_without_an_answer_nothing() -> None:
    assert not any(isinstance(block, Table) for block in knob_blocks(advice(NONE_DO), NONE_DO, "mm"))
    assert knob_blocks(None, LAYOUT, "mm") == ()
