"""How hard a corner may be where spring fingers or a rubber ring press on the vessel at the mouth.

Each side of the mouth pushes back by its stiffness times how far it is pressed in; the walls behind stay stiff. At
every lean the vessel slides up along the fingers as far as they squeeze it, and it is held as long as its energy
(weight, push, springs) still rises somewhere ahead. Looked at on a grid of leans and heights; the mean rise between
two leans is never more than the steepest one. The grip of rubber is left out.
"""

import functools
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from floorpan.frames import Floats
from floorpan.items.lean_contacts import Section, furthest, leaning, nearest
from floorpan.items.lean_path import leans, way
from floorpan.items.standing import G_MS2
from floorpan.items.vessels import Profile
from floorpan.items.well_outline import WellOutline

MOST_G = 5.0
"""No corner is harder; a vessel that stays put up to here is told to stay put."""

_LEANS, _HEIGHTS = 140, 48
_HALVINGS = 26
_RISES = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Fingers:
    """What presses at the mouth: how far inside the wall [mm] and one side's force for each mm [N/mm]."""

    reach_mm: float
    n_per_mm: float


@dataclass(frozen=True, slots=True)
class _Grid:
    """Heights of the base (T, Y), how far left and right it can stand, and its sides at the mouth."""

    lean_rad: Floats
    y: Floats
    left: Floats
    right: Floats
    side_left: Floats
    side_right: Floats


def holds_with_fingers(
    profile: Profile,
    well: WellOutline,
    fingers: Fingers,
    kg: float,
    centre_mm: float,
    pulls: Callable[[float], tuple[float, float]],
    most_g: float = MOST_G,
) -> float:
    """The acceleration at which a vessel leaves a well with fingers [g], most_g where it stays put up to there.

    pulls  : acceleration [g] -> (push across the well, pull into it) [g]
    most_g : nothing harder is asked about, which is quick to say of a vessel that is held that far
    """
    grid = _grid(profile, well)

    def held(a: float) -> bool:
        return _held(grid, well, fingers, kg, centre_mm, pulls(a))

    if not held(0.0):
        return 0.0
    if held(most_g):
        return most_g
    low, high = 0.0, most_g
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if held(middle) else (low, middle)
    return low


@functools.lru_cache(maxsize=16)
def _grid(profile: Profile, well: WellOutline) -> _Grid:
    lean = leans(_LEANS)
    gone = way(profile, well, lean)
    out = np.flatnonzero(gone.out)
    count = int(out[0]) if len(out) else _LEANS
    lean, lowest = lean[:count], gone.y_mm[:count]
    section, mirrored = leaning(profile, lean), leaning(profile, -lean)
    over = np.maximum(well.top_mm - section.z.min(axis=1), lowest)
    shares = np.linspace(0.0, 1.0, _HEIGHTS) ** 2
    y = lowest[:, None] + shares * (over - lowest)[:, None]
    columns = [(furthest(section, well, one).at_mm, nearest(mirrored, well, one).at_mm) for one in y.T]
    mouth = well.mouth[0]
    return _Grid(
        lean_rad=lean,
        y=y,
        left=np.stack([left for _, left in columns], axis=1),
        right=np.stack([right for right, _ in columns], axis=1),
        side_left=-np.stack([_side_at(mirrored, mouth - one) for one in y.T], axis=1),
        side_right=np.stack([_side_at(section, mouth - one) for one in y.T], axis=1),
    )


def _side_at(section: Section, level: Floats) -> Floats:
    """Greatest x of the section at levels (T,); minus infinity where it does not reach there."""
    x, z = section.x, section.z
    next_x, next_z = np.roll(x, -1, axis=1), np.roll(z, -1, axis=1)
    at = level[:, None]
    beside = (np.minimum(z, next_z) < at) & (at <= np.maximum(z, next_z))
    share = np.where(beside, (at - z) / np.where(beside, next_z - z, 1.0), 0.0)
    return np.asarray(np.where(beside, x + share * (next_x - x), -np.inf).max(axis=1))


def _held(
    grid: _Grid, well: WellOutline, fingers: Fingers, kg: float, centre_mm: float, pull: tuple[float, float]
) -> bool:
    """Whether the energy rises somewhere on the way from upright, before the vessel slides up and out."""
    push, down = pull
    if down <= 0.0:
        return False
    newton = kg * G_MS2
    tip = well.mouth[1] - fingers.reach_mm
    touch_right, touch_left = tip - grid.side_right, -tip - grid.side_left
    k = fingers.n_per_mm
    inside = np.isfinite(grid.right) & np.isfinite(grid.left) & np.isfinite(grid.side_right)
    touch_right, touch_left = np.where(inside, touch_right, 0.0), np.where(inside, touch_left, 0.0)
    left, right = np.where(inside, grid.left, 0.0), np.where(inside, grid.right, 0.0)
    alone = touch_right + push * newton / k if k > 0.0 else right
    x = np.where(alone <= touch_left, (alone + touch_left) / 2.0, alone)
    x = np.clip(x, left, np.maximum(left, right))
    squeezed = np.maximum(x - touch_right, 0.0) ** 2 + np.maximum(touch_left - x, 0.0) ** 2
    lean = grid.lean_rad[:, None]
    up = grid.y + centre_mm * np.cos(lean)
    aside = x + centre_mm * np.sin(lean)
    energy = newton * (down * up - push * aside) + 0.5 * k * squeezed
    energy = np.where(inside, energy, -np.inf)
    with np.errstate(invalid="ignore"):
        climbs = np.diff(energy, axis=1) > _RISES
    stays = np.asarray(climbs.any(axis=1))
    free = np.flatnonzero(~stays)
    last = int(free[0]) + 1 if len(free) else len(stays)
    rest = energy[np.arange(len(stays)), climbs.argmax(axis=1)][:last]
    with np.errstate(invalid="ignore"):
        return bool((np.diff(rest) > _RISES).any())
