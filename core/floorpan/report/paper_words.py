"""Headings, column titles and fixed sentences of the fit report."""

from typing import Final

REPORT: Final = "Fit report"
EDITIONS: Final[dict[str, str]] = {
    "myself": "edition for myself",
    "customer": "edition for the customer",
    "inspector": "edition for the inspector",
    "workshop": "edition for the workshop",
}
TITLE: Final = "{report}: {project}"
FOOT: Final = "{layout} \u00b7 floorpan {version} \u00b7 {scan} \u00b7 lengths in {unit}"
FOOT_LAYOUT: Final = " \u00b7 version {name}"
FOOT_SCAN: Final = "scan \u00b1 {u}"
FOOT_NO_SCAN: Final = "no scan"
PAGE: Final = "page {n} of {m}"

NOTHING_YET: Final = "Nothing to compare yet. Place something beside the scan, then let Check finish."
FAILS: Final = "What fails, what was not seen"
NOTHING_FAILS: Final = "Nothing hits, is short or unseen."
GEARS: Final = "Gear by gear"
GEARS_OF: Final = "Gear by gear, {name}"
GEARS_NOTE: Final = (
    "Seen from above, front up. The shape is the worst in that gear, the way to it among it. Reach and elbow with the "
    "belts tight, of the driver of whose reach least is sure; the least gap is of hand, lever and knob standing there."
)
REACH_AT: Final = "{name}, notch {notch}"
NOT_CHECKED: Final = "Not checked"
SIGN: Final = "checked in the car by, date"
SHAPES: Final = "What the shapes mean"

VIEWS: Final = "Pictures"
VIEWS_NOTE: Final = (
    "Outlines of the placed things over the scan. Each gap is drawn in the state where it is least, so a moving part "
    "may stand elsewhere than its gap."
)
VIEWS_STATE: Final = "Drawn {state}."
SECTION_NOTE: Final = (
    "Scan full line, carpet as a band over it, holes in the scan dotted. Check the bar with a steel rule."
)
FINDINGS: Final = "All findings, worst first"
FINDINGS_NOTE: Final = "Every pair in every state. Wanted values name who wants them."
MATRIX: Final = "State matrix"
MATRIX_NOTE: Final = (
    "Each column: worst over everything not named. A dash: that axis does not move the pair, or the stop was not "
    "judged. N\u20133 is the way from neutral to 3rd."
)
ON_THE_WAY: Final = "{axis}, on the way"
PLACED: Final = "What is placed where"
PLACED_NOTE: Final = (
    "Car axes: X rearward, Y to the right of a driver facing forward, Z up, in {unit}. Station is X."
)
PEOPLE: Final = "People"
SCANS: Final = "Scan and axes"
ACCEPTED: Final = "Accepted steps"
NOTHING_ACCEPTED: Final = "No step was accepted."
LIMITS: Final = "Limits set in this project"
CAUTIONS: Final = "Cautions"

# column titles
COL_WANTED: Final = "wanted"
COL_WHAT: Final = "what"
COL_FOUND: Final = "found"
COL_VALUE: Final = "value, {unit}"
COL_RULE: Final = "touch to wanted"
COL_GEAR: Final = "gear"
COL_REACH: Final = "reach to spare, {unit}"
COL_ELBOW: Final = "elbow"
COL_LEAST: Final = "least gap, {unit}"
COL_PAIR: Final = "pair"
COL_THING: Final = "thing"
COL_KIND: Final = "kind"
COL_X: Final = "X"
COL_Y: Final = "Y"
COL_Z: Final = "Z"
COL_TURN: Final = "turn"
COL_STANDS: Final = "stands on"
COL_STEP: Final = "step"
COL_MARK: Final = "mark"
COL_DATE: Final = "date"
COL_WHY: Final = "why"
COL_LIMIT: Final = "limit"
COL_PERSON: Final = "who"
COL_TAPED: Final = "as taped"
COL_SCAN: Final = "scan"
COL_FACT: Final = "fact"
COL_SAYS: Final = "value"

# not checked
NC_STRENGTH: Final = "Strength, stiffness and fixings; crash, fire, heat, approval."
NC_NO_SCAN: Final = "Gaps to the car: there is no scan in car axes."
NC_NO_DRIVER: Final = "Reach and elbow: no driver was taped."
NC_NO_SHIFTER: Final = "Hand and lever: no shifter is placed."
NC_NO_CONSOLE: Final = "The console shell: none is placed."
NC_NO_VESSEL: Final = "Vessels: none is placed."
NC_ROCK: Final = "A lever rocking with the engine, beyond the rock entered for it."
NC_LIFT: Final = "Lifting out a vessel that stands in no well."
NC_SECOND: Final = "Drivers and passengers other than those entered."
NC_ABSENT: Final = "Said to be absent from this car, so not looked at: {names}."
NC_UNSEEN: Final = "Unseen in {count}: unknown, not clear."
NC_PENDING: Final = "Not worked out yet in {count}."
NC_UNKNOWN: Final = "Things of a kind this version does not know: {names}."

# scan and axes
FILE: Final = "file"
READ_AS: Final = "read as"
TRIANGLES: Final = "triangles, points"
SIZE: Final = "size"
ISLANDS: Final = "islands, holes"
NOISE: Final = "roughness, one sigma"
NOT_MEASURED: Final = "not measured"
GOOD_TO: Final = "carried into every gap"
CLEANED: Final = "mended in reading"
AXES: Final = "axes, picked points off by"
TILT: Final = "axes, tilt over {arm}"
TILT_UNKNOWN: Final = "cannot be told from these points"
MIRROR: Final = "axes, swapped sides"
MIRROR_TOLD: Final = "would have shown in the picked points"
MIRROR_UNTOLD: Final = "cannot be told from the picked points: look at the car"
NO_SCANS: Final = "There is no scan in this project."
BY: Final = "{x} \u00d7 {y} \u00d7 {z}"

STEP_MARKS: Final = ("accepted", "accepted as it is", "look again")
STANDS: Final[dict[str, str]] = {"floor": "floor", "console": "console", "none": "nothing", "": "\u2013"}
LOCKED: Final = "locked"
SHIPPED: Final = "shipped with {value}"
DRIVER: Final = "driver"
PASSENGER: Final = "passenger"
SITS: Final = "{role}, {seat}"
KNOWN_LENGTH: Final = "known length"
LENGTH_OF: Final = "{name}: taped {taped}, scan less tape {off} (give or take {u}); {verdict}"
LENGTHS_BENT: Final = "these lengths disagree by more than picks and tape explain: the scan is bent"
HELD: Final = {
    "clear": "held",
    "close": "cannot be told",
    "short": "off by more than is allowed (common practice)",
}
STRAIGHT_EDGE: Final = "straight edge"
EDGE_OF: Final = "{name}: bows {bow} over {over} (give or take {u}); {verdict}"
TWIST: Final = "twist"
TWIST_OF: Final = (
    "{one} against {other}, {apart} apart: wound by {off} over {over} (give or take {u}); {verdict}"
)
RACKING: Final = "racking"
RACKING_OF: Final = "{one} against {other}, as diagonals: {off} (give or take {u}); {verdict}"
MULTIPLIED: Final = "multiplied by"
MULTIPLIED_BY: Final = "{n}, on the builder's word, so that known lengths agree"
CLEANING: Final = "cleaned away"
OUTLINES: Final = "cropped by outlines"
OUTLINES_OF: Final = "{keep} that keep their inside, {drop} that drop it"
PROBE: Final = "measured by hand"
PROBE_OF: Final = "{note}: {where} (give or take {u}), vouches for {reach} round it"
CENTRE_LINE: Final = {"tunnel": "tunnel line", "dash": "dash line"}
LINE_OF: Final = "off the middle {front} at its front end, {rear} at its rear end (give or take {u})"
DRIVER_SIDE: Final = "to the driver side"
PASSENGER_SIDE: Final = "to the passenger side"
CARPET_ON: Final = "carpet on {area}"
CARPET: Final = "carpet"
BARE: Final = "none, bare metal"
LAYER_OF: Final = "{kind} {loose} loose, {squeezed} squeezed"
CARPET_OF: Final = "{layers}; {loose} {unit} loose in all, {squeezed} squeezed"

# --- several scans ------------------------------------------------------------------------------------------------
SHOWS: Final = "shows"
ROLES: Final = {
    "bare": "bare floor",
    "carpet": "floor with carpet",
    "seats": "floor with seats",
    "other": "other things; only looked at",
}
JOINED: Final = "joined"
TARGETS_OF: Final = "To {name} by {n} common targets, {rms} left over (root mean square)."
TARGETS_FLAT: Final = "They lie in one plane and cannot tell a mirrored scan."
SURFACES_OF: Final = "Laid on the surface of {name} at {places} places, {rms} left over (root mean square)."
LOOSE_OF: Final = "The surfaces do not hold it {ways}: there it stands as the targets say, \u00b1 {u}."
JOIN_CARRIES: Final = (
    "For that, every gap to it carries \u00b1 {u} in its middle and \u00b1 {far} at {over} from there."
)
WAYS: Final = ("fore and aft", "left and right", "up and down")
TURNS: Final = ("turning about a line fore and aft", "turning about a line across", "turning seen from above")
WAY_ALONG: Final = "along ({x}, {y}, {z}) of that scan"
TURN_ABOUT: Final = "turning about ({x}, {y}, {z}) of that scan"
AND: Final = " and "
BRIDGED: Final = "bridged hole"
BRIDGED_OF: Final = "{id}: nobody saw it and it counts as closed; no foot stands on it, no line is cut to it."
