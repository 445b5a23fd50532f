"""A vessel and the hand on it, over the whole way out of its well, against all that stands about.

Straight up, then level to the driver's shoulder, and to the passenger's where somebody sits there. Judged over all the
room they take on the way, which is exact: nothing is sampled. The well it stands in is told of by its fit. The lever
may be anywhere but in reverse.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from floorpan.checks.check import Check, Reading
from floorpan.checks.finding import Finding
from floorpan.checks.gaps import Between, ToArea
from floorpan.checks.mesh_parts import STUFF, standing_for
from floorpan.checks.pairs import limit_for, states
from floorpan.console import Envelope
from floorpan.derive import Scene
from floorpan.derive.lifting import HAND, Lifting, OnItsWay
from floorpan.items import Armrest, CupHolder, DashEdge, Flap, Handbrake, Seat, Shifter, Vessel, Wheel
from floorpan.items.lever import REVERSE
from floorpan.items.lift_out import gone_mm
from floorpan.items.shifter import GEAR
from floorpan.items.states import State, state_of
from floorpan.items.vessels import HANDED_OVER, PLACE
from floorpan.layout import Thing

VESSEL_LIMIT, HAND_LIMIT = "lift-out", "lift-out-hand"
_MET: tuple[type[Thing], ...] = (
    Shifter,
    Seat,
    Envelope,
    Handbrake,
    Armrest,
    Wheel,
    CupHolder,
    Vessel,
    DashEdge,
    Flap,
)


@dataclass(frozen=True, slots=True)
class _OnWay:
    """Judges a gap over the way out: inputs (what is on its way, then as its gap judge wants them)."""

    gap: ToArea | Between

    def __call__(self, reading: Reading) -> Finding:
        """The finding, with how far it has come where it is nearest."""
        going, *rest = reading.inputs
        assert isinstance(going, OnItsWay)
        found = self.gap(Reading(reading.subjects, reading.state, (going.motion, *rest)))
        told = (_where(going, found), found.note)
        return replace(found, note=" ".join(one for one in told if one))


def _where(going: OnItsWay, found: Finding) -> str:
    if found.at_mm is None or found.value is None:
        return ""
    up, level = gone_mm(going.way, found.at_mm[0], going.profile)
    if level > 0.0:
        whom = "passenger" if any(stop == HANDED_OVER for _, stop in found.state) else "driver"
        return f"Nearest once it is up and {level:.0f} mm towards the {whom}."
    return f"Nearest after {up:.0f} mm straight up." if up > 0.0 else "Nearest where it stands."


def _going(scene: Scene, part: str) -> Iterator[tuple[Vessel, str, str, OnItsWay]]:
    """(vessel, mover's id, stop, what is on its way) of every vessel in a well, to everybody who lifts it."""
    lifting = Lifting(scene.layout, scene.memory)
    for vessel in scene.layout.of(Vessel):
        id = f"{vessel.id}.{part}" if part else vessel.id
        for stop in lifting.stops():
            going = lifting.on_its_way(id, stop)
            if going is not None:
                yield vessel, id, stop, going


def _to_scan(scene: Scene, *, part: str, limit: str) -> Iterator[Reading]:
    wanted = limit_for(scene, limit)
    for vessel, id, stop, going in _going(scene, part):
        state = state_of({f"{vessel.id}.{PLACE}": stop})
        for area in scene.areas():
            floor = scene.floor_of(area)
            carpet = scene.layout.carpet_on(area.id).loose_mm if area.carpeted else 0.0
            good_to = float(scene.layout.scan(floor.scan.id).good_to_mm)
            yield Reading((id, area.id), state, (going, area, floor, wanted, carpet, good_to))


def _to_things(scene: Scene, *, part: str, limit: str) -> Iterator[Reading]:
    wanted = limit_for(scene, limit)
    for vessel, id, stop, going in _going(scene, part):
        for other in _others(scene, vessel):
            for stood in states(scene, other):
                if _reversing(stood):
                    continue
                state = state_of({**dict(stood), f"{vessel.id}.{PLACE}": stop})
                met = scene.layout.thing(other).name
                yield Reading((id, other), state, (going, scene.body(other, stood), wanted, met))


def _reversing(state: State) -> bool:
    """Nobody drinks while going backwards; common practice, no source."""
    return any(axis.endswith(f".{GEAR}") and stop == REVERSE for axis, stop in state)


def _others(scene: Scene, vessel: Vessel) -> Iterator[str]:
    """All it could meet: not its own well, nor another vessel that may stand there in its stead."""
    for kind in _MET:
        for thing in scene.layout.of(kind):
            own = thing.id in (vessel.id, vessel.stands_in)
            instead = isinstance(thing, Vessel) and thing.stands_in == vessel.stands_in
            if not own and not instead:
                yield thing.id
    yield from standing_for(scene, *STUFF)


CHECKS = tuple(
    check
    for part, limit in (("", VESSEL_LIMIT), (HAND, HAND_LIMIT))
    for check in (
        Check(limit, "settled", partial(_to_things, part=part, limit=limit), _OnWay(Between(limit))),
        Check(f"{limit}-scan", "settled", partial(_to_scan, part=part, limit=limit), _OnWay(ToArea(limit))),
    )
)
