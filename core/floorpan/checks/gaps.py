"""Least gaps between a body and an area of the scan, or between two bodies, standing or on their way."""

import functools
import math
from collections.abc import Callable
from dataclasses import dataclass

from floorpan.checks.check import Bounded, Reading
from floorpan.checks.doubts import axes_tilt, facets, joining, most_of_scan, of_scan, tape
from floorpan.checks.finding import Doubt, Finding, Point, combined, verdict_of
from floorpan.derive import AreaSurface, Floor, Motion
from floorpan.geometry.approach import GapMemory
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.motion import least_over_motion
from floorpan.geometry.motion_in_parts import least_in_parts
from floorpan.geometry.near import NOTHING_NEAR, Near
from floorpan.geometry.pair_memory import PairMemory
from floorpan.geometry.solids import Body
from floorpan.limits import Limit
from floorpan.scan.probes import gap_to_probes

WITHIN_MM = 0.09
"""How close the least gap of a motion is known: 0.1 mm and a little in hand for what no sampling sees."""
ROOMY_MM = 5.0
"""A gap with this much more than is wanted is clear by any doubt met so far; it need not be known to 0.1 mm."""

_STEP = "motion step"
# Bounds are worked out in floating point; nearer than this they prove nothing [mm].
SLACK_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a gap is least: how near, with which body, and how much lower it may be between looks [mm]."""

    near: Near
    body: Body
    step_mm: float


def least(subject: object, wanted_mm: float, measure: Callable[[Body], Near]) -> Spot:
    """The least gap of a body, or of a motion over its whole way; fine where it is near what is wanted.

    The true least of a motion is never above the gap told and at most `step_mm` below it: WITHIN_MM, or a twentieth
    of what the gap has over wanted_mm where that is more. So a gap told as roomier than wanted is nowhere less.
    """
    if isinstance(subject, Motion) and subject.swept is None:
        return _least_on_way(subject, wanted_mm, measure)
    body = subject.swept if isinstance(subject, Motion) else subject
    assert isinstance(body, tuple)
    return Spot(measure(body), body, 0.0)


def _least_on_way(motion: Motion, wanted_mm: float, measure: Callable[[Body], Near]) -> Spot:
    """In parts, each by how far it travels, where nothing is met on the way; else the whole body."""
    found = least_in_parts(motion.at, wanted_mm, WITHIN_MM, measure)
    if found is not None:
        return Spot(found.near, motion.at(found.share), found.step_mm)
    seen: dict[float, Near] = {}

    def gap_at(share: float) -> float:
        seen[share] = measure(_at(motion, share))
        return seen[share].distance_mm if math.isfinite(seen[share].distance_mm) else 1e6

    least_of = least_over_motion(gap_at, motion.travel_mm, within_mm=WITHIN_MM, wanted_mm=wanted_mm)
    return Spot(seen[least_of.share], _at(motion, least_of.share), least_of.step_mm)


# One way is looked at against all that stands about it, often at the same shares of it.
@functools.lru_cache(maxsize=1024)
def _at(motion: Motion, share: float) -> Body:
    """The body at a share of its way, the very same each time."""
    return motion.at(share)


@dataclass(frozen=True, slots=True)
class ToArea(Bounded):
    """Judges a gap to an area of the scan: inputs (body or motion, area, floor, limit, carpet, scan good to)."""

    check: str

    def __call__(self, reading: Reading) -> Finding:
        """The finding; unseen where the nearest unseen place is no farther than what was seen."""
        subject, area, floor, limit, carpet_mm, good_to_mm = reading.inputs
        assert isinstance(area, AreaSurface)
        assert isinstance(floor, Floor)
        assert isinstance(limit, Limit)
        assert isinstance(carpet_mm, float)
        assert isinstance(good_to_mm, float)
        memory = GapMemory()
        roomy = limit.value + carpet_mm + ROOMY_MM
        spot = least(subject, roomy, lambda body: area.surface.gap(body, memory=memory))
        place = of_scan(floor, good_to_mm, spot.near.on_surface, spot.body) if spot.near.found else ()
        doubts = _doubts(spot, place)
        if area.probes:
            spot, doubts = _worse(spot, doubts, *_to_probes(subject, area, floor, roomy))
        u = combined(doubts)
        value = spot.near.distance_mm - carpet_mm
        blind = area.unseen.distance(spot.body) if area.unseen is not None else NOTHING_NEAR
        near_enough = blind.distance_mm <= max(spot.near.distance_mm, carpet_mm + limit.value + u)
        unseen = blind if blind.found and near_enough else None
        if unseen is not None or not spot.near.found:
            return Finding(
                check=self.check,
                subjects=reading.subjects,
                state=reading.state,
                verdict="unseen",
                value=None,
                uncertainty=u,
                doubts=doubts,
                limit=limit,
                met=area.kind,
                at_mm=_ends(unseen) if unseen is not None else None,
                note="The nearest place was not scanned."
                if unseen is not None
                else "Nothing was scanned there.",
            )
        return Finding(
            check=self.check,
            subjects=reading.subjects,
            state=reading.state,
            verdict=verdict_of(value, u, limit, is_gap=True),
            value=value,
            uncertainty=u,
            doubts=doubts,
            limit=limit,
            met=area.kind,
            at_mm=_ends(spot.near),
            away=_away(spot.near),
            note=f"Over {carpet_mm:g} mm of carpet." if carpet_mm else "",
            unseen_mm=blind.distance_mm,
        )

    def enough_mm(self, reading: Reading) -> float:
        """A gap to the scan with so much is clear, wherever on the area the nearest place comes to lie [mm]."""
        subject, area, floor, limit, carpet_mm, good_to_mm = reading.inputs
        assert isinstance(area, AreaSurface)
        assert isinstance(floor, Floor)
        assert isinstance(limit, Limit)
        assert isinstance(carpet_mm, float)
        assert isinstance(good_to_mm, float)
        place = most_of_scan(floor, good_to_mm, area.surface.bounds)
        doubts = (*place, tape("taped place"), *facets(_taken(subject)))
        return carpet_mm + _enough_mm(subject, limit, combined(doubts))

    def spare_mm(self, reading: Reading, told: Finding) -> float:
        """How far the body may go from there, and no gap to what was seen, nor a place unseen, unsettles `clear`."""
        area, carpet_mm = reading.inputs[1], reading.inputs[4]
        assert isinstance(area, AreaSurface)
        assert isinstance(carpet_mm, float)
        # What lies unseen beside a way was looked for at one place of it only.
        if told.value is None or area.probes or _on_way(reading.inputs[0]):
            return 0.0
        gap, unseen, enough = told.value + carpet_mm, told.unseen_mm, self.enough_mm(reading)
        # Either may come nearer while the other goes.
        return min(gap - enough, unseen - enough, (unseen - gap) / 2)


@dataclass(frozen=True, slots=True)
class Between(Bounded):
    """Judges a gap between two bodies: inputs (body or motion, the other body, limit, words for the other)."""

    check: str

    def __call__(self, reading: Reading) -> Finding:
        """The finding; both bodies are known, so nothing is unseen."""
        subject, other, limit, met = reading.inputs
        assert isinstance(other, tuple)
        assert isinstance(limit, Limit)
        # What stands is looked at once.
        memory = PairMemory() if _on_way(subject) else None
        spot = least(subject, limit.value + ROOMY_MM, lambda body: body_gap(body, other, memory))
        doubts = (tape("taped places", 2), *facets(spot.body, other), *_step(spot.step_mm))
        u = combined(doubts)
        value = spot.near.distance_mm
        return Finding(
            check=self.check,
            subjects=reading.subjects,
            state=reading.state,
            verdict=verdict_of(value, u, limit, is_gap=True),
            value=value,
            uncertainty=u,
            doubts=doubts,
            limit=limit,
            met=str(met),
            at_mm=_ends(spot.near),
            away=_away(spot.near),
        )

    def enough_mm(self, reading: Reading) -> float:
        """A gap of so much is clear [mm]."""
        subject, other, limit, _ = reading.inputs
        assert isinstance(other, tuple)
        assert isinstance(limit, Limit)
        return _enough_mm(
            subject, limit, combined((tape("taped places", 2), *facets(_taken(subject), other)))
        )

    def spare_mm(self, reading: Reading, told: Finding) -> float:
        """How far the two may go, against each other, and the gap stays clear."""
        if told.value is None:
            return 0.0
        step = sum(doubt.bound for doubt in told.doubts if doubt.name == _STEP)
        return told.value - step - self.enough_mm(reading)


def _on_way(subject: object) -> bool:
    """Whether a gap is the least of many looks along a way, not of one body or of all the room a way takes."""
    return isinstance(subject, Motion) and subject.swept is None


def _taken(subject: object) -> Body:
    """A body, or all the room that a way takes, or what goes along it where it begins: round things are as round."""
    body = (subject.swept or _at(subject, 0.0)) if isinstance(subject, Motion) else subject
    assert isinstance(body, tuple)
    return body


def _enough_mm(subject: object, limit: Limit, u_mm: float) -> float:
    """What a gap must have to be clear with that doubt, and on a way with that of its looks as well.

    Looks lie WITHIN_MM apart, or a twentieth of what a gap has over ROOMY_MM more than is wanted, which so has more
    than twenty nineteenths of the doubt in hand.
    """
    u = max(u_mm + WITHIN_MM, u_mm * 20.0 / 19.0) if _on_way(subject) else u_mm
    return max(limit.value, 0.0) + u + SLACK_MM


def _doubts(spot: Spot, place: tuple[Doubt, ...]) -> tuple[Doubt, ...]:
    """All that is doubtful in a gap: the place on the scan, the body's own, and looks that lie apart."""
    return (*place, tape("taped place"), *facets(spot.body), *_step(spot.step_mm))


def _to_probes(
    subject: object, area: AreaSurface, floor: Floor, wanted_mm: float
) -> tuple[Spot, tuple[Doubt, ...]]:
    """The gap to the places that were measured by hand."""
    spot = least(subject, wanted_mm, lambda body: gap_to_probes(body, area.probes).near)
    found = gap_to_probes(spot.body, area.probes)
    place = (
        Doubt("probe", standard=found.u_mm / 2),
        *joining(floor, spot.near.on_surface),
        *axes_tilt(floor, spot.near.on_surface),
        *((Doubt("slope under the probe", bound=found.rise_mm),) if found.rise_mm > 0.0 else ()),
    )
    return spot, _doubts(spot, place)


def _worse(
    one: Spot, doubts: tuple[Doubt, ...], other: Spot, other_doubts: tuple[Doubt, ...]
) -> tuple[Spot, tuple[Doubt, ...]]:
    """Of two gaps the one that leaves less once its own doubt is taken off."""
    if other.near.distance_mm - combined(other_doubts) < one.near.distance_mm - combined(doubts):
        return other, other_doubts
    return one, doubts


def _step(step_mm: float) -> tuple[Doubt, ...]:
    return (Doubt(_STEP, bound=step_mm),) if step_mm > 0.0 else ()


def _ends(near: Near) -> tuple[Point, Point] | None:
    return (near.on_body, near.on_surface) if math.isfinite(near.on_body[0]) else None


def _away(near: Near) -> Point | None:
    return near.away if math.isfinite(near.away[0]) else None
