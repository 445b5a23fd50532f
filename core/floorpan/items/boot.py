"""The boot: a cone of cloth from its ring in the opening to its collar on the lever, and what it has to spare.

The ring lies level, its middle that of the opening. From a collar h aside of the ring's middle and d over it, the
farthest place of a ring of radius R is sqrt((R + h)**2 + d**2) away: so much cloth that side needs.
"""

import math
from dataclasses import dataclass

import numpy as np

from floorpan.frames import Floats, Pose, Vector
from floorpan.geometry.solids import Body, Hull, Solid
from floorpan.items.lever import LeverState
from floorpan.items.placing import point
from floorpan.items.shifter_fields import Shifter
from floorpan.items.shifter_gate import lever_rod, lever_states, pivot_in_foot_mm

_SIDES = 48


@dataclass(frozen=True, slots=True, kw_only=True)
class BootAt:
    """The boot in a gear [mm].

    collar_mm : its top on the lever, from the centre of the foot
    needs_mm  : straight from the collar to the farthest place of the ring, rock included
    slack     : what the cloth has over that, in hundredths of it; negative pulls the lever
    """

    gear: str
    collar_mm: Vector
    needs_mm: float
    slack: float


def has_boot(shifter: Shifter) -> bool:
    """Whether ring and cloth were measured."""
    return shifter.ring_radius_mm > 0.0 and shifter.boot_cloth_mm > 0.0


def boot_table(shifter: Shifter) -> tuple[BootAt, ...]:
    """The boot in neutral and every gear, in gate order; nothing where ring or cloth was not measured."""
    if not has_boot(shifter):
        return ()
    return tuple(_boot_at(shifter, gear, state) for gear, state in lever_states(shifter).items())


def boot_at(shifter: Shifter, gear: str) -> BootAt:
    """The boot in one gear."""
    return _boot_at(shifter, gear, lever_states(shifter)[gear])


def room_for_ring_mm(shifter: Shifter) -> float:
    """Lever left between boot and knob in neutral, the lift ring raised [mm]; negative bunches the boot."""
    length = min(state.length_mm for state in lever_states(shifter).values())
    low = shifter.knob_radius_mm
    if shifter.knob == "cylinder":
        low = shifter.knob_length_mm / 2
    elif shifter.knob == "pear":
        low = max(shifter.knob_length_mm - shifter.knob_radius_mm, shifter.knob_radius_mm)
    return length - low - shifter.boot_mm - shifter.ring_lift_mm


def boot_cone(shifter: Shifter, gear: str) -> Body:
    """The taut boot in a gear as a solid in car axes: from its ring to its collar; it may bulge out of it."""
    collar = np.array(boot_at(shifter, gear).collar_mm)
    around = np.linspace(0.0, 2 * np.pi, _SIDES, endpoint=False)
    wider = 1.0 / math.cos(math.pi / _SIDES)
    circle = wider * np.column_stack([np.cos(around), np.sin(around), np.zeros(_SIDES)])
    ring = ring_middle_mm(shifter) + shifter.ring_radius_mm * circle
    top = collar + shifter.lever_radius_mm * circle
    facet = max(shifter.ring_radius_mm, shifter.lever_radius_mm) * (wider - 1.0)
    place: Pose = shifter.place.pose()
    return (Solid(Hull(np.vstack([ring, top]), 0.0, facet), place),)


def ring_middle_mm(shifter: Shifter) -> Floats:
    """The middle of the ring (3,) from the centre of the foot."""
    return np.array([shifter.opening_back_mm, 0.0, shifter.opening_mm])


def _boot_at(shifter: Shifter, gear: str, state: LeverState) -> BootAt:
    rod = lever_rod(shifter, state)
    along = min(shifter.boot_mm, state.length_mm)
    at = np.array(rod.at(shifter.boot_mm)) if rod is not None else np.array([0.0, 0.0, along])
    collar = np.array(pivot_in_foot_mm(shifter)) + state.turn().apply(at)
    away = collar - ring_middle_mm(shifter)
    aside = float(np.hypot(away[0], away[1])) + shifter.rock_mm
    needs = math.hypot(shifter.ring_radius_mm + aside, float(away[2]))
    slack = 100.0 * (shifter.boot_cloth_mm / needs - 1.0)
    return BootAt(gear=gear, collar_mm=point(collar), needs_mm=needs, slack=slack)
