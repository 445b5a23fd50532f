"""Belt buckles at every used notch: clear of the shell, with room for the hand that presses, the strap over no edge."""

from collections.abc import Iterator
from functools import partial

from floorpan.checks.check import Check, Item
from floorpan.checks.gaps import Between, ToArea
from floorpan.checks.pairs import between, to_area
from floorpan.console import Envelope
from floorpan.derive import Scene
from floorpan.items import Buckle, Vessel
from floorpan.layout import Thing


def _to_scan(scene: Scene) -> Iterator[Item]:
    for buckle in scene.layout.of(Buckle):
        for area in scene.areas():
            yield from to_area(scene, f"{buckle.id}.hand", area, "press-scan", moving=False)


def _to_things(scene: Scene, *, part: str, kind: type[Thing], limit: str) -> Iterator[Item]:
    seats = {seat.id for seat in scene.layout.seats}
    for buckle in scene.layout.of(Buckle):
        if part == ".strap" and buckle.seat_id not in seats:
            continue
        for thing in scene.layout.of(kind):
            yield from between(scene, f"{buckle.id}{part}", thing.id, limit, moving=False)


def _check(limit: str, part: str, kind: type[Thing]) -> Check:
    return Check(limit, "live", partial(_to_things, part=part, kind=kind, limit=limit), Between(limit))


CHECKS = (
    Check("press-scan", "live", _to_scan, ToArea("press-scan")),
    _check("press-console", ".hand", Envelope),
    _check("press-vessel", ".hand", Vessel),
    _check("buckle-console", "", Envelope),
    _check("strap-console", ".strap", Envelope),
)
