"""The arm as thick as in `limbs` on its elbow's circle: how clear it is of things, and quickly whether clear enough."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.driver.limbs import FOREARM_RADIUS_MM, UPPER_ARM_RADIUS_MM
from floorpan.driver.obstacles import Obstacles, each_gap_mm
from floorpan.frames import Floats

Flags = NDArray[np.bool_]

_COARSE_DEG = 8.0
_TURN = round(360.0 / _COARSE_DEG)
# Far more than the sums below can be wrong by.
_SLACK_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ThickArm:
    """Shoulder and grip (3,) in car axes [mm], and where the elbow is in between.

    elbows      : elbow points (N, 3) for swivels (N,) [deg]
    swing_mm    : the radius of their circle
    wrist_share : of the way from grip to elbow at which the wrist lies; the hand beyond it is not judged
    """

    shoulder: Floats
    grip: Floats
    elbows: Callable[[Floats], Floats]
    swing_mm: float
    wrist_share: float

    def gaps(self, swivels: Floats, obstacles: Obstacles) -> Floats:
        """The least gap (N,) to all obstacles at swivels (N,) [mm]; infinite where there are none."""
        least: Floats = self.each_gap(swivels, obstacles).min(axis=1, initial=np.inf)
        return least

    def each_gap(self, swivels: Floats, obstacles: Obstacles) -> Floats:
        """The gap (N, K) to each obstacle at swivels (N,) [mm]."""
        elbows = self.elbows(swivels)
        wrists = self.grip + self.wrist_share * (elbows - self.grip)
        starts = np.concatenate([np.broadcast_to(self.shoulder, elbows.shape), elbows])
        away = each_gap_mm(starts, np.concatenate([elbows, wrists]), 0.0, obstacles)
        upper, fore = away[: len(elbows)], away[len(elbows) :]
        return np.minimum(upper - UPPER_ARM_RADIUS_MM, fore - FOREARM_RADIUS_MM)


class Clear:
    """Whether an arm keeps clear_mm from everything: the same as asking `gaps`, but quicker.

    No point of the arm goes farther than the elbow does, and the elbow goes swing_mm a radian: a few poses tell
    for most of the others, and which obstacles matter at the rest.
    """

    def __init__(self, arm: ThickArm, clear_mm: float, obstacles: Obstacles) -> None:
        self._arm, self._clear_mm, self._obstacles = arm, clear_mm, obstacles
        count = len(obstacles.radii) + len(obstacles.on_planes)
        self._over = np.empty((_TURN, count))
        self._known = np.zeros(_TURN, dtype=bool)

    def keeps(self, swivels: Floats) -> Flags:
        """Whether at swivels (N,) [deg]."""
        near, moved = self._nearest(swivels)
        least = self._over[near].min(axis=1)
        kept: Flags = least >= moved
        unsure = np.flatnonzero(~kept & (least >= -moved))
        if len(unsure):
            matter: Flags = np.any(self._over[near[unsure]] < moved[unsure, None], axis=0, keepdims=False)
            gaps = self._arm.gaps(swivels[unsure], self._obstacles.only(matter))
            kept[unsure] = gaps >= self._clear_mm
        return kept

    def keeps_around(self, swivels: Floats, around_deg: float) -> bool:
        """Whether surely so at all swivels (N,) and around_deg to both sides of each; False where it is not sure."""
        near, moved = self._nearest(swivels)
        moved += self._arm.swing_mm * np.radians(around_deg)
        return bool((self._over[near].min(axis=1) >= moved).all())

    def _nearest(self, swivels: Floats) -> tuple[NDArray[np.int64], Floats]:
        """The coarse pose next to each swivel (N,), and how far the elbow is from there at most [mm]."""
        steps = np.round(swivels / _COARSE_DEG)
        near = steps.astype(np.int64) % _TURN
        asked = np.zeros(_TURN, dtype=bool)
        asked[near] = True
        new = np.flatnonzero(asked & ~self._known)
        if len(new):
            swivels_deg: Floats = np.asarray(new * _COARSE_DEG, dtype=float)
            self._over[new] = self._arm.each_gap(swivels_deg, self._obstacles) - self._clear_mm
            self._known[new] = True
        off = np.radians(np.abs(swivels - steps * _COARSE_DEG))
        return near, self._arm.swing_mm * off + _SLACK_MM
