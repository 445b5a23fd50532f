"""Words of the driver's sizes, in the order the card shows them."""

from typing import Final

WHO: Final = "Whose sizes"
ADD_DRIVER: Final = "Add another driver"
ADD_DRIVER_ENTRY: Final = "add a driver"
SECOND_DRIVER: Final = "Second driver"
TAKE_DRIVER_OUT: Final = "Take {name} out"
TAKE_DRIVER_OUT_ENTRY: Final = "take {name} out"

SIZES: Final = "Sizes"
SIZES_FROM: Final = "Sizes come from"
TAPED: Final = "this person"
PERCENTILE: Final = "a percentile"
TAPED_NOTE: Final = "Type what you taped; what you did not follows from it. Empty a field to let it follow."
SMALL: Final = "\u00b1 {u}"
BY_TAPE: Final = "Taped, within {u}."
BY_BODY: Final = "Not taped: it follows from the rest, within {u} in 95 of 100 people."
BY_CHOICE: Final = "Set by the percentile."
LET_FOLLOW: Final = "Not taped: let {name} follow"
LET_FOLLOW_ENTRY: Final = "let {name} follow"

MORE_SIZES: Final = "Also taped"
ANOTHER_SIZE: Final = "Another size"
ANOTHER_SIZE_OF: Final = "Its length"
LIKELY: Final = "Likely {size} \u00b1 {u}"
UNLIKELY: Final = "{what} Reach goes by what was taped."
LEAVE_ENTRY: Final = "leave the percentile"
FORGET_SIZE: Final = "Forget {name}"
SIZE_ENTRY: Final = "tape {name}"
FORGET_SIZE_ENTRY: Final = "forget {name}"
SAYS: Final = "{name} {size}"

SEX: Final = "A body of a"
PERCENT_OF: Final = "Percentile of"
PERCENT: Final = "Smaller are, of 100"
PERCENT_ENTRY: Final = "percentile of {name}"
PERCENT_NOTE: Final = (
    "Only this one size stands at the percentile; every other is what goes with it, not the same percentile. "
    "What was taped counts no longer."
)
SURVEY: Final = (
    "Sizes nobody taped come from an open survey of soldiers, younger and fitter than drivers at large. "
    "Tape the person before you cut."
)

POINTS: Final = "By points taped in the car"
POINTS_NOTE: Final = (
    "Belted tight in the seat, hand on the knob: measure each point from the car's origin. Hip says where they sit; "
    "shoulder, elbow and knuckle give the torso line and the arm. Leave empty what you did not take; grey figures are "
    "where this person sits now."
)
POINT_NAMES: Final = {
    "hip": "Hip",
    "shoulder": "Shoulder",
    "elbow": "Elbow",
    "knuckle": "Middle knuckle",
}
POINT_AXES: Final = ("rearward", "right", "up")
POINT_FIELD: Final = "{name}, {axis}"
AT_NOTCH_N: Final = "Taped at notch {n}, the one shown."
SET_BY_POINTS: Final = "Take these points"
SET_BY_POINTS_ENTRY: Final = "tape {name} in the car"
NO_POINTS: Final = "Type all three lengths of a point first; the grey figures are where this person sits now."
HALF_A_POINT: Final = "{name} has a length missing."

POSITION: Final = "Heel and wheel"
POSITION_NOTE: Final = "Where you took them. The published hand-reach plane and the wheel's rim need them."
HEEL: Final = "Heel point"
WHEEL: Final = "Wheel centre"
POSITION_ENTRY: Final = "heel and wheel"
FORGET_POSITION: Final = "Forget heel and wheel"

REACH_OF: Final = "{name}, to spare"
OTHER_SIDE: Final = (
    "The driver sits {side} in this car, but this seat stands on the other side. Set the side under Axes, "
    "or move the seat."
)
