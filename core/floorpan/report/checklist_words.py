"""Headings, states and hand-written lines of the scan checklist."""

from typing import Final

from floorpan.units import System

CHECKLIST: Final = "Scan checklist"
PURPOSE: Final = "what to scan, and what to tape"
NO_PROJECT: Final = "before the first scan"
BEFORE: Final = "Before the scan"
AREAS: Final = "Areas that checks ask for"
COL_AREA: Final = "area"
COL_HOW: Final = "how"
COL_ASKED: Final = "asked for by"
COL_STANDS: Final = "how it stands"
AREA_NAMES: Final[dict[str, str]] = {"scan": "all the rest"}
STATES: Final[dict[str, str]] = {
    "missing": "not named yet",
    "supplied": "in the project",
    "absent": "not in this car",
}
NOT_SCANNED: Final = "to scan"
LATER: Final = (
    "Nothing placed asks for these yet: {areas}. Scan them all the same where they are near: what is not scanned stays "
    "unseen."
)
UNITS: Final[dict[System, str]] = {"mm": "mm", "in": "inches"}
FOOT: Final = " \u00b7 floorpan {version} \u00b7 lengths in {unit}"

# What asks for an area, by the limit it is judged by.
ASKS: Final[dict[str, str]] = {
    "hand-scan": "hand",
    "lever-scan": "lever",
    "seat-scan": "seats",
    "handbrake-scan": "fingers round the handbrake",
    "press-scan": "hand on a buckle",
    "vessel-scan": "vessels",
    "console-scan": "console shell",
    "console-seen": "floor under the console",
    "stands": "what stands on it",
}

# --- to write in by hand ------------------------------------------------------------------------------------------
BY_HAND: Final = "Targets, known lengths and levels"
MAP: Final = "Seen from above. Draw in and number all targets."
FRONT: Final = "front"
REAR: Final = "rear"
LEFT: Final = "left"
RIGHT: Final = "right"
BETWEEN: Final = "Taped between targets, {unit}"
DIAGONALS: Final = "diagonals"
SIDES: Final = "sides"
PAIR: Final = "{one} to {other}"
KNOWN: Final = "Known lengths in the scan"
COL_WHAT: Final = "what, between which edges"
COL_WAY: Final = "which way"
COL_TAPED: Final = "taped, {unit}"
LEVELS: Final = "Two levels laid true with each other, well apart, left in"
LEVEL_FRONT: Final = "front, across"
LEVEL_REAR: Final = "rear, across"
SAYS: Final = (
    "Target map seen from above with targets A to D at the corners; lines for the lengths taped between them, for "
    "known lengths in the scan, and for two levels laid true with each other."
)

NOT_PDF: Final = ("A checklist cannot be written as \u201c{suffix}\u201d.", "End the file name in .pdf.")
