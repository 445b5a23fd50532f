"""What papers and card say of how high an armrest may be; `{}` fields are filled where they are told."""

from typing import Final

TITLE: Final = "How high the armrest may be"
BAND: Final = (
    "{name}: a pad {low} to {high} over its foot rests the elbow{whose} in neutral and is clear of the arm in every "
    "gear (give or take {u}). {now}"
)
# Where no elbow lies over the pad.
BAND_BESIDE: Final = (
    "{name}: a pad {low} to {high} over its foot is as high as the elbow in neutral wants it and is clear of the arm "
    "in every gear (give or take {u}), but the elbow does not lie over it where it stands. {now}"
)
HOLDS: Final = "At {now}, as it is now, it is in between."
TOO_LOW: Final = "At {now}, as it is now, it is {by} too low."
TOO_HIGH: Final = "At {now}, as it is now, it is {by} too high."
UNSURE: Final = (
    "From lowest to highest it is {wide}, narrower than the give or take of its two ends together ({both}): no height "
    "in it is sure."
)
ENDS: Final = "Lower, {low}; higher, {high}."
# What ends the band below and above.
LOW_BY: Final = {
    "elbow": "the elbow hangs too far over it{where}",
    "forearm": "the forearm is too near{where}",
    "knuckles": "the knuckles are too near{where}",
    "pad": "the pad lies on its foot",
}
HIGH_BY: Final = {
    "elbow": "the elbow sinks in too far{where}",
    "forearm": "the forearm is too near{where}",
    "knuckles": "the knuckles are too near{where}",
    "pad": "an armrest does not go",
}
NONE: Final = (
    "{name}: no height does both. {nearest} over its foot is the nearest that is clear (give or take {u}), {short} too "
    "{way} to rest the elbow; beyond, {because}."
)
NOT_CLEAR: Final = "{name}: no height is clear of the arm where it stands."
CLASH: Final = (
    "{name}: no height rests every elbow; {nearest} over its foot is in the middle, {short} from what {one} and "
    "{other} want."
)
LOW, HIGH = "low", "high"
OFF: Final = "In neutral the elbow{whose} does not lie over the pad."
ALONG: Final = (
    "As high as it is now, it may stand from {low} to {high} of its place now{further}: there it is clear, "
    "and {is_there}."
)
REARWARD, FORWARD, HERE = "{n} rearward", "{n} forward", "0 {unit}"
FURTHER: Final = " (further was not looked)"
RESTS_THERE: Final = "under the elbow fore and aft"
TOO_LOW_THERE: Final = "under the elbow fore and aft, but too low to rest it"
TOO_HIGH_THERE: Final = "under the elbow fore and aft, but too high to rest it"
NO_ALONG: Final = "As high as it is now, no place along it is both under the elbow and clear."
NOTE: Final = (
    "For every driver at every notch in use, belts tight, knuckles and forearm in every gear, the lid shut; how far "
    "the elbow may hang over the pad, and how near the arm may come, are limits of this project."
)
IN_GEAR: Final = " in {gear}"
OF_WHOM: Final = " of {name}"
AT_NOTCH: Final = " at notch {notch}"
AT_NOTCHES: Final = " at notches {notches}"
AND: Final = " and"
SET: Final = "Set the pad to {height}"
SET_ENTRY: Final = "set {name} to the height that rests the elbow"
