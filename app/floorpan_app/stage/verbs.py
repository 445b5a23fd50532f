"""The tool roll of each step: what can be done there, by the name the tool is known by."""

from typing import Final

from floorpan.layout import Step
from floorpan_app.widgets.verb_button import Verb

CROP: Final = "crop box"
OUTLINE: Final = "outline"
POINT: Final = "point "
PROBE: Final = f"{POINT}probe"
BRUSH: Final = "brush"
MEASURE: Final = "measure"
PICK: Final = "pick "
PLACE: Final = "place "
DRAG, TURN, MIRROR, LOCK = "drag", "turn", "mirror", "lock"

_MEASURE: Final = Verb(id=MEASURE, word="Measure", icon="measure", key="K")
_OUTLINE: Final = Verb(id=OUTLINE, word="Outline", icon="crop-outline")
_ROLLS: Final[dict[Step, tuple[Verb, ...]]] = {
    "scan": (
        Verb(id=CROP, word="Crop box", icon="crop-box"),
        _OUTLINE,
        Verb(id=POINT + "length", word="Known length", icon="measure"),
        Verb(id=POINT + "probe", word="Probe point", icon="probe"),
        _MEASURE,
    ),
    "axes": (
        Verb(id=PICK + "level", word="Level", icon="level"),
        Verb(id=PICK + "pair", word="Pair", icon="mirror"),
        Verb(id=PICK + "centre", word="Centre", icon="pick-point"),
        Verb(id=PICK + "origin", word="Origin", icon="axes"),
        Verb(id=PICK + "front", word="Front", icon="see-from"),
        _MEASURE,
    ),
    "floor": (_OUTLINE, Verb(id=BRUSH, word="Paint", icon="brush"), _MEASURE),
    "driver": (Verb(id=PLACE + "seat", word="Seat", icon="seat", key="P"), _MEASURE),
    "controls": (
        Verb(id=PLACE + "shifter", word="Shifter", icon="shifter", key="P"),
        Verb(id=PLACE + "handbrake", word="Handbrake", icon="handbrake"),
        Verb(id=PLACE + "buckle", word="Buckle", icon="buckle"),
        Verb(id=PLACE + "switch", word="Switch", icon="place"),
        _MEASURE,
    ),
    "cup": (
        Verb(id=PLACE + "cup holder", word="Cup holder", icon="cup", key="P"),
        Verb(id=PLACE + "vessel", word="Vessel", icon="vessel"),
        _MEASURE,
    ),
    "console": (Verb(id=PLACE + "console", word="Console", icon="piece", key="P"), _MEASURE),
    "check": (_MEASURE,),
}


def verbs_for(step: Step) -> tuple[Verb, ...]:
    """The verbs of a step's tool roll."""
    return _ROLLS.get(step, ())


def placed_in(step: Step) -> str:
    """The tool that places what belongs to a step, empty where nothing does."""
    return next((verb.id for verb in verbs_for(step) if verb.id.startswith(PLACE)), "")
