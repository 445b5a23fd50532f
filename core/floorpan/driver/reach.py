"""Whether a hand gets to a grip, with how much arm to spare, at which elbow angle, and how sure that is."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from floorpan.driver.arm import Arm, arm, elbow_deg
from floorpan.driver.person import Belts, Person, Side
from floorpan.driver.posture import most_share, shoulder_points, side_sign
from floorpan.frames import Floats, Vector

# The elbow hangs down and a little outward; common practice, no source.
ELBOW_OUT_DEG = 20.0

LimitedBy = Literal["nothing", "arm length", "elbow too straight", "elbow too bent", "elbow joint"]

Spans = Callable[[Floats], Floats]

_SHARES = 65
_GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """A hand on a grip. All uncertainties are half-widths at about 95 %.

    spare_mm       : straight arm less the least shoulder-to-grip the belts allow; negative is missing
    spare_u_mm     : tape_u * sqrt(2): the tape along the arm and the one that finds the shoulder, independent
    elbow_deg      : with the shoulder only as far forward as it must be
    elbow_u_deg    : from both tapes by the derivative of the law of cosines, held to what the joint can do
    shoulder_mm    : where the shoulder is then, in car axes
    shoulder_off_mm: how far it has left the backrest for it, what is missing included
    arm            : the posed arm, hand on the grip
    limited_by     : the first of: arm length, the elbow's own joint, the elbow angles this person wants
    """

    spare_mm: float
    spare_u_mm: float
    elbow_deg: float
    elbow_u_deg: float
    shoulder_mm: Vector
    shoulder_off_mm: float
    arm: Arm
    limited_by: LimitedBy


def reach(
    person: Person,
    h_point: Vector,
    back_deg: float,
    belts: Belts,
    hand_side: Side,
    grip_at: Vector,
    turn_deg: float = 0.0,
) -> Reach:
    """A person's hand on a grip. h_point, grip_at in car axes [mm]; back_deg the torso line from upright.

    With the belts loose the shoulder leaves the backrest only as far as the grip asks for; the spare is what
    is left at the nearest the belts allow, so loose never reaches less than tight.
    """
    grip = np.asarray(grip_at, dtype=float)
    length = person.shoulder_to_grip_mm

    def shoulders(shares: Floats) -> Floats:
        return shoulder_points(person, h_point, back_deg, hand_side, shares, turn_deg)

    def spans(shares: Floats) -> Floats:
        return np.asarray(np.linalg.norm(shoulders(shares) - grip, axis=1), dtype=float)

    nearest = _nearest_share(spans, most_share(belts))
    spare = length - float(spans(np.array([nearest]))[0])
    share = _needed_share(spans, nearest, length)
    on_backrest, here = shoulders(np.array([0.0, share]))
    posed = pose_arm(person, (float(here[0]), float(here[1]), float(here[2])), hand_side, grip_at)
    off = float(np.linalg.norm(here - on_backrest)) + max(-spare, 0.0)
    return Reach(
        spare_mm=spare,
        spare_u_mm=math.sqrt(2.0) * person.tape_u_mm,
        elbow_deg=posed.elbow_deg,
        elbow_u_deg=elbow_u_deg(person, float(np.linalg.norm(here - grip))),
        shoulder_mm=posed.shoulder_mm,
        shoulder_off_mm=off,
        arm=posed,
        limited_by=_limited_by(person, spare, posed),
    )


def pose_arm(person: Person, shoulder: Vector, hand_side: Side, grip_at: Vector) -> Arm:
    """This person's arm from a shoulder to a grip, elbow hanging down and a little outward."""
    # Forward along the arm the right hand rule turns a hanging elbow to the left.
    swivel = -side_sign(hand_side) * ELBOW_OUT_DEG
    return arm(shoulder, grip_at, person.upper_arm_mm, person.forearm_mm(), swivel, person.wrist_to_grip_mm)


def elbow_u_deg(person: Person, span_mm: float) -> float:
    """Half-width of the elbow angle at about 95 % [deg].

    With c = (u**2 + l**2 - d**2) / (2 u l) and both links in fixed shares of the straight arm L, the angle
    changes by d / (u l sin) per span and by -d**2 / (u l L sin) per L; the two tapes are independent. Near
    the straight arm the derivative runs away, so it is held to the angle that the whole change would make.
    """
    upper, lower, length = person.upper_arm_mm, person.forearm_mm(), person.shoulder_to_grip_mm
    angle = elbow_deg(span_mm, upper, lower)
    change = math.sqrt(2.0) * person.tape_u_mm
    whole = max(
        abs(elbow_deg(span_mm + change, upper, lower) - angle),
        abs(elbow_deg(max(span_mm - change, 0.0), upper, lower) - angle),
    )
    sine = math.sin(math.radians(angle))
    if sine < 1e-9:
        return whole
    by_span = span_mm / (upper * lower * sine)
    by_length = span_mm**2 / (upper * lower * length * sine)
    return min(math.degrees(person.tape_u_mm * math.hypot(by_span, by_length)), whole)


def _limited_by(person: Person, spare: float, posed: Arm) -> LimitedBy:
    if spare < 0.0:
        return "arm length"
    if not posed.bends:
        return "elbow joint"
    if posed.elbow_deg > person.elbow_most_deg:
        return "elbow too straight"
    if posed.elbow_deg < person.elbow_least_deg:
        return "elbow too bent"
    return "nothing"


def _nearest_share(spans: Spans, most: float) -> float:
    """The share from 0 to most that brings the shoulder nearest to the grip; never worse than share 0."""
    if most == 0.0:
        return 0.0
    shares = np.linspace(0.0, most, _SHARES)
    least = int(np.argmin(spans(shares)))
    low, high = shares[max(least - 1, 0)], shares[min(least + 1, _SHARES - 1)]
    while high - low > 1e-9:
        a, b = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        near_a, near_b = spans(np.array([a, b]))
        low, high = (low, b) if near_a <= near_b else (a, high)
    tried = np.array([0.0, shares[least], (low + high) / 2])
    return float(tried[int(np.argmin(spans(tried)))])


def _needed_share(spans: Spans, nearest: float, length: float) -> float:
    """The least share at which the arm reaches; `nearest` where it does not."""
    if spans(np.array([0.0]))[0] <= length:
        return 0.0
    if spans(np.array([nearest]))[0] > length:
        return nearest
    low, high = 0.0, nearest
    while high - low > 1e-9:
        middle = (low + high) / 2
        low, high = (low, middle) if spans(np.array([middle]))[0] <= length else (middle, high)
    return high
