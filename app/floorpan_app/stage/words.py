"""Every sentence and label of the stage; `{}` fields are filled where they are shown."""

from typing import Final

DRAWING_SCAN: Final = "Drawing the scan"
CUTTING_OUT: Final = "Cutting out what is shown"
THINNING: Final = "Thinning the scan for the picture"
THINNED: Final = "Drawn with {n} of {all} triangles, {worst} off at most. Gaps are measured on all of them."
NOT_THINNED: Final = ("The scan could not be thinned for the picture.", "It is drawn whole, and slower.")

# --- sides --------------------------------------------------------------------------------------------------------
DRIVER_SIDE: Final = "driver side"
PASSENGER_SIDE: Final = "passenger side"
FLOOR_DRIVER: Final = "DRIVER SIDE"
FLOOR_FRONT: Final = "FRONT"
# Until a scan is set into car axes its sides have letters, the same as under *Seen from*.
SIDES: Final = {"front": "side C", "rear": "side D", "left": "side A", "right": "side B"}
SIDES_UP: Final = ("above", "below")
AXES: Final = ("X rear", "Y right", "Z up")
CENTRE_PLANE: Final = "centre plane"
CENTRE_LINE: Final = "centre line"
LINE_WORDS: Final = {"tunnel": "tunnel line", "dash": "dash line"}

# --- driver -------------------------------------------------------------------------------------------------------
SHOULDER: Final = "shoulder"
ELBOW: Final = "elbow {n}\u00b0 \u00b1 {u}"
ELBOW_STRAIGHT: Final = "elbow straight, out of reach"
WRIST: Final = "wrist"
HIP_POINT: Final = "hip point"
SEAT_REFERENCE_POINT: Final = "seat reference point"
HEEL_POINT: Final = "heel point"
ALONG_THE_ARM: Final = {
    "tight": "belts tight, {n} along the arm",
    "loose": "belts loose, {n} along the arm",
}
PUBLISHED_PLANE: Final = "published hand-reach plane"
NOT_COVERED: Final = "knob not covered: {why}"

# --- cup ----------------------------------------------------------------------------------------------------------
LIFT_OUT: Final = {
    "lifting": "lift straight up {n}, then towards the driver",
    "lifting over": "lift straight up {n}, then towards the passenger",
}
LIFT_UP_ONLY: Final = "lift straight up {n}"
LEANS: Final = "leans {n}\u00b0 in the well"

# --- ways ---------------------------------------------------------------------------------------------------------
FORWARD: Final = "forward"
REARWARD: Final = "rearward"
TO_DRIVER_SIDE: Final = "to the driver side"
TO_PASSENGER_SIDE: Final = "to the passenger side"
UPWARD: Final = "up"
DOWNWARD: Final = "down"
FROM_WHERE_IT_STOOD: Final = "{n} {way} of where it stood"

# --- moving -------------------------------------------------------------------------------------------------------
DRAG_HINT: Final = "Drag slides it on the floor. Shift: up and down. Alt: fine. Esc: back where it stood."
LOCKED_HINT: Final = "{name} is locked. Unlock it on its tag first."
TURN_HINT: Final = "Drag turns it. Alt: fine. Esc: back as it stood."
MOVED: Final = "move {name}"
TURNED: Final = "turn {name}"
TURNED_BY: Final = "turned {n}\u00b0 from where it stood"
MIRRORED: Final = "mirror {name}"
LOCKED: Final = "lock {name}"
UNLOCKED: Final = "unlock {name}"

# --- placing ------------------------------------------------------------------------------------------------------
PLACE_HINT: Final = "Click where the {kind} stands. Esc: leave it."
PLACE_IN_HINT: Final = "Click the cup holder it stands in, or the floor. Esc: leave it."
NOT_SCANNED_THERE: Final = "Nothing was scanned there. Click on the scan."
PLACED: Final = "place {name}"
NO_AXES: Final = "Set the scan straight first: nothing can be placed before that."
DRIVERS_SEAT: Final = "Driver's seat"
PASSENGERS_SEAT: Final = "Passenger's seat"
NAMED_AGAIN: Final = "{name} {n}"

# --- measuring ----------------------------------------------------------------------------------------------------
MEASURE_HINT: Final = "Click one point, then another."
MEASURE_SECOND: Final = "Now the other point. Esc: begin again."
MEASURED: Final = "{distance} {unit} straight: {ways}."

# --- picking ------------------------------------------------------------------------------------------------------
PICK_HINTS: Final = {
    "point": "Click a bolt head. Zoom with the wheel; the pick lands on the scan under the mouse.",
    "level": "Click a point of one height: both sills, front and rear. Three or more set the level.",
    "pair": "Click the left one of two points that mirror each other, left as somebody sees it who faces forward.",
    "pair second": "Now its mate on the other side. Esc: begin the pair again.",
    "centre": "Click a point on the middle line of the car. Two far apart set it.",
    "origin": "Click what everything is measured from: a bolt, a drilled hole, there next year too.",
    "front": "Click a point ahead of all others.",
    "above": "Click a point above the level points.",
}
PICKED: Final = "pick point {letter}"
PICKED_PAIR: Final = "pick points {first} and {second}"
NOT_ON_SCAN: Final = "That is not on the scan. Click the scan itself."

POINT_HINTS: Final = {
    ("length", "first"): "Click one end of the length you taped, then the other.",
    ("length", "on"): "Now the other end. Esc: begin again.",
    ("straight edge", "first"): "Click along the straight edge, three places or more; Enter ends it.",
    ("straight edge", "on"): "On along the edge; Enter ends it. Esc: one back.",
    ("island", "first"): "Click an island that goes: a stray piece beside the scan. Esc: leave it.",
    ("island", "on"): "Click an island that goes: a stray piece beside the scan. Esc: leave it.",
    ("hole", "first"): "Click the scan at the rim of a small hole. Esc: leave it.",
    ("hole", "on"): "Click the scan at the rim of a small hole. Esc: leave it.",
    ("target", "first"): "Click the target. The card says on which scan. Esc: leave it.",
    ("target", "on"): "Click the target. The card says on which scan. Esc: leave it.",
    ("probe", "first"): "Click the scan beside the place you measured by hand.",
    ("probe", "on"): "Click the scan beside the place you measured by hand.",
}
for _line in ("tunnel line", "dash line"):
    POINT_HINTS[_line, "first"] = f"Click along the {_line}, two places or more, far apart; Enter ends it."
    POINT_HINTS[_line, "on"] = f"On along the {_line}; Enter ends it. Esc: one back."
PROBE_LETTER: Final = "P{n}"
PAINT_HINT: Final = (
    "Paint over the scan with the button down. The right button slides, the wheel zooms, arrows turn."
)
POINTS_TAKEN: Final = "Taken. The card says what is next. Esc: put it away."
POINTS_LAID: Final = "Say the rest on the card. Esc: begin again."

# --- cropping -----------------------------------------------------------------------------------------------------
CROP_HINT: Final = "Drag a grip to crop. Nothing is cut away: the whole scan is kept."
OUTLINE_HINT: Final = (
    "Click corner by corner, or draw with the button down. Enter or the first corner closes. Esc: one back."
)
OUTLINE_CLOSED: Final = "Closed. Say on the card what becomes of it. Esc: go on drawing."
CROPPED: Final = "crop the scan"
CROP_WORD: Final = "{face} {n}"
MAP_BEYOND: Final = "Up to {most} in places: the last colour stands for that."
BRIDGED: Final = "bridged"
HOLE: Final = "hole {across}, {area} cm\u00b2"
HOLE_INCHES: Final = "hole {across}, {area} in\u00b2"

# --- the lever ----------------------------------------------------------------------------------------------------
KNOB_TARGET: Final = "knob target"
KNOB_GOES_HERE: Final = "the knob goes here"
LEAST_BAD: Final = "least bad place"
