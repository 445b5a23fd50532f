"""What searches over layouts. Judges never propose; this does, and has its proposals judged."""

from floorpan.advice.cures import with_cures
from floorpan.advice.knob_field import KnobField
from floorpan.advice.knob_limits import KnobLimit, capsule_limit, plane_limit, torus_limit
from floorpan.advice.knob_question import ArmAt, Cause, Judged, KnobQuestion
from floorpan.advice.knob_region import KnobMove, KnobRegion, KnobSide, Roomiest, knob_region, nearest, sides
from floorpan.advice.lever_for_knob import LeverAnswer, lever_for_knob
from floorpan.advice.lever_freedom import LeverFreedom, Trouble, usual_freedom
from floorpan.advice.lever_remarks import LeverRemark, lever_remarks
from floorpan.advice.lever_sums import LeverReadings, lever_readings
from floorpan.advice.lever_words import model_remarks, what_stops
from floorpan.advice.sampled_limit import field_limit

__all__ = [
    "ArmAt",
    "Cause",
    "Judged",
    "KnobField",
    "KnobLimit",
    "KnobMove",
    "KnobQuestion",
    "KnobRegion",
    "KnobSide",
    "LeverAnswer",
    "LeverFreedom",
    "LeverReadings",
    "LeverRemark",
    "Roomiest",
    "Trouble",
    "capsule_limit",
    "field_limit",
    "knob_region",
    "lever_for_knob",
    "lever_readings",
    "lever_remarks",
    "model_remarks",
    "nearest",
    "plane_limit",
    "sides",
    "torus_limit",
    "usual_freedom",
    "what_stops",
    "with_cures",
]
