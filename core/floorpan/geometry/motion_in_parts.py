"""The least gap over a motion, part by part: what stands still is measured once, what turns goes by its own travel."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from floorpan.geometry.motion import least_over_motion
from floorpan.geometry.near import NOTHING_NEAR, Near
from floorpan.geometry.solids import Body, Solid
from floorpan.geometry.turning_pieces import LOOKS, pieces, turn_of


@dataclass(frozen=True, slots=True, eq=False)
class LeastInParts:
    """Where a gap is least: how near, at which share of the way, and how much lower it may be between looks [mm]."""

    near: Near
    share: float
    step_mm: float


def least_in_parts(
    at: Callable[[float], Body], wanted_mm: float, within_mm: float, measure: Callable[[Body], Near]
) -> LeastInParts | None:
    """The least gap of a body on its way, as `least_over_motion` tells it but with fewer looks.

    None where some part neither stands still nor turns about a fixed line, or where anything is met on the way: of
    solids that overlap the whole tells how deep, not its pieces.
    """
    start = at(0.0)
    best, floor = LeastInParts(NOTHING_NEAR, 0.0, 0.0), math.inf
    for index, solid in enumerate(start):
        if solid.hull.uneven is not None:
            return None
        if _stands(at, index, solid):
            near = measure((solid,))
            floor = min(floor, near.distance_mm)
            if near.distance_mm < best.near.distance_mm:
                best = LeastInParts(near, 0.0, 0.0)
            continue
        turn = turn_of(lambda share, index=index: at(share)[index])  # type: ignore[misc]
        if turn is None:
            return None
        for piece in pieces(solid, turn):
            seen: dict[float, Near] = {}

            def gap_at(share: float) -> float:
                pose = turn.taken(solid.pose, share)  # noqa: B023
                near = measure((Solid(piece.hull, pose),))  # noqa: B023
                seen[share] = near  # noqa: B023
                return near.distance_mm if math.isfinite(near.distance_mm) else 1e6

            enough = min(wanted_mm, best.near.distance_mm)
            found = least_over_motion(gap_at, piece.travel_mm, within_mm=within_mm, wanted_mm=enough)
            floor = min(floor, found.floor_mm)
            if seen[found.share].distance_mm < best.near.distance_mm:
                best = LeastInParts(seen[found.share], found.share, 0.0)
        if best.near.distance_mm <= 0.0:
            return None
    return LeastInParts(best.near, best.share, max(best.near.distance_mm - floor, 0.0))


def _stands(at: Callable[[float], Body], index: int, solid: Solid) -> bool:
    """Whether a solid is nowhere else on the way."""
    there = [at(share)[index] for share in LOOKS]
    return all(one.hull is solid.hull and one.pose == solid.pose for one in there)
