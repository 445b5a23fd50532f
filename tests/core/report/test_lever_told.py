"""The lever's answer in words: one sentence, a table now and then, remarks, for mm and inches."""

import dataclasses

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan.advice.lever_for_knob import LeverAnswer, lever_for_knob
from floorpan.advice.lever_freedom import LeverFreedom
from floorpan.frames import Vector
from floorpan.items import Shifter, gate_table
from floorpan.items.shifter_gate import lever_states
from floorpan.report import lever_words as said
from floorpan.report.blocks import Heading, Prose, Table
from floorpan.report.lever_told import (
    answer_text,
    lever_blocks,
    margin_text,
    nearest_text,
    now_then_rows,
    opening_text,
    remark_texts,
)

LAYOUT = small_layout(raw_scan(level_floor(cells=4)))
[SHIFTER] = LAYOUT.of(Shifter)
NOTHING = LeverFreedom(length_free=False, bend_free=False, raise_free=False, tilt_free=False, move_free=False)


def at(*by: float, shifter: Shifter = SHIFTER) -> Vector:
    x, y, z = gate_table(shifter)[0].knob_mm
    return (x + by[0], y + by[1], z + by[2])


def only(**free: object) -> LeverFreedom:
    return dataclasses.replace(NOTHING, **free)  # type: ignore[arg-type]


def asked(target: Vector, free: LeverFreedom, shifter: Shifter = SHIFTER) -> LeverAnswer:
    return lever_for_knob(shifter, target, free)


def test_one_deed_is_told_as_all_there_is() -> None:
    raised = asked(at(0, 0, 50), only(raise_free=True))
    assert answer_text(raised, "mm") == "Raise the box 50 mm and nothing else."
    assert answer_text(raised, "in") == "Raise the box 1\u200915\u204416 in and nothing else."
    moved = asked(at(37, -21, 0), only(move_free=True))
    assert answer_text(moved, "mm") == "Move the box 37 mm rearward and 21 mm left and nothing else."
    there = asked(at(0, 0, 0), LeverFreedom())
    assert answer_text(there, "mm") == said.NO_CHANGE
    assert nearest_text(there, "mm") == ""


def test_a_longer_bent_lever_is_told_with_its_bend() -> None:
    answer = asked(at(50, 0, 20), only(length_free=True, bend_free=True))
    assert answer.bend is not None
    longer = answer.readings.rod_mm - answer.present.rod_mm
    told = answer_text(answer, "mm")
    assert told.startswith(f"A lever {longer:.0f} mm longer, bent ")
    assert "\u00b0 rearward, 40 mm below the boot\u2019s edge, and nothing else." in told
    again = asked(at(0, 0, 0, shifter=answer.shifter), LeverFreedom(), answer.shifter)
    assert answer_text(again, "mm") == said.NO_CHANGE


@pytest.mark.parametrize(
    ("by", "way"),
    [
        ((-40, 0, 0), " forward, 40"),
        ((0, 40, 0), " right, 40"),
        ((0, -40, 0), " left, 40"),
        ((35, 35, 0), "rearward and right"),
    ],
)
def test_the_way_of_a_bend_is_the_way_the_knob_goes(by: Vector, way: str) -> None:
    answer = asked(at(*by), only(bend_free=True, length_free=True))
    assert answer.met
    assert way in answer_text(answer, "mm")


def test_a_knob_out_of_reach_is_told_with_what_holds_it_off() -> None:
    """A lever that ends 18 mm short of a target on its own line falls short by 18 mm."""
    stick = lever_states(SHIFTER)["N"].stick()
    x, y, z = (float(v) for v in gate_table(SHIFTER)[0].knob_mm + 128.0 * stick)
    answer = asked((x, y, z), only(length_free=True))
    assert answer_text(answer, "mm").startswith("18 mm short: the lever is at its longest and ")
    assert nearest_text(answer, "mm") == "The nearest it comes: a lever 110 mm longer."
    assert answer_text(asked(at(3, 4, 0), NOTHING), "mm").startswith("5 mm short: ")


def test_now_and_then_side_by_side() -> None:
    """The throw of 240 and 290 mm at 12 degrees: lever times the sine, 50 and 60 mm; effort 240 / 290."""
    stick = lever_states(SHIFTER)["N"].stick()
    x, y, z = (float(v) for v in gate_table(SHIFTER)[0].knob_mm + 50.0 * stick)
    answer = asked((x, y, z), only(length_free=True))
    rows = {row.what: (row.is_now, row.will_be) for row in now_then_rows(answer, "mm")}
    assert rows[said.LENGTH] == ("240 mm", "290 mm")
    assert rows[said.THROW] == ("50 mm", "60 mm")
    assert rows[said.EFFORT] == ("\u00d7 1", "\u00d7 0.83")
    assert rows[said.CUT] == ("150 \u00d7 120 mm",) * 2
    assert rows[said.NEEDED][0] == rows[said.NEEDED][1], "a longer lever is as thick at the console's top"
    assert {row.what: row.is_now for row in now_then_rows(answer, "in")}[said.LENGTH] == "9\u20097\u204416 in"
    assert margin_text(answer, "mm").endswith("and 8 mm (common practice, no source).")


def test_remarks_carry_their_source_in_the_shown_unit() -> None:
    stick = lever_states(SHIFTER)["N"].stick()
    x, y, z = (float(v) for v in gate_table(SHIFTER)[0].knob_mm + 110.0 * stick)
    answer = asked((x, y, z), only(length_free=True))
    unusual = remark_texts(answer, "mm", unusual_only=True)
    assert unusual[0] == "Throw each way: 73 mm; 40 mm to 65 mm is usual (common practice, no source)."
    assert len(unusual) < len(remark_texts(answer, "mm"))
    assert remark_texts(answer, "in")[0].startswith("Throw each way: 2\u20097\u20448 in; ")


def test_the_section_has_table_remarks_and_caution_and_is_not_there_without_a_target() -> None:
    answer = asked(at(0, 0, 50), only(raise_free=True))
    assert lever_blocks(LAYOUT, None, answer, "mm") == ()
    assert lever_blocks(LAYOUT, at(0, 0, 50), None, "mm") == ()
    blocks = lever_blocks(LAYOUT, at(0, 0, 50), answer, "mm")
    assert blocks[0] == Heading(text=said.LEVER, level=2)
    [table] = [block for block in blocks if isinstance(block, Table)]
    assert [row[0].text for row in table.rows] == [row.what for row in now_then_rows(answer, "mm")]
    prose = [block for block in blocks if isinstance(block, Prose)]
    assert prose[-1].text == said.CAUTION
    assert "Spacers of 50 mm are not drawn; the box stands on nothing." in [one.text for one in prose]


def test_less_than_is_told_is_not_short() -> None:
    answer = asked(at(0.2, 0.2, 50), only(raise_free=True))
    assert not answer.met
    assert answer_text(answer, "mm") == "Raise the box 50 mm and nothing else."
    assert nearest_text(answer, "mm") == ""


def test_an_opening_that_lacks_room_is_told() -> None:
    """The box 50 rearward under an opening that stays: half of 150 less half the need less 50 is the room left."""
    answer = asked(at(50, 0, 0), only(move_free=True))
    need = answer.readings.opening
    left = (150.0 - need.length_mm) / 2 - abs(need.back_mm + 50.0)
    assert answer.readings.spare_mm == pytest.approx(left, abs=1e-3)
    assert left < 0.0
    lacks = f"{-left:.0f} mm on its worst side."
    assert opening_text(answer, "mm").endswith(lacks)
    assert opening_text(asked(at(0, 0, 0), LeverFreedom()), "mm") == ""
    texts = [
        block.text for block in lever_blocks(LAYOUT, at(50, 0, 0), answer, "mm") if isinstance(block, Prose)
    ]
    assert opening_text(answer, "mm") in texts
