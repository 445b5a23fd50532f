"""How much further the knob got from the shoulder when the seat was changed, and what each change did to it.

The seat is taken from its old line to its new one in a fixed order: down or up, back or forward, sideways,
reclined, turned, and last of all the knob itself. Each cause's share is what its step adds to the distance from
shoulder to knob, so the shares telescope: together they are the whole change, whatever the order. What one cause
alone is given does hang on the order, because a distance is no straight sum of its causes.
"""

import math
from dataclasses import dataclass, replace
from typing import Literal

from floorpan.driver.person import Side
from floorpan.driver.posture import side_sign
from floorpan.errors import BadValue
from floorpan.frames import Vector

CauseKind = Literal["drop", "slide", "sideways", "recline", "turn", "knob"]

CAUSES: tuple[CauseKind, ...] = ("drop", "slide", "sideways", "recline", "turn", "knob")
"""Every cause, in the order in which they are counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatLine:
    """How somebody sits, in car axes.

    h_point  : hip point [mm]
    back_deg : torso line from upright, rearward
    turn_deg : turn about the upright through the hip point, right hand rule
    """

    h_point: Vector
    back_deg: float
    turn_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """One change and what it did.

    amount      : of the change itself: drop [mm] down, slide [mm] rearward, sideways [mm] to the right, recline
                  [deg] rearward, turn [deg] by the right hand rule, knob [mm] as far as it moved, never negative
    share_mm    : what it added to the distance from shoulder to knob; negative brought them nearer
    distance_mm : from shoulder to knob once this cause and those before it have happened
    """

    kind: CauseKind
    amount: float
    unit: Literal["mm", "deg"]
    share_mm: float
    distance_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedAway:
    """The knob before and after, from the shoulder of the shifting hand with its belts tight.

    before_mm, after_mm : straight from shoulder to knob
    causes              : one of each kind in the order of CAUSES, those that did nothing too
    raised_mm           : how much higher everything fixed to the car now stands against the elbow: the drop
    """

    before_mm: float
    after_mm: float
    causes: tuple[Cause, ...]
    raised_mm: float

    @property
    def change_mm(self) -> float:
        """How much further away the knob is now; the sum of every share."""
        return self.after_mm - self.before_mm


def moved_away(
    before: SeatLine,
    after: SeatLine,
    knob_mm_before: Vector,
    knob_mm_after: Vector | None,
    *,
    shoulder_mm: float,
    shoulder_out_mm: float,
    hand_side: Side,
) -> MovedAway:
    """What the change of seat did to one driver's reach. Knobs in car axes [mm], None where it stayed.

    shoulder_mm     : hip point to shoulder point, along the torso
    shoulder_out_mm : from the torso's middle out to the shoulder point
    Raises BadValue for a number that is not finite.
    """
    knob_after = knob_mm_before if knob_mm_after is None else knob_mm_after
    _check_finite(before, after, knob_mm_before, knob_after, (shoulder_mm, shoulder_out_mm))

    def span(line: SeatLine, knob: Vector) -> float:
        shoulder = _shoulder(line, shoulder_mm, shoulder_out_mm * side_sign(hand_side))
        return math.dist(shoulder, knob)

    first = span(before, knob_mm_before)
    steps = [(line, knob_mm_before) for line in _lines(before, after)] + [(after, knob_after)]
    spans = [first, *(span(line, knob) for line, knob in steps)]
    amounts = _amounts(before, after, knob_mm_before, knob_after)
    causes = tuple(
        Cause(
            kind=kind,
            amount=amounts[kind],
            unit="deg" if kind in ("recline", "turn") else "mm",
            share_mm=spans[index + 1] - spans[index],
            distance_mm=spans[index + 1],
        )
        for index, kind in enumerate(CAUSES)
    )
    return MovedAway(before_mm=first, after_mm=spans[-1], causes=causes, raised_mm=amounts["drop"])


def _lines(before: SeatLine, after: SeatLine) -> tuple[SeatLine, ...]:
    """The seat after each of its own five changes, in order."""
    x, y, _ = before.h_point
    to_x, to_y, to_z = after.h_point
    dropped = replace(before, h_point=(x, y, to_z))
    slid = replace(dropped, h_point=(to_x, y, to_z))
    aside = replace(slid, h_point=(to_x, to_y, to_z))
    reclined = replace(aside, back_deg=after.back_deg)
    return dropped, slid, aside, reclined, after


def _amounts(before: SeatLine, after: SeatLine, knob: Vector, knob_after: Vector) -> dict[CauseKind, float]:
    return {
        "drop": before.h_point[2] - after.h_point[2],
        "slide": after.h_point[0] - before.h_point[0],
        "sideways": after.h_point[1] - before.h_point[1],
        "recline": after.back_deg - before.back_deg,
        "turn": after.turn_deg - before.turn_deg,
        "knob": math.dist(knob, knob_after),
    }


def _shoulder(line: SeatLine, up_mm: float, right_mm: float) -> Vector:
    # In plain numbers: it is asked seven times at every step of a drag.
    lean, turn = math.radians(line.back_deg), math.radians(line.turn_deg)
    back, sine, cosine = up_mm * math.sin(lean), math.sin(turn), math.cos(turn)
    x, y, z = line.h_point
    return (
        x + back * cosine - right_mm * sine,
        y + back * sine + right_mm * cosine,
        z + up_mm * math.cos(lean),
    )


def _check_finite(before: SeatLine, after: SeatLine, *numbers: tuple[float, ...]) -> None:
    lines = ((*line.h_point, line.back_deg, line.turn_deg) for line in (before, after))
    if not all(math.isfinite(number) for some in (*lines, *numbers) for number in some):
        raise BadValue(
            "not-finite",
            "Old and new seat are compared by finite numbers.",
            "Type the old seat and the old knob again on the driver card.",
        )
