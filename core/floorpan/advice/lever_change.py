"""The mechanism of a changed lever: from what is changed to where the neutral knob comes, and the way back.

In axes at the foot, turned as the box stands in the car but level, the knob of a box tilted by t is

    Ry(t) (p + h d + (rod - h) u)

with p the pivot over the foot, d the direction of the rod under the bend, h the height of the bend along it and u
the direction beyond the bend: in the rod's own axes (sin b cos w, sin b sin w, cos b), b the bend, w where it goes.
A straight lever is all rod under the bend; of a bent one the rod under its bend keeps to the joint.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import BadValue
from floorpan.frames import STILL, Floats, Pose, Vector
from floorpan.items import Shifter
from floorpan.items.lever import NEUTRAL, LeverState
from floorpan.items.shifter_gate import lever_rod, lever_states, pivot_in_foot_mm

ROD, BEND_REARWARD, BEND_RIGHT, RAISE, TILT, REARWARD, RIGHT = range(7)
"""Places in a change (7,): rod length [mm], the bend's two parts [deg], raise [mm], tilt [deg], move [mm]."""

_STEP = 1e-20


@dataclass(frozen=True, slots=True, kw_only=True)
class Mechanism:
    """A shifter as far as its neutral knob goes.

    foot_mm  : centre of the foot in car axes
    axes     : (3, 3) from the shifter's axes into the car's, row by row
    pivot_mm : from the foot, in the shifter's axes
    state    : the line from the pivot to the knob in neutral
    joint    : from the axes of the rod under the bend into those of that line; still for a straight lever
    lever    : from the axes of the rod under the bend into the shifter's
    rod_mm   : along the rod, from the pivot to the knob
    kink_mm  : height of the bend along the lever, from the pivot
    bent_deg : the bend's two parts as they are, where the bend stays
    """

    foot_mm: Vector
    axes: tuple[float, ...]
    pivot_mm: Vector
    state: LeverState
    joint: Pose
    lever: Pose
    rod_mm: float
    kink_mm: float
    bent_deg: tuple[float, float] = (0.0, 0.0)

    @classmethod
    def of(cls, shifter: Shifter, kink_mm: float | None) -> "Mechanism":
        """The present one; a typed neutral knob sets its length and angles.

        kink_mm : where a lever of the present rod's length, straight so far, is bent; None where it stays as bent as
                  it is
        """
        pose = shifter.place.pose()
        state = lever_states(shifter)[NEUTRAL]
        bent = lever_rod(shifter, state)
        joint = bent.lower if bent is not None else STILL
        towards = math.radians(shifter.bend_turn_deg)
        stays = bent is not None and kink_mm is None
        return cls(
            foot_mm=pose.shift_mm,
            axes=pose.rotation,
            pivot_mm=pivot_in_foot_mm(shifter),
            state=state,
            joint=joint,
            lever=state.turn().after(joint),
            rod_mm=bent.length_mm if bent is not None else state.length_mm,
            kink_mm=bent.under_mm if bent is not None and kink_mm is None else kink_mm or 0.0,
            bent_deg=(shifter.bend_deg * math.cos(towards), shifter.bend_deg * math.sin(towards))
            if stays
            else (0.0, 0.0),
        )

    def as_it_is(self) -> bool:
        """Whether the change that changes nothing is the lever as it stands: straight, or as bent as it is."""
        return self.joint == STILL or any(self.bent_deg)

    def present(self) -> Floats:
        """The change (7,) that changes nothing; a bend that need not stay is straightened."""
        change = np.zeros(7)
        change[ROD] = self.rod_mm
        change[[BEND_REARWARD, BEND_RIGHT]] = self.bent_deg
        return change

    def knob_mm(self, change: Floats) -> Floats:
        """The neutral knob (3,) in car axes [mm] after a change (7,)."""
        return np.asarray(self._knobs(change), dtype=float)

    def _knobs(self, change: NDArray[Any]) -> NDArray[Any]:
        lever = np.asarray(self.lever.rotation).reshape(3, 3) @ self.reach_mm(change)
        lever += np.array(self.pivot_mm).reshape(3, *[1] * (change.ndim - 1))
        tilt = np.radians(1.0) * change[TILT]
        x = np.cos(tilt) * lever[0] + np.sin(tilt) * lever[2]
        z = np.cos(tilt) * lever[2] - np.sin(tilt) * lever[0]
        foot = np.array(self.foot_mm).reshape(3, *[1] * (change.ndim - 1))
        knob = np.asarray(self.axes).reshape(3, 3) @ np.stack([x, lever[1], z])
        moved: NDArray[Any] = knob + foot + np.stack([change[REARWARD], change[RIGHT], change[RAISE]])
        return moved

    def reach_mm(self, change: NDArray[Any]) -> NDArray[Any]:
        """The knob (3, ...) from the pivot in the axes of the rod under the bend [mm], of changes (7, ...)."""
        along, across = np.radians(1.0) * change[BEND_REARWARD], np.radians(1.0) * change[BEND_RIGHT]
        bend = np.sqrt(along**2 + across**2)
        share = np.sinc(bend / np.pi)
        beyond = change[ROD] - self.kink_mm
        return np.stack(
            [beyond * share * along, beyond * share * across, self.kink_mm + beyond * np.cos(bend)]
        )

    def slopes(self, change: Floats) -> Floats:
        """How the neutral knob goes with each part of the change, (3, 7); exact to rounding (complex step)."""
        moved = change[:, None] + 1j * _STEP * np.eye(7)
        slopes: Floats = np.imag(self._knobs(moved)) / _STEP
        return slopes


def kink_height_mm(shifter: Shifter, below_boot_mm: float) -> float:
    """How high along the lever the bend comes; raises BadValue where the lever has no room for it there."""
    height = shifter.boot_mm - below_boot_mm
    if height < 0.0:
        raise BadValue(
            "bend-under-pivot",
            f"A bend {below_boot_mm:g} mm below the boot's top comes under the pivot.",
            f"Let it come {shifter.boot_mm:g} mm or less below the boot, or leave the lever straight.",
        )
    length = lever_states(shifter)[NEUTRAL].length_mm
    if height > length - 20.0:
        raise BadValue(
            "bend-over-knob",
            f"A bend {below_boot_mm:g} mm below the boot's top leaves under 20 mm of lever over it.",
            "Let it come farther below the boot, or leave the lever straight.",
        )
    return height


def bend_deg(change: Sequence[float] | Floats) -> float:
    """How far the lever is bent [deg]."""
    return float(np.hypot(change[BEND_REARWARD], change[BEND_RIGHT]))
