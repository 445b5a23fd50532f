"""Where a leaning vessel touches its well: the two outlines in the plane of the lean, exact for straight sides.

A vessel leans by an angle to the right and its reference, the middle of its base, stands at (x, y). `furthest` says
how far right it can stand at a height y before something touches, and how that changes with lean and height. How
far left is the mirror image: minus the same at the lean turned round. A round vessel's base in a round well
touches first in this plane as long as its width over the cosine of the lean is less than the well's, which is as
long as it is in the well at all; a leaning side meets the round mouth there at any lean.
"""

from dataclasses import dataclass

import numpy as np

from floorpan.frames import Floats
from floorpan.items.vessels import Profile
from floorpan.items.well_outline import WellOutline

TOUCH_MM = 1e-9


@dataclass(frozen=True, slots=True)
class Stop:
    """How far right a vessel can stand, for T leans; each array is (T,).

    at_mm      : greatest x of the middle of its base; inf where nothing stops it
    by_lean    : its change with the lean at the same height [mm/rad]
    by_height  : its change with the height at the same lean
    """

    at_mm: Floats
    by_lean: Floats
    by_height: Floats


@dataclass(frozen=True, slots=True)
class Section:
    """A vessel's outline as it leans by T angles: points x, z (T, N) about the middle of its base, in turn."""

    x: Floats
    z: Floats

    def floor(self) -> tuple[Floats, Floats]:
        """Height of the middle of the base over what it stands on, and its change with the lean [mm, mm/rad]."""
        lowest = self.z.min(axis=1)
        under = np.where(self.z <= lowest[:, None] + TOUCH_MM, self.x, -np.inf)
        return -lowest, under.max(axis=1)


def leaning(profile: Profile, lean_rad: Floats) -> Section:
    """The closed outline of a profile, leaning to the right by each angle (T,) [rad]."""
    heights, radii = np.array(profile, dtype=float).T
    x = np.concatenate([radii, -radii[::-1]])
    z = np.concatenate([heights, heights[::-1]])
    cos, sin = np.cos(lean_rad)[:, None], np.sin(lean_rad)[:, None]
    return Section(x * cos + z * sin, -x * sin + z * cos)


def furthest(section: Section, well: WellOutline, y_mm: Floats) -> Stop:
    """How far right the vessel can stand with the middle of its base at heights y (T,) [mm]."""
    on_wall = _corners_on_wall(section, well, y_mm)
    on_edge = _sides_on_edges(section, well, y_mm)
    at, by_lean, by_height = (np.concatenate(pair, axis=1) for pair in zip(on_wall, on_edge, strict=True))
    first = at.argmin(axis=1)
    row = np.arange(len(first))
    return Stop(at[row, first], by_lean[row, first], by_height[row, first])


def nearest(mirrored: Section, well: WellOutline, y_mm: Floats) -> Stop:
    """How far left the vessel can stand; mirrored is its section at the leans turned round."""
    right = furthest(mirrored, well, y_mm)
    return Stop(-right.at_mm, right.by_lean, -right.by_height)


def room_on_bottom(profile: Profile, well: WellOutline, lean_rad: Floats) -> Floats:
    """Room to shift sideways with the vessel leaning (T,) on the bottom [mm]; negative where it does not go in."""
    section = leaning(profile, lean_rad)
    floor, _ = section.floor()
    left = nearest(leaning(profile, -lean_rad), well, floor)
    return furthest(section, well, floor).at_mm - left.at_mm


def _corners_on_wall(section: Section, well: WellOutline, y_mm: Floats) -> tuple[Floats, Floats, Floats]:
    """Every corner of the vessel (T, N) against the wall beside it."""
    heights, radii = np.array(well.wall, dtype=float).T
    level = section.z + y_mm[:, None]
    # A corner just on a ledge stands on it, and one just at the mouth is out.
    piece = np.clip(np.searchsorted(heights, level + TOUCH_MM, side="right") - 1, 0, len(heights) - 2)
    rise = heights[piece + 1] - heights[piece]
    slope = np.where(rise > 0.0, (radii[piece + 1] - radii[piece]) / np.where(rise > 0.0, rise, 1.0), 0.0)
    wall = radii[piece] + slope * (np.maximum(level, 0.0) - heights[piece])
    at = np.where(level >= heights[-1] - TOUCH_MM, np.inf, wall - section.x)
    return at, -slope * section.x - section.z, slope


def _sides_on_edges(section: Section, well: WellOutline, y_mm: Floats) -> tuple[Floats, Floats, Floats]:
    """Every side of the vessel against every edge of the well (T, J * N): what lies just below the edge counts."""
    corners = np.array(well.corners(), dtype=float)
    level = corners[None, :, :1] - y_mm[:, None, None]
    x, z = section.x[:, None, :], section.z[:, None, :]
    next_x, next_z = np.roll(x, -1, axis=2), np.roll(z, -1, axis=2)
    low, high = np.minimum(z, next_z), np.maximum(z, next_z)
    beside = (low < level - TOUCH_MM) & (level <= high + TOUCH_MM)
    rise = next_z - z
    slope = np.where(beside, (next_x - x) / np.where(beside, rise, 1.0), 0.0)
    touched = x + slope * (level - z)
    at = np.where(beside, corners[None, :, 1:] - touched, np.inf)
    by_lean = -(level + slope * touched)
    flat = (len(y_mm), -1)
    return at.reshape(flat), by_lean.reshape(flat), slope.reshape(flat)
