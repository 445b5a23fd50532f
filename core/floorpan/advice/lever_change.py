"""The mechanism of a changed lever: from what is changed to where the neutral knob comes, and the way back.

In axes at the foot, turned as the box stands in the car but level, the knob of a box tilted by t is

    Ry(t) (p + h d + (rod - h) u)

with p the pivot over the foot, d the direction of the straight lever, h the height of the bend along it and u the
direction beyond the bend: in the lever's own axes (sin b cos w, sin b sin w, cos b), b the bend, w where it goes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import BadValue
from floorpan.frames import Floats, Vector
from floorpan.items import Shifter
from floorpan.items.lever import NEUTRAL, LeverState
from floorpan.items.shifter import lever_states

ROD, BEND_REARWARD, BEND_RIGHT, RAISE, TILT, REARWARD, RIGHT = range(7)
"""Places in a change (7,): rod length [mm], the bend's two parts [deg], raise [mm], tilt [deg], move [mm]."""

_STEP = 1e-20


@dataclass(frozen=True, slots=True, kw_only=True)
class Mechanism:
    """A shifter as far as its neutral knob goes.

    foot_mm  : centre of the foot in car axes
    axes     : (3, 3) from the shifter's axes into the car's, row by row
    pivot_mm : over the foot
    state    : the straight lever in neutral
    lever    : (3, 3) from the straight lever's own axes into the shifter's, row by row
    kink_mm  : height of the bend along the lever, from the pivot
    """

    foot_mm: Vector
    axes: tuple[float, ...]
    pivot_mm: float
    state: LeverState
    lever: tuple[float, ...]
    kink_mm: float

    @classmethod
    def of(cls, shifter: Shifter, kink_mm: float) -> "Mechanism":
        """The present one; a typed neutral knob sets its length and angles."""
        pose = shifter.place.pose()
        state = lever_states(shifter)[NEUTRAL]
        return cls(
            foot_mm=pose.shift_mm,
            axes=pose.rotation,
            pivot_mm=shifter.pivot_mm,
            state=state,
            lever=state.turn().rotation,
            kink_mm=kink_mm,
        )

    def present(self) -> Floats:
        """The change (7,) that changes nothing."""
        change = np.zeros(7)
        change[ROD] = self.state.length_mm
        return change

    def knob_mm(self, change: Floats) -> Floats:
        """The neutral knob (3,) in car axes [mm] after a change (7,)."""
        return np.asarray(self._knobs(change), dtype=float)

    def _knobs(self, change: NDArray[Any]) -> NDArray[Any]:
        lever = np.asarray(self.lever).reshape(3, 3) @ self.rod_mm(change)
        lever[2] += self.pivot_mm
        tilt = np.radians(1.0) * change[TILT]
        x = np.cos(tilt) * lever[0] + np.sin(tilt) * lever[2]
        z = np.cos(tilt) * lever[2] - np.sin(tilt) * lever[0]
        foot = np.array(self.foot_mm).reshape(3, *[1] * (change.ndim - 1))
        knob = np.asarray(self.axes).reshape(3, 3) @ np.stack([x, lever[1], z])
        moved: NDArray[Any] = knob + foot + np.stack([change[REARWARD], change[RIGHT], change[RAISE]])
        return moved

    def rod_mm(self, change: NDArray[Any]) -> NDArray[Any]:
        """The knob (3, ...) from the pivot in the straight lever's own axes [mm], of changes (7, ...)."""
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
