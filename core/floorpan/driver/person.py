"""A person in the car, set by tape measurements of that very person, or by what follows from a few of them.

Body defaults lie at the middle of the 4082 men of the 2012 Anthropometric Survey of U.S. Army Personnel
(Gordon et al., NATICK/TR-15/007, open data): straight arm to grip 665, acromion to elbow 335, wrist to grip
62, half the breadth between the shoulder points 207.5. Hip to shoulder is the shoulder point over the seat,
603, less 95 for the hip point over a loaded cushion (common practice, no source). Percentiles of different
measures must not be added up to a person: tape somebody, or let the rest follow from one measure.
"""

import math
from dataclasses import dataclass
from typing import Annotated, Literal

from floorpan.driver.body_figures import SEXES, Sex
from floorpan.driver.known_sizes import BodySize
from floorpan.errors import BadValue
from floorpan.fields import Choice, Range, Text, check_fields

Role = Literal["driver", "passenger"]
Belts = Literal["tight", "loose"]
Side = Literal["left", "right"]

BELTS_AXIS = "belts"
BELT_STOPS: tuple[Belts, Belts] = ("tight", "loose")
"""The stops of a person's belts, tight at rest; the layer above makes a state axis of them."""

LEAST_LINK_MM = 100.0

KNUCKLE_PAST_GRIP_MM = 30.0
"""Middle knuckle of a hand on a knob to the middle of the fist, along the forearm; common practice, no source."""

LINKS = ("shoulder_to_grip_mm", "upper_arm_mm", "wrist_to_grip_mm", "shoulder_mm", "shoulder_out_mm")
"""The fields that reach is worked out from, each taped or following from the rest of the body."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """One person and the seat and notches they use. The first driver is the design driver.

    sizes     : further sizes that are known, which those not taped follow from
    not_taped : names of LINKS that nobody taped
    hip_*_mm  : the hip from the seat reference point, in the seat's axes; lean_off_deg the torso from the seat's line
    """

    id: Annotated[str, Text(60, "Id", "Kind and number, never used twice.")]
    name: Annotated[str, Text(60, "Name", "What you call them.")] = "Driver"
    role: Annotated[Role, Choice(("driver", "passenger"), "Sits as", "Who they are in this car.")] = "driver"
    seat_id: Annotated[str, Text(60, "Seat", "The seat they sit in.")] = ""
    notches_used: Annotated[
        tuple[int, ...], Range(1, 40, "", "Seat notches", "Every notch this person drives at.")
    ] = (6,)
    shoulder_to_grip_mm: Annotated[
        float,
        Range(
            400, 950, "mm", "Shoulder to grip", "Arm held straight, shoulder point to the middle of the fist."
        ),
    ] = 665.0
    upper_arm_mm: Annotated[
        float, Range(200, 500, "mm", "Upper arm", "Shoulder point to the outer elbow joint, arm hanging.")
    ] = 335.0
    wrist_to_grip_mm: Annotated[
        float, Range(30, 120, "mm", "Wrist to grip", "Wrist crease to the middle of the fist.")
    ] = 62.0
    shoulder_mm: Annotated[
        float,
        Range(
            300, 700, "mm", "Hip to shoulder", "Hip point to the shoulder point, along the torso, belted in."
        ),
    ] = 508.0
    shoulder_out_mm: Annotated[
        float, Range(120, 280, "mm", "Shoulder out", "Middle of the chest to the shoulder point.")
    ] = 207.5
    tape_u_mm: Annotated[
        float, Range(0, 60, "mm", "Tape, give or take", "Within this in 95 of 100 tries.")
    ] = 10.0
    sex: Annotated[Sex, Choice(SEXES, "Not taped, as of a", "Whose sizes stand in for those not taped.")] = (
        "man"
    )
    sizes: tuple[BodySize, ...] = ()
    not_taped: Annotated[tuple[str, ...], Choice(LINKS, "Not taped", "Follows from the rest.")] = ()
    glove_mm: Annotated[float, Range(0, 40, "mm", "Glove adds", "To the hand, all round.")] = 0.0
    jacket_mm: Annotated[
        float, Range(0, 60, "mm", "Jacket adds", "To the arms all round, and behind the back, belted in.")
    ] = 0.0
    shoe_mm: Annotated[float, Range(0, 60, "mm", "Sole", "Under the heel, shoes on.")] = 25.0
    helmet_mm: Annotated[float, Range(0, 80, "mm", "Helmet adds", "To the head, all round.")] = 0.0
    hip_back_mm: Annotated[
        float, Range(-300, 300, "mm", "Hip rearward", "Of the seat reference point, as this person sits.")
    ] = 0.0
    hip_right_mm: Annotated[float, Range(-200, 200, "mm", "Hip right", "Of the seat reference point.")] = 0.0
    hip_up_mm: Annotated[float, Range(-200, 200, "mm", "Hip up", "Over the seat reference point.")] = 0.0
    lean_off_deg: Annotated[
        float, Range(-30, 30, "deg", "Torso beyond the seat's", "Leans back further than the seat's line.")
    ] = 0.0
    loose_forward_mm: Annotated[
        float,
        Range(
            0, 400, "mm", "Belts loose, shoulder forward", "How far it leaves the backrest. Default, edit me."
        ),
    ] = 80.0
    loose_turn_deg: Annotated[
        float, Range(0, 60, "deg", "Belts loose, shoulders turn", "Towards the hand. Default, edit me.")
    ] = 10.0
    elbow_least_deg: Annotated[
        float, Range(30, 180, "deg", "Elbow, at least", "The bend this person wants on the knob.")
    ] = 75.0
    elbow_most_deg: Annotated[
        float, Range(30, 180, "deg", "Elbow, at most", "The stretch this person wants on the knob.")
    ] = 160.0

    def __post_init__(self) -> None:
        check_fields(self)
        if not self.notches_used:
            raise BadValue("no-notch", "Nobody sits at no notch.", "Give at least one seat notch.")
        if self.shoulder_to_grip_mm - self.upper_arm_mm < max(LEAST_LINK_MM, self.wrist_to_grip_mm):
            raise BadValue(
                "arm-does-not-add-up",
                "The upper arm leaves too little of the straight arm for a forearm.",
                "Tape both again: shoulder to grip, and shoulder to elbow.",
                shoulder_to_grip_mm=self.shoulder_to_grip_mm,
                upper_arm_mm=self.upper_arm_mm,
            )

    def forearm_mm(self) -> float:
        """Elbow to grip: what the straight arm leaves, so that the elbow is not counted twice."""
        return self.shoulder_to_grip_mm - self.upper_arm_mm

    def hand_radius_mm(self, bare_mm: float = 55.0) -> float:
        """The ball of a hand about a grip: the bare hand plus the glove."""
        return bare_mm + self.glove_mm


def lean_deg_of(forward_mm: float, shoulder_mm: float) -> float:
    """The lean about the hip that brings a shoulder forward by so much along its arc [deg]."""
    return math.degrees(forward_mm / shoulder_mm)
