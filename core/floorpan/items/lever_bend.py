"""A lever that is bent once: where its corner lies beside the straight line from the pivot to the knob.

Own axes of the lever: Z from the pivot to the knob, X and Y as the lever's turn leaves them (X rearward and Y right
for an upright lever). With h of rod under the bend, m over it, L straight from the pivot to the knob and b between
the two pieces,

    L**2 = h**2 + m**2 + 2 h m cos b,    sin a = m sin b / L

where a is the angle at the pivot between the lower piece and the line to the knob. How the knob travels does not
hang on the bend: pivot and knob swing as one.
"""

import math
from dataclasses import dataclass

import numpy as np

from floorpan.frames import STILL, Pose, Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class BentRod:
    """A rod of two straight pieces.

    under_mm, over_mm : from the pivot to the bend, and from the bend to the knob
    lower, upper      : from axes whose Z runs up the piece and whose origin is its lower end, into the lever's own
    """

    under_mm: float
    over_mm: float
    lower: Pose
    upper: Pose

    @property
    def length_mm(self) -> float:
        """Along the rod."""
        return self.under_mm + self.over_mm

    @property
    def corner_mm(self) -> Vector:
        """The bend in the lever's own axes."""
        return self.upper.shift_mm

    def at(self, along_mm: float) -> Vector:
        """The place so far along the rod from the pivot, in the lever's own axes; at most the knob."""
        along = min(along_mm, self.length_mm)
        on_lower = along <= self.under_mm
        rise = along if on_lower else along - self.under_mm
        x, y, z = (self.lower if on_lower else self.upper).apply(np.array([0.0, 0.0, rise]))
        return float(x), float(y), float(z)


def bent_rod(length_mm: float, bend_deg: float, at_mm: float, turn_deg: float) -> BentRod:
    """A rod whose ends are length_mm apart, bent by bend_deg at at_mm along it, its upper piece going to turn_deg.

    turn_deg : 0 towards X, 90 towards Y
    A bend that would come beyond the knob comes at it.
    """
    under = min(at_mm, length_mm)
    bend, turn = math.radians(bend_deg), math.radians(turn_deg)
    over = math.sqrt(max(length_mm**2 - (under * math.sin(bend)) ** 2, 0.0)) - under * math.cos(bend)
    over = max(over, 0.0)
    lean = math.degrees(math.asin(min(over * math.sin(bend) / length_mm, 1.0))) if length_mm else 0.0
    axis = (-math.sin(turn), math.cos(turn), 0.0)
    lower = Pose.turned(axis, -lean) if lean else STILL
    x, y, z = (float(v) for v in lower.apply(np.array([0.0, 0.0, under])))
    upper = Pose(rotation=Pose.turned(axis, bend_deg - lean).rotation, shift_mm=(x, y, z))
    return BentRod(under_mm=under, over_mm=over, lower=lower, upper=upper)
