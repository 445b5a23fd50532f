"""Putting a lever that was worked out in the place of the present one."""

from dataclasses import replace

from floorpan.edits.things import change
from floorpan.errors import WrongStep
from floorpan.items import Shifter
from floorpan.layout import Layout

# What a lever that is built otherwise changes of its shifter; name, gate and box stay.
_BUILT = (
    "place",
    "stands_on",
    "pivot_mm",
    "pivot_back_mm",
    "pivot_right_mm",
    "lever_mm",
    "lean_deg",
    "side_lean_deg",
    "bend_deg",
    "bend_turn_deg",
    "bend_mm",
    "opening_mm",
    "opening_back_mm",
    "knobs",
)


def adopt_lever(layout: Layout, built: Shifter) -> Layout:
    """The shifter of that id with lever, bend and box as worked out for a wanted knob, in one edit.

    built : the shifter of a lever's answer; everything but lever, bend, box place and opening stays as it is

    Raises NoSuchThing where the shifter is gone, WrongStep where its box would move and is locked.
    """
    present = layout.thing(built.id)
    assert isinstance(present, Shifter)
    moves = replace(built.place, turn_deg=0.0) != replace(present.place, turn_deg=0.0)
    if present.locked and moves:
        raise WrongStep(
            "locked",
            f"{present.name} is locked.",
            "Unlock it first, or leave its box where it is.",
            id=built.id,
        )
    return change(layout, built.id, **{name: getattr(built, name) for name in _BUILT})
