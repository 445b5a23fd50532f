"""What a vessel weighs and where its centre of gravity lies, at any fill level.

A frustum of radii r below and R above and height h has its centre at (h / 4)(r**2 + 2 r R + 3 R**2) /
(r**2 + r R + R**2) over its base. The outline is the outside, so a thick wall makes the drink stand higher than it
does here for the same weight; that is why a full vessel counts as filled to its fill line, not by volume. The wall
is taken as thin and even. The drink counts as if it were set: it does not slosh.
"""

import itertools
import math
from dataclasses import dataclass

from floorpan.items.vessels import Profile, Vessel, height_mm

FILLS = tuple(step / 10 for step in range(11))
"""The fill levels that are looked at for the worst, as shares of the height of the fill line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """A vessel at one fill level.

    kg        : drink and vessel
    centre_mm : centre of gravity over the base
    level_mm  : height of the drink over the base
    drink_ml  : outline's volume below it
    """

    kg: float
    centre_mm: float
    level_mm: float
    drink_ml: float


def filled(profile: Profile, level_mm: float) -> tuple[float, float]:
    """Volume below a level inside a profile [ml] and the height of its centre over the base [mm]."""
    volume = moment = 0.0
    for (low, below), (high, above) in itertools.pairwise(profile):
        if level_mm <= low or high <= low:
            continue
        if level_mm < high:
            above = below + (above - below) * (level_mm - low) / (high - low)
            high = level_mm
        squares = below * below + below * above + above * above
        piece = math.pi * (high - low) / 3.0 * squares
        centre = (high - low) / 4.0 * (below * below + 2.0 * below * above + 3.0 * above * above) / squares
        volume += piece
        moment += piece * (low + centre)
    return volume / 1000.0, moment / volume if volume > 0.0 else 0.0


def shell_centre_mm(profile: Profile, *, open_top: bool) -> float:
    """Height of the centre of an even thin shell: bottom, sides, and the top where it is closed [mm]."""
    area = math.pi * profile[0][1] ** 2
    moment = 0.0
    for (low, below), (high, above) in itertools.pairwise(profile):
        side = math.pi * (below + above) * math.hypot(high - low, above - below)
        middle = (high - low) / 3.0 * (below + 2.0 * above) / (below + above)
        area += side
        moment += side * (low + middle)
    if not open_top:
        top, radius = profile[-1]
        area += math.pi * radius**2
        moment += math.pi * radius**2 * top
    return moment / area


def fill_line_mm(vessel: Vessel) -> float:
    """Height of the drink over the base when the vessel is full."""
    top = height_mm(vessel)
    return min(vessel.filled_to_mm, top) if vessel.filled_to_mm > 0.0 else top


def weight(vessel: Vessel, fill: float = 1.0) -> Weight:
    """The vessel filled to a share (0 to 1) of the height of its fill line."""
    full_level = fill_line_mm(vessel)
    level = min(max(fill, 0.0), 1.0) * full_level
    drink_ml, drink_centre = filled(vessel.profile, level)
    all_ml, _ = filled(vessel.profile, full_level)
    empty_kg = min(vessel.empty_kg, vessel.full_kg)
    drink_kg = (vessel.full_kg - empty_kg) * drink_ml / all_ml
    kg = drink_kg + empty_kg
    shell = shell_centre_mm(vessel.profile, open_top=vessel.open_top)
    centre = (drink_kg * drink_centre + empty_kg * shell) / kg if kg > 0.0 else shell
    return Weight(kg=kg, centre_mm=centre, level_mm=level, drink_ml=drink_ml)
