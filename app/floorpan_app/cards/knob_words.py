"""Every sentence and label of the part of the driver's card that finds where the knob should be."""

from typing import Final

BELTS_TIGHT: Final = "every gear, belts tight"
FIND: Final = "Find where it should be"
FIND_AGAIN: Final = "Find it again"
STOP: Final = "Stop"
NEEDS: Final = "Place a shifter on the floor first: then this finds where its knob should be."
BEFORE: Final = (
    "Looks for the places from which every driver at every used notch works every gear with the elbow as bent and as "
    "straight as wanted, clear of thighs, wheel and scan."
)
LOOKING: Final = "Looking where it should be, {percent} %"
STALE: Final = "This is of before; find it again once you let go."
CHANGED: Final = "What it follows from has changed. Find it again."
STOPPED: Final = "Stopped before it was found."
SIDES: Final = "What limits on which side"
SIDES_HEAD: Final = "of its surface"
SHARE: Final = "{n} %"
SHOW: Final = "Show it in the picture"
WORSE_CHANGED: Final = "Something else has changed since: find it again to see what gets worse there."
TARGET: Final = "Make that the knob\u2019s target"
TARGET_ENTRY: Final = "set where the knob shall be"
IS_TARGET: Final = "That is the knob\u2019s target."
MOVE: Final = "Move the shifter there"
MOVE_NOTE: Final = (
    "The whole shifter moves. What another lever would do instead, with that place as the target, is told under "
    "Controls."
)
MOVE_ENTRY: Final = "move {name} to where its knob should be"
