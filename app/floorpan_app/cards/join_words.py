"""Sentences and labels of several scans and of bringing them into one frame."""

from typing import Final

# --- the scans of a project ---------------------------------------------------------------------------------------
SCANS: Final = "Scans of this project"
ADD_SCAN: Final = "Add a scan\u2026"
TAKE_OUT_SCAN: Final = "Take this scan out"
TAKE_OUT_ENTRY: Final = "take a scan out"
SHOWN: Final = "Show this scan"
SHOWN_ENTRY: Final = "show or hide a scan"
ROLES: Final = {
    "bare": "bare floor",
    "carpet": "with carpet",
    "seats": "with seats",
    "other": "only looked at",
}
FIRST_OF_ALL: Final = "carries the axes"
IS_JOINED: Final = "joined by {by}"
NOT_JOINED: Final = "not joined yet"
OWN_AXES: Final = "axes of its own"
IT_SHOWS: Final = {"bare": "Bare floor", "carpet": "Carpet", "seats": "Seats"}
ROLE_ENTRY: Final = "say what a scan shows"
HIDDEN: Final = "hidden"
SAY_WHAT: Final = "Say what it shows: until then it is only looked at, and no gap is measured to it."

# --- joining --------------------------------------------------------------------------------------------------------
JOIN: Final = "Joined to"
JOIN_NOTE: Final = (
    "Three targets or more that both scans show, far apart and not all in one plane; then the surfaces."
)
PICK_TARGET: Final = "Pick a common target"
CLICK_THERE: Final = "Click a target on {name}."
CLICK_HERE: Final = "Now the same target on {name}."
TARGET_NAME: Final = "Target {n}"
TARGET_ENTRY: Final = "pick a common target"
TARGET_CHANGE_ENTRY: Final = "name a common target"
FORGET_TARGET: Final = "Forget this target"
FORGET_TARGET_ENTRY: Final = "forget a common target"
TARGETS_TOO_FEW: Final = "{n} more to go."
TARGETS_LEFT: Final = "Targets stay {rms} {unit} apart, root mean square."
TARGETS_WIDE: Final = "That is more than a hand picks off: pick them again, or others."
TARGET_ODD: Final = "{name} is off while the others agree. Pick it again, or forget it."
MIRRORED: Final = "One of these scans is a mirror image of the other. Look how it was exported."
CANNOT_TELL_MIRROR: Final = (
    "These lie in one plane: they cannot tell a mirrored scan. One more, off that plane, can."
)
JOIN_IT: Final = "Join by targets"
JOIN_ENTRY: Final = "join a scan by targets"
MATCH_ON: Final = "Match on"
MATCH_CARPET: Final = "One shows carpet and the other does not: match on parts that no carpet covers."
MATCH_IT: Final = "Lay it on the surfaces"
MATCHING: Final = "Laying {name} on {onto}"
MATCH_ENTRY: Final = "lay a scan on another"
STANDS_BY_TARGETS: Final = (
    "It stands as {n} targets say: \u00b1 {u} {unit} in their middle, more farther out."
)
STANDS_BY_SURFACES: Final = "It lies on {n} places of the surface, {rms} {unit} left, root mean square."
HELD: Final = "The surfaces hold it every way: \u00b1 {u} {unit}."
LOOSE: Final = (
    "The surfaces do not hold it {ways}: there it stands as the targets say, \u00b1 {u} {unit}. "
    "Pick targets that show it; the little that is left tells nothing there."
)
AND: Final = " and "
SHOW_LEFT: Final = "What is left, in colours"
LEFT_TITLE: Final = "Over {name} (+) or in it (\u2212), {unit}"
TAKE_APART: Final = "Take it apart"
TAKE_APART_ENTRY: Final = "take a scan apart"
