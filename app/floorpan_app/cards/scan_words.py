"""Sentences and labels of what is pointed at, drawn and measured on a scan, and of the carpet on it."""

from typing import Final, Literal

# --- probe points -------------------------------------------------------------------------------------------------
PROBES: Final = "Probe points"
PROBES_NOTE: Final = "A place you measured by hand stands in for the scan, a small disc round it and no more."
PROBE_PICK: Final = "Probe by a pick"
PROBE_TYPE: Final = "Type a probe"
PROBE_NAME: Final = "Probe {n}"
PROBE_OFFSET: Final[dict[Literal["x", "y", "z"], str]] = {
    "x": "Rearward of it",
    "y": "To the right of it",
    "z": "Above it",
}
PROBE_OFFSET_NOTE: Final = "How far the measured place lies from the picked one, or, typed, from the origin."
PROBE_FORGET: Final = "Forget this probe"
PROBE_ENTRY: Final = "add a probe point"
PROBE_CHANGE_ENTRY: Final = "change a probe point"
PROBE_FORGET_ENTRY: Final = "forget a probe point"

# --- centre lines -------------------------------------------------------------------------------------------------
CENTRE_LINES: Final = "Two centre lines"
CENTRE_LINES_NOTE: Final = "Tunnel and dash often differ. Click along each, two places or more, then Enter."
LINE_NAMES: Final = {"tunnel": "Tunnel line", "dash": "Dash line"}
LINE_OFF_NAME: Final = {"tunnel": "Tunnel line, front end", "dash": "Dash line, front end"}
LINE_AFTER_AXES: Final = "told once the axes are set"
LINE_OFF: Final = "{n} \u00b1 {u} {unit} off the middle, {side}"
LINE_APART: Final = "{n} \u00b1 {u} {unit}, dash {side}"
APART_FRONT: Final = "Lines apart at the dash"
APART_REAR: Final = "Lines apart at the rear"
TO_DRIVER: Final = "driver side"
TO_PASSENGER: Final = "passenger side"
LINE_ENTRY: Final = {"tunnel": "pick the tunnel line", "dash": "pick the dash line"}
LINE_FORGET: Final = {"tunnel": "Forget tunnel line", "dash": "Forget dash line"}
LINE_FORGET_ENTRY: Final = {"tunnel": "forget the tunnel line", "dash": "forget the dash line"}

# --- outlines --------------------------------------------------------------------------------------------------------
DRAW_OUTLINE: Final = "Draw an outline"
OUTLINE_NOTE: Final = (
    "Or draw round what stays or goes, from any side. The cut goes straight through, along your sight."
)
OUTLINE_DRAWN: Final = "What becomes of what lies inside?"
KEEP_INSIDE: Final = "Keep the inside"
DROP_INSIDE: Final = "Drop the inside"
OUTLINES: Final = "Drawn outlines"
OUTLINE_KEEPS: Final = "Keeps the inside"
OUTLINE_DROPS: Final = "Drops the inside"
OUTLINE_SIZE: Final = "{wide} \u00d7 {high} {unit}, {n} corners"
FORGET_OUTLINE: Final = "Take this outline back"
KEEP_ENTRY: Final = "keep what is inside the outline"
DROP_ENTRY: Final = "drop what is inside the outline"
FORGET_OUTLINE_ENTRY: Final = "take an outline back"
# --- carpet ----------------------------------------------------------------------------------------------------------
BY_LAYER: Final = "Layer by layer"
LAYER, LOOSE, SQUEEZED = "Layer", "Loose", "Squeezed"
CARPET_ALL: Final = (
    "{loose} {unit} loose in all, {squeezed} under a bolted foot. Down an upright panel: {down}."
)
DOWN_ONE: Final = "{n} at {slope}\u00b0"
CARPET_BARE: Final = "Bare metal."
CARPET_HERE: Final = "Carpet here"
CARPET_AS_REST: Final = "as on the rest"
CARPET_NONE: Final = "none, bare metal"
CARPET_OWN: Final = "its own"

# --- drawing parts ------------------------------------------------------------------------------------------------
DRAW_PARTS: Final = "Draw parts on the scan"
DRAWS_NEW: Final = "What you draw makes a new part: {kind}."
DRAWS_ON: Final = "What you draw changes the chosen part: {kind}."
PAINT: Final = "Paint"
DRAW_DOES: Final = "What is drawn"
DRAW_ADDS: Final = "is added"
DRAW_TAKES: Final = "is taken away"
BRUSH: Final = "Brush reaches"
BRUSH_SPAN: Final = "Brush: 1 to 500 mm"
DRAW_ENTRY: Final = "draw a part of the scan"
PROPOSE: Final = "Look for parts in the scan"
PROPOSING: Final = "Looking for parts in the scan"
PROPOSED: Final = "The shape of the scan gives these away:"
NOTHING_PROPOSED: Final = "No part can be told from the shape of this scan. Draw them."
TAKE_PROPOSED: Final = "Name these parts"
LEAVE_PROPOSED: Final = "Leave it"
TAKE_PROPOSED_ENTRY: Final = "name the parts found in the scan"

# --- cleaning -----------------------------------------------------------------------------------------------------
CLEANING: Final = "Cleaning list"
CLEANING_NOTE: Final = (
    "The file stays as it is. What is taken away here is unseen afterwards, never smoothed over."
)
CLEANS: Final = {
    "small_islands": "Small islands go",
    "named_islands": "Clicked islands go",
    "spikes": "Spikes go",
    "useless": "Useless triangles go",
    "foreign": "Third triangles on an edge go",
    "facing": "Every sheet faces one way",
    "one_sheet": "Of two sheets one stays",
}
CLEAN_IT: Final = "Put on the list"
DROP_ISLAND: Final = "Click an island away"
CLEANING_SOON: Final = "being worked out"
FOUND_NOTHING: Final = "found nothing"
FORGET_DEED: Final = "Take this line back"
CLEAN_ENTRY: Final = "clean the scan"
CHANGE_DEED_ENTRY: Final = "change the cleaning"
FORGET_DEED_ENTRY: Final = "take a line of the cleaning back"

# --- what another unit drops ----------------------------------------------------------------------------------------
DROPS_POINTS: Final = "the picked points"
DROPS_AXES: Final = "the axes"
DROPS_CLEANING: Final = "the cleaning list"
DROPS_CROP: Final = "the crop box"
DROPS_PROBES: Final = "the probe points"
DROPS_BRIDGES: Final = "bridged holes"
DROPS_JOIN: Final = "common targets and the join"
DROPS_LINES: Final = "the centre lines"
DROPS_PARTS: Final = "the named parts"
DROPS_OUTLINES: Final = "the drawn outlines"

# --- trust --------------------------------------------------------------------------------------------------------
TRUST: Final = "Held against steel"
SCAN_LESS_TAPE: Final = "scan less tape"
KNOWN_LENGTH: Final = "Known length"
STRAIGHT_EDGE: Final = "Straight edge"
TAPED: Final = "Taped"
TAPE_ASKED: Final = "How long is it, by tape or ground bar?"
LENGTH_NAME: Final = "Length {n}"
EDGE_NAME: Final = "Straight edge {n}"
EDGE_OVER: Final = "over {over}"
LEVELLED: Final = "Lay true with the other level"
TWIST: Final = "Twist"
TWIST_OF: Final = "{one} and {other}, {apart} apart"
RACKING: Final = "Racking"
RACKING_OF: Final = "{one} and {other}, as diagonals"
LONE_LEVEL: Final = (
    "Twist takes a second edge that lay true with it: about parallel, and {apart} or more away."
)
BENT: Final = (
    "These lengths disagree by more than picks and tape explain: the scan is bent. Scan again, or carry more."
)
ONE_FACTOR: Final = "One factor explains them: the scan is {n} % too small or large, give or take {u}."
STANDS_STILL: Final = "What is placed stays where it is: every gap to the scan changes."
NOT_SURE: Final = "Some length is off by about what a pick is off. Measure more, longer, other ways."
SCALE_IT: Final = "Multiply the scan: {n} %"
COMES_TO: Final = "Comes to \u00b1 {u}. {parts}."
PART_OF_DOUBT: Final = "{name} {n} ({source})"
CARRY: Final = "Carry \u00b1 {u} into every gap"
FORGET_MEASURE: Final = "Forget this measure"
LENGTH_ENTRY: Final = "tape a known length"
EDGE_ENTRY: Final = "pick a straight edge"
LEVELLED_ENTRY: Final = "say whether an edge lay true"
FORGET_MEASURE_ENTRY: Final = "forget a measure"
SCALE_ENTRY: Final = "multiply the scan"
CARRY_ENTRY: Final = "carry what was measured into every gap"
DROPS_MEASURES: Final = "the known lengths and edges"

# --- colours on the scan ------------------------------------------------------------------------------------------
MAPS: Final = "Seen in colours"
ROUGH_MAP: Final = "Roughness, place by place"
ROUGH_TITLE: Final = "Roughness, one sigma, {unit}"
LOOKING_ROUGH: Final = "Measuring roughness"
WALLS_MAP: Final = "Double walls"
WALLS_TITLE: Final = "Double walls, how far apart, {unit}"
LOOKING_WALLS: Final = "Looking for double walls"
WALLS_NOT_LOOKED: Final = "Nobody looked for double walls yet: passes of the scanner that disagree."
NO_WALLS: Final = "No double walls within {within}."
WALLS_FOUND: Final = "{share} % of it is double: {apart} {unit} apart in the middle, {worst} at the worst."

# --- bridges --------------------------------------------------------------------------------------------------------
BRIDGES: Final = "Bridged holes"
BRIDGES_NOTE: Final = (
    "A small hole counts as closed for gaps once you bridge it. "
    "No foot stands on a bridge, and no line is cut to one."
)
BRIDGE_PICK: Final = "Bridge a hole"
BRIDGE_NAME: Final = "Bridge {n}"
BRIDGE_LAID: Final = "nobody saw it; it is taken as closed"
BRIDGE_TWICE: Final = "another bridge closes this hole"
BRIDGE_FORGET: Final = "Forget this bridge"
BRIDGE_ENTRY: Final = "bridge a hole"
BRIDGE_CHANGE_ENTRY: Final = "change a bridge"
BRIDGE_FORGET_ENTRY: Final = "forget a bridge"

# --- the carpet laid --------------------------------------------------------------------------------------------------
SEE_CARPET: Final = "See the floor as"
SEE_BARE: Final = "what the scan shows"
SEE_LOOSE: Final = "carpet, loose"
SEE_SQUEEZED: Final = "carpet, squeezed"
LAYING_CARPET: Final = "Laying the carpet"
