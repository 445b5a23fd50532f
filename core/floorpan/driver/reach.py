"""Whether a hand gets to a grip, with how much arm to spare, at which elbow angle, and how sure that is."""

import functools
import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from floorpan.driver.arm import Arm, arm
from floorpan.driver.joints import Joint, TorsoAxes, torso_axes
from floorpan.driver.person import Belts, Person, Side, lean_deg_of
from floorpan.driver.posture import most_share, shoulder_points, side_sign
from floorpan.driver.reach_doubts import Spread, elbow_sd_deg, spare_sd_mm
from floorpan.driver.swivel import nearest_swivel
from floorpan.frames import Floats, Vector

# The elbow hangs down and a little outward; common practice, no source.
ELBOW_OUT_DEG = 20.0

LimitedBy = Literal["nothing", "arm length", "elbow too straight", "elbow too bent", Joint]

Spans = Callable[[Floats], Floats]

_SHARES = 65
_GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """A hand on a grip. All uncertainties are half-widths at about 95 %.

    spare_mm       : straight arm, fingers counted, less the least shoulder-to-grip the belts allow; negative is missing
    spare_u_mm     : the tape along the arm and the one that finds the shoulder, independent, and what nobody taped
    spare_sd_mm    : two standard uncertainties behind it: of the tape, of what nobody taped
    elbow_deg      : with the shoulder only as far forward as it must be
    elbow_u_deg    : from the same by the derivative of the law of cosines, held to what the joint can do
    elbow_sd_deg   : the two standard uncertainties behind it
    shoulder_mm    : where the shoulder is then, in car axes
    shoulder_off_mm: how far it has left the backrest for it, what is missing included
    arm            : the posed arm, hand on the grip
    limited_by     : the first of: arm length, the elbow's own joint, another joint, the elbow angles this person wants
    """

    spare_mm: float
    spare_u_mm: float
    spare_sd_mm: Spread
    elbow_deg: float
    elbow_u_deg: float
    elbow_sd_deg: Spread
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
    fingers_mm: float = 0.0,
) -> Reach:
    """A person's hand on a grip. h_point, grip_at in car axes [mm]; back_deg the torso line from upright.

    fingers_mm : how much further than the middle of the fist it touches, fingers stretched in line with the forearm

    With the belts loose the shoulder leaves the backrest only as far as the grip asks for; the spare is what
    is left at the nearest the belts allow, so loose never reaches less than tight.
    """
    grip = np.asarray(grip_at, dtype=float)
    length = person.shoulder_to_grip_mm + fingers_mm

    def shoulders(shares: Floats) -> Floats:
        return shoulder_points(person, h_point, back_deg, hand_side, shares, turn_deg)

    def spans(shares: Floats) -> Floats:
        return np.asarray(np.linalg.norm(shoulders(shares) - grip, axis=1), dtype=float)

    most = most_share(belts)
    torso, on_backrest = _on_backrest(
        person.shoulder_mm, person.shoulder_out_mm, h_point, back_deg, hand_side, turn_deg
    )
    here, spare, share = on_backrest, length - float(np.linalg.norm(on_backrest - grip)), 0.0
    if most > 0.0:
        nearest = _nearest_share(spans, most)
        spare = length - float(spans(np.array([nearest]))[0])
        share = _needed_share(spans, nearest, length)
    if share > 0.0:
        here = shoulders(np.array([share]))[0]
        torso = torso_axes(
            back_deg - share * lean_deg_of(person.loose_forward_mm, person.shoulder_mm),
            hand_side,
            turn_deg,
            share * person.loose_turn_deg,
        )
    posed = pose_arm(person, (float(here[0]), float(here[1]), float(here[2])), hand_side, grip_at, fingers_mm)
    posed, joint = _within_joints(person, posed, torso, fingers_mm)
    off = float(np.linalg.norm(here - on_backrest)) + max(-spare, 0.0)
    of_spare = spare_sd_mm(person, here - grip, torso.up, torso.out)
    of_elbow = elbow_sd_deg(person, here - grip, torso.up, torso.out, of_spare, fingers_mm)
    return Reach(
        spare_mm=spare,
        spare_u_mm=2.0 * math.hypot(*of_spare),
        spare_sd_mm=of_spare,
        elbow_deg=posed.elbow_deg,
        elbow_u_deg=2.0 * math.hypot(*of_elbow),
        elbow_sd_deg=of_elbow,
        shoulder_mm=posed.shoulder_mm,
        shoulder_off_mm=off,
        arm=posed,
        limited_by=_limited_by(person, spare, posed, joint),
    )


@functools.lru_cache(maxsize=256)
def _on_backrest(
    shoulder_mm: float, shoulder_out_mm: float, h_point: Vector, back_deg: float, side: Side, turn_deg: float
) -> tuple[TorsoAxes, Floats]:
    """The torso's axes and the shoulder (3,) against the backrest.

    The same for every grip that is reached for, so it is kept.
    """
    torso = torso_axes(back_deg, side, turn_deg)
    return torso, shoulder_mm * torso.up + shoulder_out_mm * torso.out + np.asarray(h_point)


def pose_arm(
    person: Person, shoulder: Vector, hand_side: Side, grip_at: Vector, fingers_mm: float = 0.0
) -> Arm:
    """This person's arm from a shoulder to a grip, elbow hanging down and a little outward."""
    return _arm(person, shoulder, grip_at, wanted_swivel_deg(hand_side), fingers_mm)


def wanted_swivel_deg(hand_side: Side) -> float:
    """The elbow's place on its circle when nothing is in its way: down and a little outward."""
    # Forward along the arm the right hand rule turns a hanging elbow to the left.
    return -side_sign(hand_side) * ELBOW_OUT_DEG


def _arm(person: Person, shoulder: Vector, grip_at: Vector, swivel_deg: float, fingers_mm: float) -> Arm:
    forearm, hand = person.forearm_mm() + fingers_mm, person.wrist_to_grip_mm + fingers_mm
    return arm(shoulder, grip_at, person.upper_arm_mm, forearm, swivel_deg, hand)


def _within_joints(
    person: Person, posed: Arm, torso: TorsoAxes, fingers_mm: float
) -> tuple[Arm, Joint | None]:
    """The arm with its elbow where every joint allows it, and the joint that allows it nowhere, if one does."""
    if posed.spare_mm < 0.0 or not posed.bends:
        return posed, None
    wanted = wanted_swivel_deg(torso.side)
    forearm = person.forearm_mm() + fingers_mm
    found = nearest_swivel(
        posed.shoulder_mm, posed.grip_mm, person.upper_arm_mm, forearm, torso, wanted_deg=wanted
    )
    if found.swivel_deg is None:
        return posed, found.joint
    if found.swivel_deg == wanted:
        return posed, None
    return _arm(person, posed.shoulder_mm, posed.grip_mm, found.swivel_deg, fingers_mm), None


def _limited_by(person: Person, spare: float, posed: Arm, joint: Joint | None) -> LimitedBy:
    if spare < 0.0:
        return "arm length"
    if not posed.bends:
        return "elbow joint"
    if joint is not None:
        return joint
    if posed.elbow_deg > person.elbow_most_deg:
        return "elbow too straight"
    if posed.elbow_deg < person.elbow_least_deg:
        return "elbow too bent"
    return "nothing"


def _nearest_share(spans: Spans, most: float) -> float:
    """The share from 0 to most that brings the shoulder nearest to the grip; never worse than share 0."""
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
