"""The way a vessel is lifted out: straight up until its base is over every edge, then level towards who lifts it.

What it meets on the way is for the gap engine; here is where the vessel is at each share of the way, the room it and
the hand on it take over the whole of it, and how far it has come when it first takes a place.

Straight up, what is still in the well is left out: there its wall is what is met, and the fit tells of that.
"""

import itertools
import math
from dataclasses import dataclass, replace

import numpy as np

from floorpan.frames import Floats, Vector
from floorpan.geometry.solids import Body, Hull, Solid
from floorpan.items.cup_holder import CupHolder
from floorpan.items.placing import Place
from floorpan.items.shapes import turned_body
from floorpan.items.vessels import Profile, Vessel, convex_runs, height_mm
from floorpan.items.well_fit import vessel_place
from floorpan.items.well_outline import well_outline

OVER_EDGE_MM = 10.0
"""How far over the highest edge the base is carried before it goes sideways; common practice, no source."""
HAND_OVER_EDGE_MM = 25.0
"""How far over the highest edge the lower side of the hand stays where the vessel lets it; common practice."""
FINGERTIPS_MM = 20.0
"""Of a vessel that stands deep the fingertips hold the topmost so much; common practice, no source."""

_GRIPPED_SHARE = 2 / 3
_JUST_MM = 1e-6


# Between two heights to hold at, and how much narrower a higher one has to be for a hand to go there.
_STEP_MM, _NARROWER_MM = 2.0, 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftOut:
    """The way out in car axes, without a turn.

    from_place : where it stands; up_mm : how far straight up
    aside_mm   : (x, y) that it goes after that
    """

    from_place: Place
    up_mm: float
    aside_mm: tuple[float, float]

    @property
    def level_mm(self) -> float:
        """How far it goes level."""
        return math.hypot(*self.aside_mm)

    @property
    def length_mm(self) -> float:
        """The whole way; no point of the vessel goes farther than its share of this."""
        return self.up_mm + self.level_mm

    def at(self, share: float) -> Place:
        """Where the vessel is after a share (0 to 1) of the way's length."""
        gone = min(max(share, 0.0), 1.0) * self.length_mm
        up = min(gone, self.up_mm)
        part = (gone - up) / self.level_mm if self.level_mm > 0.0 else 0.0
        start = self.from_place
        return replace(
            start,
            x_mm=start.x_mm + part * self.aside_mm[0],
            y_mm=start.y_mm + part * self.aside_mm[1],
            z_mm=start.z_mm + up,
        )

    @property
    def over_place(self) -> Place:
        """Where it is at the top of the straight-up part."""
        return replace(self.from_place, z_mm=self.from_place.z_mm + self.up_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldAt:
    """Where the hand holds a vessel: heights over its base of the hand's lower and upper side, and its radius there."""

    low_mm: float
    high_mm: float
    radius_mm: float


def edge_mm(holder: CupHolder, around_mm: float = -math.inf) -> float:
    """Car Z of the highest edge a vessel comes up past: of the well and its ring, or of what it is let into."""
    return max(holder.place.z_mm + well_outline(holder).top_mm, around_mm)


def stands_out_mm(holder: CupHolder, vessel: Vessel, around_mm: float = -math.inf) -> float:
    """How far its top stands over the highest edge it comes up past [mm]; negative where it ends below.

    around_mm as in `lift_out`.
    """
    return vessel_place(vessel, holder).z_mm + height_mm(vessel) - edge_mm(holder, around_mm)


def lift_out(
    holder: CupHolder,
    vessel: Vessel,
    toward_mm: tuple[float, float],
    far_mm: float = 150.0,
    around_mm: float = -math.inf,
) -> LiftOut:
    """The way of a vessel out of its well.

    toward_mm : (x, y) in car axes it goes towards, the driver's shoulder for one
    far_mm    : how far it goes towards there; no farther than it is away
    around_mm : car Z of the top of what the well is let into, where it is higher than the well
    """
    start = vessel_place(vessel, holder)
    over = edge_mm(holder, around_mm) + OVER_EDGE_MM
    dx, dy = toward_mm[0] - start.x_mm, toward_mm[1] - start.y_mm
    away = math.hypot(dx, dy)
    share = min(far_mm / away, 1.0) if away > 0.0 else 0.0
    return LiftOut(from_place=start, up_mm=max(over - start.z_mm, 0.0), aside_mm=(share * dx, share * dy))


def held_at(holder: CupHolder, vessel: Vessel, breadth_mm: float, around_mm: float = -math.inf) -> HeldAt:
    """Where a hand so broad holds a vessel that stands in its well; around_mm as in `lift_out`.

    About two thirds up, but clear of the highest edge, and with no less than the fingertips on the vessel; higher
    where it is narrower there, by the neck of a bottle for one.
    """
    edge = edge_mm(holder, around_mm) - vessel_place(vessel, holder).z_mm
    tall = height_mm(vessel)
    low = max(_GRIPPED_SHARE * tall - breadth_mm / 2, edge + HAND_OVER_EDGE_MM)
    highest = max(tall - FINGERTIPS_MM, 0.0)
    low = max(min(low, highest), 0.0)
    radii = {at: _widest(vessel.profile, at, at + breadth_mm) for at in _from(low, highest)}
    narrowest = min(radii.values())
    if narrowest < radii[low] - _NARROWER_MM:
        low = min(at for at, radius in radii.items() if radius < narrowest + _NARROWER_MM)
    return HeldAt(low_mm=low, high_mm=low + breadth_mm, radius_mm=radii[low])


def _from(low: float, highest: float) -> list[float]:
    """Heights at which to hold, from the lowest, close together."""
    steps = max(math.ceil((highest - low) / _STEP_MM), 1) if highest > low else 0
    return [low + (highest - low) * step / max(steps, 1) for step in range(steps + 1)]


def way_of_vessel(way: LiftOut, vessel: Vessel) -> Body:
    """All the room the vessel takes on its way out, in car axes: exact for each of its convex runs.

    Straight up only what is higher than where its base ends up: what is still in the well is none of it.
    """
    start = way.from_place.pose()
    up = [
        Solid(turned_body(swept), start)
        for run in convex_runs(vessel.profile)
        if (swept := _over(_swept_up(run, way.up_mm), way.up_mm))
    ]
    if way.level_mm <= 0.0:
        return tuple(up)
    over = way.over_place.pose()
    aside = over.inverse().apply(_end(way)) - over.inverse().apply(np.array(over.shift_mm))
    level = [Solid(_slid(turned_body(run), aside), over) for run in convex_runs(vessel.profile)]
    return (*up, *level)


def way_of_hand(way: LiftOut, hand: Body) -> Body:
    """All the room a convex hand takes that stands as at the start of the way, in car axes."""
    up = np.array([0.0, 0.0, way.up_mm])
    moved = []
    for solid in hand:
        turn = replace(solid.pose, shift_mm=(0.0, 0.0, 0.0)).inverse()
        moved.append(Solid(_slid(solid.hull, turn.apply(up)), solid.pose))
        if way.level_mm > 0.0:
            x, y, z = (float(v) for v in np.add(solid.pose.shift_mm, up))
            there = replace(solid.pose, shift_mm=(x, y, z))
            moved.append(Solid(_slid(solid.hull, turn.apply(np.array([*way.aside_mm, 0.0]))), there))
    return tuple(moved)


def gone_mm(way: LiftOut, at_mm: Vector, profile: Profile) -> tuple[float, float]:
    """How far straight up and then level a body of revolution is when it first takes a place it takes on the way.

    at_mm   : in car axes
    profile : (height over the vessel's base, radius) of what is moved
    """
    x, y = at_mm[0] - way.from_place.x_mm, at_mm[1] - way.from_place.y_mm
    over = at_mm[2] - way.from_place.z_mm
    beside = math.hypot(x, y)
    for up in _raises(way.up_mm, over, profile):
        if beside <= _radius(profile, over - up) + _slack(beside):
            return up, 0.0
    reach = _radius(profile, over - way.up_mm)
    if way.level_mm <= 0.0:
        return way.up_mm, 0.0
    along = (x * way.aside_mm[0] + y * way.aside_mm[1]) / way.level_mm
    off = math.sqrt(max(beside**2 - along**2, 0.0))
    level = along - math.sqrt(max(reach**2 - off**2, 0.0))
    return way.up_mm, min(max(level, 0.0), way.level_mm)


def _raises(up_mm: float, over_mm: float, profile: Profile) -> list[float]:
    """Raises in rising order at which what is at a height turns, and evenly between: fine enough for a note."""
    turns = [over_mm - height for height, _ in profile]
    even = np.linspace(0.0, up_mm, max(int(up_mm), 1) + 1).tolist()
    return sorted(up for up in (*turns, *even) if 0.0 <= up <= up_mm)


def _slack(radius_mm: float) -> float:
    # Round bodies are drawn around their circles.
    return 0.003 * radius_mm + _JUST_MM


def _radius(profile: Profile, height: float) -> float:
    """Radius at a height, the larger one at a step; below and above the body minus infinity."""
    if not profile[0][0] - _JUST_MM <= height <= profile[-1][0] + _JUST_MM:
        return -math.inf
    held = [profile[0][1]] if abs(height - profile[0][0]) <= _JUST_MM else []
    for (low, a), (high, b) in itertools.pairwise(profile):
        if low - _JUST_MM <= height <= high + _JUST_MM:
            held.append(max(a, b) if high - low <= _JUST_MM else a + (b - a) * (height - low) / (high - low))
    return max(held)


def _widest(profile: Profile, low: float, high: float) -> float:
    top = profile[-1][0]
    ends = [_radius(profile, min(at, top)) for at in (low, high)]
    return max(*ends, *(radius for height, radius in profile if low <= height <= high), 1.0)


def _swept_up(run: Profile, up_mm: float) -> Profile:
    """A convex run with all it passes on its way straight up: convex too."""
    widest = max(range(len(run)), key=lambda at: run[at][1])
    low = run[: widest + 1]
    high = tuple((height + up_mm, radius) for height, radius in run[widest:])
    return (*low, *high)


def _over(run: Profile, level: float) -> Profile:
    """The part of a run over a height; nothing where none of it is."""
    if run[-1][0] <= level:
        return ()
    if run[0][0] >= level:
        return run
    return ((level, _radius(run, level)), *(at for at in run if at[0] > level))


def _slid(hull: Hull, by: Floats) -> Hull:
    """A hull with all it passes when it slides straight: the hull of its two ends."""
    return Hull(np.vstack([hull.points, hull.points + by]), hull.radius_mm, hull.facet_mm)


def _end(way: LiftOut) -> Floats:
    place = way.at(1.0)
    return np.array([place.x_mm, place.y_mm, place.z_mm])
