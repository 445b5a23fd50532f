"""The shifter: a box on its foot, a lever on a pivot, a knob, and the gate it moves through.

Own axes: origin at the centre of the mounting foot, X rearward, Y right, Z up.
"""

import dataclasses
import functools
import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Literal

import numpy as np

from floorpan.errors import BadValue
from floorpan.fields import Choice, Range, check_fields
from floorpan.frames import Floats, Pose, Vector
from floorpan.geometry.solids import Body, Solid
from floorpan.items.lever import NEUTRAL, REVERSE, LeverState, Reverse, Row, Way, gate_slots, state_towards
from floorpan.items.lever_bend import BentRod, bent_rod
from floorpan.items.placing import (
    ID,
    NAME,
    ORIGIN,
    Grip,
    ItemKind,
    Part,
    Place,
    Point,
    StandsOnField,
    StateAxis,
    Stops,
    check_whole,
    no_such_part,
    point,
    stop_of,
)
from floorpan.items.shapes import block, orb, rod

Family = Literal["cables", "remote rod", "gearbox"]
HAND_RADIUS_MM = 55.0
"""A bare hand about a knob as a ball; common practice, from hand breadth and fist depth."""

GEAR = "gear"

# A lever that lies flat never comes up through its opening: a large minus, not a division by nothing.
_FLAT = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class KnobPoint:
    """A taped knob centre from the centre of the mounting foot, in the shifter's own axes."""

    gear: Annotated[str, Choice(("N", "1", "2", "3", "4", "5", "6", "R"), "Gear")]
    x_mm: Annotated[float, Range(-600, 600, "mm", "Rearward", "Of the centre of the foot.")]
    y_mm: Annotated[float, Range(-600, 600, "mm", "Right", "Of the centre of the foot.")]
    z_mm: Annotated[float, Range(0, 900, "mm", "Up", "Over the centre of the foot.")]

    def __post_init__(self) -> None:
        check_fields(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shifter:
    """A shifter; place is the centre of its mounting foot. Typed knobs win over those the angles give."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Shifter"
    place: Place = ORIGIN
    stands_on: StandsOnField = "floor"
    locked: bool = False
    family: Annotated[
        Family,
        Choice(
            ("cables", "remote rod", "gearbox"),
            "Lever stands on",
            "Cables: a box on the body. Remote rod: joined to the gearbox. Gearbox: rocks with the engine.",
        ),
    ] = "cables"
    box_length_mm: Annotated[float, Range(20, 500, "mm", "Box length", "Front to rear, over the foot.")] = (
        140.0
    )
    box_width_mm: Annotated[float, Range(20, 400, "mm", "Box width", "Side to side, over the foot.")] = 110.0
    box_height_mm: Annotated[float, Range(5, 300, "mm", "Box height", "Foot to the top of the box.")] = 60.0
    pivot_mm: Annotated[
        float, Range(-200, 300, "mm", "Pivot over the foot", "Under the foot is a minus.")
    ] = 45.0
    lever_mm: Annotated[
        float, Range(60, 700, "mm", "Lever length", "Straight from the pivot to the centre of the knob.")
    ] = 240.0
    lean_deg: Annotated[
        float, Range(-45, 60, "deg", "Lever lean", "In neutral, rearward from upright; forward is a minus.")
    ] = 8.0
    side_lean_deg: Annotated[
        float, Range(-45, 45, "deg", "Side lean", "In neutral, to the car's right; left is a minus.")
    ] = 0.0
    bend_deg: Annotated[
        float, Range(0, 60, "deg", "Lever bent", "Between the rod under the bend and over it; 0 is straight.")
    ] = 0.0
    bend_turn_deg: Annotated[
        float, Range(-180, 180, "deg", "Bent towards", "0 is rearward, 90 right, \u221290 left, 180 forward.")
    ] = 0.0
    bend_mm: Annotated[
        float, Range(0, 600, "mm", "Bend over the pivot", "Along the lever, from the pivot up.")
    ] = 0.0
    lever_radius_mm: Annotated[float, Range(2, 30, "mm", "Lever radius", "Half the rod's diameter.")] = 6.5
    boot_mm: Annotated[
        float, Range(0, 600, "mm", "Boot top over the pivot", "Along the lever; below it the boot covers it.")
    ] = 90.0
    knob_radius_mm: Annotated[
        float, Range(8, 60, "mm", "Knob radius", "Half the knob's greatest breadth.")
    ] = 24.0
    throw_deg: Annotated[
        float, Range(1, 35, "deg", "Throw each way", "Neutral to a gear; 10 to 14 is usual.")
    ] = 12.0
    plane_deg: Annotated[
        float,
        Range(1, 20, "deg", "Between planes", "From one plane of the gate to the next; 5 to 8 is usual."),
    ] = 6.5
    gears: Annotated[int, Range(3, 6, "", "Gears", "Forward gears.")] = 5
    reverse: Annotated[
        Reverse,
        Choice(("rear right", "front left", "front right", "rear left"), "Reverse", "Seen by the driver."),
    ] = "rear right"
    ring_lift_mm: Annotated[
        float, Range(0, 60, "mm", "Lift ring travel", "How far the ring rises for reverse; 0 without a ring.")
    ] = 0.0
    opening_length_mm: Annotated[float, Range(20, 500, "mm", "Opening length", "In the console.")] = 150.0
    opening_width_mm: Annotated[float, Range(20, 400, "mm", "Opening width", "In the console.")] = 120.0
    opening_mm: Annotated[
        float, Range(0, 500, "mm", "Opening over the foot", "Height of the console's top around the lever.")
    ] = 110.0
    opening_back_mm: Annotated[
        float, Range(-200, 200, "mm", "Opening behind the foot", "Its centre, rearward of the foot's centre.")
    ] = 0.0
    rock_mm: Annotated[
        float, Range(0, 50, "mm", "Engine rock", "How far the lever rocks with the engine at the opening.")
    ] = 0.0
    knobs: tuple[KnobPoint, ...] = ()

    def __post_init__(self) -> None:
        check_fields(self)
        check_whole(self, ("gears",))
        if self.bend_deg and self.bend_mm >= self.lever_mm:
            raise BadValue(
                "bend-over-knob",
                f"A bend {self.bend_mm:g} mm over the pivot comes over the knob.",
                f"Let it come under {self.lever_mm:g} mm, or leave the lever straight.",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class GatePlace:
    """A gear with its plane (0: that of third, positive to the right), row and knob centre in car axes."""

    gear: str
    plane: int
    row: Row
    knob_mm: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverReadout:
    """What the lever gives at the knob: travel from neutral to a gear, plane to plane, knob over the foot."""

    throw_mm: float
    cross_mm: float
    knob_over_foot_mm: float


@functools.lru_cache(maxsize=1024)
def lever_states(shifter: Shifter) -> Mapping[str, LeverState]:
    """The lever's state in every stop of its axis, neutral first; a typed knob sets angles and length."""
    typed = {knob.gear: knob for knob in shifter.knobs}
    states: dict[str, LeverState] = {}
    for slot in gate_slots(int(shifter.gears), shifter.reverse):
        lift = shifter.ring_lift_mm if slot.gear == REVERSE else 0.0
        if slot.gear in typed:
            knob = typed[slot.gear]
            states[slot.gear] = state_towards(
                np.array([knob.x_mm, knob.y_mm, knob.z_mm - shifter.pivot_mm]), lift
            )
            continue
        swing = {"front": -1.0, "middle": 0.0, "rear": 1.0}[slot.row] * shifter.throw_deg
        states[slot.gear] = LeverState(
            fore_deg=shifter.lean_deg + swing,
            side_deg=shifter.side_lean_deg + slot.plane * shifter.plane_deg,
            length_mm=shifter.lever_mm,
            lift_mm=lift,
        )
    return MappingProxyType(states)


def gate_table(shifter: Shifter) -> tuple[GatePlace, ...]:
    """Neutral, the gears and reverse with their knob centres in car axes [mm]."""
    states = lever_states(shifter)
    return tuple(
        GatePlace(gear=slot.gear, plane=slot.plane, row=slot.row, knob_mm=_knob(shifter, states[slot.gear]))
        for slot in gate_slots(int(shifter.gears), shifter.reverse)
    )


def lever_readout(shifter: Shifter) -> LeverReadout:
    """Throw each way and plane to plane at the knob: lever length times the sine of the angle."""
    neutral = lever_states(shifter)[NEUTRAL]
    return LeverReadout(
        throw_mm=shifter.lever_mm * math.sin(math.radians(shifter.throw_deg)),
        cross_mm=shifter.lever_mm * math.sin(math.radians(shifter.plane_deg)),
        knob_over_foot_mm=shifter.pivot_mm + neutral.length_mm * float(neutral.stick()[2]),
    )


def lever_rod(shifter: Shifter, state: LeverState) -> BentRod | None:
    """The rod of a bent lever in its own axes; None where it runs straight from the pivot to the knob."""
    if not shifter.bend_deg or not shifter.bend_mm:
        return None
    return bent_rod(state.length_mm, shifter.bend_deg, shifter.bend_mm, shifter.bend_turn_deg)


def rod_cut(shifter: Shifter, state: LeverState, height_mm: float) -> tuple[Floats, Floats]:
    """Where a level cut at a height over the pivot finds the lever, and how far its skin reaches, each (2,) [mm].

    The lever's axis runs straight on under the pivot and over the knob. A level cut through a rod of radius r along
    a unit vector a is an ellipse that reaches r * sqrt(1 + (a_x / a_z)**2) along X and likewise along Y. In the
    shifter's axes, from the pivot.
    """
    start, along = np.zeros(3), state.stick()
    bent = lever_rod(shifter, state)
    if bent is not None:
        corner = state.turn().apply(np.array(bent.corner_mm))
        knob = state.length_mm * along
        over = height_mm > float(corner[2])
        start, piece = (corner, knob - corner) if over else (start, corner)
        length = float(np.linalg.norm(piece))
        along = piece / length if length else along
    slope = along[:2] / max(float(along[2]), _FLAT)
    at: Floats = start[:2] + (height_mm - float(start[2])) * slope
    reach: Floats = shifter.lever_radius_mm * np.sqrt(1.0 + slope**2)
    return at, reach


def opening_gap(shifter: Shifter, gear: str) -> float:
    """Least level distance from the lever's skin to the edge of the opening, less the engine's rock [mm].

    The lever is cut at the opening's height. Negative where it overlaps the edge.
    """
    at, skin = rod_cut(shifter, lever_states(shifter)[gear], shifter.opening_mm - shifter.pivot_mm)
    reach = np.abs(at - np.array([shifter.opening_back_mm, 0.0])) + skin
    room = np.array([shifter.opening_length_mm, shifter.opening_width_mm]) / 2 - reach
    return float(room.min()) - shifter.rock_mm


def lever_way(shifter: Shifter, a: str, b: str) -> Way:
    """The lever's way from one stop of the gear axis to another, through the row of neutral."""
    states = lever_states(shifter)
    return Way.between(states[a], states[b], states[NEUTRAL])


def pivot_pose(shifter: Shifter) -> Pose:
    """From axes at the pivot to car axes."""
    return shifter.place.pose().after(Pose(shift_mm=(0.0, 0.0, shifter.pivot_mm)))


def axes(shifter: Shifter) -> tuple[StateAxis, ...]:
    """The gear: neutral, the gears, reverse; every leg starts in neutral and runs through the gate."""
    stops = tuple(slot.gear for slot in gate_slots(int(shifter.gears), shifter.reverse))
    return (
        StateAxis(name=GEAR, stops=stops, legs=tuple((NEUTRAL, gear) for gear in stops[1:]), rest=NEUTRAL),
    )


def parts(shifter: Shifter) -> tuple[Part, ...]:
    """Box, lever above its boot, knob."""
    return (
        Part(name="box", label="shifter box", material="steel"),
        Part(name="lever", label="lever", material="steel", moved_by=(GEAR,)),
        Part(name="knob", label="knob", material="knob", moved_by=(GEAR,)),
    )


def envelope(shifter: Shifter, part_name: str, stops: Stops) -> Body:
    """A part's stuff in car axes in the gear of `stops`."""
    return _body(shifter, part_name, lever_states(shifter)[stop_of(axes(shifter)[0], stops)])


def envelope_between(
    shifter: Shifter, part_name: str, stops: Stops, axis: str, a: str, b: str, share: float
) -> Body:
    """A part's stuff in car axes a share of the way from gear a to gear b."""
    return _body(shifter, part_name, lever_way(shifter, a, b).at(share))


def motion_mm(shifter: Shifter, part_name: str, axis: str, a: str, b: str) -> float:
    """No point of the part's centre line travels farther over the leg; the skin stays round it."""
    return 0.0 if part_name == "box" else lever_way(shifter, a, b).motion_mm()


def grips(shifter: Shifter, stops: Stops) -> tuple[Grip, ...]:
    """The knob. In reverse the fingers hold the lift ring up: the hand sits that much farther out."""
    return (_grip(shifter, lever_states(shifter)[stop_of(axes(shifter)[0], stops)]),)


def grips_between(
    shifter: Shifter, stops: Stops, axis: str, a: str, b: str, share: float
) -> tuple[Grip, ...]:
    """The knob along a leg; the ring rises while the lever goes across."""
    return (_grip(shifter, lever_way(shifter, a, b).at(share)),)


def grip_motion_mm(shifter: Shifter, grip_name: str, axis: str, a: str, b: str) -> float:
    """The hand's centre travels no farther over the leg."""
    return lever_way(shifter, a, b).motion_mm(lifted=True)


def set_down_mm(shifter: Shifter) -> tuple[Point, ...]:
    """The four corners of the foot in car X and Y."""
    half_length, half_width = shifter.box_length_mm / 2, shifter.box_width_mm / 2
    corners = np.array(
        [[x, y, 0.0] for x in (-half_length, half_length) for y in (-half_width, half_width)], dtype=float
    )
    return tuple((float(x), float(y)) for x, y, _ in shifter.place.pose().apply(corners))


def moved(shifter: Shifter, place: Place) -> Shifter:
    """The same shifter at another place."""
    return dataclasses.replace(shifter, place=place)


def _knob(shifter: Shifter, state: LeverState, lift_mm: float = 0.0) -> Vector:
    at: Floats = state.stick() * (state.length_mm + lift_mm)
    return point(pivot_pose(shifter).apply(at))


def _grip(shifter: Shifter, state: LeverState) -> Grip:
    return Grip(
        name="knob", at_mm=_knob(shifter, state, state.lift_mm), radius_mm=HAND_RADIUS_MM, moved_by=(GEAR,)
    )


def _body(shifter: Shifter, part_name: str, state: LeverState) -> Body:
    if part_name == "knob":
        return (Solid(orb(shifter.knob_radius_mm), Pose(shift_mm=_knob(shifter, state))),)
    if part_name == "lever":
        return _lever(shifter, state)
    if part_name == "box":
        half_length, half_width = shifter.box_length_mm / 2, shifter.box_width_mm / 2
        hull = block((-half_length, -half_width, 0.0), (half_length, half_width, shifter.box_height_mm))
        return (Solid(hull, shifter.place.pose()),)
    raise no_such_part(part_name)


def _lever(shifter: Shifter, state: LeverState) -> Body:
    """The rod from the boot's top to the knob: one piece, or two where it is bent above the boot."""
    pose, radius = pivot_pose(shifter).after(state.turn()), shifter.lever_radius_mm
    bent = lever_rod(shifter, state)
    if bent is None:
        return (Solid(rod(min(shifter.boot_mm, state.length_mm), state.length_mm, radius), pose),)
    over = min(max(shifter.boot_mm - bent.under_mm, 0.0), bent.over_mm)
    upper = Solid(rod(over, bent.over_mm, radius), pose.after(bent.upper))
    if shifter.boot_mm >= bent.under_mm:
        return (upper,)
    return (Solid(rod(shifter.boot_mm, bent.under_mm, radius), pose.after(bent.lower)), upper)


KIND = ItemKind(
    kind="shifter",
    label="Shifter",
    model=Shifter,
    axes=axes,
    parts=parts,
    envelope=envelope,
    envelope_between=envelope_between,
    motion_mm=motion_mm,
    grips=grips,
    grips_between=grips_between,
    grip_motion_mm=grip_motion_mm,
    set_down_mm=set_down_mm,
    foot_below_mm=lambda shifter: 0.0,
    moved=moved,
)
