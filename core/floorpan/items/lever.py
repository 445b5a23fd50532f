"""How a gear lever moves: the pattern of its gate, its angles, and the way through the gate.

The lever is a straight stick on a pivot. From upright it is first tilted sideways about the X axis (side,
positive to the right), then swung about the Y axis (fore, positive rearward):

    stick = Ry(fore) Rx(-side) (0, 0, 1) = (sin fore cos side, sin side, cos fore cos side)

so a plane of the gate keeps its Y and the knob of a middle plane swings through length * sin(throw) each way.
The pattern runs left to right in the car's Y and front to rear in X, whichever side the driver sits. An automatic's
gate is one plane, its places in a line.
"""

import itertools
import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from floorpan.errors import BadValue
from floorpan.frames import Floats, Pose

Row = Literal["front", "middle", "rear"]
Reverse = Literal["rear right", "front left", "front right", "rear left"]

NEUTRAL = "N"
REVERSE = "R"
PARK = "P"
GEARS = (NEUTRAL, "1", "2", "3", "4", "5", "6", REVERSE, PARK, "D", "S", "M", "L")
"""Every stop a gate can have, manual or straight."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GateSlot:
    """A place of the gate.

    plane  : counts from the plane of third, positive to the right
    detent : steps from the row of neutral, positive rearward; more than one only in a straight gate
    """

    gear: str
    plane: int
    detent: int

    @property
    def row(self) -> Row:
        """Ahead of neutral, in its row, or behind it."""
        return "middle" if not self.detent else "front" if self.detent < 0 else "rear"


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverState:
    """Where the lever is: its two angles, pivot to knob centre, how far the lift ring is raised."""

    fore_deg: float
    side_deg: float
    length_mm: float
    lift_mm: float = 0.0

    def turn(self) -> Pose:
        """From the upright stick's axes to the lever's, about the pivot."""
        fore, side = math.radians(self.fore_deg), math.radians(self.side_deg)
        about_y = np.array(
            [[math.cos(fore), 0, math.sin(fore)], [0, 1, 0], [-math.sin(fore), 0, math.cos(fore)]]
        )
        about_x = np.array(
            [[1, 0, 0], [0, math.cos(side), math.sin(side)], [0, -math.sin(side), math.cos(side)]]
        )
        matrix = np.eye(4)
        matrix[:3, :3] = about_y @ about_x
        return Pose.from_matrix(matrix)

    def stick(self) -> Floats:
        """Unit vector (3,) from the pivot to the knob, in the shifter's axes."""
        fore, side = math.radians(self.fore_deg), math.radians(self.side_deg)
        return np.array(
            [math.sin(fore) * math.cos(side), math.sin(side), math.cos(fore) * math.cos(side)], dtype=float
        )


def gate_slots(gears: int, reverse: Reverse) -> tuple[GateSlot, ...]:
    """Neutral, the forward gears and reverse. Odd gears lie in front, neutral rests in the plane of third.

    Reverse takes the free rear end of the last plane where "rear right" finds one, else a plane of its own.
    """
    slots = [GateSlot(gear=NEUTRAL, plane=0, detent=0)]
    slots += [
        GateSlot(gear=str(gear), plane=(gear - 1) // 2 - 1, detent=-1 if gear % 2 else 1)
        for gear in range(1, gears + 1)
    ]
    last = slots[-1]
    shares = reverse == "rear right" and last.row == "front"
    detent = 1 if reverse.startswith("rear") else -1
    right = last.plane if shares else last.plane + 1
    plane = -2 if reverse.endswith("left") else right
    return (*slots, GateSlot(gear=REVERSE, plane=plane, detent=detent))


def straight_slots(places: str) -> tuple[GateSlot, ...]:
    """Neutral and the places of a straight gate from the front to the rear, "P R N D 2 1".

    Raises BadValue for a place that is not known, comes twice, or where neutral is missing or alone.
    """
    named = places.replace(",", " ").upper().split()
    strange = [one for one in named if one not in GEARS]
    if strange:
        raise BadValue(
            "no-such-place",
            f"A gate has no place {strange[0]}.",
            f"Use {', '.join(GEARS)}, from the front, with a space between.",
            field="places",
        )
    if len(set(named)) < len(named):
        raise BadValue("place-twice", "A place comes twice.", "Name each place once.", field="places")
    if NEUTRAL not in named or len(named) < 2:
        raise BadValue(
            "no-neutral",
            "A straight gate has neutral and at least one more place.",
            "Name N and the others, from the front.",
            field="places",
        )
    middle = named.index(NEUTRAL)
    slots = [GateSlot(gear=gear, plane=0, detent=at - middle) for at, gear in enumerate(named)]
    return (slots[middle], *(slot for slot in slots if slot.detent))


def state_towards(stick_mm: Floats, lift_mm: float) -> LeverState:
    """The state whose knob lies at stick_mm (3,) from the pivot; zero gives an upright lever of no length."""
    x, y, z = (float(v) for v in stick_mm)
    length = math.sqrt(x * x + y * y + z * z)
    side = math.degrees(math.asin(y / length)) if length else 0.0
    return LeverState(
        fore_deg=math.degrees(math.atan2(x, z)), side_deg=side, length_mm=length, lift_mm=lift_mm
    )


@dataclass(frozen=True, slots=True)
class Way:
    """The way from one gear to another: straight back to the row of neutral, across, straight in.

    The share of the way runs evenly in knob travel.
    """

    waypoints: tuple[LeverState, ...]

    @classmethod
    def between(cls, a: LeverState, b: LeverState, neutral: LeverState) -> "Way":
        """Through the row of neutral; a piece of no length is left out."""
        bends = (a, _at_gate(a, neutral), _at_gate(b, neutral), b)
        kept = [one for one, following in itertools.pairwise(bends) if _span(one, following) > 0.0]
        return cls((*kept, b))

    @classmethod
    def straight(cls, a: LeverState, b: LeverState) -> "Way":
        """Along one plane, through whatever lies between."""
        return cls((a, b) if _span(a, b) > 0.0 else (b,))

    def pieces(self) -> tuple[tuple[LeverState, LeverState], ...]:
        """Neighbouring waypoints; between them both angles change evenly."""
        return tuple(itertools.pairwise(self.waypoints))

    def spans_mm(self) -> tuple[float, ...]:
        """An upper bound of the knob's travel over each piece."""
        return tuple(_span(a, b) for a, b in self.pieces())

    def at(self, share: float) -> LeverState:
        """The state a share from 0 to 1 of the way along."""
        left = min(max(share, 0.0), 1.0) * sum(self.spans_mm())
        for (a, b), span in zip(self.pieces(), self.spans_mm(), strict=True):
            if left <= span:
                return mixed(a, b, left / span)
            left -= span
        return self.waypoints[-1]

    def motion_mm(self, lifted: bool = False, beyond_mm: float = 0.0) -> float:
        """No point of the lever's centre line (lifted: of a hand on the ring) travels farther.

        beyond_mm : how far what goes along reaches past the centre of the knob
        """
        spans = self.spans_mm()
        whole = sum(spans)
        reach = [
            _turned_by(a, b) * (_longest(a, b) + beyond_mm + (max(a.lift_mm, b.lift_mm) if lifted else 0.0))
            + abs(b.length_mm - a.length_mm)
            + (abs(b.lift_mm - a.lift_mm) if lifted else 0.0)
            for a, b in self.pieces()
        ]
        return max((own / span * whole for own, span in zip(reach, spans, strict=True)), default=0.0)


def mixed(a: LeverState, b: LeverState, share: float) -> LeverState:
    """Evenly between two states in angle, length and lift."""
    rest = 1.0 - share
    return LeverState(
        fore_deg=rest * a.fore_deg + share * b.fore_deg,
        side_deg=rest * a.side_deg + share * b.side_deg,
        length_mm=rest * a.length_mm + share * b.length_mm,
        lift_mm=rest * a.lift_mm + share * b.lift_mm,
    )


def turned_by_deg(a: LeverState, b: LeverState) -> float:
    """An upper bound of the angle the lever turns through between two states [deg]."""
    return abs(b.fore_deg - a.fore_deg) + abs(b.side_deg - a.side_deg)


def _turned_by(a: LeverState, b: LeverState) -> float:
    return math.radians(turned_by_deg(a, b))


def _longest(a: LeverState, b: LeverState) -> float:
    return max(a.length_mm, b.length_mm)


def _span(a: LeverState, b: LeverState) -> float:
    return _turned_by(a, b) * _longest(a, b) + abs(b.length_mm - a.length_mm)


def _at_gate(state: LeverState, neutral: LeverState) -> LeverState:
    return LeverState(
        fore_deg=neutral.fore_deg,
        side_deg=state.side_deg,
        length_mm=state.length_mm,
        lift_mm=state.lift_mm,
    )
