"""The least gap over a motion, part by part: what stands still is measured once, what turns goes by its own travel."""

import functools
import math
from collections.abc import Callable
from dataclasses import dataclass

from floorpan.geometry.motion import least_over_motion
from floorpan.geometry.near import NOTHING_NEAR, Near
from floorpan.geometry.solids import Body, Solid
from floorpan.geometry.turning_pieces import LOOKS, Piece, Turn, pieces, turn_of


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
    parts = _parts(at)
    if parts is None:
        return None
    best, floor = LeastInParts(NOTHING_NEAR, 0.0, 0.0), math.inf
    for part in parts:
        solid, turn = part.solid, part.turn
        if turn is None:
            near = measure((solid,))
            floor = min(floor, near.distance_mm)
            if near.distance_mm < best.near.distance_mm:
                best = LeastInParts(near, 0.0, 0.0)
            continue
        for piece in part.pieces:
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


@dataclass(frozen=True, slots=True, eq=False)
class _Part:
    """One solid at the start of a way; where it turns, its turn and its pieces, else it stands still."""

    solid: Solid
    turn: Turn | None = None
    pieces: tuple[Piece, ...] = ()


# One way is looked at against all that stands about it.
@functools.lru_cache(maxsize=256)
def _parts(at: Callable[[float], Body]) -> tuple[_Part, ...] | None:
    """A body on its way, part by part; None where some part neither stands still nor turns about a fixed line."""
    there = {share: at(share) for share in (0.0, *LOOKS)}
    found = []
    for index, solid in enumerate(there[0.0]):
        if solid.hull.uneven is not None:
            return None
        if all(body[index].hull is solid.hull and body[index].pose == solid.pose for body in there.values()):
            found.append(_Part(solid))
            continue
        turn = turn_of(lambda share, index=index: there[share][index])  # type: ignore[misc]
        if turn is None:
            return None
        found.append(_Part(solid, turn, pieces(solid, turn)))
    return tuple(found)
