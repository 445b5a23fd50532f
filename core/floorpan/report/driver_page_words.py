"""Words of the papers' section on the driver."""

from typing import Final

DRIVER: Final = "The driver"
NOTE: Final = (
    "Reach is judged for these very people, belted in, at every seat notch in use. Lengths in {unit}."
)
SIZES_OF: Final = "{name}, in the {seat}"
COL_SIZE, COL_LENGTH, COL_FROM = "Size", "{unit}", "From"
TAPED: Final = "taped"
FOLLOWS: Final = "not taped: follows from the rest"
BY_PERCENTILE: Final = "{n} of 100 are smaller"
SITS: Final = (
    "Sits {back} rearward, {right} right and {up} up of the seat reference point, the torso {lean} back."
)
WEARS: Final = "Counted with: glove {glove}, jacket {jacket}, sole {sole}, helmet {helmet}."
FOAM: Final = "The seat\u2019s foam settles by {foam}."
LOOSE: Final = "Belts loose, the shoulder comes {forward} forward and the shoulders turn by {turn}."
SURVEY: Final = "Sizes not taped follow from an open survey of soldiers: {source}"

REACH: Final = "Reach of every gear"
COL_GEAR: Final = "Gear"
COL_TIGHT: Final = "tight, notch {n}"
COL_LOOSE: Final = "loose, notch {n}"
LIMITS: Final = "{gear}: {note}"
NOTHING_JUDGED: Final = "No gear was judged."
WORST: Final = "Worst: {sentence}"

ELBOW: Final = "Where the elbow goes"
ELBOW_NOTE: Final = (
    "Belts tight, notch {notch}. The elbow hangs where joints, bolsters and console let it; an armrest belongs under "
    "its lowest place and behind its rearmost one."
)
COL_AT: Final = "Elbow at"
COL_ANGLE: Final = "Angle"
COL_ROOM: Final = "Room, {unit}"
COL_HELD: Final = "Kept from hanging by"
FREE: Final = "nothing"

PLANE: Final = "The published hand-reach plane"
PLANE_AT: Final = "The published hand-reach plane stands across the car at {x} rear."
PLANE_COVERS: Final = (
    "The knob in neutral lies where its tables speak. They are not in this program: "
    "this says nothing of reach."
)
PLANE_NOT: Final = "Not covered: the knob in neutral lies {why}. Its tables say nothing there."
WHYS: Final[dict[str, str]] = {
    "too far outboard": "too far outboard",
    "too far inboard": "too far inboard",
    "too low": "too low",
    "too high": "too high",
    "behind the plane": "behind the plane",
}
