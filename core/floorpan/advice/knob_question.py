"""Where a knob may be, as one exact function: the least of all that arms, gears and limits leave at a place.

Every arm is a shell about its shoulder between two spans: elbow as bent and as straight as wanted, in closed form
by the law of cosines. Moved back by each gear's place on the gate, shells and limits are all about the knob in
neutral, and the room there is the least of them.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from floorpan.advice.knob_limits import KnobLimit
from floorpan.errors import BadValue
from floorpan.frames import Floats, Vector

NEUTRAL = "neutral"

# Beyond this an arm counts as straight, and what stops it is its length.
_STRAIGHT_DEG = 180.0 - 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class ArmAt:
    """One driver's arm at one notch of the seat, belts tight.

    name           : who and at which notch, for the label
    shoulder_mm    : in car axes; upper_mm, lower_mm the links, together the straight arm to the grip's centre
    elbow_least_deg, elbow_most_deg : how far this driver wants the elbow bent and straightened; 180 is straight

    Raises BadValue for links without length and angles that leave nothing between them.
    """

    name: str
    shoulder_mm: Vector
    upper_mm: float
    lower_mm: float
    elbow_least_deg: float
    elbow_most_deg: float

    def __post_init__(self) -> None:
        numbers = (*self.shoulder_mm, self.upper_mm, self.lower_mm)
        if not all(map(math.isfinite, numbers)) or min(self.upper_mm, self.lower_mm) <= 0.0:
            raise BadValue("no-arm", "An arm has a shoulder and two links.", "Tape the arm again.")
        if not 0.0 <= self.elbow_least_deg < self.elbow_most_deg <= 180.0:
            raise BadValue(
                "elbow-band-empty",
                "Between most bent and most straight nothing is left.",
                "Set both elbow angles again: least below most, 180 at most.",
            )

    def span_mm(self, elbow_deg: float) -> float:
        """Shoulder to grip at an elbow angle, by the law of cosines [mm]."""
        square = self.upper_mm**2 + self.lower_mm**2
        product = 2.0 * self.upper_mm * self.lower_mm * math.cos(math.radians(elbow_deg))
        return math.sqrt(max(square - product, 0.0))

    @property
    def shortest_mm(self) -> float:
        """The span with the elbow as bent as wanted."""
        return self.span_mm(self.elbow_least_deg)

    @property
    def longest_mm(self) -> float:
        """The span with the elbow as straight as wanted."""
        return self.span_mm(self.elbow_most_deg)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """What limits: the name of it, in which gear, and whose arm (nobody's for a limit)."""

    name: str
    gear: str
    arm: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One cause and the room it leaves a knob in neutral at places (N, 3): (N,) [mm]."""

    cause: Cause
    margin: Callable[[Floats], Floats]
    steepness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """The room at one place [mm], exact, and what limits it there."""

    margin_mm: float
    cause: Cause


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class KnobQuestion:
    """For whom, through which gears and beside what the knob is to be placed.

    arms       : one per driver and used notch, one at least
    gears      : names of the gears, one at least
    grips_mm   : (G, 3) the grip's centre in each gear less the one in neutral [mm]; the gate is moved as it is
    present_mm : where the knob in neutral is now, in car axes
    limits     : what else the hand has to stay clear of

    Raises BadValue unless names and places match and are numbers.
    """

    arms: tuple[ArmAt, ...]
    gears: tuple[str, ...]
    grips_mm: Floats
    present_mm: Vector
    limits: tuple[KnobLimit, ...] = ()
    terms: tuple[Term, ...] = field(init=False)

    def __post_init__(self) -> None:
        grips = np.asarray(self.grips_mm, dtype=float)
        match = grips.shape == (len(self.gears), 3) and len(self.gears) > 0 and len(self.arms) > 0
        if not match or not np.isfinite([*grips.ravel(), *self.present_mm]).all():
            raise BadValue(
                "no-gate-to-place",
                "A gate to place has a grip for each gear and somebody to hold it.",
                "Set the gears and the driver.",
            )
        object.__setattr__(self, "grips_mm", grips)
        object.__setattr__(self, "terms", (*_arm_terms(self.arms, self.gears, grips), *_limit_terms(self)))

    @property
    def steepness(self) -> float:
        """By how many mm the room changes at most for each mm the knob moves; 1 without sampled limits."""
        return max(term.steepness for term in self.terms)

    def margins(self, points: Floats) -> Floats:
        """The room (N,) at places (N, 3) of the knob in neutral [mm], exact; negative is missing."""
        places = np.asarray(points, dtype=float).reshape(-1, 3)
        least = np.full(len(places), np.inf)
        for term in self.terms:
            np.minimum(least, term.margin(places), out=least)
        return least

    def margin_at(self, place: Vector) -> Judged:
        """The room with the knob in neutral at one place, exact, and what limits it."""
        found = self.room_of_each(place)
        least = int(np.argmin(found))
        return Judged(margin_mm=float(found[least]), cause=self.terms[least].cause)

    def room_of_each(self, place: Vector) -> Floats:
        """What each of the terms leaves at one place (T,) [mm]."""
        point = np.array([place], dtype=float)
        return np.array([float(term.margin(point)[0]) for term in self.terms])

    def reach_box(self) -> tuple[Floats, Floats]:
        """Low and high corner of the box that every arm reaches in every gear; low above high where none is."""
        ends = [(c, arm.longest_mm) for arm in self.arms for c in np.array(arm.shoulder_mm) - self.grips_mm]
        low: Floats = np.max([centre - reach for centre, reach in ends], axis=0)
        high: Floats = np.min([centre + reach for centre, reach in ends], axis=0)
        return low, high


def _arm_terms(arms: tuple[ArmAt, ...], gears: tuple[str, ...], grips: Floats) -> list[Term]:
    terms = []
    for arm in arms:
        straight = "arm length" if arm.elbow_most_deg >= _STRAIGHT_DEG else "elbow too straight"
        for gear, grip in zip(gears, grips, strict=True):
            centre = np.array(arm.shoulder_mm) - grip
            for name, span, sign in (
                (straight, arm.longest_mm, -1.0),
                ("elbow too bent", arm.shortest_mm, 1.0),
            ):
                cause = Cause(name=name, gear=gear, arm=arm.name)
                terms.append(Term(cause=cause, margin=_ball(centre, span, sign), steepness=1.0))
    return terms


def _limit_terms(question: KnobQuestion) -> list[Term]:
    grips = np.asarray(question.grips_mm, dtype=float)
    every = list(zip(question.gears, grips, strict=True))
    return [
        Term(
            cause=Cause(name=limit.name, gear=gear),
            margin=_moved(limit, grip),
            steepness=limit.steepness,
        )
        for limit in question.limits
        for gear, grip in ([(NEUTRAL, np.zeros(3))] if limit.neutral_only else every)
    ]


def _ball(centre: Floats, span: float, sign: float) -> Callable[[Floats], Floats]:
    def margin(points: Floats) -> Floats:
        away = points - centre
        room: Floats = np.sqrt(np.einsum("ij,ij->i", away, away))
        room -= span
        room *= sign
        return room

    return margin


def _moved(limit: KnobLimit, grip: Floats) -> Callable[[Floats], Floats]:
    def margin(points: Floats) -> Floats:
        room = np.asarray(limit.margin(points + grip), dtype=float)
        # What is no number would compare as room without end.
        if room.shape != (len(points),) or np.isnan(room).any():
            raise BadValue(
                "limit-without-answer",
                f"{limit.name} does not say how much room it leaves.",
                "Place it again.",
            )
        return room

    return margin
