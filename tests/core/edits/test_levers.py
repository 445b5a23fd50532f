"""Taking up a lever that was worked out: one edit, and nothing but what is built otherwise."""

import dataclasses

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.advice.lever_for_knob import lever_for_knob
from floorpan.advice.lever_freedom import LeverFreedom
from floorpan.errors import NoSuchThing, WrongStep
from floorpan.items import Shifter, gate_table
from floorpan.layout import Layout

LAYOUT = small_layout(raw_scan(level_floor(cells=4)))


def shifter_of(layout: Layout) -> Shifter:
    [shifter] = layout.of(Shifter)
    return shifter


def test_the_knob_stands_on_its_target_once_the_lever_is_taken_up() -> None:
    x, y, z = gate_table(shifter_of(LAYOUT))[0].knob_mm
    target = (x + 55.0, y + 20.0, z + 30.0)
    answer = lever_for_knob(shifter_of(LAYOUT), target, LeverFreedom())
    built = shifter_of(edits.adopt_lever(LAYOUT, answer.shifter))
    assert gate_table(built)[0].knob_mm == pytest.approx(target, abs=1e-6)
    assert answer.bend is not None
    assert (built.bend_deg, built.bend_mm) == pytest.approx((answer.bend.deg, answer.bend.at_mm))
    assert built == answer.shifter


def test_what_was_changed_meanwhile_and_has_nothing_to_do_with_the_lever_stays() -> None:
    answer = lever_for_knob(
        shifter_of(LAYOUT), gate_table(shifter_of(LAYOUT))[0].knob_mm, LeverFreedom(bend_free=False)
    )
    named = edits.change(LAYOUT, "shifter-1", name="Mine", throw_deg=11.0)
    built = shifter_of(edits.adopt_lever(named, answer.shifter))
    assert (built.name, built.throw_deg) == ("Mine", 11.0)


def test_a_locked_box_takes_another_lever_but_does_not_move() -> None:
    present = shifter_of(LAYOUT)
    locked = edits.lock(LAYOUT, "shifter-1", True)
    longer = dataclasses.replace(present, lever_mm=270.0)
    taken = shifter_of(edits.adopt_lever(locked, longer))
    assert (taken.lever_mm, taken.locked) == (270.0, True)
    moved = dataclasses.replace(longer, place=dataclasses.replace(present.place, x_mm=40.0))
    with pytest.raises(WrongStep, match="is locked"):
        edits.adopt_lever(locked, moved)


def test_a_shifter_that_is_gone_takes_no_lever() -> None:
    with pytest.raises(NoSuchThing):
        edits.adopt_lever(edits.remove(LAYOUT, "shifter-1"), shifter_of(LAYOUT))
