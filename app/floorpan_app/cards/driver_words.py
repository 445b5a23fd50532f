"""Every sentence and label of two parts of the driver's card: the old seat, and who else reaches."""

from typing import Final

MOVED: Final = "Why it moved away"
SHOULDER_TO_KNOB: Final = "shoulder to knob"
NOTHING_KEPT: Final = (
    "Keep seat and knob as they stand before you change the seat: then this tells what each change does to "
    "the reach."
)
KEEP: Final = "Keep seat and knob as the old ones"
KEEP_NOTE: Final = "The seat is kept at notch {notch}, as it is shown now."
KEEP_INSTEAD: Final = "Keep these as the old ones instead"
FORGET: Final = "Forget the old ones"
KEEP_ENTRY: Final = "keep the old seat and knob"
FORGET_ENTRY: Final = "forget the old seat and knob"
OLD_ENTRY: Final = "change the old seat and knob"
NO_OLD_KNOB: Final = "The old seat is kept, the old knob is not: type where it stood."
NO_OLD_SEAT: Final = "The old knob is kept, the old seat is not: type where it stood."
AT_NOTCH: Final = "Old seat at notch {old}, this one at notch {notch}."
TYPE_OLD: Final = "Type the old ones"
FOLD_OLD: Final = "Fold away"
OLD_SEAT: Final = "Old seat reference point"
OLD_KNOB: Final = "Old knob, in neutral"
OLD_TORSO: Final = "Old torso from upright"
WAYS: Final = ("nearer", "further")
BAR_SPOKEN: Final = "{cause}: {did}"

BELTS_TIGHT: Final = "belts tight"
WHO_NEEDS: Final = "Place a shifter on the floor first: then this counts how many drivers reach its gears."
COUNTING: Final = "Counting who reaches, {percent} %"
COUNTING_AGAIN: Final = "These figures are of before. Counting again, {percent} %"
STALE: Final = "These figures are of before; they are counted again once you let go."
MIX_ENTRY: Final = "change the mix of drivers"
SHARE_SPOKEN: Final = "{gear}, {who} percent: {share}"
