"""The lever in the opening of the console: where a level cut finds it, and what is left to the edge."""

import numpy as np

from floorpan.frames import Floats
from floorpan.items.lever import LeverState
from floorpan.items.shifter_fields import Shifter
from floorpan.items.shifter_gate import lever_rod, lever_states

# A lever that lies flat never comes up through its opening: a large minus, not a division by nothing.
_FLAT = 1e-3


def rod_cut(shifter: Shifter, state: LeverState, height_mm: float) -> tuple[Floats, Floats]:
    """Where a level cut at a height over the foot finds the lever, and how far its skin reaches, each (2,) [mm].

    The lever's axis runs straight on under the pivot and over the knob. A level cut through a rod of radius r along
    a unit vector a is an ellipse that reaches r * sqrt(1 + (a_x / a_z)**2) along X and likewise along Y. In the
    shifter's axes, from the centre of the foot.
    """
    start, along = lever_line(shifter, state, height_mm)
    slope = along[:2] / max(float(along[2]), _FLAT)
    at: Floats = start[:2] + (height_mm - float(start[2])) * slope
    reach: Floats = shifter.lever_radius_mm * np.sqrt(1.0 + slope**2)
    return at, reach


def lever_line(shifter: Shifter, state: LeverState, height_mm: float) -> tuple[Floats, Floats]:
    """A point (3,) and the direction (3,) of the piece of the lever that a level cut meets, from the foot's centre."""
    pivot = np.array([shifter.pivot_back_mm, shifter.pivot_right_mm, shifter.pivot_mm])
    along = state.stick()
    bent = lever_rod(shifter, state)
    if bent is None:
        return pivot, along
    corner = pivot + state.turn().apply(np.array(bent.corner_mm))
    knob = pivot + state.length_mm * along
    over = height_mm > float(corner[2])
    start, piece = (corner, knob - corner) if over else (pivot, corner - pivot)
    length = float(np.linalg.norm(piece))
    return start, piece / length if length else along


def opening_gap(shifter: Shifter, gear: str) -> float:
    """Least level distance from the lever's skin to the edge of the opening, less the engine's rock [mm].

    The lever is cut at the opening's height. Negative where it overlaps the edge.
    """
    at, skin = rod_cut(shifter, lever_states(shifter)[gear], shifter.opening_mm)
    reach = np.abs(at - np.array([shifter.opening_back_mm, 0.0])) + skin
    room = np.array([shifter.opening_length_mm, shifter.opening_width_mm]) / 2 - reach
    return float(room.min()) - shifter.rock_mm
