"""The steering wheel where somebody took it: a rim of short rods."""

import functools
import itertools
import math

import numpy as np

from floorpan.driver import DrivingPosition
from floorpan.geometry.solids import Body, Solid, capsule

_RODS = 48


@functools.lru_cache(maxsize=8)
def wheel_rim(position: DrivingPosition) -> Body:
    """The rim in car axes; nothing while nobody took the wheel. The same position gives the very same body."""
    if position.wheel_mm is None:
        return ()
    lean = math.radians(position.wheel_deg)
    across, up = np.array([0.0, 1.0, 0.0]), np.array([-math.sin(lean), 0.0, math.cos(lean)])
    turns = np.linspace(0.0, 2.0 * math.pi, _RODS + 1)[:, None]
    middle = (position.wheel_across_mm - position.rim_mm) / 2
    at = np.asarray(position.wheel_mm) + middle * (np.cos(turns) * up + np.sin(turns) * across)
    return tuple(Solid(capsule(a, b, position.rim_mm / 2)) for a, b in itertools.pairwise(at))
