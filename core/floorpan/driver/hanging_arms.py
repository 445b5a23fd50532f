"""Many arms at once, each elbow hanging as it would like, whatever is in its way.

The same in closed form as `arm` and `swivel_circle` for one, for a drag that moves every gear at every step.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.driver.arm import ELBOW_LEAST_DEG
from floorpan.driver.joints import Hold, JointRanges, TorsoAxes, room_left_deg
from floorpan.frames import Floats

_NOTHING_MM = 1e-9
_UPRIGHT = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HangingArms:
    """Arms with their elbows at one swivel. Rows (N,) where the arm does not reach or bend so far hold no number.

    elbows   : (N, 3) in car axes [mm]
    wrists   : (N, 3)
    room_deg : (N,) least room that any joint has left; negative is beyond it
    """

    elbows: Floats
    wrists: Floats
    room_deg: Floats


def hanging_arms(
    shoulders: Floats,
    grips: Floats,
    upper_mm: float,
    lower_mm: float,
    torso: TorsoAxes,
    *,
    swivel_deg: float,
    wrist_to_grip_mm: float,
) -> HangingArms:
    """Arms from shoulders (N, 3), or one (3,), to grips (N, 3) [mm], swivel as in `arm`."""
    start = np.broadcast_to(shoulders, grips.shape)
    spans = np.linalg.norm(grips - start, axis=1)
    reached: NDArray[np.bool_] = (spans <= upper_mm + lower_mm) & (spans >= abs(upper_mm - lower_mm))
    reached &= (spans > _NOTHING_MM) & (_elbow_deg(spans, upper_mm, lower_mm) >= ELBOW_LEAST_DEG)
    span = np.where(reached, spans, np.nan)
    way = (grips - start) / span[:, None]
    along = (upper_mm**2 - lower_mm**2 + span**2) / (2.0 * span)
    swing = np.sqrt(np.maximum((upper_mm - along) * (upper_mm + along), 0.0))
    elbows = start + along[:, None] * way + swing[:, None] * _hanging(way, swivel_deg)
    wrists = grips + wrist_to_grip_mm / lower_mm * (elbows - grips)
    room = np.full(len(grips), np.nan)
    if reached.any():
        upper, lower = (elbows - start) / upper_mm, (grips - elbows) / lower_mm
        room[reached] = room_left_deg(upper[reached], lower[reached], torso, JointRanges(), Hold()).min(
            axis=0
        )
    return HangingArms(elbows=elbows, wrists=wrists, room_deg=room)


def _elbow_deg(spans: Floats, upper: float, lower: float) -> Floats:
    cosine = (upper**2 + lower**2 - spans**2) / (2.0 * upper * lower)
    angles: Floats = np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0)))
    return angles


def _hanging(way: Floats, swivel_deg: float) -> Floats:
    """Unit vectors (N, 3) square to ways (N, 3) that hang down, turned about them; rearward for an upright way."""
    down = way * way[:, 2:] - [0.0, 0.0, 1.0]
    length = np.linalg.norm(down, axis=1, keepdims=True)
    upright = length < _UPRIGHT
    if upright.any():
        rearward = [1.0, 0.0, 0.0] - way * way[:, :1]
        down = np.where(upright, rearward, down)
        length = np.linalg.norm(down, axis=1, keepdims=True)
    down = down / length
    turn = math.radians(swivel_deg)
    turned: Floats = math.cos(turn) * down + math.sin(turn) * np.cross(way, down)
    return turned
