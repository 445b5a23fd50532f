"""What searches over layouts. Judges never propose; this does, and has its proposals judged."""

from floorpan.advice.cures import with_cures
from floorpan.advice.lever_for_knob import LeverAnswer, lever_for_knob
from floorpan.advice.lever_freedom import LeverFreedom, Trouble, usual_freedom
from floorpan.advice.lever_remarks import LeverRemark, lever_remarks
from floorpan.advice.lever_sums import LeverReadings, lever_readings
from floorpan.advice.lever_words import model_remarks, what_stops

__all__ = [
    "LeverAnswer",
    "LeverFreedom",
    "LeverReadings",
    "LeverRemark",
    "Trouble",
    "lever_for_knob",
    "lever_readings",
    "lever_remarks",
    "model_remarks",
    "usual_freedom",
    "what_stops",
    "with_cures",
]
