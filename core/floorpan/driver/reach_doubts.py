"""How sure a reach is: from the tape, and from what nobody taped. Linear propagation after JCGM 100."""

import math

import numpy as np

from floorpan.driver.arm import elbow_deg
from floorpan.driver.filling import link_doubts
from floorpan.driver.person import Person
from floorpan.frames import Floats

Spread = tuple[float, float]
"""Standard uncertainties: of the tape, of what nobody taped."""


def spare_sd_mm(person: Person, away: Floats, up: Floats, out: Floats) -> Spread:
    """Of the arm to spare [mm].

    away    : (3,) from the grip to the shoulder [mm]
    up, out : (3,) unit vectors up the torso and out to the shoulder

    The tape counts twice, independently: along the arm, and where it finds the shoulder.
    """
    doubts = link_doubts(person)
    change = np.array([1.0, *-_along(away, up, out)])
    return math.hypot(person.tape_u_mm / 2.0, doubts.arm_by_tape), _sd(doubts.by_body, change)


def elbow_sd_deg(
    person: Person, away: Floats, up: Floats, out: Floats, of_spare: Spread, fingers_mm: float = 0.0
) -> Spread:
    """Of the elbow's angle [deg]; away, up, out as for `spare_sd_mm`, fingers_mm as in `reach`.

    of_spare : what `spare_sd_mm` gave for the same

    With c = (u**2 + l**2 - d**2) / (2 u l) and both links in fixed shares of the straight arm L, the angle
    changes by d / (u l sin) per span and by -d**2 / (u l L sin) per L. Near the straight arm the derivative runs
    away, so it is held to the angle that the whole change would make.
    """
    upper, lower = person.upper_arm_mm, person.forearm_mm() + fingers_mm
    length = upper + lower
    span = float(np.linalg.norm(away))
    whole = _whole_change_deg(span, upper, lower, 2.0 * math.hypot(*of_spare))
    sine = math.sin(math.radians(elbow_deg(span, upper, lower)))
    doubts = link_doubts(person)
    # Held, both parts shrink alike.
    steep = max(sine, 1e-9)
    by_span, by_length = span / (upper * lower * steep), span**2 / (upper * lower * length * steep)
    tape = math.hypot(by_span * person.tape_u_mm / 2.0, by_length * doubts.arm_by_tape)
    body = _sd(doubts.by_body, np.array([-by_length, *by_span * _along(away, up, out)]))
    told = math.degrees(2.0 * math.hypot(tape, body))
    held = min(1.0, whole / told) if told > 0.0 else 0.0
    return held * math.degrees(tape), held * math.degrees(body)


def most_spare_sd_mm(person: Person) -> Spread:
    """`spare_sd_mm` is no more than this, wherever the grip is [mm]."""
    doubts = link_doubts(person)
    return math.hypot(person.tape_u_mm / 2.0, doubts.arm_by_tape), _most_sd(doubts.by_body, 1.0, 1.0)


def most_elbow_sd_deg(person: Person, nearest_mm: float, farthest_mm: float) -> Spread:
    """`elbow_sd_deg` is no more than this [deg] for a grip that far from the shoulder, in whatever direction.

    Infinite where the arm may be straight or folded flat there.
    """
    upper, lower = person.upper_arm_mm, person.forearm_mm()
    ends = (elbow_deg(nearest_mm, upper, lower), elbow_deg(farthest_mm, upper, lower))
    # A sine is least at an end of a stretch of the half turn.
    steep = min(math.sin(math.radians(angle)) for angle in ends)
    if steep <= 1e-9:
        return math.inf, math.inf
    by_span = farthest_mm / (upper * lower * steep)
    by_length = by_span * farthest_mm / (upper + lower)
    doubts = link_doubts(person)
    tape = math.hypot(by_span * person.tape_u_mm / 2.0, by_length * doubts.arm_by_tape)
    return math.degrees(tape), math.degrees(_most_sd(doubts.by_body, by_length, by_span))


def _most_sd(covariance: Floats, by_arm: float, by_shoulder: float) -> float:
    """No more than this for a change of by_arm per arm and of by_shoulder per shoulder, whichever way that moves."""
    # Up the torso and out of it are square to each other: together they change a span by no more than one of them.
    shoulder = math.sqrt(max(float(np.linalg.eigvalsh(covariance[1:, 1:])[-1]), 0.0))
    return by_arm * math.sqrt(max(float(covariance[0, 0]), 0.0)) + by_shoulder * shoulder


def _whole_change_deg(span: float, upper: float, lower: float, change: float) -> float:
    angle = elbow_deg(span, upper, lower)
    return max(
        abs(elbow_deg(span + change, upper, lower) - angle),
        abs(elbow_deg(max(span - change, 0.0), upper, lower) - angle),
    )


def _along(away: Floats, up: Floats, out: Floats) -> Floats:
    """How much the span grows (2,) as the torso gets longer and the shoulder goes out."""
    way = away / max(float(np.linalg.norm(away)), 1e-9)
    grown: Floats = np.array([way @ up, way @ out])
    return grown


def _sd(covariance: Floats, change: Floats) -> float:
    return math.sqrt(max(float(change @ covariance @ change), 0.0))
