"""What the cup's card says; `{}` fields are filled where they are shown."""

from typing import Final

# --- how hard a corner ------------------------------------------------------------------------------------------
CORNER: Final = "Corner at"
CORNER_TOLD: Final = "Asked of every vessel, to the sides and fore and aft, and of an open cup\u2019s drink."
CORNER_SPAN: Final = "A corner is {least} to {most}."
CORNER_ENTRY: Final = "corner at {g}"
MARKS: Final = "{comfort} most drivers, {limit} most cars, {sports} sports tyres."
MARKS_TOLD: Final = (
    "Most drivers stay below {comfort}, most cars reach {limit}, the tyres of a sports car {sports}. Each vessel is "
    "looked at empty, full and between, and the worst is shown."
)
COUNTED: Final = "At the worst fill level, over a bump that takes {bump} off; no wobble from the road."

# --- vessels ----------------------------------------------------------------------------------------------------
HOLDS_TO: Final = "holds to, g"
SIDEWAYS: Final = "sideways"
FORE_AFT: Final = "fore, aft"
SPILLS: Final = "spills at"
STAYS: Final = "stays"
KIND_OF_VESSEL: Final = "Kind of vessel"
GROUPS: Final = {
    "can": "Cans",
    "bottle": "Bottles",
    "cup": "Paper and cold cups",
    "mug": "Travel mugs",
    "flask": "Flasks",
}
PROFILE_NOTE: Final = "{note} In {unit}."
OPEN_TOP: Final = "Open at the top"
OPEN_TOP_ENTRY: Final = "open {name}"
CLOSE_TOP_ENTRY: Final = "close {name}"

# --- what one vessel does ---------------------------------------------------------------------------------------
ON_A_SHELF: Final = "On a flat shelf it {does} at {g}, {fill}."
DOES: Final = {"slides": "slides", "tips": "tips over"}
FULL: Final = "full"
EMPTY: Final = "empty"
PART_FULL: Final = "{n} percent full"
SPILLS_ABOVE: Final = "It spills above {g} with {room} of room at the top; its drink then slopes by {slope}."
NEVER_SPILLS: Final = "Closed at the top: it does not spill."

# --- the well ---------------------------------------------------------------------------------------------------
WALL: Final = "Wall"
WALLS: Final = {"straight": "straight", "tapered": "tapered", "stepped": "stepped"}
WALL_ENTRY: Final = "make {name} {wall}"
RING: Final = "Second ring over the mouth"
RING_ENTRY: Final = "a second ring over {name}"
NO_RING_ENTRY: Final = "no second ring over {name}"
ACROSS: Final = "Across, inside"
MOUTH: Final = "Mouth diameter"
UPPER: Final = "Upper part"
STEP_TOO_HIGH: Final = "The step stands as high as the well is deep, so it counts for nothing. Lower it."

# --- the lean, drawn --------------------------------------------------------------------------------------------
FIT: Final = "How it fits"
FIT_TITLES: Final = {"well-side": "Room across", "well-depth": "Depth in the well", "well-grip": "Stands out"}
WANTED: Final = "wanted {wanted}"
ROOM_AT: Final = "{room} at {height}"
ROOM_HEAD: Final = "room at height"
DEEP: Final = "deep"
LEANS: Final = "leans {deg} in the well"
NO_LEAN: Final = "does not lean in the well"
LEANS_OUT: Final = "nothing stops its lean"
NO_ENTRY: Final = "does not go in"
FITS: Final = (
    "{vessel} sits {sits} deep in {well}. {lean} Least room across: {room}, at {height} over the bottom."
)
FITS_LEAN: Final = "It leans {deg} before bottom, wall and rim stop it."
FITS_SNUG: Final = "It has no room to lean."
FITS_LOOSE: Final = "Nothing stops its lean."
NO_FIT: Final = "{vessel} does not go into {well}: its base is {across} across, the way in {mouth}."
NO_VESSEL: Final = "No vessel stands in {well} yet."

SHARED: Final = (
    "{drawn} and {others} share a well: {drawn} is drawn, {others} is not until it is pressed. Each is judged alone.",
    "{drawn} and {others} share a well: {drawn} is drawn, the others are not until one is pressed. "
    "Each is judged alone.",
)

# --- what stands close ------------------------------------------------------------------------------------------
CLOSE_BY: Final = "Close to the cup"
CLOSE_BY_WORST: Final = "worst of each"
CLOSE_BY_NOTE: Final = "Pressed, a row shows the car as it stands then."
