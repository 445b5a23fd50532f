"""Every sentence and label of the cards; `{}` fields are filled where they are shown."""

from datetime import date as _date
from typing import Final

from floorpan.layout import Step

TITLES: Final[dict[Step, str]] = {
    "scan": "Scan",
    "axes": "Axes",
    "floor": "Floor",
    "driver": "Driver",
    "controls": "Controls",
    "cup": "Cup",
    "console": "Console",
    "pieces": "Pieces",
    "check": "Check",
    "report": "Report",
}
QUESTIONS: Final[dict[Step, str]] = {
    "scan": "How far can this scan be trusted to cut from?",
    "axes": "Set the scan straight, on points that are still there next year.",
    "floor": "What lies on the floor, and what is what?",
    "driver": "Tape this driver, belted in. The stand-in follows your numbers.",
    "controls": "Where does the hand have to go?",
    "cup": "Which vessels ride along, and how hard do you corner?",
    "console": "How much room does the console take?",
    "pieces": "What fits the printer\u2019s bed, and how does it lock?",
    "check": "What hits, what is short, what was never seen?",
    "report": "On paper, to take to the car.",
}

# --- acceptance ---------------------------------------------------------------------------------------------------
ACCEPT: Final = "Accept {step}"
ACCEPT_AS_IT_IS: Final = "Accept as it is"
ACCEPT_WITH: Final = "Accept as it is, with {what}\u2026"
WHY: Final = "Why? It goes into the report."
ACCEPTED: Final = "Accepted {date}"
OPEN_AGAIN: Final = "Open again"
LEAVE_OPEN: Final = "Leave it open"
LOOK_AGAIN: Final[dict[Step, str]] = {
    "scan": "Look again: the scan changed.",
    "axes": "Look again: the points or the axes changed.",
    "floor": "Look again: the scan or the carpet changed.",
    "driver": "Look again: a seat or a tape measure changed.",
    "controls": "Look again: the shifter, a seat or the driver changed.",
    "cup": "Look again: the well or a vessel changed.",
    "console": "Look again: the console or the carpet changed.",
    "pieces": "Look again: the console changed.",
    "check": "Look again: the layout changed.",
    "report": "Look again: the layout changed.",
}
COUNTED: Final = {
    "hits": "{states} that hit",
    "short": "{states} short",
    "unseen": "{states} unseen",
    "close": "{states} close",
    "pending": "{states} pending",
}
NOTHING_YET: Final = "Nothing to accept yet."
ACCEPT_ENTRY: Final = "accept {step}"
OPEN_ENTRY: Final = "open {step} again"
_MONTHS: Final = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)

# --- what to do next ----------------------------------------------------------------------------------------------
GO_TO: Final = "Go to {step}"
NEED_SCAN: Final = "There is no scan yet: everything stands on one."
NEED_SCAN_HERE: Final = "There is no scan yet. Start from one: STL, PLY or OBJ of the bare floor."
START_FROM_SCAN: Final = "Start from a scan\u2026"
NEED_AXES: Final = "Set the axes first: until then nothing has a place in the car."
NEED_POINTS: Final = (
    "Pick three points of one height, two on the middle line, one to measure from, one ahead and one above."
)
NEED_SEAT: Final = "Put the driver\u2019s seat on the floor, then tape the driver."
NEED_DRIVER: Final = "Nobody sits in it yet. Tape a driver: reach is judged for this very person."
NEED_SHIFTER: Final = "There is no shifter yet. Set one down where its foot is to stand."
NEED_HOLDER: Final = "There is no cup holder yet. Set one down, then choose what stands in it."
NEED_CONSOLE: Final = "There is no console yet. Set its room down between the seats."
NEED_FINDINGS: Final = "There is nothing to compare yet. Place a seat, a shifter or a cup holder."
ON_THE_SCAN: Final = "Click it onto the scan"
IN_THE_MIDDLE: Final = "Set it down in the middle"
WHERE_USUAL: Final = "Set it down where one usually is"
BEING_MADE_READY: Final = "The scan is still being made ready. Try again in a moment."
NOTHING_SEEN: Final = "Nothing was scanned in the middle of the floor. Click it onto the scan."

# --- any placed thing ---------------------------------------------------------------------------------------------
WHICH: Final = "Which one"
MORE_MEASURES: Final = "More measures"
FEWER_MEASURES: Final = "Fewer measures"
TAKE_OUT: Final = "Take out {name}"
TAKE_OUT_ENTRY: Final = "take out {name}"
CHANGE_ENTRY: Final = "change {name}"
MOVE_ENTRY: Final = "move {name}"
TURN_ENTRY: Final = "turn {name}"
PLACE_ENTRY: Final = "place {name}"
PLACE: Final = {"x_mm": "X, rearward", "y_mm": "Y, right", "z_mm": "Z, up", "turn_deg": "Turn"}
ACROSS: Final = {"left": "Y, passenger side", "right": "Y, driver side"}
STANDS_IN_WELL: Final = "It stands in its well and goes where the well goes."
LOCKED: Final = "Locked in its place"
LOCK_ENTRY: Final = "lock {name}"
UNLOCK_ENTRY: Final = "unlock {name}"
SPAN: Final = "{label}: {span}."
TAKE_ROW_OUT: Final = "Take {name} out"
CHOICES: Final = {"none": "nothing"}

# --- sides --------------------------------------------------------------------------------------------------------
LETTERED_FACES: Final = {
    "front": "Side C",
    "rear": "Side D",
    "left": "Side A",
    "right": "Side B",
    "down": "Below",
    "up": "Above",
}
_ENDS = {"front": "Front", "rear": "Rear", "down": "Down", "up": "Up"}
FACES: Final = {
    "left": {**_ENDS, "left": "Driver side", "right": "Passenger side"},
    "right": {**_ENDS, "left": "Passenger side", "right": "Driver side"},
}
FACE_NAME: Final = "Box, {face}"

# --- scan ---------------------------------------------------------------------------------------------------------
FILE, SIZE, TRIANGLES = "File", "Size", "Triangles"
PIECES, HOLES, ROUGHNESS = "In pieces", "Holes", "Roughness of the scan"
SIZE_OF: Final = "{x} \u00d7 {y} \u00d7 {z} {unit}"
HOLES_OF: Final = "{n}, the longest {longest}"
NO_HOLES: Final = "none"
LEFT_OUT: Final = "Left out"
LEFT_OUT_ONE: Final = "{n} {what}"
READY_SOON: Final = "being worked out"
NOT_TOLD: Final = "cannot be told"
UNIT_WRITTEN: Final = "The unit is written in the file."
NO_FILE: Final = "The file is not in the project folder: every gap to this scan is unseen."
UNIT_DROPS: Final = "Read as {unit}, what was pointed at in {was} goes: {what}."
UNIT_TAKE: Final = "Read it as {unit}"
UNIT_LEAVE: Final = "Leave it"
CARRIED: Final = "Carried into every gap: \u00b1 {u}."
INSIDE_OUT: Final = "The scan is turned inside out"
FACING: Final = "{n} % of what lies level faces up."
FACING_DOWN: Final = "Only {n} % of what lies level faces up. It looks turned inside out: turn it over here."
FACING_LATER: Final = "Which way it faces is told once the axes are set."
CROP_TITLE: Final = "Crop box"
CROP_NOTE: Final = "How far out of the origin each face stands. Nothing is cut away: the whole scan is kept."
SIDES_OPEN: Final = "Sides are not set yet: the box lies along the file\u2019s own axes."
BOX_BEFORE: Final = (
    "The box was set before these axes and still lies along the file\u2019s own. Drag it to turn it."
)
DRAG_CROP: Final = "Drag its faces"
WHOLE_SCAN: Final = "Whole scan again"
CROP_ENTRY: Final = "crop the scan"
WHOLE_ENTRY: Final = "show the whole scan again"
SCAN_ENTRY: Final = "change the scan"
FLIP_ENTRY: Final = "turn the scan over"

# --- axes ---------------------------------------------------------------------------------------------------------
ROLES: Final = {
    "level": "one height with others",
    "pair": "one of a pair",
    "centre": "on the middle line",
    "origin": "measure from here",
    "front": "ahead of the others",
    "above": "above the level ones",
}
ROLE_SHORT: Final = {
    "level": "level",
    "pair": "pair",
    "centre": "centre",
    "origin": "origin",
    "front": "front",
    "above": "above",
}
PAIR_OF: Final = "{side} of {partner}"
HALF_PAIR: Final = "{side}, no mate"
PICK_TITLE: Final = "Pick on the scan"
PICK_WORDS: Final = {
    "level": ("Level", "level"),
    "pair": ("Pair", "mirror"),
    "centre": ("Centre", "pick-point"),
    "origin": ("Origin", "axes"),
    "front": ("Front", "see-from"),
    "above": ("Above", "place"),
}
POINTS: Final = "Picked points"
OFF_BY: Final = "off by, mm"
OFF_BY_IN: Final = "off by, in"
POINT_SAID: Final = "Point {letter}, {name}, {role}"
POINT_OFF: Final = "{point}, off by {off}"
NO_NAME: Final = "no name yet"
POINT_NAME: Final = "Name"
POINT_ROLE: Final = "What it is"
POINT_SIDE: Final = "Side"
POINT_PARTNER: Final = "Its mate"
NO_MATE: Final = "none yet"
POINT_AT: Final = {
    "x": "X of the file",
    "y": "Y of the file",
    "z": "Z of the file",
}
LEAVE_POINT_OUT: Final = "Leave {letter} out"
TYPE_A_POINT: Final = "Type a point"
START_OVER: Final = "Start over"
ADD_POINT_ENTRY: Final = "add point {letter}"
CHANGE_POINT_ENTRY: Final = "change point {letter}"
DROP_POINT_ENTRY: Final = "leave point {letter} out"
START_OVER_ENTRY: Final = "start the points over"
DRIVER_SITS: Final = "Driver sits"
LEFT, RIGHT = "left", "right"
SIDE_ENTRY: Final = "seat the driver {side}"
AGREE: Final = "Points agree within"
TILT: Final = "Set-up tilt, over {over}"
MIRROR: Final = "A mirrored scan"
MIRROR_SEEN: Final = "would show"
MIRROR_NOT_SEEN: Final = "would not show"
MIRROR_ADVICE: Final = (
    "These points lie so that a mirrored scan would fit as well. A pair, a front and a point above tell it."
)
AXES_ARE: Final = "Axes"
AXES_SET: Final = "set from these points"
AXES_OTHER: Final = "set, but not from these points"
AXES_NOT_SET: Final = "not set yet"
SET_AXES: Final = "Set the axes"
SET_AXES_ENTRY: Final = "set the axes"
LACKS_AXES: Final = "The axes are not set yet."
ODD_POINT: Final = "1 point off"
STRAIGHT_ALREADY: Final = "The file stands straight already"
UP_IS: Final = "Up is"
FRONT_IS: Final = "Front is"
OF_FILE: Final = "{axis} of the file"
SET_BY_FILE: Final = "Set the axes by the file"
BY_FILE_NOTE: Final = (
    "X, Y and Z are then measured from the file\u2019s own origin, and no point says how well it fits."
)

# --- floor --------------------------------------------------------------------------------------------------------
CARPET: Final = (
    "It takes its thickness off every gap to the floor. Dash, seats, handbrake and wheel rim carry none."
)
CARPET_ENTRY: Final = "set the carpet"
NAMED_PARTS: Final = "Named parts of the scan"
NOTHING_NAMED: Final = "Nothing is named yet: all of the scan counts as floor."
STANDS_FOR: Final = "{name} stands for it"
STANDS_FOR_LABEL: Final = "Stands for it"
THE_SCAN_COUNTS: Final = "the scan counts"
STANDS_FOR_NOTE: Final = "A placed thing that stands for a part takes its place in every check."
WHAT_IT_IS: Final = "What it is"
NAME_A_PART: Final = "Name a part"
NAME_A_PART_NOTE: Final = "It begins as the crop box. Type its faces then."
FORGET_PART: Final = "Forget this part"
PART_ENTRY: Final = "name the {kind}"
PART_CHANGE_ENTRY: Final = "change the {kind}"
PART_FORGET_ENTRY: Final = "forget the {kind}"
NOT_IN_THIS_CAR: Final = "Not in this car"
ABSENT: Final = {"dash": "a dash", "handbrake": "a handbrake between the seats"}
ABSENT_ENTRY: Final = "say what the car has"
PART_INSIDE_OUT: Final = "The part holds nothing. Move another face."

# --- driver -------------------------------------------------------------------------------------------------------
BELTS, TIGHT, LOOSE = "Belts", "tight", "loose"
NOTCH: Final = "Shown at notch"
NOTCH_OF: Final = "{n} of {all}"
SEAT: Final = "Seat"
ADD_SEAT: Final = {"driver": "Add the driver\u2019s seat", "passenger": "Add a passenger\u2019s seat"}
TAPE: Final = "Tape"
TAPE_TRUST: Final = "give or take {u}"
TAPE_A_DRIVER: Final = "Tape a driver"
TAPE_ENTRY: Final = "tape {name}"
WHO: Final = "Who"
REACH: Final = "Reach, belts tight"
REACH_HEAD: Final = "to spare"
REACH_NONE: Final = "Reach is judged once there are a driver and a shifter."
ELBOW: Final = "elbow {angle}"

# --- controls -----------------------------------------------------------------------------------------------------
GATE_NOTE: Final = "Each shape is the worst of that gear. Click a gear: the lever goes there."
GATE_WORKING: Final = "What shows a dashed ring is from before the last change and is being worked out."
GATE_LIVE: Final = "Ways between gears, and what shows a dashed ring, are judged once you let go."
IN_GEAR: Final = "What was found in the gear that is shown"
GEAR_SHOWN: Final = "Shown: {gear}"
SMALLEST: Final = "smallest gap"
BEFORE_THE_MOVE: Final = "before the move"
REACH_ROW: Final = "Reach, to spare"
SHIFTER_MEASURES: Final = "Measures of the shifter"
SHIFTER: Final = "Shifter"
KNOB: Final = "Knob, neutral"
KNOB_IN: Final = "Knob in gear {gear}"
FAMILIES: Final = {"cables": "on cables", "remote rod": "on a remote rod", "gearbox": "on the gearbox"}
THROW: Final = "Throw at the knob"
STEP: Final = "Place to place, at the knob"
CROSS: Final = "Plane to plane"
KNOB_OVER_FOOT: Final = "Knob over the foot"
OPENING: Final = "Lever to opening, {gear}"
KNOB_PLACES: Final = "Taped knob places"
KNOB_NOTE: Final = "From the centre of the foot. What is taped here wins over lever and angles in that gear."
KNOB_COLUMNS: Final = (("x_mm", "rear"), ("y_mm", "right"), ("z_mm", "up"))
GEAR: Final = "gear"
TAPE_KNOB: Final = "Tape gear {gear}"
ALL_TAPED: Final = "Every gear is taped"
KNOB_BEGUN: Final = "Gear {gear} counts as taped once a number of it is typed."

# --- cup ----------------------------------------------------------------------------------------------------------
WELL: Final = "Well"
VESSELS: Final = "Vessels"
SITS_AND_LEANS: Final = "{sits} deep, leans {lean}"
DOES_NOT_ENTER: Final = "does not go in"
STANDS_FREE: Final = "in no well"
VESSEL: Final = "Vessel to add"
ADD_VESSEL: Final = "Stand it in the well"
ADD_VESSEL_ENTRY: Final = "stand {name} in the well"
NO_WELL: Final = "no well"
PROFILE: Final = "Its outline"
PROFILE_NOTE: Final = "Measure yours: what is taped wins over the list. From the base up."
PROFILE_COLUMNS: Final = (("height_mm", "height"), ("across_mm", "across"))
PROFILE_ADD: Final = "Add a height"
PROFILE_POINT: Final = "height {n}"

# --- console ------------------------------------------------------------------------------------------------------
CONSOLE_LATER: Final = (
    "This is the room the console takes. The shell\u2019s own shape, with its bottom edge, comes later."
)
STATIONS: Final = "Stations"
STATIONS_NOTE: Final = (
    "Rearward of the console\u2019s own place; width at the foot; lean of the sides inward."
)
STATION_COLUMNS: Final = (
    ("x_mm", "station"),
    ("width_mm", "width"),
    ("height_mm", "height"),
    ("side_lean_deg", "lean"),
)
STATION_UNITS: Final = "{unit}, lean in \u00b0"
STATION: Final = "station {n}"
ADD_STATION: Final = "Add a station"

# --- pieces -------------------------------------------------------------------------------------------------------
PIECES_LATER: Final = (
    "This step will cut the console into pieces that fit a printer\u2019s bed and lock into each other."
    " It is not built yet."
)
PIECES_LACK: Final = "Nothing to accept until it is."

# --- check --------------------------------------------------------------------------------------------------------
LIMITS: Final = "What is wanted"
LIMIT: Final = "Judge"
LIMIT_CROSSED: Final = "From is less than to. Change the other one first."
AT_LEAST, AT_MOST, FROM, TO = "At least", "At most", "From", "To"
LIMIT_WHY: Final = "Why"
SOURCE: Final = "From: {source}."
SHIPPED: Final = "Usually {wanted}, from: {source}."
BACK_TO_SHIPPED: Final = "As usual again"
LIMIT_ENTRY: Final = "judge by another measure"
CHANGED_LIMIT: Final = "{note} (changed here)"

# --- report -------------------------------------------------------------------------------------------------------
FOR_WHOM: Final = "For whom"
EDITIONS: Final = (
    ("myself", "myself"),
    ("customer", "customer"),
    ("inspector", "inspector"),
    ("workshop", "workshop"),
)
PAPER: Final = "Paper"
PAPERS: Final = (("A4", "A4"), ("letter", "letter"))
LENGTHS_IN: Final = "Lengths in"
SYSTEMS: Final = (("mm", "mm"), ("in", "inches"))
WHAT_IS_IN: Final = "In the fit report"
CONTENTS: Final = (
    ("Tight spot", "what fails, what was not seen"),
    ("Reach", "every gear, belts tight"),
    ("Gaps", "with give or take, worst first"),
    ("Drawings", "from the sides, above, the rear"),
    ("Places and sizes", "of everything set down"),
    ("Cautions", "what this cannot judge"),
)
FAILS: Final = ("Nothing fails", "{count} fails", "{count} fail")
UNSEEN: Final = ("nothing is unseen", "{count} is unseen", "{count} are unseen")
SAYS_SO: Final = "{fails} and {unseen}. The report says so on its first page."
NOTHING_STALE: Final = "Nothing stale is printed: the report waits until every finding is fresh."
AT_100: Final = "Print at 100 %, never \u201cfit to page\u201d."
WRITE_PAPERS: Final = "Write the papers\u2026"


def day(iso: str) -> str:
    """A date as people write it: `25 November 2026`; what is no date stays as it is."""
    try:
        when = _date.fromisoformat(iso)
    except ValueError:
        return iso
    return f"{when.day} {_MONTHS[when.month - 1]} {when.year}"
