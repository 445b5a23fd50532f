"""A seat at its used notches and over its whole travel, against the car, console, cup holders, lever, vessels,
the other seat.

A backrest that reclines is looked at at every angle it is used at, and on its way between them.
"""

from collections.abc import Iterator
from functools import partial

from floorpan.checks.check import Check, Item
from floorpan.checks.gaps import Between, ToArea
from floorpan.checks.pairs import between, to_area
from floorpan.checks.reclining import reclines
from floorpan.checks.shells import shells
from floorpan.derive import Scene
from floorpan.items import Armrest, Handbrake, Seat, Shifter, Vessel


def _to_scan(scene: Scene, *, moving: bool) -> Iterator[Item]:
    for seat in scene.layout.seats:
        for area in scene.areas():
            yield from to_area(scene, seat.id, area, "seat-scan", moving=moving)


def _to_things(scene: Scene, *, moving: bool, limit: str) -> Iterator[Item]:
    for seat in scene.layout.seats:
        for other in _others(scene, seat, limit):
            yield from between(scene, seat.id, other, limit, moving=moving)


def _others(scene: Scene, seat: Seat, limit: str) -> Iterator[str]:
    if limit == "seat-console":
        yield from shells(scene)
    elif limit == "seat-vessel":
        yield from (vessel.id for vessel in scene.layout.of(Vessel))
    elif limit == "seat-handbrake":
        # A seat that does not recline is looked at with the hand on the handbrake, which is thicker.
        if reclines(seat):
            yield from (brake.id for brake in scene.layout.of(Handbrake))
    elif limit == "armrest-seat":
        yield from (f"{rest.id}.pad" for rest in scene.layout.of(Armrest) if reclines(seat))
    elif limit == "seat-lever":
        yield from (f"{shifter.id}.box" for shifter in scene.layout.of(Shifter))
    else:
        yield from (other.id for other in scene.layout.seats if other.id > seat.id)


def _pair(limit: str) -> tuple[Check, Check]:
    return (
        Check(limit, "live", partial(_to_things, limit=limit, moving=False), Between(limit)),
        Check(f"{limit}-moving", "settled", partial(_to_things, limit=limit, moving=True), Between(limit)),
    )


_ARMREST = "armrest-seat"

CHECKS = (
    Check("seat-scan", "live", partial(_to_scan, moving=False), ToArea("seat-scan")),
    Check("seat-scan-moving", "settled", partial(_to_scan, moving=True), ToArea("seat-scan")),
    *_pair("seat-console"),
    *_pair("seat-lever"),
    *_pair("seat-vessel"),
    *_pair("seat-seat"),
    *_pair("seat-handbrake"),
    Check(
        f"{_ARMREST}-passing",
        "settled",
        partial(_to_things, limit=_ARMREST, moving=True),
        Between(_ARMREST),
    ),
)
