"""How hard a corner or a braking may be before a vessel leaves where it stands, over all its fill levels.

What drivers use: most stay below 0.4 g, most cars can corner at more than 0.8 g, tyres of a sports car reach 1.0 g.
"""

import functools
import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from floorpan.items.cup_holder import GRIPS, CupHolder
from floorpan.items.finger_hold import MOST_G, Fingers, holds_with_fingers
from floorpan.items.placing import ORIGIN
from floorpan.items.spill import spills_g
from floorpan.items.standing import SHELF_GRIP, Standing, standing
from floorpan.items.vessel_weight import FILLS, Weight, weight
from floorpan.items.vessels import Vessel
from floorpan.items.well_fit import well_fit
from floorpan.items.well_hold import (
    BUMP_G,
    LEVEL,
    Direction,
    Tilt,
    lean_rad_at,
    leaves_g,
    leaving_ratio,
    pulls,
)
from floorpan.items.well_outline import WellOutline, well_outline

COMFORT_G, LIMIT_G, SPORTS_TYRE_G = 0.4, 0.8, 1.0
"""What most drivers use, what most cars reach, what a sports tyre reaches."""

_LEAST_KG = 0.001
_ALIKE_G = 1e-6

How = Literal["leans out", "stays", "does not go in", "tips", "slides"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """How hard a vessel is held.

    cornering_g, braking_g : least over all fill levels looked at and over both ways; MOST_G where it stays put
    fill      : the fill level that leaves first in a corner, a share of the height of the fill line
    centre_mm : its centre of gravity over its base then
    how       : what happens there in a corner; for one that does not go in, it stands on the mouth
    """

    cornering_g: float
    braking_g: float
    fill: float
    centre_mm: float
    how: How


def tilt_of(holder: CupHolder) -> Tilt:
    """How the holder leans in the car."""
    return Tilt(back_deg=holder.lean_back_deg, right_deg=holder.lean_right_deg)


def fingers_of(holder: CupHolder) -> Fingers | None:
    """What presses on a vessel at the mouth, None for a stiff wall."""
    if holder.grip == GRIPS[0] or holder.grip_reach_mm <= 0.0:
        return None
    return Fingers(reach_mm=holder.grip_reach_mm, n_per_mm=holder.grip_n_per_mm)


def held_in_well(
    holder: CupHolder, vessel: Vessel, *, unloaded_g: float = BUMP_G, fills: tuple[float, ...] = FILLS
) -> Held:
    """How hard a vessel is held in a well, with a bump that takes off unloaded_g of the pull down."""
    return _in_well(replace(holder, place=ORIGIN), replace(vessel, place=ORIGIN), unloaded_g, fills)


def _weighty(vessel: Vessel, fills: tuple[float, ...]) -> tuple[float, ...]:
    """The fill levels at which it weighs anything: one whose own weight nobody gave is not looked at empty."""
    return tuple(fill for fill in fills if weight(vessel, fill).kg > 0.0) or fills[-1:]


@functools.lru_cache(maxsize=64)
def _in_well(holder: CupHolder, vessel: Vessel, unloaded_g: float, fills: tuple[float, ...]) -> Held:
    if not well_fit(holder, vessel).enters:
        return replace(held_free(vessel, unloaded_g=unloaded_g, fills=fills), how="does not go in")
    well, fingers, tilt = well_outline(holder), fingers_of(holder), tilt_of(holder)
    fills = _weighty(vessel, fills)

    def leaves(at: Weight, direction: Direction, most_g: float = MOST_G) -> float:
        if fingers is None:
            ratio = leaving_ratio(vessel.profile, well, at.centre_mm)
            return leaves_g(ratio, direction, unloaded_g=unloaded_g, tilt=tilt)
        found = one_way(at, direction, 1.0, most_g)
        # In a level holder both ways are the same one.
        return found if tilt == LEVEL else one_way(at, direction, -1.0, found)

    def one_way(at: Weight, direction: Direction, sign: float, most_g: float) -> float:
        def pull(push_g: float) -> tuple[float, float]:
            return pulls(sign * push_g, direction, unloaded_g=unloaded_g, tilt=tilt)

        assert fingers is not None
        kg = max(at.kg, _LEAST_KG)
        return holds_with_fingers(vessel.profile, well, fingers, kg, at.centre_mm, pull, most_g)

    if fingers is None:
        worst = _worst_fill(vessel, well, fills)
    else:
        worst = _worst_pressed_fill(vessel, fills, lambda at, most_g: leaves(at, "cornering", most_g))
    at = weight(vessel, worst)
    corner = min(leaves(at, "cornering"), MOST_G)
    brake = corner if holder.lean_back_deg == holder.lean_right_deg == 0.0 else leaves(at, "braking")
    return Held(
        cornering_g=corner,
        braking_g=min(brake, MOST_G),
        fill=worst,
        centre_mm=at.centre_mm,
        how="stays" if corner >= MOST_G else "leans out",
    )


def _worst_fill(vessel: Vessel, well: WellOutline, fills: tuple[float, ...]) -> float:
    """The fill level that leaves a stiff well first, the fullest of those that are alike."""
    ratios = {f: leaving_ratio(vessel.profile, well, weight(vessel, f).centre_mm, False) for f in fills}
    return min(fills, key=lambda fill: (round(ratios[fill], 6), -fill))


def _worst_pressed_fill(
    vessel: Vessel, fills: tuple[float, ...], leaves: Callable[[Weight, float], float]
) -> float:
    """The same in a well that presses on the vessel; of every other fill level it is only asked whether it is worse."""
    looked_at = tuple(dict.fromkeys((fills[-1], *reversed(fills[::2]))))
    worst = looked_at[0]
    least = leaves(weight(vessel, worst), MOST_G)
    for fill in looked_at[1:]:
        found = leaves(weight(vessel, fill), least)
        if found < least - _ALIKE_G:
            worst, least = fill, found
    return worst


def leans_in_well_deg(
    holder: CupHolder, vessel: Vessel, cornering_g: float, *, fill: float = 1.0, unloaded_g: float = BUMP_G
) -> float:
    """How far a vessel leans in a stiff well in a corner [deg]; 90 once it has left."""
    well, at = well_outline(holder), weight(vessel, fill)
    push, into = pulls(cornering_g, "cornering", unloaded_g=unloaded_g, tilt=tilt_of(holder))
    ratio = push / into if into > 0.0 else math.inf
    return math.degrees(lean_rad_at(vessel.profile, well, at.centre_mm, ratio))


def held_free(
    vessel: Vessel,
    *,
    unloaded_g: float = BUMP_G,
    grip: float = SHELF_GRIP,
    fills: tuple[float, ...] = FILLS,
) -> Held:
    """How hard a corner a vessel stands that stands free on a hard level shelf, by tipping or sliding."""
    told: list[tuple[float, float, Standing, Weight]] = []
    for fill in _weighty(vessel, fills):
        at = weight(vessel, fill)
        stands = standing(vessel.profile[0][1], at.centre_mm, grip, unloaded_g=unloaded_g)
        told.append((round(stands.moves_g, 9), -fill, stands, at))
    moves, fill, stands, at = min(told, key=lambda one: one[:2])
    return Held(cornering_g=moves, braking_g=moves, fill=-fill, centre_mm=at.centre_mm, how=stands.first)


def spills_in_well_g(holder: CupHolder, vessel: Vessel) -> float:
    """The steady corner at which an open cup spills in its well, full and with its lean in the well; inf if closed."""
    return _spills(replace(holder, place=ORIGIN), replace(vessel, place=ORIGIN))


@functools.lru_cache(maxsize=64)
def _spills(holder: CupHolder, vessel: Vessel) -> float:
    if not vessel.open_top:
        return math.inf
    well, centre = well_outline(holder), weight(vessel).centre_mm
    enters = well_fit(holder, vessel).enters
    askew = math.degrees(math.acos(min(float(tilt_of(holder).upright()[2]), 1.0)))

    def lean_deg(push_g: float) -> float:
        leans = lean_rad_at(vessel.profile, well, centre, push_g) if enters else 0.0
        return askew + math.degrees(leans)

    return spills_g(vessel, lean_deg)
