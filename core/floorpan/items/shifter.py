"""The shifter as a placed thing: a box on its foot, a lever on a pivot, a knob, and the gate it moves through.

Own axes: origin at the centre of the mounting foot, X rearward, Y right, Z up.
"""

import dataclasses
import functools

import numpy as np

from floorpan.geometry.solids import Body, Solid
from floorpan.items.knob_shapes import farthest_mm, knob_hull, knob_turn
from floorpan.items.lever import NEUTRAL, LeverState
from floorpan.items.placing import Grip, ItemKind, Part, Place, Point, StateAxis, Stops, no_such_part, stop_of
from floorpan.items.shapes import block, rod
from floorpan.items.shifter_fields import Shifter
from floorpan.items.shifter_gate import knob_at, lever_rod, lever_states, lever_way, pivot_pose, slots_of

HAND_RADIUS_MM = 55.0
"""A bare hand about a knob as a ball; common practice, from hand breadth and fist depth."""

FIST_MM = (125.0, 95.0)
"""Breadth and depth of a clenched fist: the opening it goes through bare. MIL-STD-1472D, figure 38."""

GEAR = "gear"


@functools.lru_cache(maxsize=1024)
def axes(shifter: Shifter) -> tuple[StateAxis, ...]:
    """The gear: neutral, the gears, reverse. Every leg starts in neutral; of a straight gate, in the place before."""
    slots = slots_of(shifter)
    legs = tuple((NEUTRAL, slot.gear) for slot in slots[1:])
    if shifter.gate == "straight":
        at = {slot.detent: slot.gear for slot in slots}
        legs = tuple((at[d + (1 if d < 0 else -1)], at[d]) for d in sorted(at, key=abs) if d)
    return (StateAxis(name=GEAR, stops=tuple(slot.gear for slot in slots), legs=legs, rest=NEUTRAL),)


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
    """No point of the part's hull travels farther over the leg; the skin stays round it."""
    if part_name == "box":
        return 0.0
    beyond = farthest_mm(shifter) if part_name == "knob" else 0.0
    return lever_way(shifter, a, b).motion_mm(beyond_mm=beyond)


def grips(shifter: Shifter, stops: Stops) -> tuple[Grip, ...]:
    """The knob. In reverse the fingers hold the lift ring up: the hand sits that much farther out."""
    return (_grip_in(shifter, stop_of(axes(shifter)[0], stops)),)


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


@functools.lru_cache(maxsize=1024)
def _grip_in(shifter: Shifter, gear: str) -> Grip:
    return _grip(shifter, lever_states(shifter)[gear])


def _grip(shifter: Shifter, state: LeverState) -> Grip:
    broad, deep = FIST_MM if shifter.hand == "fist" else (0.0, 0.0)
    return Grip(
        name="knob",
        at_mm=knob_at(shifter, state, state.lift_mm),
        radius_mm=HAND_RADIUS_MM,
        moved_by=(GEAR,),
        knuckles_mm=broad,
        knuckles_deep_mm=deep,
    )


def _body(shifter: Shifter, part_name: str, state: LeverState) -> Body:
    if part_name == "knob":
        return (Solid(knob_hull(shifter), knob_turn(shifter, state)),)
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
