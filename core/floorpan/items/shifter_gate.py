"""The gate of a shifter: where its lever stands in every stop, what it gives at the knob, the way between stops."""

import functools
import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from floorpan.frames import Floats, Pose, Vector
from floorpan.items.lever import (
    NEUTRAL,
    REVERSE,
    GateSlot,
    LeverState,
    Row,
    Way,
    gate_slots,
    state_towards,
    straight_slots,
)
from floorpan.items.lever_bend import BentRod, bent_rod
from floorpan.items.placing import point
from floorpan.items.shifter_fields import Shifter


@dataclass(frozen=True, slots=True, kw_only=True)
class GatePlace:
    """A gear with its plane (0: that of third, positive to the right), row and knob centre in car axes.

    detent : steps from neutral's row, positive rearward; more than one only in a straight gate
    """

    gear: str
    plane: int
    detent: int
    row: Row
    knob_mm: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverReadout:
    """What the lever gives at the knob: travel from neutral to a gear, plane to plane, knob over the foot.

    throw_mm : to the next place of a straight gate, which has no planes to go across: cross_mm is 0
    """

    throw_mm: float
    cross_mm: float
    knob_over_foot_mm: float


def slots_of(shifter: Shifter) -> tuple[GateSlot, ...]:
    """The places of a shifter's gate, neutral first."""
    if shifter.gate == "straight":
        return straight_slots(shifter.places)
    return gate_slots(int(shifter.gears), shifter.reverse)


def swing_deg(shifter: Shifter) -> float:
    """The lever's swing from neutral to a gear, or to the next place of a straight gate [deg]."""
    return shifter.detent_deg if shifter.gate == "straight" else shifter.throw_deg


def modelled_state(shifter: Shifter, slot: GateSlot) -> LeverState:
    """Where angles and lengths put the lever in a place of the gate, whatever was taped."""
    manual = shifter.gate == "manual"
    further = shifter.reverse_extra_deg if manual and slot.gear == REVERSE else 0.0
    return LeverState(
        fore_deg=shifter.lean_deg + slot.detent * (swing_deg(shifter) + further),
        side_deg=shifter.side_lean_deg + slot.plane * shifter.plane_deg,
        length_mm=shifter.lever_mm,
        lift_mm=shifter.ring_lift_mm if slot.gear == REVERSE else 0.0,
    )


@functools.lru_cache(maxsize=1024)
def lever_states(shifter: Shifter) -> Mapping[str, LeverState]:
    """The lever's state in every stop of its axis, neutral first; a typed knob sets angles and length."""
    typed = {knob.gear: knob for knob in shifter.knobs}
    pivot = np.array(pivot_in_foot_mm(shifter))
    states: dict[str, LeverState] = {}
    for slot in slots_of(shifter):
        state = modelled_state(shifter, slot)
        knob = typed.get(slot.gear)
        if knob is not None:
            state = state_towards(np.array([knob.x_mm, knob.y_mm, knob.z_mm]) - pivot, state.lift_mm)
        states[slot.gear] = state
    return MappingProxyType(states)


def gate_table(shifter: Shifter) -> tuple[GatePlace, ...]:
    """Neutral, the gears and reverse with their knob centres in car axes [mm]."""
    states = lever_states(shifter)
    return tuple(
        GatePlace(
            gear=slot.gear,
            plane=slot.plane,
            detent=slot.detent,
            row=slot.row,
            knob_mm=knob_at(shifter, states[slot.gear]),
        )
        for slot in slots_of(shifter)
    )


def lever_readout(shifter: Shifter) -> LeverReadout:
    """Throw each way and plane to plane at the knob: lever length times the sine of the angle."""
    neutral = lever_states(shifter)[NEUTRAL]
    across = shifter.plane_deg if shifter.gate == "manual" else 0.0
    return LeverReadout(
        throw_mm=shifter.lever_mm * math.sin(math.radians(swing_deg(shifter))),
        cross_mm=shifter.lever_mm * math.sin(math.radians(across)),
        knob_over_foot_mm=shifter.pivot_mm + neutral.length_mm * float(neutral.stick()[2]),
    )


def lever_rod(shifter: Shifter, state: LeverState) -> BentRod | None:
    """The rod of a bent lever in its own axes, or of one whose knob stands beside it: its upper piece goes square
    across. None where it runs straight from the pivot to the knob."""
    if shifter.offset_mm:
        across = min(shifter.offset_mm, state.length_mm)
        under = math.sqrt(state.length_mm**2 - across**2)
        return bent_rod(state.length_mm, 90.0, under, shifter.offset_turn_deg)
    if not shifter.bend_deg or not shifter.bend_mm:
        return None
    return bent_rod(state.length_mm, shifter.bend_deg, shifter.bend_mm, shifter.bend_turn_deg)


def lever_way(shifter: Shifter, a: str, b: str) -> Way:
    """The lever's way from one stop of the gear axis to another: through the row of neutral, or along the line."""
    states = lever_states(shifter)
    if shifter.gate == "straight":
        return Way.straight(states[a], states[b])
    return Way.between(states[a], states[b], states[NEUTRAL])


def pivot_in_foot_mm(shifter: Shifter) -> Vector:
    """The pivot from the centre of the foot, in the shifter's axes."""
    return shifter.pivot_back_mm, shifter.pivot_right_mm, shifter.pivot_mm


@functools.lru_cache(maxsize=1024)
def pivot_pose(shifter: Shifter) -> Pose:
    """From axes at the pivot to car axes."""
    return shifter.place.pose().after(Pose(shift_mm=pivot_in_foot_mm(shifter)))


def knob_at(shifter: Shifter, state: LeverState, lift_mm: float = 0.0) -> Vector:
    """The centre of the knob in car axes; of what is lifted so far along the lever."""
    at: Floats = state.stick() * (state.length_mm + lift_mm)
    return point(pivot_pose(shifter).apply(at))
