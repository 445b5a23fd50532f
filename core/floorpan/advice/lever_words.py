"""What is said of a lever's answer: what stops it, and what the shifter's model shows otherwise than the car."""

from floorpan.advice.lever_for_knob import LeverAnswer
from floorpan.units import System, show_length

_STOPS = {
    "length_least_mm": "the lever is at its shortest",
    "length_most_mm": "the lever is at its longest",
    "bend_most_deg": "the lever is bent as far as it may be",
    "raise_least_mm": "the box cannot go lower than it stands",
    "raise_most_mm": "the box is raised as far as it may be",
    "tilt_least_deg": "the box is tilted forward as far as it may be",
    "tilt_most_deg": "the box is tilted rearward as far as it may be",
    "move_forward_mm": "the box is as far forward as it may go",
    "move_rearward_mm": "the box is as far rearward as it may go",
    "move_left_mm": "the box is as far to the left as it may go",
    "move_right_mm": "the box is as far to the right as it may go",
    "length_free": "the lever keeps its length",
    "bend_free": "the lever stays as straight as it is",
    "raise_free": "the box is not raised",
    "tilt_free": "the box is not tilted",
    "move_free": "the box is not moved",
}


def what_stops(answer: LeverAnswer) -> tuple[str, ...]:
    """Half sentences, the strongest first: ends of ranges, then what is not free. Empty where the target is met."""
    return tuple(_STOPS[name] for name in (*answer.stopped_by, *answer.not_free))


def model_remarks(answer: LeverAnswer, system: System = "mm") -> tuple[str, ...]:
    """Sentences on where the changed shifter, once taken up, differs from what is built."""

    def length(mm: float) -> str:
        return show_length(mm, system, digits=0, with_unit=True)

    def is_told(mm: float) -> bool:
        return length(mm) != length(0.0)

    told: list[str] = []
    if answer.bend is not None and is_told(answer.gears_off_mm):
        off = length(answer.gears_off_mm)
        told.append(f"In the outer planes the bent lever's knob is up to {off} from the one drawn.")
    if is_told(answer.foot_off_mm):
        off = length(answer.foot_off_mm)
        told.append(f"The box is drawn level under its leaning gate, its foot {off} from the real one.")
    if is_told(answer.box_move_mm[2]):
        raised = length(answer.box_move_mm[2])
        told.append(f"Spacers of {raised} are not drawn; the box stands on nothing.")
    if is_told(answer.opening_off_mm):
        off = length(answer.opening_off_mm)
        told.append(f"The opening is drawn {off} from where it is in the console.")
    return tuple(told)
