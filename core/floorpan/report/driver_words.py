"""What papers and card say of the old seat and of who else reaches; `{}` fields are filled where they are told."""

from typing import Final

MOVED: Final = "Why the knob moved away"
MOVED_NOTE: Final = (
    "From the shoulder of the shifting hand straight to the knob in neutral, belts tight: {before} in the old seat, "
    "{after} now, {change}. The change is taken apart in this order; together the parts are all of it, but what one "
    "of them is given hangs on the order."
)
FURTHER: Final = "{amount} further"
NEARER: Final = "{amount} nearer"
AS_FAR: Final = "as far as before"
NOTHING_CHANGED: Final = "Seat and knob stand as the old ones did."
THEN_NOW: Final = "{before} then, {after} now"
RAISED: Final = "Everything fixed to the car stands {amount} higher against the elbow."
LOWERED: Final = "Everything fixed to the car stands {amount} lower against the elbow."
COL_CAUSE: Final = "what changed"
COL_SHARE: Final = "what it did, {unit}"
COL_THEN: Final = "shoulder to knob then, {unit}"
CAUSES: Final = {
    "drop": ("seat down {n}", "seat up {n}"),
    "slide": ("seat back {n}", "seat forward {n}"),
    "sideways": ("seat right {n}", "seat left {n}"),
    "recline": ("reclined {n}", "more upright {n}"),
    "turn": ("turned left {n}", "turned right {n}"),
    "knob": ("knob moved {n}", "knob moved {n}"),
}

WHO_ELSE: Final = "Who else reaches"
WHO_NOTE: Final = (
    "So many of a hundred drivers reach from the driver\u2019s seat, belts tight, {notches}. The mix is {men} men of a "
    "hundred."
)
NOTCH_ONE: Final = "at notch {notch}"
NOTCHES: Final = "each at the best of notches {notches}"
COUNTED: Final = (
    "Counted over {drawn} bodies of either sex, drawn from the figures of {source}: soldiers, fitter and younger "
    "than drivers at large. A count, not a promise. \u00b1 is one standard deviation of the count alone."
)
SURVEY: Final = "the 2012 Anthropometric Survey of U.S. Army Personnel"
EVERY_GEAR: Final = "every gear"
COL_GEAR: Final = "gear"
COL_MEN: Final = "men, %"
COL_WOMEN: Final = "women, %"
COL_MIX: Final = "mix, %"
UNDER: Final = "under {n}"
OVER: Final = "over {n}"
SHARE: Final = "{n} \u00b1 {error}"
