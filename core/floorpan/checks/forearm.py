"""The shifting arm in every gear that is reached, belts tight: against car, bolsters, console and vessels.

The upper arm is looked at against console and vessels only: it hangs beside the seat. The elbow hangs where joints,
bolsters and console let it. How far it may hang elsewhere counts as a doubt of the elbow, and less the nearer a place
is to the wrist or to the shoulder.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import cast

import numpy as np

from floorpan.checks.armrest import ELBOW_U_MM
from floorpan.checks.check import Check, Reading
from floorpan.checks.finding import Doubt, Finding, combined, verdict_of
from floorpan.checks.gaps import Between, ToArea
from floorpan.checks.mesh_parts import standing_for
from floorpan.checks.pairs import limit_for
from floorpan.checks.reclining import driven_states
from floorpan.console import Envelope
from floorpan.derive import Scene
from floorpan.derive.arms import LIMBS, AskedArm, arms_in, limb
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


def _arms(scene: Scene) -> Iterator[tuple[str, float, State, AskedArm]]:
    """(driver, sleeve, state, the arm) of every driver in every gear."""
    for person, shifter in scene.hands():
        seat = scene.seat_of(person)
        if seat is not None:
            for state, asked in arms_in(scene, person, seat, shifter):
                yield person.id, float(person.jacket_mm), state, asked


def _to_scan(scene: Scene) -> Iterator[Reading]:
    wanted = limit_for(scene, "forearm-scan")
    for driver, sleeve, state, asked in _arms(scene):
        for area in scene.areas():
            floor = scene.floor_of(area)
            carpet = scene.layout.carpet_on(area.id).loose_mm if area.carpeted else 0.0
            good_to = float(scene.layout.scan(floor.scan.id).good_to_mm)
            rest = (area, floor, wanted, carpet, good_to)
            yield Reading((f"{driver}.forearm", area.id), state, (asked, "forearm", sleeve, *rest))


def _to_things(
    scene: Scene, *, others: Callable[[Scene], Iterator[str]], limit: str, limbs: tuple[str, ...]
) -> Iterator[Reading]:
    wanted = limit_for(scene, limit)
    for other in others(scene):
        met = scene.layout.thing(other).name if "." not in other else ""
        for driver, sleeve, state, asked in _arms(scene):
            for whole in driven_states(scene, _with(scene, state, other)):
                body = scene.body(other, whole)
                for name in limbs:
                    yield Reading(
                        (f"{driver}.{name}", other), whole, (asked, name, sleeve, body, wanted, met)
                    )


def _with(scene: Scene, state: State, other: str) -> Iterator[State]:
    """The arm's state with every state of what moves the other and not the arm."""
    fixed = dict(state)
    axes = [(axis, stops) for axis, stops in scene.axes_of(other) if axis not in fixed]
    for more in products(axes):
        yield state_of({**dict(more), **fixed})


def _bolsters(scene: Scene) -> Iterator[str]:
    for seat in scene.layout.seats:
        yield from (f"{seat.id}.{bolster}" for bolster in _BOLSTERS)
    yield from standing_for(scene, "seat")


def _vessels(scene: Scene) -> Iterator[str]:
    yield from (vessel.id for vessel in scene.layout.of(Vessel))
    yield from standing_for(scene, "vessel")


def _consoles(scene: Scene) -> Iterator[str]:
    yield from (console.id for console in scene.layout.of(Envelope))
    yield from standing_for(scene, "console shell")


def _hard(scene: Scene) -> Iterator[str]:
    yield from standing_for(scene, "dash or trim", "other")


@dataclass(frozen=True, slots=True)
class OfArm:
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
            "settled",
            partial(_to_things, others=others, limit=name, limbs=limbs),
            OfArm(Between(name)),
        )
        for name, others, limbs in (
            ("forearm-vessel", _vessels, _BOTH),
            ("forearm-seat", _bolsters, _FOREARM),
            ("forearm-console", _consoles, _BOTH),
        )
    ),
    Check("forearm-scan", "settled", _to_scan, OfArm(ToArea("forearm-scan"))),
    Check(
        "forearm-scan-part",
        "settled",
        partial(_to_things, others=_hard, limit="forearm-scan", limbs=_FOREARM),
        OfArm(Between("forearm-scan")),
    ),
)
