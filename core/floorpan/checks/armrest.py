"""The armrest: what the shifting forearm crosses, where the elbow hangs over it, its lid, and hands that come by."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import cast

import numpy as np

from floorpan.checks.check import Check, Item, Reading
from floorpan.checks.doubts import facets, tape
from floorpan.checks.finding import Doubt, Finding, Point, combined, verdict_of
from floorpan.checks.gaps import Between
from floorpan.checks.pairs import between, limit_for, states
from floorpan.checks.reclining import slides
from floorpan.checks.who import hand
from floorpan.derive import Scene, elbow_in, reach_in
from floorpan.driver import BELTS_AXIS, Arm, Person, forearm
from floorpan.driver.limbs import FOREARM_RADIUS_MM
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.solids import Body
from floorpan.items import Armrest, Handbrake, Seat, Shifter, Vessel
from floorpan.items.lever import NEUTRAL
from floorpan.items.states import State, state_of, stops_of
from floorpan.layout import Thing
from floorpan.limits import Limit

ELBOW_U_MM = 10.0
"""One sigma of where an elbow hangs: people hold it as they like; common practice, no source."""

_OFF = "The elbow does not lie over the pad."
_Asked = Callable[[], Arm]


def arms_over(scene: Scene, limit: str, *, resting: bool) -> Iterator[Reading]:
    """Every driver, belts tight, at each used notch: in neutral where the elbow rests, else in every gear."""
    wanted = limit_for(scene, limit)
    for rest in scene.layout.of(Armrest):
        pad = scene.body(f"{rest.id}.pad", state_of({f"{rest.id}.lid": "shut"}))
        for person, shifter in scene.hands():
            seat = scene.seat_of(person)
            if seat is None:
                continue
            for state in states(scene, slides(seat), f"{shifter.id}.knob"):
                neutral = stops_of(state, shifter.id)["gear"] == NEUTRAL
                if (
                    neutral is not resting
                    or int(stops_of(state, seat.id)["notch"]) not in person.notches_used
                ):
                    continue
                full = state_of({**dict(state), f"{person.id}.{BELTS_AXIS}": "tight"})
                made_from = (person, shifter, *scene.layout.seats, *scene.layout.consoles, scene.hand_side())
                # Only the judge asks where the elbow is: it costs more than everything else here.
                elbow = scene.memory.get(
                    ("elbow, to be asked", full),
                    made_from,
                    lambda person=person, seat=seat, shifter=shifter, full=full: partial(  # type: ignore[misc]
                        _asked, scene, person, seat, shifter, full
                    ),
                )
                yield Reading((f"{person.id}.forearm", rest.id), full, (elbow, person, rest, pad, wanted))


def _asked(scene: Scene, person: Person, seat: Seat, shifter: Shifter, state: State) -> Arm:
    """The arm on the knob, its elbow where things about let it be; stretched out where it falls short."""
    found = elbow_in(scene, person, seat, shifter, state)
    return found.posed if found is not None else reach_in(person, seat, shifter, state, scene.hand_side()).arm


@dataclass(frozen=True, slots=True)
class HangingElbow:
    """An elbow over a pad.

    under_mm : the forearm's lowest place at the elbow, in car axes
    over_mm  : how far that is over the pad's top; negative sinks in
    along_mm : the elbow from the pad's middle along the pad, rearward
    on_pad   : whether it lies over the pad at all
    """

    under_mm: Point
    over_mm: float
    along_mm: float
    on_pad: bool


def forearm_over(reading: Reading) -> Body:
    """The forearm with its sleeve, of a reading of arms_over."""
    elbow, person = reading.inputs[:2]
    assert isinstance(person, Person)
    return forearm(cast(_Asked, elbow)(), person.jacket_mm)


def elbow_over(reading: Reading) -> HangingElbow:
    """Where the elbow hangs over the shut pad, of a reading of arms_over."""
    elbow, person, rest = reading.inputs[:3]
    assert isinstance(person, Person)
    assert isinstance(rest, Armrest)
    x, y, z = cast(_Asked, elbow)().elbow_mm
    under = z - FOREARM_RADIUS_MM - person.jacket_mm
    along, across = (float(v) for v in rest.place.pose().inverse().apply(np.array([x, y, z]))[:2])
    on_pad = abs(along) <= rest.length_mm / 2 and abs(across) <= rest.width_mm / 2 + FOREARM_RADIUS_MM
    return HangingElbow((x, y, under), under - rest.place.z_mm - top_mm(rest), along, on_pad)


def top_mm(rest: Armrest) -> float:
    """The shut pad's top over what the armrest stands on."""
    return max(rest.height_mm, rest.pad_mm)


def elbow_doubts() -> tuple[Doubt, ...]:
    """What is doubtful of a taped pad under an elbow that hangs as its owner likes."""
    return (tape("taped place"), Doubt("where the elbow hangs", standard=ELBOW_U_MM))


def _judge_forearm(reading: Reading) -> Finding:
    _, _, _, pad, wanted = reading.inputs
    assert isinstance(wanted, Limit)
    arm = forearm_over(reading)
    near = body_gap(arm, cast(Body, pad))
    doubts = (*elbow_doubts(), *facets(arm))
    ends: tuple[Point, Point] = (near.on_body, near.on_surface)
    return _told("armrest-forearm", reading, wanted, near.distance_mm, doubts, ends, "")


def _judge_rest(reading: Reading) -> Finding:
    wanted = reading.inputs[-1]
    assert isinstance(wanted, Limit)
    hangs = elbow_over(reading)
    x, y, under = hangs.under_mm
    ends: tuple[Point, Point] = ((x, y, under), (x, y, under - hangs.over_mm))
    note = "" if hangs.on_pad else _OFF
    return _told("armrest-elbow", reading, wanted, hangs.over_mm, elbow_doubts(), ends, note)


def _told(
    check: str,
    reading: Reading,
    wanted: Limit,
    value: float,
    doubts: tuple[Doubt, ...],
    ends: tuple[Point, Point],
    note: str,
) -> Finding:
    u, is_gap = combined(doubts), check == "armrest-forearm"
    return Finding(
        check=check,
        subjects=reading.subjects,
        state=reading.state,
        verdict=verdict_of(value, u, wanted, is_gap=is_gap),
        value=value,
        uncertainty=u,
        doubts=doubts,
        limit=wanted,
        is_gap=is_gap,
        at_mm=ends,
        note=note,
    )


def _from_hand(scene: Scene, *, moving: bool) -> Iterator[Item]:
    for mover in hand(scene):
        for rest in scene.layout.of(Armrest):
            yield from between(scene, mover, rest.id, "hand-armrest", moving=moving)


def _from_handbrake(scene: Scene, *, moving: bool) -> Iterator[Item]:
    for brake in scene.layout.of(Handbrake):
        for rest in scene.layout.of(Armrest):
            yield from between(scene, f"{brake.id}.hand", rest.id, "handbrake-armrest", moving=moving)


def _pad_to(scene: Scene, *, kind: type[Thing], limit: str, moving: bool) -> Iterator[Item]:
    for rest in scene.layout.of(Armrest):
        for thing in scene.layout.of(kind):
            yield from between(scene, f"{rest.id}.pad", thing.id, limit, moving=moving)


def _pair(limit: str, reads: Callable[..., Iterator[Item]]) -> tuple[Check, Check]:
    return (
        Check(limit, "live", partial(reads, moving=False), Between(limit)),
        Check(f"{limit}-moving", "settled", partial(reads, moving=True), Between(limit)),
    )


CHECKS = (
    Check(
        "armrest-forearm",
        "settled",
        partial(arms_over, limit="armrest-forearm", resting=False),
        _judge_forearm,
    ),
    Check("armrest-elbow", "settled", partial(arms_over, limit="armrest-elbow", resting=True), _judge_rest),
    *_pair("hand-armrest", _from_hand),
    *_pair("handbrake-armrest", _from_handbrake),
    *_pair("armrest-seat", partial(_pad_to, kind=Seat, limit="armrest-seat")),
    *_pair("armrest-vessel", partial(_pad_to, kind=Vessel, limit="armrest-vessel")),
)
