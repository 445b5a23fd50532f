"""The shifting arm in every gear that is reached, belts tight: against car, bolsters, console, cup holders and
vessels.

The upper arm is looked at against console, cup holders and vessels only: it hangs beside the seat. The elbow hangs
where joints, bolsters and console let it. How far it may hang elsewhere counts as a doubt of the elbow, and less the
nearer a place is to the wrist or to the shoulder.
"""

import functools
import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import cast

import numpy as np

from floorpan.checks.armrest import ELBOW_U_MM
from floorpan.checks.check import Bounded, Check, Group, Pair, Reading
from floorpan.checks.finding import Doubt, Finding, combined, verdict_of
from floorpan.checks.gaps import Between, ToArea
from floorpan.checks.mesh_parts import standing_for
from floorpan.checks.pairs import limit_for
from floorpan.checks.reclining import driven_states
from floorpan.checks.shells import shells
from floorpan.derive import NO_FOOTING, AreaSurface, Footing, Scene
from floorpan.derive.arm_footing import ArmFooting, ArmsFooting, arm_footings
from floorpan.derive.arms import LIMBS, AskedArm, limb
from floorpan.driver import Person
from floorpan.driver.arm import Arm
from floorpan.items import Vessel
from floorpan.items.states import State, products, state_of
from floorpan.limits import Limit

_FOREARM = ("forearm",)
_BOTH = tuple(LIMBS)
_BOLSTERS = ("bolster left", "bolster right")
ASIDE_MM = 100.0
"""An unseen place that is farther from the arm than this leaves room for whatever may stand there; default."""

_NOT_SCANNED = "The nearest place was not scanned, so far away that it does not matter to an arm."
_OUT_OF_REACH = "The knob is out of reach there."


def _arms(scene: Scene) -> Iterator[tuple[Person, ArmsFooting]]:
    """Every driver and the arm in every gear."""
    for person, shifter in scene.hands():
        seat = scene.seat_of(person)
        if seat is not None:
            yield person, arm_footings(scene, person, seat, shifter)


def _to_scan(scene: Scene) -> Iterator[Group]:
    wanted = limit_for(scene, "forearm-scan")
    for person, arms in _arms(scene):
        for area in scene.areas():
            floor = scene.floor_of(area)
            carpet = scene.layout.carpet_on(area.id).loose_mm if area.carpeted else 0.0
            good_to = float(scene.layout.scan(floor.scan.id).good_to_mm)
            rest = (float(person.jacket_mm), area, floor, wanted, carpet, good_to)
            subjects = (f"{person.id}.forearm", area.id)
            yield _group(subjects, arms, NO_FOOTING, rest, _alone, lambda _: ())


def _to_things(
    scene: Scene, *, others: Callable[[Scene], Iterator[str]], limit: str, limbs: tuple[str, ...]
) -> Iterator[Group]:
    wanted = limit_for(scene, limit)
    for other in others(scene):
        met = scene.layout.thing(other).name if "." not in other else ""

        def states(arm: ArmFooting, other: str = other) -> Iterator[State]:
            yield from driven_states(scene, _with(scene, arm.state, other))

        def body(state: State, other: str = other) -> tuple[object, ...]:
            return (scene.body(other, state),)

        for person, arms in _arms(scene):
            for name in limbs:
                rest = (float(person.jacket_mm), wanted, met)
                yield _group((f"{person.id}.{name}", other), arms, scene.footing(other), rest, states, body)


def _group(
    subjects: tuple[str, ...],
    arms: ArmsFooting,
    met: Footing,
    rest: tuple[object, ...],
    states: Callable[[ArmFooting], Iterable[State]],
    body: Callable[[State], tuple[object, ...]],
) -> Group:
    """A part of the arm in all its states; inputs as OfArm takes them, what it meets after the sleeve."""
    name = subjects[0].partition(".")[2]

    def inputs(arm: ArmFooting, state: State) -> tuple[object, ...]:
        return arm, name, rest[0], *body(state), *rest[1:]

    def make(_: Group) -> Iterator[Reading]:
        for arm in arms.arms:
            pair = Pair(arm, met, rest)
            for state in states(arm):
                yield Reading(subjects, state, partial(inputs, arm, state), pair)

    return Group(subjects, arms, met, rest, make)


def _alone(arm: ArmFooting) -> tuple[State]:
    return (arm.state,)


def _with(scene: Scene, state: State, other: str) -> tuple[State, ...]:
    """The arm's state with every state of what moves the other and not the arm."""
    return _all_with(state, scene.axes_of(other))


@functools.lru_cache(maxsize=4096)
def _all_with(state: State, axes: tuple[tuple[str, tuple[str, ...]], ...]) -> tuple[State, ...]:
    fixed = dict(state)
    free = [(axis, stops) for axis, stops in axes if axis not in fixed]
    return tuple(state_of({**dict(more), **fixed}) for more in products(free))


def _bolsters(scene: Scene) -> Iterator[str]:
    for seat in scene.layout.seats:
        yield from (f"{seat.id}.{bolster}" for bolster in _BOLSTERS)
    yield from standing_for(scene, "seat")


def _vessels(scene: Scene) -> Iterator[str]:
    yield from (vessel.id for vessel in scene.layout.of(Vessel))
    yield from standing_for(scene, "vessel")


def _consoles(scene: Scene) -> Iterator[str]:
    yield from shells(scene)
    yield from standing_for(scene, "console shell")


def _hard(scene: Scene) -> Iterator[str]:
    yield from standing_for(scene, "dash or trim", "other")


@dataclass(frozen=True, slots=True)
class OfArm(Bounded):
    """Judges a gap of a part of the arm: inputs (the arm to ask, part, sleeve, then as `gap` takes them)."""

    gap: Between | ToArea

    def __call__(self, reading: Reading) -> Finding:
        """The finding; unseen where the knob is out of reach."""
        asked, name, sleeve, *rest = reading.inputs
        assert isinstance(name, str)
        assert isinstance(sleeve, float)
        body = limb(cast(AskedArm, asked), name, sleeve)
        if body is None:
            return self._unknown(reading, next(one for one in rest if isinstance(one, Limit)))
        found = self.gap(Reading(reading.subjects, reading.state, (body, *rest)))
        posed = cast(AskedArm, asked)()
        if posed is None or found.at_mm is None:
            return found
        hangs = Doubt(
            "where the elbow hangs", standard=ELBOW_U_MM * elbow_share(posed.posed, name, found.at_mm[0])
        )
        doubts = (*found.doubts, hangs)
        u = combined(doubts)
        if found.value is None:
            away = math.dist(*found.at_mm)
            if away < ASIDE_MM:
                return replace(found, doubts=doubts, uncertainty=u)
            found = replace(found, value=away, note=_NOT_SCANNED)
        value = found.value
        assert value is not None
        verdict = verdict_of(value, u, found.limit, is_gap=True)
        return replace(found, doubts=doubts, uncertainty=u, verdict=verdict)

    def spare_mm(self, reading: Reading, told: Finding) -> float:
        """How far the arm may go while the finding stays clear, wherever on it the nearest place comes to lie."""
        asked, name, sleeve, *rest = reading.inputs
        assert isinstance(name, str)
        assert isinstance(sleeve, float)
        body = limb(cast(AskedArm, asked), name, sleeve)
        if body is None or told.value is None:
            return 0.0
        enough = (
            self.gap.enough_mm(Reading(reading.subjects, reading.state, (body, *rest))) + 2.0 * ELBOW_U_MM
        )
        if isinstance(self.gap, Between):
            return told.value - enough
        area, carpet_mm = rest[0], rest[3]
        assert isinstance(area, AreaSurface)
        assert isinstance(carpet_mm, float)
        if area.probes:
            return 0.0
        if told.note == _NOT_SCANNED:
            return told.value - max(ASIDE_MM, enough)
        gap, unseen = told.value + carpet_mm, told.unseen_mm
        aside = max((unseen - gap) / 2, unseen - max(ASIDE_MM, enough))
        return min(gap - enough, unseen - enough, aside)

    def _unknown(self, reading: Reading, wanted: Limit) -> Finding:
        return Finding(
            check=self.gap.check,
            subjects=reading.subjects,
            state=reading.state,
            verdict="unseen",
            value=None,
            uncertainty=0.0,
            doubts=(),
            limit=wanted,
            note=_OUT_OF_REACH,
        )


def elbow_share(posed: Arm, name: str, at_mm: tuple[float, float, float]) -> float:
    """How much of the elbow's doubt a place on a part of the arm has: none at wrist and shoulder, all at the elbow."""
    far = np.array(posed.wrist_mm if name == "forearm" else posed.shoulder_mm)
    along = np.array(posed.elbow_mm) - far
    share = float((np.array(at_mm) - far) @ along / max(float(along @ along), 1e-9))
    return min(max(share, 0.0), 1.0)


CHECKS = (
    *(
        Check(
            name,
            "late",
            partial(_to_things, others=others, limit=name, limbs=limbs),
            OfArm(Between(name)),
        )
        for name, others, limbs in (
            ("forearm-vessel", _vessels, _BOTH),
            ("forearm-seat", _bolsters, _FOREARM),
            ("forearm-console", _consoles, _BOTH),
        )
    ),
    Check("forearm-scan", "late", _to_scan, OfArm(ToArea("forearm-scan"))),
    Check(
        "forearm-scan-part",
        "late",
        partial(_to_things, others=_hard, limit="forearm-scan", limbs=_FOREARM),
        OfArm(Between("forearm-scan")),
    ),
)
