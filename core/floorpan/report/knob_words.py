"""What papers and card say of where the knob should be; `{}` fields are filled where they are told."""

from typing import Final

KNOB: Final = "Where the knob should be"
MOVE: Final = "Move it {ways}."
WELL: Final = "It is well placed: {room} to spare to {cause}."
CLASH: Final = "No place: {clash} clash by {short}; least bad {ways}."
LACKS: Final = "No place: {gear} misses by {short}, {why}; least bad {ways}."
NONE_NEAR: Final = "No place within {looked} of it: the best there, {ways}, is {short} short for {clash}."
NOT_FOUND: Final = "No place was found; if there is one, it has {room} to spare at most. Least bad {ways}."
WHERE_IT_IS: Final = "where it is"
NOW: Final = "Where it is now, {gear} misses by {short}: {why}."
ANY_GEAR: Final = "the knob"
TOO_NEAR: Final = "too near {what}"
THE: Final = "the "
# What an arm misses by, by what the region calls it; everything else is something hard.
ARM: Final = {
    "elbow too straight": "elbow too straight",
    "elbow too bent": "elbow too bent",
    "arm length": "the arm is too short",
}
WORSE: Final = "There, {title} gets worse: {there} ({now} now){more}."
MORE: Final = "; and {n} more"
NONE_WORSE: Final = "No other gap gets worse there{more}."
# One, several.
UNSEEN: Final = ("; 1 becomes unseen", "; {n} become unseen")
AND: Final = " and "
THEN: Final = ", "
IN_GEAR: Final = "{name} in {gear}"
NAMES: Final = {"scan": "the rest of the scan"}
FORWARD, REARWARD = "{n} forward", "{n} rearward"
TO_DRIVER, TO_PASSENGER = "{n} to the driver side", "{n} to the passenger side"
DOWN, UP = "{n} down", "{n} up"

# The sides of the region, by the axis and the way along it.
SIDES: Final = {(0, -1): "front", (0, 1): "rear", (2, -1): "below", (2, 1): "above"}
DRIVER_SIDE, PASSENGER_SIDE = "driver side", "passenger side"
NOT_LOOKED: Final = "not looked further"
LOOKED: Final = "over {looked} off"
BOTH_SIDES: Final = "both sides"
COL_SIDE: Final = "side"
COL_LIMIT: Final = "what limits there"
COL_WHERE: Final = "at its largest"
COL_SHARE: Final = "of its surface, %"
NOTE: Final = (
    "For every driver at every notch in use, belts tight, through every gear: the elbow as bent and as straight as "
    "wanted, the hand {clear} clear of thighs, wheel rim and scan. The scan counts as up to {lost} nearer than it is. "
    "Looked for within {looked} of the knob along each axis of the car; beyond that nothing is said."
)
