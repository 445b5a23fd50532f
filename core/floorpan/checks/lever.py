"""The lever above its boot, in every gear, against the car, seats, vessels and their holders, and in its opening."""

import math
from collections.abc import Iterator
from functools import partial

from floorpan.checks.check import Check, Group, Item, Reading
from floorpan.checks.doubts import TAPE_MM, tape
from floorpan.checks.finding import Doubt, Finding, combined, verdict_of
from floorpan.checks.footings import standing
from floorpan.checks.gaps import Between, ToArea
from floorpan.checks.pairs import between, limit_for, states, to_area
from floorpan.derive import NO_FOOTING, Scene
from floorpan.items import CupHolder, Seat, Shifter, Vessel
from floorpan.items.boot import boot_at, has_boot
from floorpan.items.opening import opening_gap
from floorpan.items.states import stops_of
from floorpan.layout import Thing
from floorpan.limits import Limit


def _to_scan(scene: Scene, *, moving: bool) -> Iterator[Item]:
    for shifter in scene.layout.of(Shifter):
        for area in scene.areas():
            yield from to_area(scene, f"{shifter.id}.lever", area, "lever-scan", moving=moving)


def _to_things(scene: Scene, *, kinds: tuple[type[Thing], ...], limit: str, moving: bool) -> Iterator[Item]:
    for shifter in scene.layout.of(Shifter):
        for thing in (one for kind in kinds for one in scene.layout.of(kind)):
            yield from between(scene, f"{shifter.id}.lever", thing.id, limit, moving=moving)


def opening_limit(shifter: Shifter) -> str:
    """The limit of the lever's opening: a lever on the gearbox moves with the engine and wants more."""
    return "lever-opening-gearbox" if shifter.family == "gearbox" else "lever-opening"


def _opening(scene: Scene) -> Iterator[Group]:
    if scene.layout.consoles:
        for shifter in scene.layout.of(Shifter):
            wanted = limit_for(scene, opening_limit(shifter))
            yield _in_gears(scene, shifter, (f"{shifter.id}.lever", "opening"), wanted)


def _in_gears(scene: Scene, shifter: Shifter, subjects: tuple[str, ...], wanted: Limit) -> Group:
    """What goes where the shifter goes: the same wherever that is."""

    def make(group: Group) -> Iterator[Reading]:
        for state in states(scene, f"{shifter.id}.lever"):
            gear = stops_of(state, shifter.id)["gear"]
            yield Reading(subjects, state, (shifter, gear, wanted), group.pair)

    return Group(subjects, standing(scene, shifter.id, anywhere=True), NO_FOOTING, (wanted,), make)


def _judge_opening(reading: Reading) -> Finding:
    shifter, gear, wanted = reading.inputs
    assert isinstance(shifter, Shifter)
    assert isinstance(wanted, Limit)
    value = opening_gap(shifter, str(gear))
    doubts = (tape("taped opening and lever", 2),)
    u = combined(doubts)
    return Finding(
        check="lever-opening",
        subjects=reading.subjects,
        state=reading.state,
        verdict=verdict_of(value, u, wanted, is_gap=True),
        value=value,
        uncertainty=u,
        doubts=doubts,
        limit=wanted,
        met="opening",
    )


def _boot(scene: Scene) -> Iterator[Group]:
    for shifter in scene.layout.of(Shifter):
        if has_boot(shifter):
            yield _in_gears(scene, shifter, (f"{shifter.id}.boot",), limit_for(scene, "boot-slack"))


def _judge_boot(reading: Reading) -> Finding:
    shifter, gear, wanted = reading.inputs
    assert isinstance(shifter, Shifter)
    assert isinstance(wanted, Limit)
    boot = boot_at(shifter, str(gear))
    # Ring, cloth and collar are each taped; the cloth's share of the way carries over to hundredths.
    share = 100.0 * shifter.boot_cloth_mm / boot.needs_mm**2
    doubts = (Doubt("taped ring, cloth and collar", standard=share * TAPE_MM * math.sqrt(3.0)),)
    u = combined(doubts)
    return Finding(
        check="boot-slack",
        subjects=reading.subjects,
        state=reading.state,
        verdict=verdict_of(boot.slack, u, wanted, is_gap=False),
        value=boot.slack,
        uncertainty=u,
        doubts=doubts,
        limit=wanted,
        is_gap=False,
    )


_CUP = (Vessel, CupHolder)

CHECKS = (
    Check("boot-slack", "live", _boot, _judge_boot),
    Check("lever-scan", "live", partial(_to_scan, moving=False), ToArea("lever-scan")),
    Check("lever-scan-moving", "settled", partial(_to_scan, moving=True), ToArea("lever-scan")),
    Check(
        "lever-vessel",
        "live",
        partial(_to_things, kinds=_CUP, limit="lever-vessel", moving=False),
        Between("lever-vessel"),
    ),
    Check(
        "lever-vessel-moving",
        "settled",
        partial(_to_things, kinds=_CUP, limit="lever-vessel", moving=True),
        Between("lever-vessel"),
    ),
    Check(
        "lever-seat",
        "live",
        partial(_to_things, kinds=(Seat,), limit="lever-seat", moving=False),
        Between("lever-seat"),
    ),
    Check("lever-opening", "live", _opening, _judge_opening),
)
