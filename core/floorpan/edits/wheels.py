"""A placed steering wheel beside the one of the driving position: how far it is off, and set to it."""

import numpy as np

from floorpan.edits.things import change, move, turn
from floorpan.frames import Floats, Pose
from floorpan.items import Place, Wheel
from floorpan.layout import Layout

WHEEL_OFF_MM = 5.0
"""A placed wheel that is no farther off counts as the one that was taken; default."""

_AROUND = 24


def wheel_taken(layout: Layout) -> Wheel | None:
    """The wheel of the driving position as a thing; None while nobody took one."""
    taken = layout.driving_position
    if taken.wheel_mm is None:
        return None
    x, y, z = taken.wheel_mm
    return Wheel(
        id="new",
        place=Place(x_mm=x, y_mm=y, z_mm=z),
        across_mm=taken.wheel_across_mm,
        rim_mm=taken.rim_mm,
        lean_deg=taken.wheel_deg,
    )


def wheel_off_mm(layout: Layout, wheel: Wheel) -> float | None:
    """How far the rim is off the one of the driving position where it is farthest [mm]; None while there is none."""
    taken = wheel_taken(layout)
    if taken is None:
        return None
    return float(np.linalg.norm(_outside(wheel) - _outside(taken), axis=1).max())


def set_wheel_as_driven(layout: Layout, id: str) -> Layout:
    """A placed wheel where the driving position has it, and as large. Raises WrongStep where it is locked."""
    taken = wheel_taken(layout)
    wheel = layout.thing(id)
    if taken is None or not isinstance(wheel, Wheel):
        return layout
    at = taken.place
    layout = move(layout, id, x_mm=at.x_mm, y_mm=at.y_mm, z_mm=at.z_mm)
    layout = turn(layout, id, -wheel.place.turn_deg)
    sizes = {"across_mm": taken.across_mm, "rim_mm": taken.rim_mm, "lean_deg": taken.lean_deg}
    return change(layout, id, **sizes)


def _outside(wheel: Wheel) -> Floats:
    """Points of the rim's outermost and innermost circle (2 N, 3) in car axes."""
    turns = np.arange(_AROUND) * 2.0 * np.pi / _AROUND
    around = np.column_stack([np.zeros(_AROUND), np.sin(turns), np.cos(turns)])
    radii = (wheel.across_mm / 2, wheel.across_mm / 2 - wheel.rim_mm)
    pose = wheel.place.pose().after(Pose.turned((0.0, 1.0, 0.0), -wheel.lean_deg))
    return pose.apply(np.vstack([radius * around for radius in radii]))
