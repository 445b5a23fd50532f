"""The armrest: what the shifting forearm crosses, where the elbow hangs over it, its lid, and hands that come by."""

from collections.abc import Callable, Iterator
from functools import partial
from typing import cast

import numpy as np

from floorpan.checks.check import Check, Reading
from floorpan.checks.doubts import facets, tape
from floorpan.checks.finding import Doubt, Finding, Point, combined, verdict_of
from floorpan.checks.gaps import Between
from floorpan.checks.pairs import between, limit_for, states
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


def _arms(scene: Scene, limit: str, *, resting: bool) -> Iterator[Reading]:
    """Every driver, belts tight, at each used notch: in neutral where the elbow rests, else in every gear."""
    wanted = limit_for(scene, limit)
    for rest in scene.layout.of(Armrest):
        pad = scene.body(f"{rest.id}.pad", state_of({f"{rest.id}.lid": "shut"}))
        for person, shifter in scene.hands():
            seat = scene.seat_of(person)
            if seat is None:
                continue
            for state in states(scene, seat.id, f"{shifter.id}.knob"):
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


def _judge_forearm(reading: Reading) -> Finding:
    elbow, person, _, pad, wanted = reading.inputs
    assert isinstance(person, Person)
    assert isinstance(wanted, Limit)
    arm = forearm(cast(_Asked, elbow)(), person.jacket_mm)
    near = body_gap(arm, cast(Body, pad))
    doubts = (tape("taped place"), Doubt("where the elbow hangs", standard=ELBOW_U_MM), *facets(arm))
    ends: tuple[Point, Point] = (near.on_body, near.on_surface)
    return _told("armrest-forearm", reading, wanted, near.distance_mm, doubts, ends, "")


def _judge_rest(reading: Reading) -> Finding:
    elbow, person, rest, _, wanted = reading.inputs
    assert isinstance(person, Person)
    assert isinstance(rest, Armrest)
    assert isinstance(wanted, Limit)
    x, y, z = cast(_Asked, elbow)().elbow_mm
    under = z - FOREARM_RADIUS_MM - person.jacket_mm
    top = rest.place.z_mm + max(rest.height_mm, rest.pad_mm)
    along, across = (float(v) for v in rest.place.pose().inverse().apply(np.array([x, y, z]))[:2])
    over = abs(along) <= rest.length_mm / 2 and abs(across) <= rest.width_mm / 2 + FOREARM_RADIUS_MM
    doubts = (tape("taped place"), Doubt("where the elbow hangs", standard=ELBOW_U_MM))
    ends: tuple[Point, Point] = ((x, y, under), (x, y, top))
    return _told("armrest-elbow", reading, wanted, under - top, doubts, ends, "" if over else _OFF)


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


def _from_hand(scene: Scene, *, moving: bool) -> Iterator[Reading]:
    hand = scene.largest_hand()
    if hand is not None:
        for rest in scene.layout.of(Armrest):
            yield from between(scene, hand, rest.id, "hand-armrest", moving=moving)


def _from_handbrake(scene: Scene, *, moving: bool) -> Iterator[Reading]:
    for brake in scene.layout.of(Handbrake):
        for rest in scene.layout.of(Armrest):
            yield from between(scene, f"{brake.id}.hand", rest.id, "handbrake-armrest", moving=moving)


def _pad_to(scene: Scene, *, kind: type[Thing], limit: str, moving: bool) -> Iterator[Reading]:
    for rest in scene.layout.of(Armrest):
        for thing in scene.layout.of(kind):
            yield from between(scene, f"{rest.id}.pad", thing.id, limit, moving=moving)


def _pair(limit: str, reads: Callable[..., Iterator[Reading]]) -> tuple[Check, Check]:
    return (
        Check(limit, "live", partial(reads, moving=False), Between(limit)),
        Check(f"{limit}-moving", "settled", partial(reads, moving=True), Between(limit)),
    )


CHECKS = (
    Check(
        "armrest-forearm", "settled", partial(_arms, limit="armrest-forearm", resting=False), _judge_forearm
    ),
    Check("armrest-elbow", "settled", partial(_arms, limit="armrest-elbow", resting=True), _judge_rest),
    *_pair("hand-armrest", _from_hand),
    *_pair("handbrake-armrest", _from_handbrake),
    *_pair("armrest-seat", partial(_pad_to, kind=Seat, limit="armrest-seat")),
    *_pair("armrest-vessel", partial(_pad_to, kind=Vessel, limit="armrest-vessel")),
)
