"""The way a vessel goes as a corner leans it out of its well: two contacts, from upright to out.

At every lean the vessel is pushed right and down until two contacts stop it: first the bottom and the wall or
mouth; past its free tilt the mouth and the far wall, while it is lifted. All but the height of the centre of
gravity is worked out once; friction is left out (see `well_hold`).
"""

import functools
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import Floats
from floorpan.items.lean_contacts import TOUCH_MM, Section, Stop, furthest, leaning, nearest
from floorpan.items.vessels import Profile
from floorpan.items.well_outline import WellOutline

Flags = NDArray[np.bool_]
LEAST_RAD = 1e-9
MOST_LEAN_RAD = math.pi / 4
"""A vessel that leans more lies over the edge of its well and is no longer in it; default, edit me."""

_LEANS = 160
_HEIGHTS = 12
_MOST_TRIES = 80
_TIGHT_MM = 1e-12
_STUCK_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Way:
    """The middle of the vessel's base at T leans [rad, mm]; all (T,).

    y_mm, y_by_lean   : its height over the bottom and the change of that with the lean
    x_by_lean         : the change of its place sideways
    slide             : sideways over down at which it would go up and out at this lean without leaning more
    out               : whether nothing holds it there any more
    upright_mm        : its height before it leans
    """

    lean_rad: Floats
    y_mm: Floats
    y_by_lean: Floats
    x_by_lean: Floats
    slide: Floats
    out: Flags
    upright_mm: float


@functools.lru_cache(maxsize=64)
def whole_way(profile: Profile, well: WellOutline) -> Way:
    """From upright until it is out; leans lie closest where small, since all happens there in a snug well."""
    return way(profile, well, leans(_LEANS))


def leans(count: int) -> Floats:
    """Leans (count,) from upright to where it is no longer in the well [rad]."""
    return np.asarray(LEAST_RAD + (MOST_LEAN_RAD - LEAST_RAD) * np.linspace(0.0, 1.0, count) ** 2)


def way(profile: Profile, well: WellOutline, lean_rad: Floats, *, sliding: bool = True) -> Way:
    """The way at given leans (T,), rising, over 0 and below a right angle [rad].

    sliding : False leaves out what it takes to slide out, which changes slowly; it counts as infinite then
    """
    section, mirrored = leaning(profile, lean_rad), leaning(profile, -lean_rad)
    floor, floor_by_lean = section.floor()
    over_all = well.top_mm - section.z.min(axis=1)
    y = _lowest(section, mirrored, well, floor, over_all)
    right, left = furthest(section, well, y), nearest(mirrored, well, y)
    held = np.isfinite(right.at_mm) & np.isfinite(left.at_mm)
    wedged = held & (y > floor + TOUCH_MM)
    opening = right.by_height - left.by_height
    with np.errstate(divide="ignore", invalid="ignore"):
        lifted = -(right.by_lean - left.by_lean) / opening
    y_by_lean = np.where(wedged, lifted, floor_by_lean)
    with np.errstate(invalid="ignore"):
        x_by_lean = np.where(held, right.by_lean + right.by_height * y_by_lean, 0.0)
    climb = _slide(section, mirrored, well, y, over_all) if sliding else np.full_like(y, np.inf)
    slide = np.where(held, climb, 0.0)
    return Way(lean_rad, y, y_by_lean, x_by_lean, slide, ~held, _upright(profile, well))


@functools.lru_cache(maxsize=64)
def _upright(profile: Profile, well: WellOutline) -> float:
    """Height of the base over the bottom before the vessel leans [mm]."""
    section = leaning(profile, np.zeros(1))
    over_all = np.array([well.top_mm])
    return float(_lowest(section, section, well, np.zeros(1), over_all)[0])


def _lowest(section: Section, mirrored: Section, well: WellOutline, low: Floats, high: Floats) -> Floats:
    """The lowest height of the middle of the base at which it goes between the walls, at each lean.

    The room rises with the height along straight pieces whose slope is known: Newton's step where it stays
    between what is too low and what is high enough, halving elsewhere.
    """

    def room(y: Floats) -> tuple[Floats, Floats]:
        right, left = furthest(section, well, y), nearest(mirrored, well, y)
        return right.at_mm - left.at_mm, right.by_height - left.by_height

    high = np.maximum(low, high)
    found, slope = room(low)
    open_below = found >= -TOUCH_MM
    at = low
    low = low.copy()
    for _ in range(_MOST_TRIES):
        with np.errstate(divide="ignore", invalid="ignore"):
            step = at - found / slope
        usable = np.isfinite(step) & (step > low) & (step < high)
        at = np.where(usable, step, (low + high) / 2)
        found, slope = room(at)
        low, high = np.where(found < 0.0, at, low), np.where(found >= 0.0, at, high)
        done = open_below | (high - low <= _TIGHT_MM * (1.0 + np.abs(high))) | (np.abs(found) < _TIGHT_MM)
        if done.all():
            break
    tight = np.where(np.abs(found) < 1e3 * _TIGHT_MM, at, high)
    return np.where(open_below, section.floor()[0], tight)


def _slide(section: Section, mirrored: Section, well: WellOutline, y_mm: Floats, over_all: Floats) -> Floats:
    """Sideways over down at which it goes up and out at one lean: the steepest side it would have to climb."""
    worst = np.zeros_like(y_mm)
    for share in np.linspace(0.0, 1.0, _HEIGHTS, endpoint=False):
        y = y_mm + share * np.maximum(over_all - y_mm, 0.0)
        right = furthest(section, well, y)
        # Without a ring a vessel that is lifted only gets more room.
        left = right.at_mm if well.ring is None else nearest(mirrored, well, y).at_mm
        worst = np.maximum(worst, _steepness(right, left))
    return worst


def _steepness(right: Stop, left_mm: Floats) -> Floats:
    gains = right.by_height > 0.0
    climb = np.where(gains, 1.0 / np.where(gains, right.by_height, 1.0), np.inf)
    stops = np.isfinite(right.at_mm)
    stuck = np.where(stops, right.at_mm, 0.0) < np.where(stops, left_mm, 0.0) - _STUCK_MM
    return np.where(stops, np.where(stuck, np.inf, climb), 0.0)
