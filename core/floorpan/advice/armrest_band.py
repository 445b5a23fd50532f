"""How high an armrest's pad may be so that it rests the elbow in neutral and is clear of the arm in every gear.

Rested is what the check of the hanging elbow wants: in neutral the forearm's underside no higher and no lower over the
pad than its limit says, for every driver at every used notch, belts tight. Clear is what the checks of forearm and
knuckles want of the shut pad in every gear, standing; knuckles on their way between gears are left to the checks.

A pad that is raised moves along a straight line without turning. The gap between two convex bodies, counted negative
where they overlap, is a convex function of such a move: what is too near is one stretch of heights for each arm, whose
ends are found on the very gap that the check judges. What is left of the heights that rest the elbow is the answer.
The same along the pad tells how far it may go rearward and forward at the height it has.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from floorpan.advice.too_near import Stretch, left_of, too_near
from floorpan.checks.armrest import arms_over, elbow_doubts, elbow_over, forearm_over, top_mm
from floorpan.checks.doubts import facets, tape
from floorpan.checks.finding import combined
from floorpan.checks.pairs import limit_for, states
from floorpan.derive import Scene
from floorpan.fields import Range, rules
from floorpan.frames import Floats, Pose, vector_of
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.solids import Body, Solid
from floorpan.items import Armrest
from floorpan.items.armrest import LID, SHUT
from floorpan.items.states import State, state_of, stops_of

What = Literal["elbow", "forearm", "knuckles", "pad"]
Way = Literal["height", "along"]

_FARTHEST_MM = 400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """What keeps a pad from going further.

    what  : the elbow that would not rest, forearm or knuckles that would be too near, or the pad's own sizes
    state : in which that is so
    arm   : whose, the id of a person; "" for the pad's own
    u_mm  : how far the end may lie elsewhere, half-width at about 95 %
    """

    what: What
    state: State
    arm: str
    u_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Between which values a pad both rests the elbow and is clear; low and high are None where none does.

    way     : of the height of the pad's top over its foot, or of a move along the pad, rearward
    here    : the value it has
    low_by, high_by : what ends the band
    nearest : where none does both, the value nearest to resting that is clear; None where none is clear either
    short   : how far that is from resting the elbow; negative where it is beyond
    because : what is in the way there: what is too near, or the two elbows that want different pads
    """

    way: Way
    here: float
    low: float | None = None
    high: float | None = None
    low_by: Bound | None = None
    high_by: Bound | None = None
    nearest: float | None = None
    short: float = 0.0
    because: tuple[Bound, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether the value it has lies in the band."""
        return self.low is not None and self.high is not None and self.low <= self.here <= self.high

    @property
    def into(self) -> float | None:
        """The value in the band that is nearest to the middle of it and, in whole mm where it has any, round."""
        if self.low is None or self.high is None:
            return None
        middle = (self.low + self.high) / 2.0
        return float(round(middle)) if self.low <= round(middle) <= self.high else middle

    @property
    def doubt_mm(self) -> float:
        """How far both ends together may lie elsewhere: of a narrower band no value is sure."""
        return sum(one.u_mm for one in (self.low_by, self.high_by) if one is not None)


@dataclass(frozen=True, slots=True, kw_only=True)
class ArmrestBand:
    """What is known of one armrest.

    height : the band of its pad's height
    along  : the band of a move along it, as high as it is
    off    : the states in which the elbow does not lie over the pad in neutral
    on     : those in which it does
    beside : how far the pad is too low (over 0) or too high (under 0) to rest the elbow, whatever it is clear of [mm]
    """

    rest_id: str
    height: Band
    along: Band
    off: tuple[State, ...] = ()
    on: tuple[State, ...] = ()
    beside: float = 0.0


@dataclass(frozen=True, slots=True)
class _Rested:
    """Between which moves one elbow rests."""

    low: float
    high: float
    bound: Bound


@dataclass(frozen=True, slots=True)
class _Kept:
    """A solid of an arm that the pad keeps away from."""

    body: Body
    wanted: float
    bound: Bound


def armrest_band(scene: Scene, rest: Armrest) -> ArmrestBand | None:
    """The bands of an armrest; None where nobody drives or nothing is shifted."""
    made_from = (
        rest, *scene.layout.people, *scene.layout.items, *scene.layout.seats, *scene.layout.consoles,
        scene.layout.limits, scene.hand_side(),
    )  # fmt: skip
    return scene.memory.get(("armrest band",), made_from, lambda: _found(scene, rest))


def _found(scene: Scene, rest: Armrest) -> ArmrestBand | None:
    raised = tuple(_rested(scene, rest, "height"))
    if not raised:
        return None
    kept = tuple(_kept(scene, rest))
    pad = scene.body(f"{rest.id}.pad", state_of({f"{rest.id}.{LID}": SHUT}))
    rule = rules(Armrest)["height_mm"]
    assert isinstance(rule, Range)
    here = top_mm(rest)
    whole = (rest.pad_mm - here, rule.most - here)
    pose = rest.place.pose()
    along = pose.apply(np.array([1.0, 0.0, 0.0])) - pose.apply(np.zeros(3))
    over = [
        (reading.state, elbow_over(reading).on_pad)
        for reading in arms_over(scene, "armrest-elbow", resting=True)
        if reading.subjects[1] == rest.id
    ]
    low, high = max(one.low for one in raised), min(one.high for one in raised)
    return ArmrestBand(
        rest_id=rest.id,
        height=_band("height", here, whole, raised, kept, pad, np.array([0.0, 0.0, 1.0])),
        along=_band(
            "along",
            0.0,
            (-_FARTHEST_MM, _FARTHEST_MM),
            tuple(_rested(scene, rest, "along")),
            kept,
            pad,
            along,
        ),
        off=tuple(state for state, on_pad in over if not on_pad),
        on=tuple(state for state, on_pad in over if on_pad),
        beside=low if low > 0.0 else min(high, 0.0),
    )


def _rested(scene: Scene, rest: Armrest, way: Way) -> Iterator[_Rested]:
    u = combined(elbow_doubts())
    for reading in arms_over(scene, "armrest-elbow", resting=True):
        if reading.subjects[1] != rest.id:
            continue
        hangs, wanted = elbow_over(reading), limit_for(scene, "armrest-elbow")
        bound = Bound(what="elbow", state=reading.state, arm=_owner(reading.subjects[0]), u_mm=u)
        if way == "along":
            half = rest.length_mm / 2
            yield _Rested(hangs.along_mm - half, hangs.along_mm + half, bound)
        else:
            most = np.inf if wanted.upper is None else wanted.upper
            yield _Rested(hangs.over_mm - float(most), hangs.over_mm - wanted.value, bound)


def _kept(scene: Scene, rest: Armrest) -> Iterator[_Kept]:
    """The forearm in every gear but neutral, and the knuckles in every gear."""
    wanted = limit_for(scene, "armrest-forearm").value
    for reading in arms_over(scene, "armrest-forearm", resting=False):
        if reading.subjects[1] == rest.id:
            body = forearm_over(reading)
            u = combined((*elbow_doubts(), *facets(body)))
            owner = _owner(reading.subjects[0])
            yield _Kept(body, wanted, Bound(what="forearm", state=reading.state, arm=owner, u_mm=u))
    hand = scene.largest_hand()
    if hand is None:
        return
    wanted = limit_for(scene, "hand-armrest").value
    for state in states(scene, hand, f"{rest.id}.pad"):
        if stops_of(state, rest.id)[LID] == SHUT:
            # Each solid by itself: of several together the gap is no convex function.
            for solid in scene.body(hand, state):
                u = combined((tape("taped places", 2), *facets((solid,))))
                yield _Kept((solid,), wanted, Bound(what="knuckles", state=state, arm=_owner(hand), u_mm=u))


def _owner(subject: str) -> str:
    return subject.partition(".")[0]


def _band(
    way: Way,
    here: float,
    whole: Stretch,
    rested: tuple[_Rested, ...],
    kept: tuple[_Kept, ...],
    pad: Body,
    direction: Floats,
) -> Band:
    """The band of moves (0 where it stands) turned into values."""
    own = Bound(what="pad", state=(), arm="", u_mm=0.0)
    lows = max(((one.low, one.bound) for one in rested), key=lambda one: one[0])
    highs = min(((one.high, one.bound) for one in rested), key=lambda one: one[0])
    if lows[0] > highs[0]:
        middle = (lows[0] + highs[0]) / 2.0
        short, because = (lows[0] - highs[0]) / 2.0, (highs[1], lows[1])
        return Band(way=way, here=here, nearest=here + middle, short=short, because=because)
    low = lows if lows[0] >= whole[0] else (whole[0], own)
    high = highs if highs[0] <= whole[1] else (whole[1], own)
    if low[0] <= high[0]:
        taken = tuple(_taken(kept, pad, direction, low[0], high[0]))
        left = left_of((low[0], high[0]), (stretch for stretch, _ in taken))
        if left:
            start, end = min(left, key=lambda one: (max(one[0], -one[1], 0.0), -(one[1] - one[0])))
            starts = {stretch[1]: bound for stretch, bound in taken} | {low[0]: low[1]}
            ends = {stretch[0]: bound for stretch, bound in taken} | {high[0]: high[1]}
            return Band(
                way=way,
                here=here,
                low=here + start,
                high=here + end,
                low_by=starts[start],
                high_by=ends[end],
            )
    return _nearest(way, here, whole, (lows[0], highs[0]), tuple(_taken(kept, pad, direction, *whole)))


def _nearest(
    way: Way, here: float, whole: Stretch, resting: Stretch, taken: tuple[tuple[Stretch, Bound], ...]
) -> Band:
    """Of what is clear, what comes nearest to resting."""
    clear = left_of(whole, (stretch for stretch, _ in taken))
    if not clear:
        return Band(way=way, here=here, because=tuple(bound for _, bound in taken)[:1])
    places = [min(max(resting[0], first), last) for first, last in clear]
    places += [min(max(resting[1], first), last) for first, last in clear]
    best = min(places, key=lambda at: max(resting[0] - at, at - resting[1], 0.0))
    up = best < resting[0]
    short = resting[0] - best if up else resting[1] - best
    because = tuple(bound for (first, last), bound in taken if abs((first if up else last) - best) <= 1e-3)
    own = Bound(what="pad", state=(), arm="", u_mm=0.0)
    return Band(way=way, here=here, nearest=here + best, short=short, because=because or (own,))


def _taken(
    kept: tuple[_Kept, ...], pad: Body, direction: Floats, low: float, high: float
) -> Iterator[tuple[Stretch, Bound]]:
    """The moves from low to high that bring the pad too near, for each solid of an arm."""
    for one in kept:

        def gap(by: float, one: _Kept = one) -> tuple[float, float]:
            near = body_gap(one.body, _shifted(pad, by * direction))
            return near.distance_mm, -float(np.asarray(near.away) @ direction)

        found = too_near(gap, one.wanted, low, high)
        if found is not None:
            yield found, one.bound


def _shifted(body: Body, by_mm: Floats) -> Body:
    by = Pose(shift_mm=vector_of(by_mm))
    return tuple(Solid(solid.hull, by.after(solid.pose)) for solid in body)
